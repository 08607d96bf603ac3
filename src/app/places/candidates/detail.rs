//! Why the candidate in question fares as it does: every check with its reason.

use eframe::egui::{Grid, Ui};

use crate::app::scene::Scene;
use crate::app::widgets;
use crate::domain::Check;
use crate::sizing::reasons::reason;

/// Draws every check with its outcome and its reason in words.
pub(crate) fn show(ui: &mut Ui, scene: &Scene) {
    let Some(candidate) = scene.candidate() else { return };
    let (Some(place), Some(can), Some(evaluation)) = (scene.place(), scene.can(candidate), scene.evaluation(candidate))
    else {
        return;
    };
    ui.strong(format!("Why {} is {}", scene.name(candidate), evaluation.verdict.word()));
    Grid::new("reasons").num_columns(3).spacing([14.0, 2.0]).show(ui, |ui| {
        for check in Check::ALL {
            ui.label(check.word());
            widgets::outcome(ui, evaluation.outcome(check));
            ui.label(reason(&place, &can, &evaluation, check));
            ui.end_row();
        }
    });
}
