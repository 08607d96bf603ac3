//! From keys to commands.

use egui::{self, Context, KeyboardShortcut};

use crate::app::actions::command::{Command, Reach, is_function_key};
use crate::app::state::List;
use crate::app::widgets::{entry::at_rest, focus_id, map_focus_id, map_has_enter};

/// The commands whose keys were pressed; the keys are then used up.
pub(crate) fn pressed(ctx: &Context) -> Vec<Command> {
    let focused = ctx.memory(egui::Memory::focused);
    let lists = [List::Positions, List::Candidates].map(focus_id);
    let free = !egui::Popup::is_any_open(ctx);
    let in_list = free && focused.is_some_and(|id| lists.contains(&id));
    let on_map = free && focused == Some(map_focus_id());
    let typing = ctx.text_edit_focused();
    // Nothing is typed into the field that has the keyboard: undo is the job's.
    let at_rest = at_rest(ctx);
    let works = |command: Command, keys: &KeyboardShortcut| match command.info().reach {
        Reach::Everywhere => true,
        Reach::OutsideText => {
            !typing || (at_rest && matches!(command, Command::Undo | Command::Redo | Command::PickProposals))
        }
        Reach::Lists if is_function_key(keys.logical_key) => true,
        // Enter is a key of many controls: it picks only from the row of the candidate itself, or on the map.
        Reach::Lists if command == Command::Pick => {
            (on_map && !map_has_enter(ctx)) || (free && focused == Some(focus_id(List::Candidates)))
        }
        // Arrows find their way to a list from nowhere; letters would do something nobody asked for.
        Reach::Lists if moves(*keys) => in_list || (free && focused.is_none()),
        // An empty job has no list that could have the keyboard.
        Reach::Lists if command == Command::AddPosition => in_list || on_map || (free && focused.is_none()),
        Reach::Lists => in_list || on_map,
    };
    let keys = |command: Command| command.info().keys.iter().map(move |keys| (command, *keys));
    let mut all: Vec<(Command, KeyboardShortcut)> =
        Command::all().flat_map(keys).filter(|(command, keys)| works(*command, keys)).collect();
    // Keys with more modifiers first, so that Ctrl+Shift+S is not taken for Ctrl+S.
    all.sort_by_key(|(_, keys)| std::cmp::Reverse(modifiers(*keys)));
    let was_pressed = |(_, keys): &(Command, KeyboardShortcut)| ctx.input_mut(|input| input.consume_shortcut(keys));
    let mut pressed: Vec<Command> = all.into_iter().filter(was_pressed).map(|(command, _)| command).collect();
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

/// Whether keys move about: on the map they move from can to can.
fn moves(keys: KeyboardShortcut) -> bool {
    use egui::Key::{ArrowDown, ArrowLeft, ArrowRight, ArrowUp, End, Home};
    [ArrowDown, ArrowLeft, ArrowRight, ArrowUp, End, Home].contains(&keys.logical_key)
}

fn modifiers(keys: KeyboardShortcut) -> u8 {
    let m = keys.modifiers;
    u8::from(m.alt) + u8::from(m.shift) + u8::from(m.command || m.ctrl)
}
