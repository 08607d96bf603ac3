//! Commands as buttons and menu entries, with their keys and, when they cannot be carried out now, the reason.

use egui::{Button, Id, Popup, Response, RichText, Ui};

use crate::app::actions::{Action, Command};
use crate::app::widgets::theme;

/// The button most people want next.
pub(crate) fn primary(ui: &mut Ui, label: &str) -> Response {
    let tokens = theme::tokens(ui);
    ui.add(Button::new(RichText::new(label).color(tokens.base)).fill(tokens.focus))
}

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

/// A small menu of commands where the second button was clicked on `of`; `true` when it was opened just now, so that what was
/// clicked is selected first.
pub(crate) fn context_menu(
    response: &Response,
    of: impl std::hash::Hash + std::fmt::Debug,
    commands: &[Command],
    out: &mut Vec<Action>,
) -> bool {
    // A row is another widget once it is selected: the menu goes by what it is about.
    Popup::context_menu(response).id(Id::unique(("menu", of))).show(|ui| {
        for &command in commands {
            menu_item(ui, command, command.info().label, None, out);
        }
    });
    response.secondary_clicked()
}

/// What can be done with a position, from the second button.
pub(crate) const OF_POSITION: [Command; 6] = [
    Command::EditPosition,
    Command::ToCandidates,
    Command::Pick,
    Command::Unpick,
    Command::DuplicatePosition,
    Command::RemovePosition,
];

pub(crate) const OF_CANDIDATE: [Command; 5] =
    [Command::Pick, Command::Pin, Command::Compare, Command::Mark, Command::CopyRows];

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
