//! What views ask for. A view never changes anything itself: it pushes actions, and the window carries them out.

use crate::app::actions::command::Command;
use crate::app::state::{Candidate, Edit, View};
use crate::domain::{Job, OtherId, Place, PositionId};
use crate::sizing::OrderOptions;

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
    /// Opens the editor with another part, and with it its board.
    SelectOther(OtherId),
    /// The same with a test point.
    SelectTestPoint(OtherId),
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
    /// Shows the place on a data sheet's page that a part was read from, as the catalogue names it.
    ShowDatasheet(String),
    /// What the import place asks for.
    Import(ImportAction),
    CloseEditor,
    /// Opens the editor with the keyboard in the field at this path.
    EditField(&'static str),
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
    /// Opens a new job with what was said of it.
    BeginJob(Box<Job>),
    /// Uses a catalogue in the job, or does not.
    UseCatalog(String, bool),
    /// Takes a catalogue off the list; its file stays.
    ForgetCatalog(String),
    /// Reads the catalogues anew.
    ReloadCatalogs,
    /// Whether the job worked on last opens at the start.
    ReopenLast(bool),
    /// A wish of the purchase place.
    Buying(PurchaseAction),
    Bench(BenchAction),
    /// Shows a message in the status line and keeps it in the list.
    Say(String),
}

impl Action {
    /// A change that is an undo step of its own, whatever was being entered.
    pub(crate) fn once(edit: Edit) -> [Self; 3] {
        [Self::EndEntry, Self::Edit(edit), Self::EndEntry]
    }

    pub(crate) fn select_place(place: Place) -> Self {
        match place {
            Place::Position(id) => Self::Select(id),
            Place::Other(id) => Self::SelectOther(id),
        }
    }
}

/// What Import asks for and cannot do itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ImportAction {
    /// Take in what was read.
    TakeIn,
    Stop,
    /// Write the mapping of the file shown to a file.
    WriteMapping,
    /// Read the mapping of the file shown from a file.
    ReadMapping,
    /// Write what was not used to a file.
    WriteRejected,
    /// Open the editor with the positions at hand.
    EditMarked,
}

/// What Purchase asks for beside edits and commands.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum PurchaseAction {
    /// Looks for an order of few lines.
    FindOrder(OrderOptions),
    /// Stops looking; the best found so far counts.
    StopOrder,
    /// Copies the order as a table.
    CopyList,
}

/// What the bench asks for beside edits and commands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum BenchAction {
    /// Puts another unit on the bench.
    NewUnit,
    /// Takes the unit off the bench.
    RemoveUnit,
    /// Ticks the selected can and goes on, or takes the tick back.
    Done(bool),
    /// Goes to the next can that is not done.
    Next,
    /// Adds the rebuild of the unit to the record.
    AddRecord,
}
