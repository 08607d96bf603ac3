//! The selected position and the candidate in question, with the buttons to pick.

use egui::{Color32, TextStyle, Ui};

use crate::app::actions::action::Action;
use crate::app::actions::command::Command;
use crate::app::state::scene::Scene;
use crate::app::widgets;
use crate::app::widgets::caution;
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::app::widgets::wording;
use crate::app::widgets::{Density, Standing};
use crate::domain::Position;

/// Width the candidate needs beside the position; below it stands on a line of its own.
const CANDIDATE_WIDTH: f32 = 520.0;

/// Draws two lines: the position with what is picked; the candidate in question with its verdict and the buttons.
pub(crate) fn show(
    ui: &mut Ui,
    scene: &Scene,
    density: Density,
    refusal: &dyn Fn(Command) -> Option<String>,
    out: &mut Vec<Action>,
) {
    let tokens = theme::tokens(ui);
    let Some((id, position)) = scene.position() else {
        ui.heading("No position selected");
        return;
    };
    let mut narrow = false;
    ui.horizontal(|ui| {
        if density == Density::Tight {
            ui.spacing_mut().item_spacing.x = 4.0;
        }
        let reference = ui.heading(position.reference.as_str());
        let role = position.role.map(|role| crate::domain::schema::spoken(role.into()));
        let was = format!("was {}", wording::original(position));
        if density == Density::Tight {
            // Both stand in the list on the left and in the editor, which has its key and its menu entry.
            reference.on_hover_text(role.into_iter().chain([was]).collect::<Vec<_>>().join(", "));
            narrow = ui.available_width() <= candidate_width(ui, scene, density, position);
        } else {
            role.into_iter().for_each(|role| drop(ui.label(role)));
            ui.colored_label(tokens.weak, was);
            widgets::button(ui, Command::EditPosition, None, out);
            narrow = ui.available_width() <= CANDIDATE_WIDTH;
        }
        if !narrow {
            // At the right edge, yet drawn and reached by the Tab key from left to right.
            let width = candidate_width(ui, scene, density, position);
            ui.add_space((ui.available_width() - width).max(0.0));
            candidate(ui, scene, density, position);
            buttons(ui, refusal, out);
        }
    });
    if narrow {
        ui.horizontal_wrapped(|ui| {
            candidate(ui, scene, density, position);
            buttons(ui, refusal, out);
        });
    }
    ui.horizontal_wrapped(|ui| {
        if density == Density::Tight {
            ui.style_mut().override_text_style = Some(TextStyle::Small);
            ui.spacing_mut().item_spacing.x = 4.0;
        }
        conditions(ui, scene, density, position);
        board_with_it(ui, scene);
    });
    caution::show(ui, scene, id);
    ui.add_space(2.0);
}

/// What the candidate in question makes of the board's years, while it is not the chosen one.
fn board_with_it(ui: &mut Ui, scene: &Scene) {
    let tokens = theme::tokens(ui);
    let (Some((id, _)), Some(candidate), Some(board)) = (scene.position(), scene.candidate(), scene.board()) else {
        return;
    };
    if scene.chosen() == Some(candidate) || !scene.fresh {
        return;
    }
    let years = scene.evaluation(candidate).and_then(|evaluation| evaluation.figures.calendar_years);
    let interval = scene.sizing.interval_with(id, years);
    explain::on(ui.colored_label(tokens.weak, format!("{} with it", board.name)), "board with it");
    ui.label(wording::interval(scene, &interval));
}

fn buttons(ui: &mut Ui, refusal: &dyn Fn(Command) -> Option<String>, out: &mut Vec<Action>) {
    for command in BUTTONS {
        widgets::button(ui, command, refusal(command).as_deref(), out);
    }
}

const BUTTONS: [Command; 3] = [Command::Pick, Command::Pin, Command::Unpick];

/// How much room the candidate and the buttons take in one line, points.
fn candidate_width(ui: &Ui, scene: &Scene, density: Density, position: &Position) -> f32 {
    let font = TextStyle::Body.resolve(ui.style());
    let wide = |text: &str| ui.painter().layout_no_wrap(text.to_owned(), font.clone(), Color32::PLACEHOLDER).size().x;
    let gap = ui.spacing().item_spacing.x;
    let padding = 2.0 * ui.spacing().button_padding.x;
    let buttons: f32 = BUTTONS.iter().map(|command| wide(command.info().label) + padding + gap).sum();
    let Some(candidate) = scene.candidate() else { return buttons - gap };
    let verdict = scene.evaluation(candidate).map_or(0.0, |e| widgets::outcome_width(ui, e.verdict) + gap);
    let default_value = if density == Density::Tight { 0.0 } else { wide(default_value(scene, position)) + gap };
    default_value + wide(scene.name(candidate)) + gap + verdict + buttons - gap
}

/// What the candidate in question is to the position.
fn default_value(scene: &Scene, position: &Position) -> &'static str {
    let picked = scene.candidate().is_some_and(|candidate| position.pick.as_deref() == Some(scene.name(candidate)));
    if picked { "picked" } else { "candidate" }
}

/// The candidate in question with its verdict.
fn candidate(ui: &mut Ui, scene: &Scene, density: Density, position: &Position) {
    let tokens = theme::tokens(ui);
    let Some(candidate) = scene.candidate() else { return };
    let name = scene.name(candidate);
    if density == Density::Tight {
        ui.strong(name).on_hover_text(default_value(scene, position));
    } else {
        ui.colored_label(tokens.weak, default_value(scene, position));
        ui.strong(name);
    }
    if let Some(evaluation) = scene.evaluation(candidate) {
        widgets::outcome(ui, evaluation.verdict);
    }
}

/// What the position goes through and what room it has, each figure with what it rests on.
fn conditions(ui: &mut Ui, scene: &Scene, density: Density, position: &Position) {
    let tokens = theme::tokens(ui);
    let Some(place) = scene.place() else { return };
    let hottest_c = position.stress.phases.iter().flatten().filter_map(|phase| phase.ambient_c).reduce(f64::max);
    let (diameter_mm, height_mm) = place.room_mm();
    let space = &position.space;
    let from_original = |own: Option<f64>| if own.is_none() { Standing::Assumed } else { Standing::Given };
    let figures = [
        ("working", "stress.dc_v", position.stress.dc_v, "V", Standing::Given),
        ("hottest", "stress.phases.ambient_c", hottest_c, "°C", Standing::Given),
        ("room Ø", "space.diameter_max_mm", diameter_mm, "mm", from_original(space.diameter_max_mm)),
        ("height", "space.height_max_mm", height_mm, "mm", from_original(space.height_max_mm)),
        ("target", "needs.life_h", place.target_years(), "years", Standing::Given),
    ];
    for (name, field, value, unit, default_value) in figures {
        widgets::start_line_unless_fits(ui, &[name, &widgets::figure_text(value, unit, default_value)]);
        explain::on(ui.colored_label(tokens.weak, name), field);
        widgets::figure(ui, value, unit, default_value);
        ui.add_space(if density == Density::Tight { 0.0 } else { 8.0 });
    }
}
