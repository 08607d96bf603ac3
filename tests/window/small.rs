//! The window at 200 %: 1280 by 720 pixels are then 640 by 360 points.

use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect, pos2};
use egui_kittest::kittest::NodeT;
use refarad::app::Window;

use crate::harness::{Bench, DEMO, is_control};

const WINDOW: [f32; 2] = [640.0, 360.0];

fn at_200_percent() -> Bench {
    Bench::sized(Window::holding(DEMO.clone(), None), WINDOW)
}

fn controls(bench: &Bench) -> Vec<(String, Role, Rect)> {
    let named = |node: egui_kittest::Node<'_>| {
        let role = node.accesskit_node().role();
        let name = node.accesskit_node().label().unwrap_or_default();
        is_control(role).then(|| (name, role, node.rect()))
    };
    bench.harness.root().children_recursive().filter_map(named).collect()
}

/// Every control is in the window or is brought there by scrolling, and is large enough to be seen.
fn assert_all_can_be_reached(bench: &mut Bench, place: &str) {
    let window = Rect::from_min_max(pos2(0.0, 0.0), WINDOW.into()).expand(1.0);
    let all = controls(bench);
    assert!(all.len() > 5, "{place} has controls");
    for (name, role, _) in all {
        let find = |bench: &Bench| {
            let node = |node: &egui_kittest::Node<'_>| {
                let node = node.accesskit_node();
                node.role() == role && node.label().unwrap_or_default() == name
            };
            bench.harness.root().children_recursive().find(node).map(|node| node.rect())
        };
        let mut rect = find(bench).unwrap_or(Rect::NOTHING);
        // Scrolled to, else by the keyboard: of two lists one in the other only the inner one follows a wish to scroll.
        for by_focus in [false, true] {
            // A sliver at the edge of what is scrolled cannot be used.
            if window.contains(rect.center()) && rect.width() >= 4.0 && rect.height() >= 4.0 {
                break;
            }
            let node = bench.harness.root().children_recursive().find(|node| {
                let node = node.accesskit_node();
                node.role() == role && node.label().unwrap_or_default() == name
            });
            if let Some(node) = node {
                if by_focus { node.focus() } else { node.scroll_to_me() }
            }
            bench.harness.run_ok();
            rect = find(bench).unwrap_or(Rect::NOTHING);
        }
        assert!(rect.width() >= 4.0 && rect.height() >= 4.0, "{place}: {role:?} {name} has no size: {rect:?}");
        // The map and a long line may be larger than what is seen of them; their middle is in sight.
        assert!(window.contains(rect.center()), "{place}: {role:?} {name} stays outside the window: {rect:?}");
    }
}

#[test]
fn every_control_of_every_place_can_be_reached_at_200_percent() {
    let mut bench = at_200_percent();
    for (key, place) in [
        (Key::Num1, "board"),
        (Key::Num2, "candidates"),
        (Key::Num3, "life"),
        (Key::Num4, "purchase"),
        (Key::Num7, "bench"),
        (Key::Num5, "help"),
    ] {
        bench.press_with(Modifiers::COMMAND, key);
        assert_all_can_be_reached(&mut bench, place);
    }
}

#[test]
fn every_control_of_buying_can_be_reached_at_200_percent() {
    for tab in ["Consolidate order", "Stock and quotes"] {
        let mut bench = at_200_percent();
        bench.press_with(Modifiers::COMMAND, Key::Num4);
        bench.press_button(tab);
        assert_all_can_be_reached(&mut bench, tab);
    }
}

#[test]
fn every_field_of_the_editors_can_be_reached_at_200_percent() {
    for (key, sheet) in [(Key::E, "position"), (Key::B, "board"), (Key::J, "job")] {
        let mut bench = at_200_percent();
        bench.press_with(Modifiers::COMMAND, key);
        assert_all_can_be_reached(&mut bench, sheet);
    }
}

#[test]
fn a_candidate_is_picked_at_200_percent() {
    let mut bench = at_200_percent();
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.press(Key::Home);
    bench.press(Key::ArrowRight);
    bench.press(Key::Home);
    bench.press(Key::ArrowDown);
    let row = bench.candidate_rows();
    assert!(row.len() > 2, "rows of the table are in sight: {row:?}");
    bench.press(Key::Enter);
    assert!(bench.position("Supply", "C1").pick.is_some());
}

#[test]
fn the_first_rows_of_the_candidates_are_in_sight_at_200_percent() {
    let mut bench = at_200_percent();
    // C1 has the caution, too, which takes a line.
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    let fold = WINDOW[1] - 30.0;
    let first = bench.candidate_rows()[1].clone();
    let is_it = |node: &egui_kittest::Node<'_>| node.accesskit_node().label().as_deref() == Some(&first);
    let row = bench.harness.root().children_recursive().find(is_it).map(|node| node.rect());
    assert!(row.is_some_and(|row| row.bottom() <= fold), "{first} at {row:?}");
}

#[test]
fn the_sheet_of_keys_is_as_wide_as_the_window_at_200_percent() {
    let mut bench = at_200_percent();
    bench.press(Key::F1);
    for name in ["Keyboard shortcuts", "Import a list…", "Opens a job file with its catalogues."] {
        let shown = |node: &egui_kittest::Node<'_>| {
            let node = node.accesskit_node();
            node.value().or_else(|| node.label()).as_deref() == Some(name)
        };
        let rect = bench.harness.root().children_recursive().find(shown).map(|node| node.rect());
        assert!(rect.is_some_and(|r| r.left() >= 0.0 && r.right() <= WINDOW[0]), "{name} at {rect:?}");
    }
}
