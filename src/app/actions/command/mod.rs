//! Everything a person can ask for without saying more: one variant each, with its name, its explanation and its keys.
//! Menus, shortcuts and the sheet of shortcuts are made from here.

mod table;

use egui::KeyboardShortcut;

use table::TABLE;

/// Where a command stands in the menus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Menu {
    /// Opening, saving, leaving.
    Job,
    /// What the program writes beside the job.
    Export,
    /// Changing the job.
    Edit,
    /// Moving about.
    Go,
    /// How the window looks, keys and messages.
    View,
}

impl Menu {
    /// Every menu, from left to right, with its name.
    pub(crate) const ALL: [(Self, &'static str); 5] =
        [(Self::Job, "Job"), (Self::Export, "Export"), (Self::Edit, "Edit"), (Self::Go, "Go"), (Self::View, "View")];
}

/// When the keys of a command work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Reach {
    /// Always.
    Everywhere,
    /// Not while text is being typed, where the keys have a meaning of their own.
    OutsideText,
    /// While a list or nothing has the keyboard: plain keys, which other controls need for themselves.
    Lists,
}

/// What a person can ask for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Command {
    /// Shows where one begins.
    ShowStart,
    /// A new job from lists.
    NewFromList,
    /// A new job from a photo.
    NewFromPhoto,
    /// A new job from nothing.
    NewJob,
    /// The catalogues of the job.
    ShowCatalogs,
    /// Opens a job file.
    Open,
    /// Opens a list somebody else made.
    ImportList,
    /// Opens the built-in demo.
    OpenDemo,
    /// Saves the job to its file.
    Save,
    /// Saves the job to another file.
    SaveAs,
    /// Writes a picture of the life place to a file.
    ExportLifePicture,
    /// Writes the numbers of the curves to a file.
    ExportLifeNumbers,
    /// Reads a temperature log.
    ReadTemperatureLog,
    /// Reads an oscilloscope's record.
    ReadScopeRecord,
    /// Puts a photo under the board.
    UsePhoto,
    /// Writes the map of the board to a file.
    ExportMap,
    /// Adds a list of offers of further suppliers.
    AddOffers,
    /// Writes the purchase list.
    ExportPurchase,
    /// Writes a purchase list for each supplier.
    ExportSuppliers,
    /// Writes the purchase list as a workbook.
    ExportWorkbook,
    /// Writes the sheet for the bench.
    ExportWorksheet,
    /// Writes the sheet for incoming goods.
    ExportInspection,
    /// Writes packing lists and labels.
    ExportPacking,
    /// Writes the engineer's sheet.
    ExportJustification,
    /// Writes the record of the units as a table.
    ExportUnits,
    /// Closes the window.
    Quit,
    /// Takes the last change back.
    Undo,
    /// Does the last change taken back again.
    Redo,
    /// Picks the selected candidate for the selected position.
    Pick,
    /// Takes the pick of the selected position away.
    Unpick,
    /// Picks the proposed part wherever nothing is picked.
    PickProposals,
    /// Pins the selected candidate for comparison, or unpins it.
    Pin,
    /// Shows the pinned candidates side by side, or the reasons again.
    Compare,
    /// Moves the keyboard into the filter of the candidates.
    Filter,
    /// Marks the selected candidate for copying, or unmarks it.
    Mark,
    /// Marks every row of the list in use: candidates, or positions of the board.
    MarkAll,
    /// Copies the marked candidates, else the selected one, as a table.
    CopyRows,
    /// Opens or closes the editor with the positions at hand.
    EditPosition,
    /// Opens or closes the editor with the other parts and test points.
    EditOthers,
    /// Opens or closes the editor with the board.
    EditBoard,
    /// Opens or closes the editor with the job and its policy.
    EditJob,
    /// A new position on the board.
    AddPosition,
    /// Copies of the positions at hand.
    DuplicatePosition,
    /// Takes the positions at hand off their boards.
    RemovePosition,
    /// A new board.
    AddBoard,
    /// A copy of the board.
    DuplicateBoard,
    /// Takes the board out of the job.
    RemoveBoard,
    /// Marks the next position too.
    MarkNext,
    /// Marks the position before too.
    MarkPrevious,
    /// One row down in the list in use.
    Next,
    /// One row up in the list in use.
    Previous,
    /// To the first row of the list in use.
    First,
    /// To the last row of the list in use.
    Last,
    /// From the positions to the candidates.
    ToCandidates,
    /// From the candidates back to the positions.
    ToPositions,
    /// To the next position without a part that may be used.
    NextOpen,
    /// To the position that limits the board.
    Limiting,
    /// Shows the board.
    ShowBoard,
    /// Shows the candidates.
    ShowCandidates,
    /// Shows the life curves.
    ShowLife,
    /// Shows the purchase.
    ShowPurchase,
    /// Shows the bench.
    ShowBench,
    /// Shows the import.
    ShowImport,
    /// Shows the help.
    ShowHelp,
    /// Dark or light as the system has it.
    ThemeSystem,
    /// Dark.
    ThemeDark,
    /// Light.
    ThemeLight,
    /// Everything larger.
    Larger,
    /// Everything smaller.
    Smaller,
    /// Everything in its usual size.
    UsualSize,
    /// The sheet of shortcuts.
    Shortcuts,
    /// What was read, assumed, rejected.
    Messages,
}

/// Whether a key means nothing to any control, so that it works wherever the keyboard is.
pub(crate) fn is_function_key(key: egui::Key) -> bool {
    use egui::Key::{F1, F2, F3};
    matches!(key, F1 | F2 | F3)
}

/// How a command presents itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Info {
    /// Its name in menus and on buttons.
    pub label: &'static str,
    /// One sentence more.
    pub hover: &'static str,
    /// Where it stands.
    pub menu: Menu,
    /// When its keys work.
    pub reach: Reach,
    /// Its keys; the first is shown.
    pub keys: &'static [KeyboardShortcut],
}

impl Command {
    /// Every command, in the order of the menus.
    pub(crate) fn all() -> impl Iterator<Item = Self> {
        TABLE.iter().map(|(command, _)| *command)
    }

    /// How the command presents itself.
    pub(crate) fn info(self) -> &'static Info {
        &TABLE[self as usize].1
    }

    /// Whether a line stands before it in its menu.
    pub(crate) fn begins_group(self) -> bool {
        matches!(
            self,
            Self::ShowCatalogs
                | Self::Open
                | Self::Save
                | Self::ReadTemperatureLog
                | Self::UsePhoto
                | Self::ExportMap
                | Self::ExportPurchase
                | Self::ExportWorksheet
                | Self::ExportUnits
                | Self::Quit
                | Self::Pick
                | Self::Filter
                | Self::EditPosition
                | Self::AddPosition
                | Self::AddBoard
                | Self::ToCandidates
                | Self::NextOpen
                | Self::ThemeSystem
                | Self::Larger
                | Self::Shortcuts
        )
    }

    /// The commands of a menu, in order.
    pub(crate) fn of_menu(menu: Menu) -> impl Iterator<Item = Self> {
        Self::all().filter(move |command| command.info().menu == menu)
    }
}
