//! The editor at the right edge, reachable from every place: the positions at hand, their board, the job with its policy.

mod board;
mod job;
mod lists;
mod others;
mod position;
mod shapes;

use egui::{ScrollArea, Ui};

use crate::app::actions::command::Command;
use crate::app::actions::{Action, LiveScene};
use crate::app::state::selection::EditorSheet as Sheet;
use crate::app::state::session::Session;
use crate::app::widgets;
use crate::app::widgets::drafts::Drafts;
use crate::domain::{OtherId, PositionId};

#[derive(Debug, Default)]
pub(crate) struct EditorState {
    /// What it showed when last drawn; `None` while it is closed.
    shown: Option<Sheet>,
    /// Moves of positions seen so far.
    moves: u64,
    drafts: Drafts,
    /// The positions, the board, the other part and the test point the drafts belong to.
    for_whom: (Vec<PositionId>, usize, [Option<OtherId>; 2]),
    /// Gives the keyboard to a field when next drawn.
    take_keyboard: bool,
    /// To this one, by its path; else to the first.
    at: Option<&'static str>,
}

impl EditorState {
    /// Gives the keyboard to a field: to that at `path`, else to what the position needs first.
    pub(crate) fn take_keyboard(&mut self, path: Option<&'static str>) {
        (self.take_keyboard, self.at) = (true, path);
    }

    /// Follows what is to be shown; refused entries are forgotten when the job has changed under them.
    pub(crate) fn follow(&mut self, session: &Session) {
        let open = session.selection.editor;
        if self.shown != open {
            self.take_keyboard = open.is_some();
            self.drafts.clear();
        }
        if self.moves != session.moves {
            self.drafts.clear();
        }
        (self.shown, self.moves) = (open, session.moves);
    }
}

const SHEETS: [(Sheet, Command, &str); 4] = [
    (Sheet::Position, Command::EditPosition, "Position"),
    (Sheet::Others, Command::EditOthers, "Other parts"),
    (Sheet::Board, Command::EditBoard, "The board"),
    (Sheet::Job, Command::EditJob, "The job"),
];

/// Draws the editor.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut EditorState) {
    let Some(open) = state.shown else { return };
    let at_hand = scene.selection.at_hand();
    let selection = scene.selection;
    let for_whom = (at_hand.clone(), selection.board, [selection.other, selection.test_point]);
    if state.for_whom != for_whom {
        state.for_whom = for_whom;
        state.drafts.clear();
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        for (sheet, command, name) in SHEETS {
            let tab = ui.selectable_label(open == sheet, name).on_hover_text(command.info().hover);
            if tab.clicked() && open != sheet {
                scene.push(Action::Run(command));
            }
        }
        let close = widgets::named(ui.button("×"), "Close the editor");
        if close.on_hover_text("Closes the editor; what was entered stays.").clicked() {
            scene.push(Action::CloseEditor);
        }
    });
    // Each sheet, and each part of it, begins at its top.
    let sheet = ("editor", open as u8, selection.other, selection.test_point);
    let area = ScrollArea::vertical().auto_shrink([false, false]).id_salt(sheet);
    let fields = |ui: &mut Ui| {
        match open {
            Sheet::Position => position::show(ui, scene, &at_hand),
            Sheet::Others => others::show(ui, scene),
            Sheet::Board => board::show(ui, scene),
            Sheet::Job => job::show(ui, scene),
        }
        let buttons: &[Command] = match open {
            Sheet::Position => &[Command::AddPosition, Command::DuplicatePosition, Command::RemovePosition],
            Sheet::Board => &[Command::AddBoard, Command::DuplicateBoard, Command::RemoveBoard],
            Sheet::Others | Sheet::Job => &[],
        };
        ui.add_space(6.0);
        ui.horizontal_wrapped(|ui| {
            for &command in buttons {
                widgets::button(ui, scene, command);
            }
        });
        widgets::follow_focus(ui);
    };
    scene.typing(&mut state.drafts, || area.show(ui, fields));
    if std::mem::take(&mut state.take_keyboard) {
        let needed = || scene.sized()?.needs.first().map(|need| need.path());
        let first = match open {
            Sheet::Position => needed().filter(|path| !path.starts_with("job.")).unwrap_or("original.label"),
            Sheet::Others if selection.test_point.is_some() => "test_points.ref",
            Sheet::Others => "other_parts.ref",
            Sheet::Board => "board.name",
            Sheet::Job => "job.name",
        };
        // What is asked of a list has the field of its first entry.
        let key = match state.at.take().unwrap_or(first) {
            "stress.phases" => "stress.phases.ambient_c",
            "stress.ripple" => "stress.ripple.a",
            path => path,
        };
        ui.memory_mut(|memory| memory.request_focus(egui::Id::unique(("entry", key))));
    }
}
