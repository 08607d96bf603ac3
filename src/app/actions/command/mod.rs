//! Everything a person can ask for without saying more: one variant each, with its name, its explanation and its keys.
//! Menus, shortcuts and the sheet of shortcuts are made from here.

mod table;

use egui::KeyboardShortcut;

pub(crate) use table::Command;
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
    Everywhere,
    /// Not while text is being typed, where the keys have a meaning of their own.
    OutsideText,
    /// While a list or nothing has the keyboard: plain keys, which other controls need for themselves.
    Lists,
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
    /// The commands of the menu it stands among, with a line before them.
    pub group: &'static str,
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

    /// Whether a line stands before it in its menu: it is the first of a group, but not of the menu.
    pub(crate) fn begins_group(self) -> bool {
        let (info, before) = (self.info(), (self as usize).checked_sub(1).map(|at| &TABLE[at].1));
        before.is_some_and(|before| before.menu == info.menu && before.group != info.group)
    }

    /// The commands of a menu, in order.
    pub(crate) fn of_menu(menu: Menu) -> impl Iterator<Item = Self> {
        Self::all().filter(move |command| command.info().menu == menu)
    }
}
