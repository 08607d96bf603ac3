use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable as _};

use crate::harness::Bench;

#[test]
fn arrows_move_through_the_positions() {
    let mut bench = Bench::demo();
    bench.press(Key::ArrowDown);
    bench.press(Key::ArrowDown);
    assert!(bench.selected_rows()[0].starts_with("C3, "));
    bench.press(Key::ArrowUp);
    assert!(bench.selected_rows()[0].starts_with("C2, "));
    bench.press(Key::Home);
    assert!(bench.selected_rows()[0].starts_with("C1, "));
}

#[test]
fn a_part_is_picked_and_unpicked_by_keys_alone() {
    let mut bench = Bench::demo();
    bench.press(Key::N);
    bench.press(Key::Home);
    bench.press(Key::ArrowDown);
    bench.press(Key::ArrowDown);
    let before = bench.position("Supply", "C3").pick.clone();
    bench.press(Key::ArrowRight);
    bench.press(Key::Home);
    bench.press(Key::ArrowDown);
    bench.press(Key::Enter);
    let picked = bench.position("Supply", "C3").pick.clone().expect("a part is picked");
    assert_ne!(Some(&picked), before.as_ref());
    assert!(bench.selected_rows().iter().any(|name| name.starts_with(&format!("{picked}, picked: "))));
    bench.press(Key::Backspace);
    assert_eq!(bench.position("Supply", "C3").pick, None);
}

#[test]
fn the_sheet_of_keys_opens_and_closes_by_key() {
    let mut bench = Bench::demo();
    bench.press(Key::F1);
    bench.assert_says("Picks the selected candidate for the selected position.");
    bench.press(Key::Escape);
    assert!(!bench.says("Picks the selected candidate for the selected position."));
}

#[test]
fn what_is_only_read_is_moved_by_the_page_keys() {
    let mut bench = Bench::demo();
    bench.press(Key::F1);
    let top =
        |bench: &Bench| bench.harness.get_by_label("Where one begins: a new job, recent jobs, the demo.").rect().top();
    let first = top(&bench);
    bench.press(Key::PageDown);
    assert!(top(&bench) < first - 100.0, "{} after {first}", top(&bench));
    bench.press(Key::PageUp);
    assert!((top(&bench) - first).abs() < 1.0);
    bench.press(Key::End);
    let all = bench.harness.get_by_label("Everything in its normal size.").rect();
    assert!(all.bottom() < bench.harness.ctx.content_rect().bottom());
}

#[test]
fn places_are_reached_by_key() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    bench.assert_says("the target is 10 years");
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    bench.assert_says("For Consolidate order:");
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.assert_says("C1 on the board: ");
}

#[test]
fn the_tab_key_reaches_the_list_before_the_line_at_the_bottom() {
    let mut bench = Bench::demo();
    let focused = |bench: &Bench| {
        let node = bench.harness.root().children_recursive().find(|node| node.accesskit_node().is_focused());
        node.and_then(|node| node.accesskit_node().label()).unwrap_or_default()
    };
    let mut reached = Vec::new();
    // The list has the keyboard at first; from nowhere the way begins at the bar.
    bench.press(Key::Escape);
    for _ in 0..120 {
        bench.press(Key::Tab);
        reached.push(focused(&bench));
    }
    let at = |starts: &str| reached.iter().position(|name| name.starts_with(starts));
    let (tabs, list, table, foot) = (at("Purchase"), at("C1, "), at("Filter"), at("assumed: "));
    assert!(tabs.is_some() && [tabs, list, table, foot].is_sorted(), "{list:?} {tabs:?} {foot:?}: {reached:?}");
}

#[test]
fn a_list_closes_when_an_entry_is_chosen_by_key_and_the_focus_is_back_on_it() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    bench.harness.get_by_label("Second plot").focus();
    bench.press(Key::Enter);
    bench.harness.get_by_role_and_label(Role::Button, "voltage").focus();
    bench.press(Key::Enter);
    assert!(bench.harness.query_by_role_and_label(Role::Button, "voltage").is_none());
    bench.assert_says("voltage");
    // The next key opens it again.
    bench.press(Key::Enter);
    assert!(bench.harness.query_by_role_and_label(Role::Button, "voltage").is_some());
}

#[test]
fn the_positions_have_the_keyboard_when_the_view_or_the_editor_that_had_it_is_left() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.press(Key::ArrowRight);
    let part = bench.focused();
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    // The cards of the board are the same list.
    assert!(bench.focused().starts_with(part.split([',', ':']).next().unwrap()), "{}", bench.focused());
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    assert!(bench.focused().starts_with("C1, "), "{}", bench.focused());
    bench.press_with(Modifiers::COMMAND, Key::E);
    assert!(!bench.focused().starts_with("C1, "), "{}", bench.focused());
    bench.press_with(Modifiers::COMMAND, Key::E);
    assert!(bench.focused().starts_with("C1, "), "{}", bench.focused());
    bench.press_with(Modifiers::COMMAND, Key::Num7);
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    assert!(bench.focused().starts_with("C1, "), "{}", bench.focused());
}

#[test]
fn an_arrow_pressed_at_once_after_going_to_a_list_moves_in_it_and_does_not_lead_out() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.harness.key_press(Key::ArrowRight);
    bench.harness.step();
    bench.press(Key::ArrowDown);
    let candidates = bench.selected_rows();
    assert!(candidates.contains(&bench.focused()), "{}: {candidates:?}", bench.focused());
}

#[test]
fn enter_in_the_editor_leads_to_the_next_field_and_undo_and_picking_still_work_there() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench.enter("Rated voltage", "450 V");
    assert_eq!(bench.focused(), "Upper category temperature");
    assert_eq!(bench.position("Supply", "C1").original.can.rated_v, Some(450.0));
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(bench.position("Supply", "C1").original.can.rated_v, Some(400.0));
    bench.enter("Rated voltage", "400 V");
    bench.press_with(Modifiers::COMMAND, Key::Enter);
    assert!(bench.position("Supply", "C3").pick.is_some());
}
