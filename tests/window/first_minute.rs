//! What somebody does who sees the window for the first time: pick a part that fits, see why it holds and what it does to
//! the board.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use refarad::app::Window;
use refarad::domain::{Board, Job};
use refarad::files::job;

use crate::harness::Bench;

/// What has the keyboard.
fn focused(bench: &Bench) -> String {
    let node = bench.harness.root().children_recursive().find(|node| node.is_focused());
    node.and_then(|node| node.accesskit_node().label()).unwrap_or_default()
}

#[test]
fn by_mouse_a_part_is_picked_on_the_board_and_what_it_does_is_told() {
    let mut bench = Bench::demo();
    bench.click_exactly("Board");
    bench.click("C6 on the board: ");
    // The best parts stand beside the map; one that is not the proposed one is looked at.
    let best: Vec<String> = bench
        .harness
        .root()
        .children_recursive()
        .filter_map(|node| node.accesskit_node().label())
        .filter(|name| name.contains(" on the map: "))
        .collect();
    let part = best[1].split(" on the map").next().unwrap().to_owned();
    bench.click(&format!("{part} on the map"));
    bench.assert_says("With this part");
    bench.click_exactly("Candidates");
    bench.assert_says(&format!("Why {part} passes"));
    bench.assert_says(" used ");
    bench.click_exactly("Pick");
    assert_eq!(bench.position("Supply", "C6").pick.as_deref(), Some(&*part));
    bench.assert_says(&format!("{part} picked for C6: Supply lasts "));
}

#[test]
fn by_keyboard_alone() {
    let mut bench = Bench::demo();
    // To the next position that is still open or not picked, and into its candidates.
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    for _ in 0..5 {
        bench.press(Key::ArrowDown);
    }
    assert!(bench.selected_rows()[0].starts_with("C6, "));
    bench.press(Key::ArrowRight);
    bench.press(Key::ArrowDown);
    let row = focused(&bench);
    let part = row.split([':', ',']).next().unwrap().to_owned();
    bench.assert_says(&format!("Why {part} "));
    bench.assert_says("With this part");
    bench.press(Key::Enter);
    assert_eq!(bench.position("Supply", "C6").pick.as_deref(), Some(&*part));
    bench.assert_says(&format!("{part} picked for C6: Supply lasts "));
    // Back to the positions, and on.
    bench.press(Key::ArrowLeft);
    bench.press(Key::ArrowDown);
    assert!(bench.selected_rows()[0].starts_with("C7, "));
    bench.press_with(Modifiers::COMMAND, Key::Z);
    bench.assert_says("Undone: pick ");
}

#[test]
fn tab_goes_through_the_bar_the_places_and_the_lists_and_shows_where_it_is() {
    let mut bench = Bench::demo();
    let mut seen = Vec::new();
    // The list has the keyboard at first; from nowhere the way begins at the bar.
    bench.press(Key::Escape);
    for _ in 0..60 {
        bench.press(Key::Tab);
        seen.push(focused(&bench));
    }
    // In the order in which they stand; what is picked already cannot be picked again.
    let wanted = ["Job", "Candidates", "Edit position…", "Pin / Unpin", "Clear pick", "Filter", "Columns", "Reasons"];
    let at = wanted.map(|name| seen.iter().position(|own| own == name).unwrap_or_else(|| panic!("{name}: {seen:?}")));
    assert!(at.is_sorted(), "{seen:?}");
    assert!(seen.iter().any(|own| own.starts_with("C1, ")), "{seen:?}");
    assert!(seen.iter().all(|own| !own.is_empty()), "every stop has a name: {seen:?}");
}

#[test]
fn pins_are_set_and_compared_by_keyboard_alone() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.press(Key::ArrowRight);
    bench.press(Key::Home);
    for _ in 0..2 {
        bench.press(Key::ArrowDown);
        bench.press(Key::P);
    }
    bench.press(Key::C);
    bench.assert_says("against the original");
    bench.assert_says("Compare pinned (2)");
    bench.press(Key::C);
    bench.assert_says("Why ");
    assert!(!bench.says("against the original"));
}

#[test]
fn tab_scrolls_to_a_heading_out_of_sight_and_enter_sorts_by_it() {
    let mut bench = Bench::demo();
    bench.click_exactly("Columns");
    for column in ["Maker", "Stock", "Lead time", "Minimum order"] {
        bench.click(column);
    }
    bench.press(Key::Escape);
    bench.press_with(Modifiers::COMMAND, Key::F);
    for _ in 0..60 {
        bench.press(Key::Tab);
        if focused(&bench).starts_with("Sort by minimum order") {
            break;
        }
    }
    let heading = bench.harness.root().children_recursive().find(|node| node.is_focused()).unwrap();
    assert_eq!(heading.accesskit_node().role(), Role::Button);
    let rect = heading.rect();
    assert!(rect.width() > 20.0 && rect.left() >= 0.0 && rect.right() <= 1280.0, "{rect:?}");
    bench.press(Key::Enter);
    bench.assert_says("by minimum order, smallest first");
}

#[test]
fn the_second_button_opens_a_menu_on_a_row_that_was_not_selected() {
    let mut bench = Bench::demo();
    let row = |bench: &Bench, starts: &str| {
        let found =
            |node: &egui_kittest::Node<'_>| node.accesskit_node().label().is_some_and(|l| l.starts_with(starts));
        bench.harness.root().children_recursive().find(found).unwrap().rect().center()
    };
    for (starts, entry) in [("C3, ", "Duplicate position"), ("original part", "Copy candidates")] {
        let pos = row(&bench, starts);
        bench.harness.hover_at(pos);
        bench.harness.step();
        for pressed in [true, false] {
            let button = egui::PointerButton::Secondary;
            let event = egui::Event::PointerButton { pos, button, pressed, modifiers: Modifiers::NONE };
            bench.harness.event(event);
            bench.harness.step();
        }
        bench.settle();
        assert!(bench.selected_rows().iter().any(|name| name.starts_with(starts)), "{starts} is selected");
        assert!(bench.says(entry), "{entry}");
        bench.press(Key::Escape);
    }
}

#[test]
fn on_the_start_page_the_keyboard_is_on_what_begins_a_job_and_comes_back_to_it() {
    let mut bench = Bench::with(Window::at_start());
    assert_eq!(focused(&bench), "From a list…");
    let mut reached = Vec::new();
    for _ in 0..4 {
        bench.press(Key::Tab);
        reached.push(focused(&bench));
    }
    assert_eq!(reached, ["From a photo…", "Empty", "Open…", "Open the demo"]);
    bench.click_exactly("Empty");
    bench.click_exactly("Back");
    assert_eq!(focused(&bench), "From a list…");
    // From another view, too.
    bench.press_with(Modifiers::COMMAND, Key::Num5);
    bench.press_with(Modifiers::COMMAND, Key::Num6);
    assert_eq!(focused(&bench), "From a list…");
    bench.click_exactly("Open the demo");
    bench.press_with(Modifiers::COMMAND, Key::Num6);
    // Whoever strays here from a job goes back by Enter.
    assert_eq!(focused(&bench), "Back to Dome cabinet rebuild");
}

#[test]
fn all_that_one_can_begin_with_is_in_sight_at_once_with_large_text_too() {
    for size in [[1280.0, 720.0], [1280.0 / 1.5, 480.0], [640.0, 360.0]] {
        let bench = Bench::sized(Window::at_start(), size.map(|side| side + 16.0));
        for name in ["From a list…", "Empty", "Open…", "Open the demo"] {
            let button = bench.harness.get_by_role_and_label(Role::Button, name).rect();
            assert!(button.bottom() < size[1] - 20.0 && button.right() < size[0], "{size:?}, {name}: {button:?}");
        }
    }
}

#[test]
fn a_job_without_positions_begins_at_the_board_and_every_view_says_what_to_do_first() {
    let mut bench = Bench::with(Window::at_start());
    bench.click_exactly("Empty");
    bench.press_with(Modifiers::COMMAND, Key::Enter);
    for key in [None, Some(Key::Num2), Some(Key::Num3), Some(Key::Num4), Some(Key::Num7)] {
        key.into_iter().for_each(|key| bench.press_with(Modifiers::COMMAND, key));
        for way in ["Import a list…", "Photo under the board…", "Add position"] {
            let buttons = bench.harness.get_all_by_role_and_label(Role::Button, way).count();
            assert_eq!(buttons, 1, "{way} after {key:?}");
        }
    }
    assert!(!bench.says("No position selected"));
    // A board without cans has the same ways in, on its map.
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.menu("Edit", "Add board");
    bench.assert_says("No positions yet");
    bench.click_exactly("Add position");
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.assert_says("C1 on the board");
}

#[test]
fn a_job_that_is_opened_without_positions_is_shown_on_its_board() {
    let board = Board { name: "Main".into(), ..Board::default() };
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bare.json");
    std::fs::write(&path, job::to_text(&Job { boards: vec![board], ..Job::default() })).unwrap();
    let mut bench = Bench::with(Window::new(refarad::app::Start { path: Some(path) }));
    bench.press(Key::Escape);
    bench.assert_says("Map of Main");
    bench.click_exactly("Add position");
    assert_eq!(bench.position("Main", "C1").reference, "C1");
}
