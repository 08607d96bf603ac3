//! Why the candidate in question fares as it does: every check with its reason.

use eframe::egui::{Grid, Label, Ui};

use super::entry::Entry;
use crate::app::scene::Scene;
use crate::app::{theme, widgets};
use crate::domain::{Check, Outcome};

/// Draws every check with its outcome and its reason in words.
pub(crate) fn show(ui: &mut Ui, scene: &Scene) {
    let (Some(candidate), Some(place)) = (scene.candidate(), scene.place()) else { return };
    let Some(entry) = Entry::new(scene, &place, candidate) else { return };
    ui.strong(format!("Why {} is {}", entry.name, entry.evaluation.verdict.word()));
    Grid::new("reasons").num_columns(3).spacing([14.0, 2.0]).show(ui, |ui| {
        for check in Check::ALL {
            ui.label(check.word());
            widgets::outcome(ui, entry.evaluation.outcome(check));
            let width = (ui.available_width() - 4.0).max(120.0);
            ui.scope(|ui| {
                ui.set_max_width(width);
                ui.add(Label::new(entry.reason(check)).wrap());
            });
            ui.end_row();
        }
    });
}

/// The reasons of what does not pass, for a hover.
pub(crate) fn hover(ui: &mut Ui, entry: &Entry, only: Option<Check>) {
    ui.set_max_width(420.0);
    let tokens = theme::tokens(ui);
    ui.strong(format!("{}: {}", entry.name, entry.evaluation.verdict.word()));
    let checks: Vec<Check> = match only {
        Some(check) => vec![check],
        None => {
            let interesting = |check: &Check| entry.evaluation.outcome(*check) != Outcome::Pass;
            Check::ALL.into_iter().filter(interesting).collect()
        }
    };
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
