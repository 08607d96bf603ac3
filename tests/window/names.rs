//! Everything one can use has a name, in every place, tab, panel, editor, sheet, menu and prompt.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::NodeT;
use refarad::app::Window;

use crate::harness::{Bench, DEMO, is_control};

/// High enough that nothing is scrolled out of what is drawn.
const WINDOW: [f32; 2] = [1600.0, 4000.0];

fn bench() -> Bench {
    Bench::sized(Window::holding(DEMO.clone(), None), WINDOW)
}

/// What can be used, and pictures: they are told to who cannot see them.
fn must_be_named(role: Role) -> bool {
    is_control(role) || matches!(role, Role::ListBoxOption | Role::Image)
}

/// Walks everything in sight; hands back the names of the controls.
fn assert_named(bench: &Bench, place: &str) -> Vec<String> {
    let all = bench.harness.root().children_recursive().filter_map(|node| {
        let node = node.accesskit_node();
        must_be_named(node.role()).then(|| (node.role(), node.label().unwrap_or_default()))
    });
    let named = all.map(|(role, name)| {
        assert!(name.chars().any(char::is_alphanumeric), "{place}: a {role:?} without a name: {name:?}");
        name
    });
    named.collect()
}

fn assert_has(names: &[String], wanted: &[&str], place: &str) {
    for name in wanted {
        assert!(names.iter().any(|known| known.starts_with(name)), "{place} has a control {name}…: {names:?}");
    }
}

#[test]
fn controls_of_every_place_have_names() {
    let mut bench = bench();
    for (key, place, wanted) in [
        (Key::Num1, "board", &["Map of Supply", "C1 from the side", "Export…", "Edit position…"][..]),
        (Key::Num2, "candidates", &["Filter", "Sort by price", "Columns", "Show excluded parts"]),
        (Key::Num3, "life", &["Log years", "Second plot", "Read at", "Add a phase"]),
        (Key::Num4, "purchase", &["Sort the order by total", "Copy as table", "required"]),
        (
            Key::Num7,
            "bench",
            &["Map of Supply of the unit", "C1 on the board: to do", "Old: capacitance", "Done, next"],
        ),
        (Key::I, "import", &["Import a list…"]),
        (Key::Num5, "help", &["Search the help", "Cautions first"]),
    ] {
        bench.press_with(Modifiers::COMMAND, key);
        let names = assert_named(&bench, place);
        assert_has(&names, wanted, place);
    }
}

#[test]
fn controls_of_every_panel_of_the_life_place_have_names() {
    let mut bench = bench();
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    bench.press_button("Change");
    assert_has(&assert_named(&bench, "load profile"), &["phase 1 share", "Remove phase 1"], "load profile");
    for panel in [
        "Interval plan",
        "Thermal cross-check",
        "Ripple from the circuit",
        "Ripple from an oscilloscope",
        "Temperature log",
        "Parallel and series",
        "Old part",
        "Stored energy and discharge",
        "Shelf and re-forming",
    ] {
        bench.press_button(panel);
        assert_named(&bench, panel);
    }
    let wanted =
        ["case rise", "Read an oscilloscope record…", "Read a temperature log…", "discharge resistor", "horizon"];
    let names = assert_named(&bench, "all panels");
    let lower: Vec<String> = names.iter().map(|name| name.to_lowercase()).collect();
    assert_has(&lower, &wanted.map(str::to_lowercase).each_ref().map(String::as_str), "the panels");
    bench.press_button("Board overview");
    assert_has(&assert_named(&bench, "every pick"), &["C12"], "every pick");
}

#[test]
fn controls_of_every_sheet_of_the_purchase_have_names() {
    let mut bench = bench();
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    for (tab, wanted) in [
        ("Consolidate order", &["Find fewest-cost order", "Part number", "Time limit"][..]),
        ("Stock and quotes", &["Add to stock", "Add offers…"]),
        ("Order", &["Copy as table"]),
    ] {
        bench.press_button(tab);
        assert_has(&assert_named(&bench, tab), wanted, tab);
    }
    bench.click("Quantities: ");
    assert_has(
        &assert_named(&bench, "quantities"),
        &["dome of 1996, units", "Spares", "Cost of an order line", "Currency"],
        "quantities",
    );
}

#[test]
fn controls_below_the_table_of_candidates_have_names() {
    let mut bench = bench();
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.press(Key::P);
    bench.press(Key::C);
    assert_has(&assert_named(&bench, "comparison"), &["Unpin"], "comparison");
    bench.press_button("Filter examples");
    assert_has(&assert_named(&bench, "examples"), &["h < 20"], "examples");
    bench.press_button("Columns");
    assert_has(&assert_named(&bench, "columns"), &["Default columns", "Lead time"], "columns");
}

#[test]
fn controls_of_the_editors_have_names() {
    for (key, editor, wanted) in [
        (Key::E, "position", &["Marking", "Rated voltage", "Add position"][..]),
        (Key::B, "board", &["Name of the board", "Hole 1, x", "Remove hole 1", "Add a keep-out"]),
        (Key::J, "job", &["Name of the job", "Cost of a teardown", "Max. ripple utilisation"]),
    ] {
        let mut bench = bench();
        bench.press_with(Modifiers::COMMAND, Key::Num1);
        bench.press_with(Modifiers::COMMAND, key);
        assert_has(&assert_named(&bench, editor), wanted, editor);
    }
    let mut bench = bench();
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.press_with(Modifiers::SHIFT, Key::ArrowDown);
    bench.press_with(Modifiers::COMMAND, Key::E);
    bench.assert_says("2 positions at once");
    assert_has(&assert_named(&bench, "bulk edit"), &["Capacitance"], "bulk edit");
}

#[test]
fn controls_of_menus_sheets_and_prompts_have_names() {
    for menu in ["Job", "Export", "Edit", "Go", "View"] {
        let mut bench = bench();
        let closed = assert_named(&bench, menu).len();
        bench.press_button(menu);
        assert!(assert_named(&bench, menu).len() > closed, "the menu {menu} is open");
    }
    for (key, wanted) in [(Key::F1, "Close"), (Key::F2, "Close")] {
        let mut bench = bench();
        bench.press(key);
        assert_has(&assert_named(&bench, "sheet"), &[wanted], "sheet");
    }
    let mut bench = bench();
    bench.click_exactly("Clear pick");
    bench.press_with(Modifiers::COMMAND, Key::Q);
    assert_has(&assert_named(&bench, "prompt"), &["Save", "Discard", "Cancel"], "prompt");
}
