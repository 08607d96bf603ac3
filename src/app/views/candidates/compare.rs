//! The pinned candidates side by side: every figure against the original's, better and worse told apart by word and mark.

use egui::{self, Align2, Grid, RichText, ScrollArea, Sense, Shape, Stroke, TextStyle, Ui, vec2};

use crate::app::actions::action::Action;
use crate::app::state::scene::Scene;
use crate::app::state::selection::{Candidate, PINS_MAX};
use crate::app::views::candidates::columns::{Better, COLUMNS, Subject, TableColumn};
use crate::app::views::candidates::entry::{Entry, number_in_words};
use crate::app::widgets;
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::app::widgets::wording::UNKNOWN;
use crate::domain::Outcome;

/// How a value stands to the original's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stands {
    /// Better.
    Better,
    /// Worse.
    Worse,
    /// Not the same, and neither better nor worse.
    Other,
    /// The same.
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

/// How an outcome stands to the original's.
pub(crate) fn compare_outcomes(original: Outcome, own: Outcome) -> Stands {
    match own.cmp(&original) {
        std::cmp::Ordering::Less => Stands::Better,
        std::cmp::Ordering::Equal => Stands::Same,
        std::cmp::Ordering::Greater => Stands::Worse,
    }
}

/// Draws the table of differences; the candidate in question stands beside the pinned ones.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, out: &mut Vec<Action>) {
    let Some(place) = scene.place() else { return };
    let pinned = &scene.selection.pinned;
    let parts: Vec<Candidate> = pinned.iter().copied().filter(|c| *c != Candidate::Original).collect();
    if parts.is_empty() {
        ui.label(format!(
            "Nothing is pinned. Select a candidate and press P, or click “Pin / Unpin” above; up to {PINS_MAX} stand here \
             side by side against the original."
        ));
        return;
    }
    let Some(original) = Entry::new(scene, &place, Candidate::Original) else {
        ui.label("The original is being checked.");
        return;
    };
    let entries: Vec<Entry> = parts.iter().filter_map(|&candidate| Entry::new(scene, &place, candidate)).collect();
    ScrollArea::both().id_salt("comparison").auto_shrink([false, false]).show(ui, |ui| {
        Grid::new("comparison").num_columns(entries.len() + 2).striped(true).spacing([18.0, 3.0]).show(ui, |ui| {
            explain::heading(ui, "against the original", "comparison");
            ui.strong("original part");
            for entry in &entries {
                ui.horizontal(|ui| {
                    ui.strong(entry.name);
                    if ui
                        .small_button("Unpin")
                        .on_hover_text(format!("Takes {} out of the comparison.", entry.name))
                        .clicked()
                    {
                        out.push(Action::Pin(entry.candidate));
                    }
                });
            }
            ui.end_row();
            for column in COLUMNS.iter().skip(1).filter(|column| says_something(column, &original, &entries)) {
                line(ui, column, &original, &entries);
            }
        });
    });
}

/// Whether a column holds anything for any of them.
fn says_something(column: &TableColumn, original: &Entry, entries: &[Entry]) -> bool {
    entries.iter().chain([original]).any(|entry| entry.words(column).is_some())
}

fn line(ui: &mut Ui, column: &TableColumn, original: &Entry, entries: &[Entry]) {
    let unit = column.unit();
    let name =
        if unit.is_empty() || unit == "%" { column.name.to_lowercase() } else { format!("{}, {unit}", column.name) };
    ui.label(name).on_hover_text(column.hover);
    value(ui, column, original);
    for entry in entries {
        ui.horizontal(|ui| {
            value(ui, column, entry);
            let (stands, difference) = match column.subject {
                Subject::Number(..) => compare_numbers(column.better, original.number(column), entry.number(column)),
                Subject::Text(_) => (compare_texts(original.words(column), entry.words(column)), None),
                Subject::Verdict | Subject::Check(_) => {
                    let outcomes = original.outcome(column).zip(entry.outcome(column));
                    (outcomes.map_or(Stands::NotComparable, |(original, own)| compare_outcomes(original, own)), None)
                }
            };
            let by =
                difference.map(|d| format!("{}{} ", if d > 0.0 { "+" } else { "−" }, number_in_words(column, d.abs())));
            verdict(ui, stands, &by.unwrap_or_default());
        });
    }
    ui.end_row();
}

fn compare_texts(original: Option<String>, own: Option<String>) -> Stands {
    match (original, own) {
        (Some(original), Some(own)) if original == own => Stands::Same,
        (Some(_), Some(_)) => Stands::Other,
        _ => Stands::NotComparable,
    }
}

fn value(ui: &mut Ui, column: &TableColumn, entry: &Entry) {
    let tokens = theme::tokens(ui);
    match (entry.outcome(column), entry.words(column)) {
        (Some(outcome), _) => widgets::outcome(ui, outcome),
        (None, Some(words)) => ui.label(format!("{words} {}", entry.currency(column)).trim_end()),
        (None, None) => ui.colored_label(tokens.weak, UNKNOWN),
    };
}

/// An arrow up for better, down for worse, and the word.
fn verdict(ui: &mut Ui, stands: Stands, by: &str) {
    let tokens = theme::tokens(ui);
    let colour = match stands {
        Stands::Better => tokens.outcome(Outcome::Pass).ink,
        Stands::Worse => tokens.outcome(Outcome::Fail).ink,
        _ => tokens.weak,
    };
    if matches!(stands, Stands::Better | Stands::Worse) {
        let (rect, _) = ui.allocate_exact_size(vec2(9.0, 9.0), Sense::hover());
        let tip = if stands == Stands::Better { Align2::CENTER_TOP } else { Align2::CENTER_BOTTOM };
        let (left, right) = if stands == Stands::Better {
            (rect.left_bottom(), rect.right_bottom())
        } else {
            (rect.left_top(), rect.right_top())
        };
        let corners = vec![left, right, tip.pos_in_rect(&rect)];
        ui.painter().add(Shape::convex_polygon(corners, colour, Stroke::NONE));
    }
    let text = format!("{by}{}", stands.word());
    if !text.is_empty() {
        ui.add(egui::Label::new(RichText::new(text).color(colour).text_style(TextStyle::Small)));
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
