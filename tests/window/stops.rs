//! Where the Tab key stops, and how often.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::NodeT;

use crate::harness::Bench;

/// Role and name of every stop from here until the first one comes again.
fn stops(bench: &mut Bench) -> Vec<(Role, String)> {
    let mut all: Vec<(Role, String)> = Vec::new();
    let mut first = None;
    for _ in 0..200 {
        bench.harness.key_press(Key::Tab);
        bench.harness.run_ok();
        let node = bench.harness.root().children_recursive().find(|node| node.accesskit_node().is_focused());
        let Some(node) = node else { continue };
        let id = node.accesskit_node().id();
        if first.is_some_and(|first| first == id) {
            return all;
        }
        first.get_or_insert(id);
        all.push((node.accesskit_node().role(), node.accesskit_node().label().unwrap_or_default()));
    }
    panic!("the Tab key does not come round: {all:?}");
}

const VIEWS: [Key; 8] = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num7, Key::I, Key::Num5, Key::Num6];

#[test]
fn every_stop_of_the_tab_key_has_a_name_and_none_is_the_edge_of_a_panel() {
    for editor in [None, Some(Key::E), Some(Key::B), Some(Key::J)] {
        let mut bench = Bench::demo();
        editor.into_iter().for_each(|key| bench.press_with(Modifiers::COMMAND, key));
        for view in VIEWS.into_iter().take(if editor.is_some() { 1 } else { VIEWS.len() }) {
            bench.press_with(Modifiers::COMMAND, view);
            let all = stops(&mut bench);
            println!("{view:?} {editor:?}: {} stops", all.len());
            let odd =
                |(role, name): &&(Role, String)| *role == Role::Splitter || !name.chars().any(char::is_alphanumeric);
            assert_eq!(all.iter().filter(odd).collect::<Vec<_>>(), Vec::<&(Role, String)>::new(), "{view:?}");
        }
    }
}

#[test]
fn backwards_the_tab_key_passes_over_the_edge_of_a_panel_too() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    let mut seen = Vec::new();
    for _ in 0..120 {
        bench.press_with(Modifiers::SHIFT, Key::Tab);
        let name = bench.focused();
        assert_ne!(name, "Resize panel");
        seen.push(name);
    }
    for wanted in ["Shelf and re-forming", "Load profile", "What if: interval", "Board"] {
        assert!(seen.iter().any(|name| name == wanted), "{wanted}: {seen:?}");
    }
}

#[test]
fn life_has_few_stops_as_long_as_nothing_is_unfolded() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    let bar_and_list = 24;
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    let all = stops(&mut bench);
    assert!(all.len() < 48 + bar_and_list, "{}: {all:?}", all.len());
}

#[test]
fn the_tab_key_begins_at_the_first_field_of_the_bench_and_of_other_views_without_a_list() {
    let mut bench = Bench::demo();
    for (view, first) in [(Key::Num7, "Old: capacitance"), (Key::I, "Import a list…"), (Key::Num5, "Search the help")]
    {
        bench.press_with(Modifiers::COMMAND, view);
        bench.press(Key::Escape);
        bench.press(Key::Tab);
        assert_eq!(bench.focused(), first, "{view:?}");
    }
}

#[test]
fn after_a_dialog_the_list_in_use_has_the_keyboard_again() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.press(Key::ArrowRight);
    let part = bench.focused();
    bench.press_with(Modifiers { shift: true, ..Modifiers::COMMAND }, Key::S);
    bench.assert_says("Path of the job file");
    bench.press(Key::Escape);
    assert!(!bench.says("Path of the job file"));
    assert_eq!(bench.focused(), part);
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    bench.press_with(Modifiers { shift: true, ..Modifiers::COMMAND }, Key::S);
    bench.press(Key::Escape);
    assert!(bench.focused().starts_with("C1, "), "{}", bench.focused());
}
