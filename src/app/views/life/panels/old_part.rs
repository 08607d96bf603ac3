//! The old part beside what the laws predicted for its age, and the old parts of the board by condition.

use egui::{Grid, Ui};

use super::context::{PanelContext, assumed, remark};
use crate::app::actions::Action;
use crate::app::widgets::wording::{UNKNOWN, capital, percent, with_unit};
use crate::app::widgets::{self, explain};
use crate::sizing::{old_part::OldPart, old_part::Verdict, reasons::figure};

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    let Some(answers) = desk.answers(ui).cloned() else { return };
    if let Some(old) = &answers.old_part {
        one(ui, desk, old);
    }
    ui.add_space(4.0);
    ui.label("The board by condition, the most worn first:");
    Grid::new("old parts").num_columns(4).spacing([10.0, 1.0]).striped(true).show(ui, |ui| {
        ui.label("");
        explain::column(ui, "Condition", "condition");
        explain::column(ui, "Worn", "worn");
        explain::column(ui, "Predicted", "predicted wear");
        explain::column(ui, "Stress", "stress verdict");
        ui.end_row();
        for old in &answers.board.old_parts {
            if widgets::link(ui, desk.scene.reference(old.id)).clicked() {
                desk.scene.push(Action::Select(old.id));
            }
            ui.label(old.assessment.condition.word());
            ui.label(old.measured_wear.map_or_else(|| UNKNOWN.into(), percent));
            ui.label(old.predicted_wear.map_or_else(|| UNKNOWN.into(), percent));
            ui.label(verdict(old.verdict));
            ui.end_row();
        }
    });
    remark(
        ui,
        "Where an old part wore more than every law predicted, the stress entered is too low: measure before trusting the new one.",
    );
}

fn one(ui: &mut Ui, desk: &PanelContext, old: &OldPart) {
    let measured = desk.scene.position().and_then(|(_, position)| position.measured.clone());
    let Some(measured) = measured else {
        ui.weak("Nothing was measured on this old part. Capacitance and ESR with its frequency tell its condition.");
        return;
    };
    let share =
        old.assessment.capacitance_share.map_or_else(String::new, |share| format!(" ({} of nominal)", percent(share)));
    let ratio =
        old.assessment.esr_ratio.map_or_else(String::new, |ratio| format!(" ({} times its limit)", figure(ratio)));
    ui.label(format!(
        "{}: measured {}{share} and {}{ratio}.",
        capital(old.assessment.condition.word()),
        with_unit(measured.capacitance_uf, "µF"),
        with_unit(measured.esr_mohm, "mΩ")
    ));
    ui.label(old.sentence());
    let age = old.age_years.map_or_else(|| "of unknown age".into(), |years| format!("{} years old", figure(years)));
    let today = if old.age_assumed { ", measured today (assumed)" } else { "" };
    remark(ui, format!("{}{today}, {} energised; {}.", capital(&age), with_unit(old.hours, "h"), assumed(old.assumed)));
    if let Some(note) = measured.note.filter(|note| !note.is_empty()) {
        remark(ui, format!("Seen: {note}."));
    }
}

fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Unknown => UNKNOWN,
        Verdict::WearsLess => "less than thought",
        Verdict::AsPredicted => "as thought",
        Verdict::WearsMore => "more than thought",
    }
}
