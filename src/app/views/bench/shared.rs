//! What the sheets of the panel share: names, the large button, the foot that stays in sight, and Enter from field to field.

use egui::{Button, Id, Key, RichText, ScrollArea, Ui, vec2};

use super::{state::BenchState, state::FOOT};
use crate::app::actions::{Command, LiveScene};
use crate::app::widgets::{self, theme};
use crate::domain::UnitAtBench;

pub(super) fn name(unit: Option<&UnitAtBench>) -> String {
    match unit.map(|unit| unit.serial.trim()) {
        None => "No unit yet".to_owned(),
        Some("") => "Unit without a number".to_owned(),
        Some(serial) => format!("Unit {serial}"),
    }
}

/// Says that the job must be saved before there is a record; whether that is so.
pub(super) fn unsaved(ui: &mut Ui, scene: &LiveScene) -> bool {
    let unsaved = scene.refusal(Command::ExportUnits).is_some();
    if unsaved {
        ui.label("The record of the units lies beside the job file: save the job first.");
        widgets::button(ui, scene, Command::SaveAs);
    }
    unsaved
}

/// A button as wide as the panel for what is done most often.
pub(super) fn main_button(ui: &mut Ui, state: &mut BenchState, words: &str, open: bool) -> egui::Response {
    let tokens = theme::tokens(ui);
    let text = RichText::new(words).heading().color(tokens.selected_text);
    let size = vec2(ui.available_width(), ui.spacing().interact_size.y + 6.0);
    let button = ui.add_enabled_ui(open, |ui| ui.add_sized(size, Button::new(text).fill(tokens.selected))).inner;
    if state.keyboard_to == Some(FOOT) {
        state.keyboard_to = None;
        button.request_focus();
    }
    button
}

/// Draws the content, scrolled where it is too high, and below it, always in sight, the foot (`true`).
pub(super) fn above_foot(ui: &mut Ui, salt: &str, mut draw: impl FnMut(&mut Ui, bool)) {
    let known = Id::unique(salt).with("foot");
    let before = ui.data(|data| data.get_temp::<f32>(known)).unwrap_or(ui.spacing().interact_size.y);
    let height = (ui.available_height() - before - ui.spacing().item_spacing.y).max(ui.spacing().interact_size.y);
    ScrollArea::vertical().id_salt(salt).max_height(height).auto_shrink([false, false]).show(ui, |ui| {
        draw(ui, false);
        widgets::follow_focus(ui);
    });
    let now = ui.scope(|ui| draw(ui, true)).response.rect.height();
    if (now - before).abs() > 0.5 {
        ui.data_mut(|data| data.insert_temp(known, now));
        ui.ctx().request_repaint();
    }
}

/// After Enter the next field has the keyboard, after the last one the button at the foot; a refused entry keeps it.
pub(super) fn follow_enter(ui: &Ui, focused: Option<Id>, state: &mut BenchState, fields: &[&'static str]) {
    let id = |path: &str| Id::unique(("entry", path));
    if let Some(to) = state.keyboard_to.filter(|to| fields.contains(to)) {
        state.keyboard_to = None;
        ui.memory_mut(|memory| memory.request_focus(id(to)));
        ui.ctx().request_repaint();
    }
    if !ui.input(|input| input.key_pressed(Key::Enter)) || ui.memory(egui::Memory::focused).is_some() {
        return;
    }
    if let Some(at) = fields.iter().position(|path| Some(id(path)) == focused) {
        let here = fields[at];
        state.keyboard_to =
            if state.drafts.holds(here) { Some(here) } else { Some(fields.get(at + 1).copied().unwrap_or(FOOT)) };
        ui.ctx().request_repaint();
    }
}
