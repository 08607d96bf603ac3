//! Of `app/state/history.rs`, whose module this is.

use super::*;
use crate::domain::{Board, Position, PositionId};
use proptest::prelude::*;

const C1: PositionId = PositionId { board: 0, index: 0 };

fn history() -> History {
    let board =
        Board { positions: vec![Position { reference: "C1".into(), ..Position::default() }], ..Board::default() };
    History::new(Arc::new(Job { boards: vec![board], ..Job::default() }))
}

fn volts(history: &History, dc_v: f64) -> Edit {
    let mut position = history.job().position(C1).cloned().unwrap_or_default();
    position.stress.dc_v = Some(dc_v);
    Edit::Positions { changed: vec![(C1, position)], field: "operating voltage".into() }
}

#[test]
fn undo_and_redo_go_back_and_forth_by_name() {
    let mut history = history();
    let before = history.job().clone();
    assert_eq!(history.edit(Edit::pick(C1, "A")).as_deref(), Some("pick A for C1"));
    let after = history.job().clone();
    assert_eq!(history.undo().as_deref(), Some("pick A for C1"));
    assert!(Arc::ptr_eq(history.job(), &before));
    assert_eq!(history.redo().as_deref(), Some("pick A for C1"));
    assert!(Arc::ptr_eq(history.job(), &after));
    assert_eq!(history.redo(), None);
}

#[test]
fn keystrokes_of_one_entry_are_one_step_until_the_entry_ends() {
    let mut history = history();
    for dc_v in [1.0, 16.0, 160.0] {
        history.edit(volts(&history, dc_v));
    }
    history.close_entry();
    history.edit(volts(&history, 200.0));
    history.undo();
    assert_eq!(history.job().boards[0].positions[0].stress.dc_v, Some(160.0));
    history.undo();
    assert_eq!(history.job().boards[0].positions[0].stress.dc_v, None);
    assert_eq!(history.undo(), None);
}

#[test]
fn an_edit_that_changes_nothing_is_no_step() {
    let mut history = history();
    assert_eq!(history.edit(Edit::unpick(C1)), None);
    assert_eq!(history.undo_label(), None);
}

proptest! {
    #[test]
    fn any_walk_can_be_walked_back(picks in prop::collection::vec(prop::option::of(0u8..4), 1..30)) {
        let mut history = history();
        let start = history.job().clone();
        let mut seen = vec![start];
        for pick in picks {
            let edit = Edit::Pick { picks: vec![(C1, pick.map(|p| p.to_string()))] };
            if history.edit(edit).is_some() {
                seen.push(history.job().clone());
            }
        }
        for job in seen.iter().rev().skip(1) {
            prop_assert!(history.undo().is_some());
            prop_assert_eq!(history.job(), job);
        }
        prop_assert!(history.undo().is_none());
        for job in seen.iter().skip(1) {
            prop_assert!(history.redo().is_some());
            prop_assert_eq!(history.job(), job);
        }
    }
}
