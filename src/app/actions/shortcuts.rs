//! From keys to commands.

use egui::{self, Context};

use crate::app::actions::command::{Command, Reach};
use crate::app::state::selection::List;
use crate::app::widgets::{focus_id, map_focus_id, map_has_enter};

/// The commands whose keys were pressed; the keys are then used up. `at_rest`: nothing is typed into the field that has the
/// keyboard, so that undo is the job's.
pub(crate) fn pressed(ctx: &Context, at_rest: bool) -> Vec<Command> {
    let focused = ctx.memory(egui::Memory::focused);
    let lists = [List::Positions, List::Candidates].map(focus_id);
    let lists_have_keyboard = focused.is_none_or(|id| lists.contains(&id)) && !egui::Popup::is_any_open(ctx);
    let on_map = focused == Some(map_focus_id());
    let typing = ctx.text_edit_focused();
    let mut commands: Vec<Command> = Command::all()
        .filter(|command| match command.info().reach {
            Reach::Everywhere => true,
            Reach::OutsideText => !typing || (at_rest && matches!(command, Command::Undo | Command::Redo)),
            // Enter is a key of many controls: it picks only from the row of the candidate itself, or on the map.
            Reach::Lists if *command == Command::Pick => {
                (on_map && !map_has_enter(ctx)) || focused == Some(focus_id(List::Candidates))
            }
            Reach::Lists => lists_have_keyboard || (on_map && !moves(*command)),
        })
        .collect();
    // Keys with more modifiers first, so that Ctrl+Shift+S is not taken for Ctrl+S.
    commands.sort_by_key(|command| std::cmp::Reverse(command.info().keys.iter().map(|k| modifiers(*k)).max()));
    let was_pressed = |command: &Command| {
        let keys = command.info().keys;
        ctx.input_mut(|input| keys.iter().any(|keys| input.consume_shortcut(keys)))
    };
    let mut pressed: Vec<Command> = commands.into_iter().filter(was_pressed).collect();
    if !typing && copy_was_asked(ctx) {
        pressed.push(Command::CopyRows);
    }
    pressed
}

/// Windowing systems say "copy" instead of the keys. Text selected on the window is copied as such.
fn copy_was_asked(ctx: &Context) -> bool {
    let text_selected = ctx.plugin::<egui::text_selection::LabelSelectionState>().lock().has_selection();
    !text_selected && ctx.input(|input| input.events.contains(&egui::Event::Copy))
}

/// Whether the keys of a command move about: on the map they move from can to can.
fn moves(command: Command) -> bool {
    use egui::Key::{ArrowDown, ArrowLeft, ArrowRight, ArrowUp, End, Home};
    let moving = [ArrowDown, ArrowLeft, ArrowRight, ArrowUp, End, Home];
    command.info().keys.iter().any(|keys| moving.contains(&keys.logical_key))
}

fn modifiers(keys: egui::KeyboardShortcut) -> u8 {
    let m = keys.modifiers;
    u8::from(m.alt) + u8::from(m.shift) + u8::from(m.command || m.ctrl)
}
