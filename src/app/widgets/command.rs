//! Commands as buttons and menu entries, with their keys and, when they cannot be carried out now, the reason.

use egui::{Button, Response, Ui};

use crate::app::actions::action::Action;
use crate::app::actions::command::Command;

/// A button that runs a command. `refused` says why it cannot be carried out now.
pub(crate) fn button(ui: &mut Ui, command: Command, refused: Option<&str>, out: &mut Vec<Action>) -> Response {
    add(ui, command, Button::new(command.info().label), refused, out)
}

/// A menu entry that runs a command and shows its keys; `label` replaces its name where more can be said.
pub(crate) fn menu_item(ui: &mut Ui, command: Command, label: &str, refused: Option<&str>, out: &mut Vec<Action>) {
    let mut entry = Button::new(label);
    if let Some(keys) = command.info().keys.first() {
        entry = entry.shortcut_text(ui.ctx().format_shortcut(keys));
    }
    if add(ui, command, entry, refused, out).clicked() {
        ui.close();
    }
}

fn add(ui: &mut Ui, command: Command, button: Button, refused: Option<&str>, out: &mut Vec<Action>) -> Response {
    let info = command.info();
    let mut hover = info.hover.to_owned();
    if let Some(keys) = info.keys.first() {
        hover = format!("{hover} ({})", ui.ctx().format_shortcut(keys));
    }
    let response = ui.add_enabled(refused.is_none(), button).on_hover_text(hover);
    if response.clicked() {
        out.push(Action::Run(command));
    }
    response.on_disabled_hover_text(refused.unwrap_or_default())
}
