use egui::{Key, Modifiers};

use crate::harness::Bench;

#[test]
fn a_pick_is_taken_back_and_done_again() {
    let mut bench = Bench::demo();
    let start = bench.job().clone();
    bench.click_exactly("Clear pick");
    assert_eq!(bench.position("Supply", "C1").pick, None);
    bench.assert_says("not saved");
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(*bench.job(), start);
    assert!(!bench.harness.state().has_unsaved_changes());
    bench.menu("Edit", "Redo: unpick C1");
    assert_eq!(bench.position("Supply", "C1").pick, None);
}

#[test]
fn all_proposals_are_picked_as_one_change() {
    let mut bench = Bench::demo();
    let picks = |bench: &Bench| bench.job().positions().filter(|(_, p)| p.pick.is_some()).count();
    let before = picks(&bench);
    bench.press_with(Modifiers::COMMAND, Key::Enter);
    assert!(picks(&bench) > before + 5);
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(picks(&bench), before);
}
