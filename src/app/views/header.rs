//! The selected position in one line: what it is, what it goes through, the selected candidate, the buttons to pick.

use egui::{RichText, TextStyle, Ui};

use crate::app::actions::{Action, Command, LiveScene};
use crate::app::state::{Scene, View};
use crate::app::widgets::{
    self, asked, asked::Place, caution, entry::Widths, explain, theme, theme::space, wording, wording::original,
    wording::width,
};
use crate::domain::{Outcome, Position, schema};

const BUTTONS: [Command; 3] = [Command::Pick, Command::Pin, Command::Unpick];

/// Draws the line; what has no room in it is told by hovering the reference, and the candidate goes to a line of its own where
/// even that is too narrow.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene) {
    let Some((id, position)) = scene.position() else {
        // As high as with one: what is below stays where it is.
        ui.horizontal(|ui| {
            ui.set_min_height(ui.spacing().interact_size.y);
            let none = scene.job.positions().next().is_none();
            ui.heading(if none { "No positions yet" } else { "No position selected" });
        });
        return;
    };
    let gap = ui.spacing().item_spacing.x;
    let right = candidate_width(ui, scene);
    let stored = caution::stored(scene, id);
    let mut two_lines = false;
    ui.horizontal(|ui| {
        ui.set_min_height(ui.spacing().interact_size.y);
        let reference = ui.heading(position.reference.as_str());
        two_lines = right + 90.0 > ui.available_width();
        // What matters most takes its room first: the way to change the position, the caution, what the part does to the board.
        let edit = width(ui, Command::EditPosition.info().label) + 2.0 * ui.spacing().button_padding.x + gap;
        let mut room = ui.available_width() - if two_lines { 0.0 } else { right + gap };
        let edits = room > edit + if stored.is_some() { 130.0 } else { 0.0 };
        room -= if edits { edit } else { 0.0 };
        let caution = stored.as_ref().map(|stored| caution::words(ui, stored, room));
        room -= caution.as_ref().map_or(0.0, |words| width(ui, words) + 20.0 + gap);
        let small = |ui: &Ui, words: &str| small_width(ui, words) + gap;
        let needs = scene.needs(id);
        let unknown = needs.is_some();
        // In full, or the first of it; where there is no room the line at the bottom says it.
        let first = scene.sized().and_then(|sized| sized.needs.first()).map(|need| format!("needs: {}", need.word()));
        let needs = needs.into_iter().chain(first.filter(|_| unknown)).find(|words| small(ui, words) < room);
        // The editor and the advice over the candidates have these fields, too.
        let elsewhere = scene.selection.editor.is_some() || scene.selection.view == View::Candidates;
        room -= needs.as_ref().map_or(0.0, |words| small(ui, words));
        let in_place = needs.is_some() && !elsewhere && room > ASKED;
        room -= if in_place { ASKED } else { 0.0 };
        // While nobody can say whether a part may be used, what it does to the board is not known either.
        let with_it = if unknown { Vec::new() } else { board_with_it(scene) };
        let with_it = with_it.into_iter().find(|words| small(ui, words) < room);
        room -= with_it.as_ref().map_or(0.0, |words| small(ui, words));
        let role = position.role.map_or_else(String::new, |role| schema::spoken(role.into()) + ", ");
        let was = format!("{role}was {}", original(position));
        let mut hidden: Vec<String> = Vec::new();
        if small(ui, &was) < room {
            room -= small(ui, &was);
            ui.label(RichText::new(was).small().weak());
        } else {
            hidden.push(was);
        }
        if edits {
            widgets::button(ui, scene, Command::EditPosition);
        }
        if let (Some(stored), Some(words)) = (&stored, caution) {
            caution::show(ui, stored, words);
        }
        if let Some(words) = needs {
            needed(ui, scene, &words, in_place);
        }
        if let Some(words) = with_it {
            explain::on(ui.label(RichText::new(words).small()), "board with it");
        }
        conditions(ui, scene, position, room, &mut hidden);
        if !hidden.is_empty() {
            reference.on_hover_text(hidden.join("\n"));
        }
        if !two_lines {
            // At the right edge, yet drawn and reached by the Tab key from left to right.
            ui.add_space((ui.available_width() - right).max(0.0));
            candidate(ui, scene);
            buttons(ui, scene);
        }
    });
    if two_lines {
        ui.horizontal_wrapped(|ui| {
            candidate(ui, scene);
            buttons(ui, scene);
        });
    }
}

/// Room for what is typed in place, points.
const ASKED: f32 = 2.0 * (ENTRY + 14.0);
const ENTRY: f32 = 78.0;

/// What the position needs, and an entry for the first of it.
fn needed(ui: &mut Ui, scene: &LiveScene, words: &str, in_place: bool) {
    let (Some((id, _)), Some(need)) = (scene.position(), scene.sized().and_then(|sized| sized.needs.first())) else {
        return;
    };
    let ink = theme::tokens(ui).outcome(Outcome::Unknown).ink;
    let link = ui.link(RichText::new(words).color(ink).small());
    if link.on_hover_text("Without this nobody can say which part may be used. Opens the editor there.").clicked() {
        scene.push(Action::EditField(need.path()));
    }
    if !in_place {
        return;
    }
    let key = format!("needed {id:?}");
    let widths = Widths { label: 0.0, entry: ENTRY, fills: false, over: false };
    asked::at(ui, scene, id, need.path(), Place { key: &key, widths });
}

fn small_width(ui: &Ui, words: &str) -> f32 {
    let font = TextStyle::Small.resolve(ui.style());
    ui.painter().layout_no_wrap(words.to_owned(), font, egui::Color32::PLACEHOLDER).size().x
}

/// What the selected candidate makes of the board's years, while it is not the chosen one: in full, and shorter.
fn board_with_it(scene: &Scene) -> Vec<String> {
    let (Some((id, _)), Some(candidate), Some(board)) = (scene.position(), scene.candidate(), scene.board()) else {
        return Vec::new();
    };
    if scene.chosen() == Some(candidate) || !scene.fresh {
        return Vec::new();
    }
    // A part whose life is not known says nothing of the board.
    let Some(years) = scene.evaluation(candidate).and_then(|evaluation| evaluation.figures.calendar_years) else {
        return Vec::new();
    };
    let words =
        wording::intervals(scene, &scene.sizing.interval_with(Some(id.board), |at| (at == id).then_some(Some(years))));
    let full = words.first().map(|words| format!("With this part, board {} {words}", board.name));
    full.into_iter().chain(words.iter().skip(1).map(|words| format!("With this part: {words}"))).collect()
}

fn buttons(ui: &mut Ui, scene: &LiveScene) {
    for command in BUTTONS {
        widgets::button(ui, scene, command);
    }
}

/// How much room the candidate and the buttons take in one line, points.
fn candidate_width(ui: &Ui, scene: &Scene) -> f32 {
    let gap = ui.spacing().item_spacing.x;
    let padding = 2.0 * ui.spacing().button_padding.x;
    let buttons: f32 = BUTTONS.iter().map(|command| width(ui, command.info().label) + padding + gap).sum();
    let Some(candidate) = scene.candidate() else { return buttons };
    let verdict = scene.evaluation(candidate).map_or(0.0, |e| width(ui, e.verdict.word()) + space::MARK + 6.0 + gap);
    width(ui, scene.name(candidate)) + gap + verdict + buttons
}

/// The selected candidate with its verdict.
fn candidate(ui: &mut Ui, scene: &Scene) {
    let Some(candidate) = scene.candidate() else { return };
    let name = scene.name(candidate);
    let picked = scene.position().is_some_and(|(_, position)| position.pick.as_deref() == Some(name));
    ui.strong(name).on_hover_text(if picked { "picked" } else { "selected candidate" });
    if let Some(evaluation) = scene.evaluation(candidate) {
        widgets::outcome(ui, evaluation.verdict);
    }
}

/// What the position goes through and what room it has, each figure with what it rests on, as many as there is room for.
fn conditions(ui: &mut Ui, scene: &Scene, position: &Position, room: f32, hidden: &mut Vec<String>) {
    let Some(place) = scene.place() else { return };
    let (diameter_mm, height_mm) = place.room_mm();
    let space = &position.space;
    let figures = [
        ("operating", "stress.dc_v", position.stress.dc_v, "V", false),
        ("hottest", "stress.phases.ambient_c", scene.hottest_c(), "°C", false),
        ("max. Ø", "space.diameter_max_mm", diameter_mm, "mm", space.diameter_max_mm.is_none()),
        ("max. height", "space.height_max_mm", height_mm, "mm", space.height_max_mm.is_none()),
        ("target", "needs.life_h", place.target_years(), "years", false),
    ];
    ui.style_mut().override_text_style = Some(TextStyle::Small);
    let gap = std::mem::replace(&mut ui.spacing_mut().item_spacing.x, 4.0);
    let mut room = room;
    for (name, field, value, unit, assumed) in figures {
        let words = widgets::figure_text(value, unit, assumed);
        room -= width(ui, name) + width(ui, &words) + 14.0;
        if room < 0.0 {
            hidden.push(format!("{name} {words}"));
            continue;
        }
        explain::on(ui.label(RichText::new(name).weak()), field);
        widgets::figure(ui, value, unit, assumed);
        ui.add_space(4.0);
    }
    ui.spacing_mut().item_spacing.x = gap;
    ui.style_mut().override_text_style = None;
}
