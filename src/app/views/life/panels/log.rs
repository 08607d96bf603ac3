//! A temperature log as phases of the duty.

use egui::{DragValue, Ui};

use super::{context::PanelContext, context::remark};
use crate::app::actions::{Action, Command};
use crate::app::widgets;
use crate::domain::style::counted;
use crate::files::temperature_log::{LogAnswers, Scale, TemperatureLog};
use crate::sizing::{duty_from_log::MOST_PHASES, reasons::figure};

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    widgets::button(ui, desk.scene, Command::ReadTemperatureLog);
    let Some((_, log)) = desk.forms.log.clone() else {
        ui.weak("A CSV file of times and temperatures, as a logger writes it. Dropping it on the window here reads it, too.");
        return;
    };
    what_was_read(ui, desk, &log);
    if log.stretches.is_empty() {
        return;
    }
    ui.horizontal(|ui| {
        let label = ui.label("Phases");
        ui.add(DragValue::new(&mut desk.forms.log_phases).range(1..=MOST_PHASES)).labelled_by(label.id);
    });
    phases(ui, desk);
}

/// The log in short: its length, the column used, what was noted and what was not used; what is open, first.
fn what_was_read(ui: &mut Ui, desk: &mut PanelContext, log: &TemperatureLog) {
    if let Some(column) = log.column.as_ref().filter(|_| !log.stretches.is_empty()) {
        ui.label(format!(
            "{column}: {} readings over {} days, one in {} s.",
            log.stretches.len(),
            figure(log.length_s / 86_400.0),
            figure(log.step_s)
        ));
    }
    if log.columns.len() > 1 {
        let hover = "Several columns hold temperatures; the one beside the can counts.";
        let entries = log.columns.iter().map(|name| (name, Some(name) == log.column.as_ref(), name.clone()));
        if let Some(column) = ui.horizontal(|ui| widgets::listed(ui, ("Column", hover), 180.0, entries)).inner {
            desk.forms.log_answers = Some(LogAnswers { column: Some(column.clone()), scale: None });
        }
    }
    if log.column.is_some() {
        let hover = "Thermocouples of type K are no kelvin, and a warm place without a unit may be in °F.";
        let entries = Scale::ALL.map(|(scale, sign)| (scale, Some(scale) == log.scale, sign.to_owned()));
        if let Some(scale) = ui.horizontal(|ui| widgets::listed(ui, ("Unit", hover), 180.0, entries)).inner {
            desk.forms.log_answers = Some(LogAnswers { column: log.column.clone(), scale: Some(scale) });
        }
    }
    for note in &log.notes {
        remark(ui, note.as_str());
    }
    if let Some(first) = log.rejected.first() {
        ui.weak(format!(
            "{} not used; the first, line {}: \"{}\", {}.",
            counted(log.rejected.len(), "row was", "rows were"),
            first.line,
            first.value,
            first.reason
        ));
    }
}

/// The phases it is cut into, what that changes, and the button to use them.
fn phases(ui: &mut Ui, desk: &mut PanelContext) {
    let Some(answers) = desk.answers(ui) else { return };
    let Some(cut) = answers.cut_log.clone() else {
        ui.weak("The log cannot be cut into phases: it has no duration.");
        return;
    };
    let binned = &cut.binned;
    ui.label(format!("{} to {} °C, mean {} °C.", figure(binned.min_c), figure(binned.max_c), figure(binned.mean_c)));
    let error = |share: f64| format!("{:+.1} %", 100.0 * share);
    let of_part = cut.of_candidate.map_or_else(|| "unknown".into(), error);
    ui.label(format!(
        "{} phases change the life by {} under the 10 K rule, by {of_part} for the selected candidate.",
        binned.phases.len(),
        error(binned.life_error)
    ));
    for (at, phase) in binned.phases.iter().enumerate() {
        let (Some(share), Some(ambient_c)) = (phase.share, phase.ambient_c) else { continue };
        remark(ui, format!("phase {}: {} % at {} °C", at + 1, figure(100.0 * share), figure(ambient_c)));
    }
    let button = ui.button(format!("Use these {} phases", binned.phases.len()));
    let hover = "Replaces the load profile of this position, as one change that can be undone. A log knows nothing of the ripple: its factor is 1 in every phase.";
    if button.on_hover_text(hover).clicked() {
        let phases = binned.phases.clone();
        desk.edit("load profile from a temperature log", |position| position.stress.phases = Some(phases));
        desk.scene
            .push(Action::Say("The load profile was replaced by the phases of the log; ripple factors are 1.".into()));
    }
}
