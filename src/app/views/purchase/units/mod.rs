//! The record of the rebuilt units: who is due when, what was done, how the parts wore, and a new rebuild.

mod form;
mod past;

use egui::{self, Button, Panel, ScrollArea, Ui};

use crate::app::actions::action::Action;
use crate::app::actions::command::Command;
use crate::app::state::scene::Scene;
use crate::app::views::purchase::shared::weak;
use crate::app::widgets;
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::domain::{Date, Outcome};
use crate::files::unit_record::{RecordsRead, UnitDue, due_dates};
use crate::sizing::reasons::figure;
use form::Form;

/// What the sheet remembers.
#[derive(Default)]
pub(super) struct State {
    read: RecordsRead,
    due: Vec<UnitDue>,
    selected: Option<String>,
    form: Option<Form>,
}

impl State {
    /// Takes in the record; after a rebuild was added the form is put away and its unit selected.
    pub(super) fn take(&mut self, read: RecordsRead, added: bool) {
        self.due = due_dates(&read.records, Date::today());
        self.read = read;
        if added {
            self.form = None;
            self.selected = self.read.records.last().map(|record| record.serial.trim().to_owned());
        }
    }
}

pub(super) fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut State,
    refusal: &dyn Fn(Command) -> Option<String>,
    out: &mut Vec<Action>,
) {
    if refusal(Command::ExportUnits).is_some() {
        ui.label("The record of the units lies beside the job file: save the job first.");
        widgets::button(ui, Command::SaveAs, None, out);
        return;
    }
    let frame = egui::Frame::new().inner_margin(egui::Margin { right: 10, ..egui::Margin::ZERO });
    Panel::left("units").frame(frame).default_size(250.0).size_range(210.0..=380.0).show(ui, |ui| {
        let types = scene.job.unit_types_or_one();
        for of in &types {
            let name =
                if types.len() == 1 { "New rebuild…".to_owned() } else { format!("New rebuild, {}…", of.name) };
            if ui.add_enabled(scene.fresh, Button::new(name)).clicked() {
                state.form = Form::new(scene, of);
            }
        }
        explain::strong(ui, "Units by due date", "units due");
        ScrollArea::vertical().id_salt("units").auto_shrink([false, false]).show(ui, |ui| list(ui, state));
    });
    let frame = egui::Frame::new().inner_margin(egui::Margin { left: 10, ..egui::Margin::ZERO });
    egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| {
        let State { read, selected, form: new, .. } = state;
        match (new, selected) {
            (Some(form), _) => {
                if form::show(ui, form, &read.records, out) {
                    state.form = None;
                }
            }
            (None, Some(serial)) => past::show(ui, &read.records, serial),
            (None, None) if read.records.is_empty() => {
                ui.set_max_width(560.0);
                ui.label("No rebuild is recorded yet. After a unit is done, record here what went in and what was measured: the next technician finds it in ten years.");
                weak(ui, "The record lies beside the job file (*.units.jsonl) and only grows: nothing in it is ever written over.");
            }
            (None, None) => weak(ui, "Select a unit to see what was done to it."),
        }
    });
}

fn list(ui: &mut Ui, state: &mut State) {
    let tokens = theme::tokens(ui);
    for unit in &state.due {
        let (when, late) = match (unit.due, unit.years_left) {
            (Some(due), Some(left)) if left < 0.0 => (format!("due {due}, overdue by {} years", figure(-left)), true),
            (Some(due), Some(left)) => (format!("due {due}, in {} years", figure(left)), false),
            (Some(due), None) => (format!("due {due}"), false),
            (None, _) => ("due date unknown".to_owned(), true),
        };
        let chosen = state.selected.as_deref() == Some(unit.serial.as_str()) && state.form.is_none();
        let name = format!("{}: {when}", unit.serial);
        let label = ui.selectable_label(chosen, unit.serial.as_str());
        ui.ctx().accesskit_node_builder(label.id, |node| node.set_label(name));
        if label.clicked() {
            state.selected = Some(unit.serial.clone());
            state.form = None;
        }
        let ink = if late { tokens.outcome(Outcome::Marginal).ink } else { tokens.weak };
        ui.colored_label(ink, when);
        ui.colored_label(tokens.weak, format!("rebuilt {}", unit.last));
        ui.add_space(4.0);
    }
    for rejected in &state.read.rejected {
        let text = format!("Line {} of the record cannot be read: {}.", rejected.line, rejected.reason);
        ui.colored_label(tokens.outcome(Outcome::Fail).ink, text);
    }
}
