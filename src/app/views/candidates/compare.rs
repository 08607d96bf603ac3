//! The pinned candidates side by side: every figure against the original's, better and worse told apart by word and mark.

use egui::{
    self, Align, Layout, Pos2, Rect, RichText, Role, ScrollArea, Sense, Shape, Stroke, TextStyle, Ui, WidgetInfo, pos2,
    vec2,
};

use super::columns::{Better, COLUMNS, Subject, TableColumn};
use super::{entry::Entry, entry::number_in_words};
use crate::app::actions::{Action, Command, LiveScene};
use crate::app::state::{Candidate, PINS_MAX};
use crate::app::widgets::{
    self, can_picture::CanPicture, can_picture::largest_mm, theme, theme::space, wording, wording::UNKNOWN,
};
use crate::domain::{Outcome, Unit};
use crate::sizing::why_not;

/// How a value stands to the original's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stands {
    Better,
    Worse,
    /// Not the same, and neither better nor worse.
    Other,
    Same,
    /// One of them is not known.
    NotComparable,
}

impl Stands {
    fn word(self) -> &'static str {
        match self {
            Self::Better => "better",
            Self::Worse => "worse",
            Self::Other => "different",
            Self::Same => "same",
            Self::NotComparable => "",
        }
    }
}

/// How a number stands to the original's, and by how much it is larger.
pub(crate) fn compare_numbers(better: Better, original: Option<f64>, own: Option<f64>) -> (Stands, Option<f64>) {
    let (Some(original), Some(own)) = (original, own) else { return (Stands::NotComparable, None) };
    if own == original || (own - original).abs() <= 1e-9 * original.abs() {
        return (Stands::Same, None);
    }
    let stands = match (better, own > original) {
        (Better::Neither, _) => Stands::Other,
        (Better::More, true) | (Better::Less, false) => Stands::Better,
        _ => Stands::Worse,
    };
    (stands, Some(own - original).filter(|difference| difference.is_finite()))
}

pub(crate) fn compare_outcomes(original: Outcome, own: Outcome) -> Stands {
    match own.cmp(&original) {
        std::cmp::Ordering::Less => Stands::Better,
        std::cmp::Ordering::Equal => Stands::Same,
        std::cmp::Ordering::Greater => Stands::Worse,
    }
}

/// Width of what the lines are called and least width of a candidate, points: its two buttons have room beside each other.
const ROOMY: [f32; 2] = [148.0, 142.0];
/// The same where the candidates would have to be scrolled: names go into two lines, buttons are shorter.
const NARROW: [f32; 2] = [96.0, 98.0];

/// How wide what is drawn is, points.
#[derive(Debug, Clone, Copy)]
struct Columns {
    names: f32,
    each: f32,
    growth: f32,
    narrow: bool,
}

impl Columns {
    /// For the original and so many candidates in this room.
    fn over(room: f32, candidates: usize, growth: f32) -> Self {
        let share = |names: f32| (room - names * growth) / (candidates + 1) as f32 - 1.0;
        let narrow = share(ROOMY[0]) < ROOMY[1] * growth;
        let [names, least] = if narrow { NARROW } else { ROOMY };
        let each = share(names).clamp(least * growth, 300.0 * growth);
        Self { names: names * growth, each, growth, narrow }
    }
}

/// Draws the candidates side by side on one footprint: heads that stay, then a line for each figure; the original first.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, differences: bool, growth: f32) {
    let pinned = &scene.selection.pinned;
    let parts: Vec<Candidate> = pinned.iter().copied().filter(|c| *c != Candidate::Original).collect();
    if parts.is_empty() {
        ui.label(format!(
            "Nothing is pinned. Select a candidate and press P, or click “{}” above; up to {PINS_MAX} stand here side by \
             side against the original.",
            Command::Pin.info().label
        ));
        return;
    }
    let Some(original) = Entry::new(scene, Candidate::Original) else {
        ui.label("The original is being checked.");
        return;
    };
    let entries: Vec<Entry> = parts.iter().filter_map(|&candidate| Entry::new(scene, candidate)).collect();
    let columns = Columns::over(ui.available_width(), entries.len(), growth);
    let all: Vec<&Entry> = [&original].into_iter().chain(&entries).collect();
    ScrollArea::horizontal().id_salt("comparison").auto_shrink([false, false]).show(ui, |ui| {
        ui.spacing_mut().item_spacing = vec2(0.0, 1.0);
        heads(ui, scene, &all, columns);
        ui.separator();
        ScrollArea::vertical().id_salt("figures").auto_shrink([false, false]).show(ui, |ui| {
            let says = |column: &&TableColumn| all.iter().any(|entry| entry.words(column).is_some());
            let differs = |column: &&TableColumn| {
                !differences || entries.iter().any(|entry| entry.words(column) != original.words(column))
            };
            for (n, column) in COLUMNS.iter().skip(1).filter(says).filter(differs).enumerate() {
                line(ui, column, &all, columns, n % 2 == 1);
            }
        });
    });
}

/// The heads: each can over the outline of the original, to one scale, its name, its verdict, and the button to pick it.
fn heads(ui: &mut Ui, scene: &LiveScene, entries: &[&Entry], Columns { names, each: width, growth, narrow }: Columns) {
    let Some((_, position)) = scene.position() else { return };
    let largest = largest_mm(entries.iter().map(|entry| &entry.can));
    // In a short window the figures have the room.
    let short = ui.ctx().content_rect().height() < space::SHORT;
    let height = if short { 0.0 } else { (ui.available_height() * 0.2).clamp(48.0, 190.0 * growth) };
    ui.horizontal_top(|ui| {
        ui.allocate_exact_size(vec2(names, 1.0), Sense::hover());
        for entry in entries {
            ui.allocate_ui_with_layout(
                vec2(width, if short { 0.0 } else { height + 76.0 * growth }),
                Layout::top_down(Align::Min),
                |ui| {
                    ui.set_width(width);
                    if !short {
                        let told = format!("{} on the footprint of {}", entry.name, position.reference);
                        let (rect, _) = widgets::picture(ui, vec2(width - 10.0, height), &told);
                        let lengths = scene.place().and_then(|at| why_not::lengths(at, &entry.can, &entry.evaluation));
                        let picture = CanPicture::of(scene, &entry.can, &entry.evaluation, lengths.as_ref(), largest);
                        picture.inspect(|picture| picture.paint(ui.painter(), rect, theme::tokens(ui)));
                    }
                    let name = RichText::new(entry.name).strong();
                    let small = wording::width(ui, entry.name) > width - 12.0;
                    let name = egui::Label::new(if small { name.small() } else { name });
                    ui.add(if narrow { name.wrap() } else { name.extend() });
                    if !narrow && !short {
                        // Else the first line says it.
                        widgets::outcome(ui, entry.evaluation.verdict);
                    }
                    if entry.candidate == Candidate::Original {
                        return;
                    }
                    ui.horizontal(|ui| {
                        ui.spacing_mut().item_spacing.x = 4.0;
                        let picked = position.pick.as_deref() == Some(entry.name);
                        let pick = if narrow { "Pick" } else { "Pick this" };
                        let pick = ui.add_enabled(!picked, egui::Button::new(if picked { "Picked" } else { pick }));
                        if pick.on_hover_text(format!("Picks {} for {}.", entry.name, position.reference)).clicked() {
                            scene.push(Action::SelectCandidate(entry.candidate));
                            scene.push(Action::Run(Command::Pick));
                        }
                        let hover = format!("Takes {} out of the comparison.", entry.name);
                        let unpin = widgets::named(ui.button(if narrow { "×" } else { "Unpin" }), "Unpin");
                        if unpin.on_hover_text(hover).clicked() {
                            scene.push(Action::Pin(entry.candidate));
                        }
                    });
                },
            );
        }
    });
}

/// How an entry stands to the original in a column, and by how much.
fn standing(column: &TableColumn, original: &Entry, entry: &Entry) -> (Stands, Option<f64>) {
    match column.subject {
        Subject::Number(..) => compare_numbers(column.better, original.number(column), entry.number(column)),
        Subject::Text(_) => (compare_texts(original.words(column), entry.words(column)), None),
        Subject::Verdict | Subject::Check(_) => {
            let outcomes = original.outcome(column).zip(entry.outcome(column));
            (outcomes.map_or(Stands::NotComparable, |(original, own)| compare_outcomes(original, own)), None)
        }
    }
}

fn line(
    ui: &mut Ui,
    column: &TableColumn,
    entries: &[&Entry],
    Columns { names, each: width, growth, .. }: Columns,
    striped: bool,
) {
    let tokens = theme::tokens(ui);
    let unit = column.unit();
    // Shares are written with their sign.
    let is_share = matches!(column.subject, Subject::Number(_, Unit::Share));
    let name = if unit.is_empty() || is_share || column.name.starts_with(unit) {
        column.name.to_owned()
    } else {
        format!("{}, {unit}", column.name)
    };
    let body = TextStyle::Body.resolve(ui.style());
    let small = TextStyle::Small.resolve(ui.style());
    let heading = ui.painter().layout(name.clone(), small.clone(), tokens.weak, names - 6.0);
    let beside_mark = space::MARK + 5.0;
    let values: Vec<_> = entries
        .iter()
        .map(|entry| {
            let words = entry.words(column);
            let ink = if words.is_some() { tokens.text } else { tokens.weak };
            let value = words.map_or_else(|| UNKNOWN.to_owned(), |words| format!("{words} {}", entry.currency(column)));
            let room = width - 6.0 - entry.outcome(column).map_or(0.0, |_| beside_mark);
            ui.painter().layout(value.trim_end().to_owned(), body.clone(), ink, room)
        })
        .collect();
    let highest = values.iter().chain([&heading]).map(|galley| galley.size().y).fold(0.0, f32::max);
    let height = (20.0 * growth).max(highest + 2.0);
    let size = vec2(names + width * entries.len() as f32, height);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    if !ui.is_rect_visible(rect) {
        return;
    }
    if striped {
        ui.painter().rect_filled(rect, 0.0, tokens.stripe);
    }
    let left = rect.left_center() - vec2(0.0, heading.size().y / 2.0);
    ui.painter().galley(left, heading, tokens.weak);
    let mut told = vec![name];
    for (n, (entry, value)) in entries.iter().zip(values).enumerate() {
        let left = rect.left() + names + width * n as f32;
        let mut at = pos2(left, rect.center().y);
        if let Some(outcome) = entry.outcome(column) {
            let mark = Rect::from_min_size(pos2(left, at.y - space::MARK / 2.0), vec2(space::MARK, space::MARK));
            widgets::paint_mark(ui.painter(), mark, outcome, tokens);
            at.x += beside_mark;
        }
        let (end, words) = (at.x + value.size().x, value.text().to_owned());
        ui.painter().galley(at - vec2(0.0, value.size().y / 2.0), value, tokens.text);
        let (stands, difference) = if n == 0 { (Stands::Same, None) } else { standing(column, entries[0], entry) };
        let by = difference.map(|d| format!("{}{}", if d > 0.0 { "+" } else { "−" }, number_in_words(column, d.abs())));
        let by = by.unwrap_or_default();
        sign(ui, pos2(end + 7.0, at.y), left + width, stands, &by, &small);
        told.push(format!("{} {words} {by} {}", entry.name, if n == 0 { "" } else { stands.word() }));
    }
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, told.join("; ")));
    response.on_hover_text(format!("{}\n{}", column.hover, told[1..].join("\n")));
}

/// A triangle up for better, down for worse, and by how much where there is room.
fn sign(ui: &Ui, at: Pos2, right: f32, stands: Stands, by: &str, font: &egui::FontId) {
    let tokens = theme::tokens(ui);
    let (colour, turn) = match stands {
        Stands::Better => (tokens.outcome(Outcome::Pass).ink, -1.0),
        Stands::Worse => (tokens.outcome(Outcome::Fail).ink, 1.0),
        _ => return,
    };
    let corners = vec![at + vec2(0.0, -4.0 * turn), at + vec2(9.0, -4.0 * turn), at + vec2(4.5, 4.0 * turn)];
    ui.painter().add(Shape::convex_polygon(corners, colour, Stroke::NONE));
    let galley = ui.painter().layout_no_wrap(by.to_owned(), font.clone(), colour);
    if at.x + 13.0 + galley.size().x < right - 3.0 {
        ui.painter().galley(pos2(at.x + 13.0, at.y - galley.size().y / 2.0), galley, colour);
    }
}

fn compare_texts(original: Option<String>, own: Option<String>) -> Stands {
    match (original, own) {
        (Some(original), Some(own)) if original == own => Stands::Same,
        (Some(_), Some(_)) => Stands::Other,
        _ => Stands::NotComparable,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn better_and_worse_go_by_what_the_figure_means() {
        let more = |own| compare_numbers(Better::More, Some(10.0), own);
        assert_eq!(more(Some(12.0)), (Stands::Better, Some(2.0)));
        assert_eq!(more(Some(8.0)), (Stands::Worse, Some(-2.0)));
        assert_eq!(more(Some(10.0)), (Stands::Same, None));
        assert_eq!(more(None), (Stands::NotComparable, None));
        assert_eq!(compare_numbers(Better::Less, Some(10.0), Some(8.0)).0, Stands::Better);
        assert_eq!(compare_numbers(Better::Neither, Some(10.0), Some(8.0)).0, Stands::Other);
        assert_eq!(compare_numbers(Better::Less, Some(1.0), Some(f64::INFINITY)), (Stands::Worse, None));
    }

    #[test]
    fn an_outcome_is_better_when_it_is_nearer_to_pass() {
        assert_eq!(compare_outcomes(Outcome::Fail, Outcome::Marginal), Stands::Better);
        assert_eq!(compare_outcomes(Outcome::Pass, Outcome::Unknown), Stands::Worse);
        assert_eq!(compare_outcomes(Outcome::Pass, Outcome::Pass), Stands::Same);
    }
}
