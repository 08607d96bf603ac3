//! Commands as buttons and menu entries, with their keys and, when they cannot be carried out now, the reason.

use egui::{Button, Id, Popup, Response, RichText, Ui};

use crate::app::actions::{Action, Command, LiveScene};
use crate::app::widgets::theme;

/// The button most people want next.
pub(crate) fn primary(ui: &mut Ui, label: &str) -> Response {
    let tokens = theme::tokens(ui);
    ui.add(Button::new(RichText::new(label).color(tokens.base)).fill(tokens.focus))
}

/// A button that runs a command.
pub(crate) fn button(ui: &mut Ui, scene: &LiveScene, command: Command) -> Response {
    add(ui, scene, command, Button::new(command.info().label))
}

/// A menu entry that runs a command and shows its keys; `label` replaces its name where more can be said.
pub(crate) fn menu_item(ui: &mut Ui, scene: &LiveScene, command: Command, label: &str) {
    let mut entry = Button::new(label);
    if let Some(keys) = command.info().keys.first() {
        entry = entry.shortcut_text(ui.ctx().format_shortcut(keys));
    }
    if add(ui, scene, command, entry).clicked() {
        ui.close();
    }
}

/// A small menu of commands where the second button was clicked on `of`; `true` when it was opened just now, so that what was
/// clicked is selected first.
pub(crate) fn context_menu(
    response: &Response,
    scene: &LiveScene,
    of: impl std::hash::Hash + std::fmt::Debug,
    commands: &[Command],
) -> bool {
    // A row is another widget once it is selected: the menu goes by what it is about.
    Popup::context_menu(response).id(Id::unique(("menu", of))).show(|ui| {
        for &command in commands {
            menu_item(ui, scene, command, command.info().label);
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

fn add(ui: &mut Ui, scene: &LiveScene, command: Command, button: Button) -> Response {
    let (info, refused) = (command.info(), scene.refusal(command));
    let mut hover = info.hover.to_owned();
    if let Some(keys) = info.keys.first() {
        hover = format!("{hover} ({})", ui.ctx().format_shortcut(keys));
    }
    let response = ui.add_enabled(refused.is_none(), button).on_hover_text(hover);
    if response.clicked() {
        scene.push(Action::Run(command));
    }
    response.on_disabled_hover_text(refused.unwrap_or_default())
}
