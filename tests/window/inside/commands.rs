//! Of `app/actions/command/table.rs`, whose module this is.

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
