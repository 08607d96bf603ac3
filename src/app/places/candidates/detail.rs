//! Why the candidate in question fares as it does: every check with its reason.

use eframe::egui::{Align, Label, Layout, TextStyle, Ui, vec2};

use super::entry::Entry;
use crate::app::scene::Scene;
use crate::app::{theme, widgets};
use crate::domain::{Check, Outcome};

/// Draws every check with its outcome and its reason in words.
pub(crate) fn show(ui: &mut Ui, scene: &Scene) {
    let (Some(candidate), Some(place)) = (scene.candidate(), scene.place()) else { return };
    let Some(entry) = Entry::new(scene, &place, candidate) else { return };
    ui.strong(format!("Why {} is {}", entry.name, entry.evaluation.verdict.word()));
    ui.spacing_mut().item_spacing.y = 3.0;
    for check in Check::ALL {
        ui.horizontal_top(|ui| {
            column(ui, 90.0, |ui| ui.label(check.word()));
            column(ui, 84.0, |ui| widgets::outcome(ui, entry.evaluation.outcome(check)));
            ui.add(Label::new(entry.reason(check)).wrap());
        });
    }
}

/// Something in a column of a fixed width, one line high; what follows may wrap, which a grid does not allow.
fn column<R>(ui: &mut Ui, width: f32, contents: impl FnOnce(&mut Ui) -> R) {
    let height = ui.text_style_height(&TextStyle::Body);
    ui.allocate_ui_with_layout(vec2(width, height), Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_width(width);
        contents(ui);
    });
}

/// The reasons of what does not pass, for a hover.
pub(crate) fn hover(ui: &mut Ui, entry: &Entry, only: Option<Check>) {
    ui.set_max_width(420.0);
    let tokens = theme::tokens(ui);
    ui.strong(format!("{}: {}", entry.name, entry.evaluation.verdict.word()));
    let interesting = |check: &Check| only.map_or(entry.evaluation.outcome(*check) != Outcome::Pass, |o| o == *check);
    let checks: Vec<Check> = Check::ALL.into_iter().filter(interesting).collect();
    if checks.is_empty() {
        ui.colored_label(tokens.weak, "every check passes");
    }
    for check in checks {
        ui.horizontal_top(|ui| {
            widgets::mark(ui, entry.evaluation.outcome(check), check.word());
            ui.add(Label::new(format!("{}: {}", check.word(), entry.reason(check))).wrap());
        });
    }
}
