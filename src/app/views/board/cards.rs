//! Beside the map: the part that is looked at in its place, large, and the best parts as picture cards.

use egui::text::{LayoutJob, TextWrapping};
use egui::{Align2, Color32, FontFamily, FontId, Pos2, Rect, ScrollArea, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

use crate::app::actions::command::Command;
use crate::app::actions::{Action, LiveScene};
use crate::app::state::scene::Scene;
use crate::app::state::selection::{Candidate, List};
use crate::app::views::board::fit;
use crate::app::views::board::state::BoardState;
use crate::app::widgets::can_picture::{self, CanPicture, largest_mm};
use crate::app::widgets::theme::{self, space};
use crate::app::widgets::{self, Row, explain, shapes, wording};
use crate::domain::style::money;
use crate::domain::{Can, INVENTED, Outcome, PartId};
use crate::sizing::reasons::figure;
use crate::sizing::why_not::{self, Lengths};
use crate::sizing::{Evaluation, Terms};

/// A part with everything a card shows of it.
struct Card<'a> {
    name: &'a str,
    can: Can,
    evaluation: Evaluation,
    lengths: Option<Lengths>,
    /// The one reason against it.
    against: Option<String>,
}

impl<'a> Card<'a> {
    fn of(scene: &Scene<'a>, candidate: Candidate) -> Option<Self> {
        let (place, can, evaluation) = (scene.place()?, scene.can(candidate)?, scene.evaluation(candidate)?);
        let lengths = why_not::lengths(place, &can, &evaluation);
        let against = wording::against(scene, candidate, &can, &evaluation);
        Some(Self { name: scene.name(candidate), can, evaluation, lengths, against })
    }

    /// What stands beside the picture.
    fn lines(&self, scene: &Scene, id: PartId) -> Option<[String; 4]> {
        let place = scene.place()?;
        let can = &self.can;
        let (years, need) = (self.evaluation.figures.calendar_years, place.need_qty);
        let price = place.cost_of_need(scene.catalog, id).map_or_else(
            || "price unknown".to_owned(),
            |cost| {
                format!("{} {} for {}", money(cost), scene.job.currency.as_deref().unwrap_or_default(), figure(need))
            },
        );
        let terms = Terms::of(scene.catalog, id, place.offer_of_need(scene.catalog, id));
        let life_and_stock = match (years, terms.trade.stock) {
            (None, None) => "life, stock unknown".to_owned(),
            (None, Some(stock)) => format!("life unknown, stock {}", figure(stock)),
            (Some(years), None) => format!("{} years, stock unknown", figure(years)),
            (Some(years), Some(stock)) => format!("{} years, stock {}", figure(years), figure(stock)),
        };
        Some([value(can), size(can), life_and_stock, price])
    }
}

/// What is printed on a can, what is missing in words: `470 µF 63 V 105 °C`, `470 µF, voltage unknown`.
fn value(can: &Can) -> String {
    let given =
        [(can.capacitance_uf, "µF", "capacitance"), (can.rated_v, "V", "voltage"), (can.temp_max_c, "°C", "°C")];
    let known: Vec<String> =
        given.iter().filter_map(|(value, unit, _)| Some(format!("{} {unit}", figure((*value)?)))).collect();
    let first_unknown = given.iter().find(|(value, ..)| value.is_none());
    match first_unknown {
        Some(_) if known.is_empty() => "value unknown".to_owned(),
        Some((.., name)) => format!("{}, {name} unknown", known.join(" ")),
        None => known.join(" "),
    }
}

fn size(can: &Can) -> String {
    match (can.diameter_mm.map(figure), can.height_mm.map(figure)) {
        (Some(diameter), Some(height)) => format!("Ø {diameter} × {height} mm"),
        (Some(diameter), None) => format!("Ø {diameter} mm, height unknown"),
        (None, Some(height)) => format!("height {height} mm, Ø unknown"),
        (None, None) => "size unknown".to_owned(),
    }
}

/// Draws the panel.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut BoardState) {
    if scene.position().is_none() {
        ui.label("Select a can on the map: the parts for it are then shown here as cards.");
        return;
    }
    let Some(candidate) = scene.selection.hovered.or_else(|| scene.candidate()) else { return };
    let growth = theme::grow(ui);
    ui.spacing_mut().item_spacing.y = 2.0;
    let height = (ui.available_height() * 0.21).clamp(80.0, 300.0);
    // Two lines and a button have their room whether they are there or not: nothing below moves.
    let top = can_picture::show(ui, scene, candidate, height);
    let below = top + 2.0 * 17.0 * growth + ui.spacing().interact_size.y + 6.0;
    fit::relax(ui, scene, candidate);
    ui.add_space((below - ui.cursor().top()).max(0.0));
    cards(ui, scene, growth, state);
}

/// The best parts: hovering a card shows its part on the map.
fn cards(ui: &mut Ui, scene: &LiveScene, growth: f32, state: &mut BoardState) {
    let Some(sized) = scene.sized() else { return };
    // The best are filled up with parts that nobody would think of here.
    let worth = scene.candidates.map_or(sized.best.len(), |candidates| candidates.len());
    if worth == 0 || sized.best.is_empty() {
        ui.label(if scene.catalog.is_empty() {
            wording::NO_PARTS
        } else {
            "No suitable part: all are excluded by capacitance, voltage, mounting or size."
        });
        return;
    }
    explain::heading(ui, "Best parts", "best parts");
    let ids = || sized.best.iter().take(worth).map(|ranked| ranked.id);
    let cans: Vec<Can> = ids().map(|id| scene.catalog.can(id)).collect();
    let original = scene.position().map(|(_, position)| &position.original.can);
    // One scale for all of them, so that a small part looks small; what is far too large is cut to twice the original.
    let largest = largest_mm(cans.iter().chain(original));
    let most = original.map_or(largest, |original| largest_mm([original].into_iter()).map(|mm| mm * 1.7));
    let largest = [largest[0].min(most[0]), largest[1].min(most[1])];
    let letters = 12.0 * growth;
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 5.0;
        for (index, id) in ids().enumerate() {
            let candidate = Candidate::Part(id);
            let size = vec2(ui.available_width(), letters * (NAME * 1.5 + 5.0 * 1.28) + 13.0);
            let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
            let selected = scene.candidate() == Some(candidate);
            if selected && state.reveal {
                ui.scroll_to_rect(rect, None);
                state.reveal = false;
            }
            if !ui.is_rect_visible(rect) {
                continue;
            }
            let Some(card) = Card::of(scene, candidate) else { continue };
            one(ui, rect, scene, (index, id), &card, (largest, letters));
        }
        widgets::follow_focus(ui);
    });
}

/// How much larger than the other letters the name of a part is.
const NAME: f32 = 1.125;

fn one(
    ui: &Ui,
    rect: Rect,
    scene: &LiveScene,
    (index, id): (usize, PartId),
    card: &Card,
    (largest, letters): ([f64; 2], f32),
) {
    let tokens = theme::tokens(ui);
    let candidate = Candidate::Part(id);
    let selected = scene.candidate() == Some(candidate);
    let chosen = scene.chosen() == Some(candidate);
    let picked = scene.position().is_some_and(|(_, position)| position.pick.is_some());
    let word = chosen.then_some(if picked { "picked" } else { "proposed" });
    let invented = scene.catalog.is_marked(scene.job, id).then_some(INVENTED);
    let mut words: Vec<&str> = word.into_iter().chain(invented).collect();
    let told = words.join(", ");
    let Some(lines) = card.lines(scene, id) else { return };
    let verdict = card.evaluation.verdict;
    let assumed = card.evaluation.passes_on_assumed_stress();
    let passes = if assumed { "passes on assumed stress" } else { "all checks pass" };
    let reason = card.against.clone().unwrap_or_else(|| passes.to_owned());
    let spoken = format!("{} on the map: {}; {reason}; {}; {told}", card.name, verdict.word(), lines.join("; "));
    let response =
        widgets::row(ui, rect, &Row { list: List::Candidates, index, selected, name: spoken.trim_end_matches("; ") });
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let fill = if selected {
        tokens.selected
    } else if response.hovered() {
        tokens.control
    } else {
        tokens.base
    };
    painter.rect(
        rect,
        5.0,
        fill,
        Stroke::new(1.0, if selected { tokens.focus } else { tokens.line }),
        StrokeKind::Inside,
    );
    let inside = rect.shrink2(vec2(7.0, 4.0));
    let ink = if selected { tokens.selected_text } else { tokens.text };
    // Which part it is comes before what it is marked with.
    let wide = |text: &str, size| shapes::width(&painter, text, size);
    let name = wide(card.name, f64::from(letters * NAME)) + 6.0;
    if invented.is_some() && name + wide(&told, f64::from(letters)) > f64::from(inside.width()) {
        words.pop();
    }
    let small = FontId::new(letters, FontFamily::Proportional);
    let word = painter.text(inside.right_top(), Align2::RIGHT_TOP, words.join(", "), small, tokens.weak);
    let room = word.left() - inside.left() - 4.0;
    shortened(&painter, inside.left_top(), (room, 1), card.name, letters * NAME, ink);
    let (top, line) = (inside.top() + letters * NAME * 1.5, letters * 1.28);
    let beside = inside.left() + (inside.width() * 0.38).max(72.0);
    let picture = Rect::from_min_max(pos2(inside.left(), top), pos2(beside - 6.0, top + 4.0 * line));
    let (can, evaluation) = (&card.can, &card.evaluation);
    if let Some(shown) = CanPicture::of(scene, can, evaluation, card.lengths.as_ref(), largest) {
        shown.paint(&painter.with_clip_rect(picture.expand(3.0).intersect(painter.clip_rect())), picture, tokens);
    }
    for (n, words) in lines.iter().enumerate() {
        let colour = if n < 3 { ink } else { tokens.weak };
        let at = pos2(beside, top + n as f32 * line);
        shortened(&painter, at, (inside.right() - beside, 1), words, letters, colour);
    }
    let foot = pos2(inside.left(), top + 4.0 * line);
    let mark = Rect::from_min_size(foot + vec2(0.0, 2.0), vec2(space::MARK, space::MARK));
    widgets::paint_mark(&painter, mark, &card.evaluation, tokens);
    let colour = if selected && verdict == Outcome::Pass { ink } else { tokens.outcome(verdict).ink };
    let beside_mark = space::MARK + 5.0;
    let room = inside.width() - beside_mark;
    shortened(&painter, foot + vec2(beside_mark, 0.0), (room, 2), &reason, letters, colour);
    if response.hovered() || response.has_focus() {
        scene.push(Action::Hover(candidate));
    }
    if widgets::context_menu(&response, scene, candidate, &widgets::OF_CANDIDATE) {
        scene.push(Action::SelectCandidate(candidate));
    }
    if response.clicked() {
        // A second click on what a first one selected picks it.
        let again = scene.selection.candidate == Some(candidate);
        scene.push(if again { Action::Run(Command::Pick) } else { Action::SelectCandidate(candidate) });
        ui.memory_mut(|memory| memory.request_focus(widgets::focus_id(List::Candidates)));
    }
    response.on_hover_text(format!("{reason}. Click again or press Enter to pick it."));
}

/// How much smaller than usual letters may be drawn to have room, before words go into the next line or are left out.
const SMALLEST: f32 = 0.8;

/// Words in letters as small as it takes to have room, as long as they can be read; what has none in `rows` lines the card tells
/// on hover.
fn shortened(painter: &egui::Painter, at: Pos2, (room, rows): (f32, usize), text: &str, size: f32, ink: Color32) {
    let wide = widgets::px(shapes::width(painter, text, f64::from(size)));
    let fitting = if wide > room { size * (room / wide).max(SMALLEST) } else { size };
    let mut job = LayoutJob::simple_singleline(text.to_owned(), FontId::new(fitting, FontFamily::Proportional), ink);
    job.wrap = TextWrapping { max_rows: rows, ..TextWrapping::truncate_at_width(room) };
    job.wrap.break_anywhere = rows == 1;
    painter.galley(at + vec2(0.0, (size - fitting) * 0.6), painter.layout_job(job), ink);
}
