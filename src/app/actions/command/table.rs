//! The table of commands: what each is called, what it does in a sentence, where it stands and its keys.

use egui::{Key, KeyboardShortcut, Modifiers};

use crate::app::actions::command::{Command, Info, Menu, Reach};

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

const fn entry(
    command: Command,
    label: &'static str,
    hover: &'static str,
    menu: Menu,
    reach: Reach,
    keys: &'static [KeyboardShortcut],
) -> (Command, Info) {
    (command, Info { label, hover, menu, reach, keys })
}

/// Every command, in the order of the variants: that is also the order of the menus.
pub(super) const TABLE: &[(Command, Info)] = {
    use Menu::{Edit, Export, Go, Job, View};
    use Reach::{Everywhere, Lists, OutsideText};
    &[
        entry(
            Command::ShowStart,
            "Start",
            "Where one begins: a new job, recent jobs, the demo.",
            Job,
            Everywhere,
            &[ctrl(Key::Num6)],
        ),
        entry(
            Command::NewFromList,
            "New job from a list…",
            "A job of your own from its bill of materials, placement file or a table of parts.",
            Job,
            Everywhere,
            &[],
        ),
        entry(
            Command::NewFromPhoto,
            "New job from a photo…",
            "A job of your own from a photo of the board, on which the cans are marked.",
            Job,
            Everywhere,
            &[],
        ),
        entry(
            Command::NewJob,
            "New empty job",
            "A job of your own without boards and parts.",
            Job,
            Everywhere,
            &[ctrl_shift(Key::N)],
        ),
        entry(
            Command::ShowCatalogs,
            "Catalogues…",
            "The catalogues of the job: which are used, what is in them, which are invented.",
            Job,
            Everywhere,
            &[],
        ),
        entry(Command::Open, "Open…", "Opens a job file with its catalogues.", Job, Everywhere, &[ctrl(Key::O)]),
        entry(
            Command::ImportList,
            "Import a list…",
            "Opens a parts list, a placement file or a table of parts that somebody else made.",
            Job,
            Everywhere,
            &[ctrl_shift(Key::O)],
        ),
        entry(
            Command::OpenDemo,
            "Open the demo",
            "Opens the invented job: the control cabinet of a mountain observatory dome.",
            Job,
            Everywhere,
            &[],
        ),
        entry(Command::Save, "Save", "Saves the job to its file.", Job, Everywhere, &[ctrl(Key::S)]),
        entry(Command::SaveAs, "Save as…", "Saves the job to another file.", Job, Everywhere, &[ctrl_shift(Key::S)]),
        entry(
            Command::ExportLifePicture,
            "Export life plot…",
            "Writes the large plot for paper, as a vector drawing (SVG) or a picture (PNG): white, titles, verdicts, end labels.",
            Export,
            Everywhere,
            &[],
        ),
        entry(
            Command::ExportLifeNumbers,
            "Export life data…",
            "Writes the numbers of both plots: a row for each part and value, then its life in each phase and under the duty.",
            Export,
            Everywhere,
            &[],
        ),
        entry(
            Command::ReadTemperatureLog,
            "Read a temperature log…",
            "Reads a logger's CSV file of times and temperatures, to be cut into phases of the duty.",
            Job,
            Everywhere,
            &[],
        ),
        entry(
            Command::ReadScopeRecord,
            "Read an oscilloscope record…",
            "Reads an oscilloscope's CSV file of the capacitor current, to take rms and spectrum from it.",
            Job,
            Everywhere,
            &[],
        ),
        entry(
            Command::UsePhoto,
            "Photo under the board…",
            "Puts a photo (PNG or JPEG) under the map of the board; a photo from elsewhere is copied beside the job.",
            Job,
            Everywhere,
            &[],
        ),
        entry(
            Command::ExportMap,
            "Export the map…",
            "Writes the side of the board that is shown, to scale: as a drawing (*.svg) or a picture (*.png).",
            Export,
            Everywhere,
            &[],
        ),
        entry(
            Command::AddOffers,
            "Add offers…",
            "Reads a list of offers of further suppliers and names it in the job.",
            Job,
            Everywhere,
            &[],
        ),
        entry(
            Command::ExportPurchase,
            "Export purchase list…",
            "Writes the order as a table (CSV) that loads anywhere.",
            Export,
            Everywhere,
            &[],
        ),
        entry(
            Command::ExportSuppliers,
            "Export a list for each supplier…",
            "Writes the order as one table (CSV) for each supplier into a folder.",
            Export,
            Everywhere,
            &[],
        ),
        entry(
            Command::ExportWorkbook,
            "Export workbook…",
            "Writes the order as a workbook (XLSX) with totals and what is open.",
            Export,
            Everywhere,
            &[],
        ),
        entry(
            Command::ExportWorksheet,
            "Export worksheet…",
            "Writes the technician's sheet for the bench, to print (HTML).",
            Export,
            Everywhere,
            &[],
        ),
        entry(
            Command::ExportInspection,
            "Export inspection…",
            "Writes the sheet for incoming goods, limits of every ordered part and boxes to fill, to print (HTML).",
            Export,
            Everywhere,
            &[],
        ),
        entry(
            Command::ExportPacking,
            "Export packing lists and labels…",
            "Writes what goes into the bag of each unit, and labels for bags and bins, into a folder, to print (HTML).",
            Job,
            Everywhere,
            &[],
        ),
        entry(
            Command::ExportJustification,
            "Export justification…",
            "Writes the engineer's sheet, why each part holds, to print (HTML).",
            Export,
            Everywhere,
            &[],
        ),
        entry(
            Command::ExportUnits,
            "Export service records…",
            "Writes the record of the rebuilt units as a table (CSV).",
            Export,
            Everywhere,
            &[],
        ),
        entry(Command::Quit, "Quit", "Closes the window.", Job, Everywhere, &[ctrl(Key::Q)]),
        entry(Command::Undo, "Undo", "Undoes the last change.", Edit, OutsideText, &[ctrl(Key::Z)]),
        entry(
            Command::Redo,
            "Redo",
            "Makes the undone change again.",
            Edit,
            OutsideText,
            &[ctrl(Key::Y), ctrl_shift(Key::Z)],
        ),
        entry(
            Command::Pick,
            "Pick",
            "Picks the selected candidate for the selected position.",
            Edit,
            Lists,
            &[plain(Key::Enter)],
        ),
        entry(
            Command::Unpick,
            "Clear pick",
            "Clears the pick; the program proposes a part again.",
            Edit,
            Lists,
            &[plain(Key::Backspace), plain(Key::Delete)],
        ),
        entry(
            Command::PickProposals,
            "Pick all proposals",
            "Picks the proposed part at every position without a pick, as one change.",
            Edit,
            OutsideText,
            &[ctrl(Key::Enter)],
        ),
        entry(
            Command::Pin,
            "Pin / Unpin",
            "Keeps the selected candidate at hand, to compare it with others.",
            Edit,
            Lists,
            &[plain(Key::P)],
        ),
        entry(
            Command::Compare,
            "Compare pinned",
            "Shows the pinned candidates side by side against the original; again: the reasons.",
            Edit,
            Lists,
            &[plain(Key::C)],
        ),
        entry(
            Command::Filter,
            "Filter candidates",
            "Moves the keyboard into the filter of the candidates.",
            Edit,
            Everywhere,
            &[ctrl(Key::F)],
        ),
        entry(
            Command::Mark,
            "Mark / Unmark",
            "Marks the selected candidate for copying; so does a click with Ctrl, or with Shift from row to row.",
            Edit,
            Lists,
            &[plain(Key::M)],
        ),
        entry(
            Command::MarkAll,
            "Mark all or none",
            "Marks every row of the list in use: the candidates listed, or the positions of the board.",
            Edit,
            OutsideText,
            &[ctrl(Key::A)],
        ),
        entry(
            Command::CopyRows,
            "Copy candidates",
            "Copies the marked candidates, else the selected one, with the columns shown, as a table for a spreadsheet.",
            Edit,
            OutsideText,
            &[ctrl(Key::C)],
        ),
        entry(
            Command::EditPosition,
            "Edit position…",
            "Everything known about the selected and marked positions, to be changed.",
            Edit,
            Everywhere,
            &[ctrl(Key::E)],
        ),
        entry(
            Command::EditOthers,
            "Other parts and test points…",
            "Relays, fuses, fans and whatever else is replaced with the electrolytics, and where to measure.",
            Edit,
            Everywhere,
            &[],
        ),
        entry(
            Command::EditBoard,
            "Edit board…",
            "Name, size, lid and photo of the board, to be changed.",
            Edit,
            Everywhere,
            &[ctrl(Key::B)],
        ),
        entry(
            Command::EditJob,
            "Job and policy…",
            "Interval, hours, costs and every margin, to be changed.",
            Edit,
            Everywhere,
            &[ctrl(Key::J)],
        ),
        entry(
            Command::AddPosition,
            "Add position",
            "A new position on this board; in an empty job also the board.",
            Edit,
            Lists,
            &[plain(Key::Insert)],
        ),
        entry(
            Command::DuplicatePosition,
            "Duplicate position",
            "Copies the selected and marked positions, each under the next free name, without place and pick.",
            Edit,
            OutsideText,
            &[ctrl(Key::D)],
        ),
        entry(
            Command::RemovePosition,
            "Remove position",
            "Takes the selected and marked positions off their boards.",
            Edit,
            OutsideText,
            &[ctrl(Key::Delete)],
        ),
        entry(Command::AddBoard, "Add board", "A new board without positions.", Edit, Everywhere, &[]),
        entry(
            Command::DuplicateBoard,
            "Duplicate board",
            "A copy of the board with all its positions.",
            Edit,
            Everywhere,
            &[],
        ),
        entry(
            Command::RemoveBoard,
            "Remove board",
            "Takes the board with all its positions out of the job.",
            Edit,
            Everywhere,
            &[],
        ),
        entry(
            Command::MarkNext,
            "Mark the next too",
            "Marks the next position besides those at hand.",
            Go,
            Lists,
            &[shift(Key::ArrowDown)],
        ),
        entry(
            Command::MarkPrevious,
            "Mark the one before too",
            "Marks the position before besides those at hand.",
            Go,
            Lists,
            &[shift(Key::ArrowUp)],
        ),
        entry(Command::Next, "Next row", "One row down in the list in use.", Go, Lists, &[plain(Key::ArrowDown)]),
        entry(Command::Previous, "Previous row", "One row up in the list in use.", Go, Lists, &[plain(Key::ArrowUp)]),
        entry(Command::First, "First row", "To the top of the list in use.", Go, Lists, &[plain(Key::Home)]),
        entry(Command::Last, "Last row", "To the end of the list in use.", Go, Lists, &[plain(Key::End)]),
        entry(
            Command::ToCandidates,
            "To the candidates",
            "The arrow keys then move among the candidates.",
            Go,
            Lists,
            &[plain(Key::ArrowRight)],
        ),
        entry(
            Command::ToPositions,
            "To the positions",
            "The arrow keys then move among the positions.",
            Go,
            Lists,
            &[plain(Key::ArrowLeft)],
        ),
        entry(
            Command::NextOpen,
            "Next open",
            "To the next position that is not settled: without a picked part that may be used.",
            Go,
            Lists,
            &[plain(Key::N), plain(Key::F3)],
        ),
        entry(
            Command::Limiting,
            "Limiting position",
            "To the position that limits how long the board lasts.",
            Go,
            Lists,
            &[plain(Key::L)],
        ),
        entry(
            Command::ShowBoard,
            "Board",
            "The board, seen from above, in millimetres.",
            View,
            Everywhere,
            &[ctrl(Key::Num1)],
        ),
        entry(
            Command::ShowCandidates,
            "Candidates",
            "The parts that come into question for the position, with every check.",
            View,
            Everywhere,
            &[ctrl(Key::Num2)],
        ),
        entry(
            Command::ShowLife,
            "Life",
            "How long candidates last against the ambient.",
            View,
            Everywhere,
            &[ctrl(Key::Num3)],
        ),
        entry(
            Command::ShowPurchase,
            "Purchase",
            "What to order for the whole job.",
            View,
            Everywhere,
            &[ctrl(Key::Num4)],
        ),
        entry(
            Command::ShowBench,
            "Bench",
            "One unit, can by can: measured before and after, lot, done; and the record of the units.",
            Go,
            Everywhere,
            &[ctrl(Key::Num7)],
        ),
        entry(
            Command::ShowImport,
            "Import",
            "Lists that others made: what their columns mean, what is kept and what not, and why.",
            View,
            Everywhere,
            &[ctrl(Key::I)],
        ),
        entry(
            Command::ShowHelp,
            "Help",
            "Methods with their formulas and sources, cautions, what each outcome asks of you.",
            View,
            Everywhere,
            &[ctrl(Key::Num5)],
        ),
        entry(Command::ThemeSystem, "System theme", "Dark or light as the system has it.", View, Everywhere, &[]),
        entry(
            Command::ThemeDark,
            "Dark theme",
            "Light text on a dark background.",
            View,
            Everywhere,
            &[ctrl_shift(Key::D)],
        ),
        entry(
            Command::ThemeLight,
            "Light theme",
            "Dark text on a light background.",
            View,
            Everywhere,
            &[ctrl_shift(Key::L)],
        ),
        entry(Command::Larger, "Larger", "Everything larger.", View, Everywhere, &[ctrl(Key::Plus), ctrl(Key::Equals)]),
        entry(Command::Smaller, "Smaller", "Everything smaller.", View, Everywhere, &[ctrl(Key::Minus)]),
        entry(
            Command::UsualSize,
            "Normal size",
            "Everything in its normal size.",
            View,
            Everywhere,
            &[ctrl(Key::Num0)],
        ),
        entry(
            Command::Shortcuts,
            "Keyboard shortcuts",
            "Every command with its keys.",
            View,
            Everywhere,
            &[plain(Key::F1)],
        ),
        entry(
            Command::Messages,
            "Messages",
            "What was read, what was rejected and why, what went wrong.",
            View,
            Everywhere,
            &[plain(Key::F2)],
        ),
    ]
};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::actions::command::is_function_key;
    use std::collections::HashSet;

    #[test]
    fn no_keys_mean_two_things_and_no_two_commands_share_a_name() {
        let keys: Vec<_> = Command::all().flat_map(|c| c.info().keys).collect();
        assert_eq!(keys.iter().collect::<HashSet<_>>().len(), keys.len());
        let labels: HashSet<_> = Command::all().map(|c| c.info().label).collect();
        assert_eq!(labels.len(), TABLE.len());
    }

    #[test]
    fn every_command_is_listed_once_and_stands_in_a_menu() {
        assert!(TABLE.iter().enumerate().all(|(at, (command, _))| *command as usize == at));
        let listed: HashSet<_> = Command::all().collect();
        assert_eq!(listed.len(), TABLE.len());
        let in_menus: usize = Menu::ALL.iter().map(|&(menu, _)| Command::of_menu(menu).count()).sum();
        assert_eq!(in_menus, TABLE.len());
        assert!(Command::all().all(|c| c.info().hover.ends_with('.')));
    }

    #[test]
    fn plain_keys_leave_other_controls_their_keys() {
        for command in Command::all() {
            let info = command.info();
            let typed = |k: &&KeyboardShortcut| k.modifiers == Modifiers::NONE && !is_function_key(k.logical_key);
            assert!(info.keys.iter().filter(typed).count() == 0 || info.reach == Reach::Lists, "{}", info.label);
        }
    }
}
