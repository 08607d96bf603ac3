//! The table of commands: what each is called, what it does in a sentence, where it stands and its keys.

use egui::{Key, KeyboardShortcut, Modifiers};

use super::{Info, Menu, Reach};

const fn ctrl(key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(Modifiers::COMMAND, key)
}

const fn ctrl_shift(key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(Modifiers { shift: true, ..Modifiers::COMMAND }, key)
}

const fn plain(key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(Modifiers::NONE, key)
}

const fn shift(key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(Modifiers::SHIFT, key)
}

/// Writes the commands once: as variants, and as rows of the table. A block is the menu and the group of commands in it; a row is the
/// variant, when its keys work, its keys, what it is called and one sentence more.
macro_rules! commands {
    ($($menu:ident $group:ident {$($command:ident $reach:ident [$($keys:expr),*] $label:literal, $hover:literal;)*})*) => {
        /// What a person can ask for.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub(crate) enum Command { $($(#[doc = $hover] $command,)*)* }

        /// Every command, in the order of the variants: that is also the order of the menus.
        pub(super) const TABLE: &[(Command, Info)] = &[$($((Command::$command, Info {
            label: $label,
            hover: $hover,
            menu: Menu::$menu,
            group: stringify!($group),
            reach: Reach::$reach,
            keys: &[$($keys),*],
        }),)*)*];
    };
}

commands! {
    Job begin {
        ShowStart Everywhere [ctrl(Key::Num6)] "Start", "Where one begins: a new job, recent jobs, the demo.";
        NewFromList Everywhere [] "New job from a list…",
            "A job of your own from its bill of materials, placement file or a component catalogue.";
        NewFromPhoto Everywhere [] "New job from a photo…",
            "A job of your own from a photo of the board, on which the cans are marked.";
        NewJob Everywhere [ctrl_shift(Key::N)] "New empty job", "A job of your own without boards and parts.";
    }
    Job catalogues {
        ShowCatalogs Everywhere [] "Catalogues…",
            "The catalogues of the job: which are used, what is in them, which are invented.";
    }
    Job open {
        Open Everywhere [ctrl(Key::O)] "Open…", "Opens a job file with its catalogues.";
        ImportList Everywhere [ctrl_shift(Key::O)] "Import a list…",
            "Opens a bill of materials, a placement file or a component catalogue.";
        OpenDemo Everywhere [] "Open the demo",
            "Opens the invented job: the control cabinet of a mountain observatory dome.";
    }
    Job save {
        Save Everywhere [ctrl(Key::S)] "Save", "Saves the job to its file.";
        SaveAs Everywhere [ctrl_shift(Key::S)] "Save as…", "Saves the job to another file.";
    }
    Job measured {
        ReadTemperatureLog Everywhere [] "Read a temperature log…",
            "Reads a logger's CSV file of times and temperatures, to be cut into operating phases.";
        ReadScopeRecord Everywhere [] "Read an oscilloscope record…",
            "Reads an oscilloscope's CSV file of the capacitor current, to take rms and spectrum from it.";
    }
    Job board {
        UsePhoto Everywhere [] "Photo under the board…",
            "Puts a photo (PNG or JPEG) under the map of the board; a photo from elsewhere is copied beside the job.";
    }
    Job offers {
        AddOffers Everywhere [] "Add offers…", "Reads a list of offers of further suppliers and names it in the job.";
    }
    Job leave {
        Quit Everywhere [ctrl(Key::Q)] "Quit", "Closes the window.";
    }
    Export life {
        ExportLifePicture Everywhere [] "Export life plot…",
            "Writes the large plot for paper, as a vector drawing (SVG) or a picture (PNG): white, titles, verdicts, end labels.";
        ExportLifeNumbers Everywhere [] "Export life data…",
            "Writes the numbers of both plots: a row for each part and value, then its life in each phase and with the load profile.";
    }
    Export map {
        ExportMap Everywhere [] "Export the map…",
            "Writes the side of the board that is shown, to scale: as a drawing (*.svg) or a picture (*.png).";
    }
    Export order {
        ExportPurchase Everywhere [] "Export purchase list…", "Writes the order as a table (CSV) that loads anywhere.";
        ExportSuppliers Everywhere [] "Export a list for each supplier…",
            "Writes the order as one table (CSV) for each supplier into a folder.";
        ExportWorkbook Everywhere [] "Export workbook…",
            "Writes the order as a workbook (XLSX) with totals and what is open.";
    }
    Export sheets {
        ExportWorksheet Everywhere [] "Export worksheet…",
            "Writes the technician's sheet for the bench, to print (HTML).";
        ExportInspection Everywhere [] "Export inspection…",
            "Writes the sheet for incoming goods, limits of every ordered part and boxes to fill, to print (HTML).";
        ExportPacking Everywhere [] "Export packing lists and labels…",
            "Writes what goes into the bag of each unit, and labels for bags and bins, into a folder, to print (HTML).";
        ExportJustification Everywhere [] "Export justification…",
            "Writes the engineer's sheet, why each part holds, to print (HTML).";
    }
    Export units {
        ExportUnits Everywhere [] "Export service records…", "Writes the record of the rebuilt units as a table (CSV).";
    }
    Edit history {
        Undo OutsideText [ctrl(Key::Z)] "Undo", "Undoes the last change.";
        Redo OutsideText [ctrl(Key::Y), ctrl_shift(Key::Z)] "Redo", "Makes the undone change again.";
    }
    Edit pick {
        Pick Lists [plain(Key::Enter)] "Pick", "Picks the selected candidate for the selected position.";
        Unpick Lists [plain(Key::Backspace), plain(Key::Delete)] "Clear pick",
            "Clears the pick; the program proposes a part again.";
        PickProposals OutsideText [ctrl(Key::Enter)] "Pick all proposals",
            "Picks the proposed part at every position without a pick, as one change.";
        Pin Lists [plain(Key::P)] "Pin / Unpin", "Pins the selected candidate, to compare it with others.";
        Compare Lists [plain(Key::C)] "Compare pinned",
            "Shows the pinned candidates side by side against the original; again: the reasons.";
    }
    Edit rows {
        Filter Everywhere [ctrl(Key::F)] "Filter candidates", "Moves the keyboard into the filter of the candidates.";
        Mark Lists [plain(Key::M)] "Mark / Unmark",
            "Marks the selected candidate for copying; so does a click with Ctrl, or with Shift from row to row.";
        MarkAll OutsideText [ctrl(Key::A)] "Mark all or none",
            "Marks every row of the list in use: the candidates listed, or the positions of the board.";
        CopyRows OutsideText [ctrl(Key::C)] "Copy candidates",
            "Copies the marked candidates, else the selected one, with the columns shown, as a table for a spreadsheet.";
    }
    Edit editor {
        EditPosition Everywhere [ctrl(Key::E)] "Edit position…",
            "Everything known about the selected and marked positions, to be changed.";
        EditOthers Everywhere [] "Other parts and test points…",
            "Relays, fuses, fans and whatever else is replaced with the electrolytics, and where to measure.";
        EditBoard Everywhere [ctrl(Key::B)] "Edit board…", "Name, size, lid and photo of the board, to be changed.";
        EditJob Everywhere [ctrl(Key::J)] "Job and policy…", "Interval, hours, costs and every margin, to be changed.";
    }
    Edit position {
        AddPosition Lists [plain(Key::Insert)] "Add position",
            "A new position on this board; in an empty job also the board.";
        DuplicatePosition OutsideText [ctrl(Key::D)] "Duplicate position",
            "Copies the selected and marked positions, each under the next free name, without place and pick.";
        RemovePosition OutsideText [ctrl(Key::Delete)] "Remove position",
            "Takes the selected and marked positions off their boards.";
    }
    Edit boards {
        AddBoard Everywhere [] "Add board", "A new board without positions.";
        DuplicateBoard Everywhere [] "Duplicate board", "A copy of the board with all its positions.";
        RemoveBoard Everywhere [] "Remove board", "Takes the board with all its positions out of the job.";
    }
    Go list {
        MarkNext Lists [shift(Key::ArrowDown)] "Mark the next too", "Selects the next position besides those selected.";
        MarkPrevious Lists [shift(Key::ArrowUp)] "Mark the one before too",
            "Selects the position before besides those selected.";
        Next Lists [plain(Key::ArrowDown)] "Next row", "One row down in the list in use.";
        Previous Lists [plain(Key::ArrowUp)] "Previous row", "One row up in the list in use.";
        First Lists [plain(Key::Home)] "First row", "To the top of the list in use.";
        Last Lists [plain(Key::End)] "Last row", "To the end of the list in use.";
    }
    Go between {
        ToCandidates Lists [plain(Key::ArrowRight)] "To the candidates",
            "The arrow keys then move among the candidates.";
        ToPositions Lists [plain(Key::ArrowLeft)] "To the positions", "The arrow keys then move among the positions.";
    }
    Go places {
        NextOpen Lists [plain(Key::N), plain(Key::F3)] "Next open",
            "To the next position that is not settled: without a picked part that may be used.";
        Limiting Lists [plain(Key::L)] "Limiting position", "To the position that limits how long the board lasts.";
    }
    View views {
        ShowBoard Everywhere [ctrl(Key::Num1)] "Board", "The board, seen from above, in millimetres.";
        ShowCandidates Everywhere [ctrl(Key::Num2)] "Candidates",
            "The parts that may be chosen for the position, with every check.";
        ShowLife Everywhere [ctrl(Key::Num3)] "Life", "How long candidates last against the ambient.";
        ShowPurchase Everywhere [ctrl(Key::Num4)] "Purchase", "What to order for the whole job.";
        ShowBench Everywhere [ctrl(Key::Num7)] "Bench",
            "One unit, can by can: measured before and after, lot, done; and the record of the units.";
        ShowImport Everywhere [ctrl(Key::I)] "Import",
            "Lists that others made: what their columns mean, what is kept and what not, and why.";
        ShowHelp Everywhere [ctrl(Key::Num5)] "Help",
            "Methods with their formulas and sources, cautions, what each outcome asks of you.";
    }
    View theme {
        ThemeSystem Everywhere [] "System theme", "Dark or light as the system has it.";
        ThemeDark Everywhere [ctrl_shift(Key::D)] "Dark theme", "Light text on a dark background.";
        ThemeLight Everywhere [ctrl_shift(Key::L)] "Light theme", "Dark text on a light background.";
    }
    View size {
        Larger Everywhere [ctrl(Key::Plus), ctrl(Key::Equals)] "Larger", "Everything larger.";
        Smaller Everywhere [ctrl(Key::Minus)] "Smaller", "Everything smaller.";
        UsualSize Everywhere [ctrl(Key::Num0)] "Normal size", "Everything in its normal size.";
    }
    View help {
        Shortcuts Everywhere [plain(Key::F1)] "Keyboard shortcuts", "Every command with its keys.";
        Messages Everywhere [plain(Key::F2)] "Messages", "What was read, what was rejected and why, what went wrong.";
    }
}

#[cfg(test)]
#[path = "../../../../tests/window/inside/commands.rs"]
mod tests;
