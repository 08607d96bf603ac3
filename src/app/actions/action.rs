//! What views ask for. A view never changes anything itself: it pushes actions, and the window carries them out.

use crate::app::actions::command::Command;
use crate::app::state::edit::Edit;
use crate::app::state::selection::{Candidate, View};
use crate::domain::PositionId;

/// A wish of the person at the window.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Action {
    /// A command, as from the menu.
    Run(Command),
    /// A change to the job.
    Edit(Edit),
    /// An entry is finished: what is typed next into the same field is an undo step of its own.
    EndEntry,
    /// Selects a position, and with it its board.
    Select(PositionId),
    /// Marks several positions at once.
    Mark(Vec<PositionId>),
    /// Marks a position besides the selected one, or takes the mark away.
    ToggleMark(PositionId),
    /// Marks every position from the selected one to this one.
    MarkTo(PositionId),
    /// Puts rows copied from a spreadsheet into positions.
    Paste(String),
    /// Opens a job file, a catalogue or a photo that was dropped on the window or chosen from the recent files.
    TakeFile(std::path::PathBuf),
    /// What the import place asks for.
    Import(crate::app::views::import::ImportAction),
    /// Closes the editor.
    CloseEditor,
    /// Selects a board; its first position if the selected one is elsewhere.
    SelectBoard(usize),
    /// Selects a candidate of the selected position.
    SelectCandidate(Candidate),
    /// The candidate under the pointer, shown in passing; asked for anew in every frame.
    Hover(Candidate),
    /// Pins a candidate, or unpins it.
    Pin(Candidate),
    /// Shows a place.
    Show(View),
    /// A wish of the purchase place.
    Buying(crate::app::views::purchase::PurchaseAction),
    /// Shows a message in the status line and keeps it in the list.
    Say(String),
}
