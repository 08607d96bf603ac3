//! The record of the rebuilt units: who is due when, what was done, how the parts wore.

use egui::{Panel, ScrollArea, Ui};

use super::{past, shared::unsaved};
use crate::app::actions::{Action, BenchAction, Command, LiveScene};
use crate::app::state::Scene;
use crate::app::widgets::{self, explain, theme};
use crate::domain::{Date, Outcome};
use crate::files::unit_record::due_dates;
use crate::sizing::reasons::figure;

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, selected: &mut Option<String>) {
    if unsaved(ui, scene) {
        return;
    }
    let frame = egui::Frame::new().inner_margin(egui::Margin { right: 10, ..egui::Margin::ZERO });
    let width = (ui.available_width() * 0.3).clamp(180.0, 320.0);
    Panel::left("units").frame(frame).resizable(false).exact_size(width).show(ui, |ui| {
        explain::strong(ui, "Units by due date", "units due");
        ScrollArea::vertical().id_salt("units").auto_shrink([false, false]).show(ui, |ui| list(ui, scene, selected));
    });
    let frame = egui::Frame::new().inner_margin(egui::Margin { left: 10, ..egui::Margin::ZERO });
    egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| {
        ui.horizontal_wrapped(|ui| {
            widgets::button(ui, scene, Command::ExportUnits);
            let again = selected.as_ref().map(|serial| format!("Rebuild {serial} again"));
            if again.is_some_and(|words| ui.button(words).on_hover_text("Puts this unit on the bench.").clicked()) {
                scene.push(Action::Bench(BenchAction::NewUnit));
            }
        });
        let records = &scene.records.records;
        match selected {
            Some(serial) if records.iter().any(|record| record.serial.trim() == serial) => past::show(ui, records, serial),
            _ if records.is_empty() => {
                ui.set_max_width(560.0);
                ui.label("No rebuild is recorded yet. Once the cans of a unit are done its rebuild is added here: the next technician finds it in ten years.");
                let quiet = "The record lies beside the job file (*.units.jsonl) and only grows: nothing in it is ever written over.";
                ui.weak(quiet);
            }
            _ => _ = ui.weak("Select a unit to see what was done to it."),
        }
    });
}

fn list(ui: &mut Ui, scene: &Scene, selected: &mut Option<String>) {
    let tokens = theme::tokens(ui);
    for unit in due_dates(&scene.records.records, Date::today()) {
        let (when, late) = match (unit.due, unit.years_left) {
            (Some(due), Some(left)) if left < 0.0 => (format!("due {due}, overdue by {} years", figure(-left)), true),
            (Some(due), Some(left)) => (format!("due {due}, in {} years", figure(left)), false),
            (Some(due), None) => (format!("due {due}"), false),
            (None, _) => ("due date unknown".to_owned(), true),
        };
        let chosen = selected.as_deref() == Some(unit.serial.as_str());
        let name = format!("{}: {when}", unit.serial);
        if widgets::named(ui.selectable_label(chosen, unit.serial.as_str()), name).clicked() {
            *selected = Some(unit.serial.clone());
        }
        ui.spacing_mut().interact_size.y = 0.0;
        ui.colored_label(if late { tokens.outcome(Outcome::Marginal).ink } else { tokens.weak }, when);
        ui.weak(format!("rebuilt {}", unit.last));
        ui.add_space(4.0);
    }
    for rejected in &scene.records.rejected {
        let text = format!("Line {} of the record cannot be read: {}.", rejected.line, rejected.reason);
        ui.colored_label(tokens.outcome(Outcome::Fail).ink, text);
    }
}
