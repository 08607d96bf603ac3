use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::harness::Bench;

fn board_editor() -> Bench {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::B);
    bench
}

/// Types into one of the small fields of a hole or a keep-out.
fn set(bench: &mut Bench, field: &str, text: &str) {
    bench.harness.get_by_label(field).focus();
    bench.settle();
    bench.press_with(Modifiers::COMMAND, Key::A);
    bench.harness.get_by_label(field).type_text(text);
    bench.settle();
    bench.press(Key::Enter);
}

#[test]
fn a_hole_is_added_moved_sized_and_removed_and_each_is_taken_back() {
    let mut bench = board_editor();
    let start = bench.job().clone();
    let before = start.boards[0].holes_mm.len();
    bench.press_button("Add a hole");
    let name = format!("Hole {}", before + 1);
    set(&mut bench, &format!("{name}, x"), "12.5");
    set(&mut bench, &format!("{name}, y"), "7");
    set(&mut bench, &format!("{name}, Ø"), "4 mm");
    assert_eq!(bench.job().boards[0].holes_mm[before], [12.5, 7.0, 4.0]);
    bench.press_button(&format!("Remove hole {}", before + 1));
    assert_eq!(bench.job().boards[0].holes_mm, start.boards[0].holes_mm);
    bench.menu("Edit", "Undo: remove hole 5 of Supply");
    assert_eq!(bench.job().boards[0].holes_mm[before], [12.5, 7.0, 4.0]);
    for _ in 0..4 {
        bench.press_with(Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(*bench.job(), start);
}

#[test]
fn a_keep_out_is_added_sized_and_removed() {
    let mut bench = board_editor();
    let start = bench.job().boards[0].keepouts_mm.clone();
    bench.press_button("Add a keep-out");
    let name = format!("Keep-out {}", start.len() + 1);
    for (figure, text) in [("x", "1"), ("y", "2"), ("width", "3.5"), ("depth", "4.25")] {
        set(&mut bench, &format!("{name}, {figure}"), text);
    }
    assert_eq!(bench.job().boards[0].keepouts_mm[start.len()], [1.0, 2.0, 3.5, 4.25]);
    bench.press_button(&format!("Remove keep-out {}", start.len() + 1));
    assert_eq!(bench.job().boards[0].keepouts_mm, start);
}

#[test]
fn no_two_boards_bear_one_name() {
    let mut bench = board_editor();
    let before = bench.job().clone();
    bench.enter("Name of the board", &before.boards[1].name);
    bench.assert_says("another board is called Servo already");
    assert_eq!(*bench.job(), before);
    bench.enter("Name of the board", "Mains");
    assert_eq!(bench.job().boards[0].name, "Mains");
}
