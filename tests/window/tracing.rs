//! Cans are traced on the photo of a board.

#![allow(clippy::cast_possible_truncation, reason = "points of a window")]

use egui::{Key, Modifiers, Pos2, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use refarad::app::Window;
use refarad::domain::{Job, Position};
use refarad::files::load;

use crate::board::{can, click_at, drag};
use crate::harness::Bench;

/// The supply board of the demo over its photo, without C5, which the photo shows at 150, 120 mm with 16 mm.
fn without_c5() -> Bench {
    without_c5_and(|_| {})
}

/// The same after another change.
fn without_c5_and(change: impl FnOnce(&mut Job)) -> Bench {
    let mut loaded = load::load_demo().unwrap();
    change(&mut loaded.job);
    loaded.job.boards[0].positions.retain(|position| position.reference != "C5");
    let mut bench = Bench::with(Window::holding(loaded, None));
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.click_exactly("Trace cans");
    bench
}

/// Where a place of the supply board is on the screen, told by three of its cans.
fn at(bench: &Bench, x_mm: f64, y_mm: f64) -> Pos2 {
    let place = |reference: &str| {
        let (x, y) = bench.position("Supply", reference).centre_mm().unwrap();
        (x as f32, y as f32, can(bench, reference))
    };
    let ((x1, y1, a), (_, y2, b), (x3, _, c)) = (place("C1"), place("C2"), place("C9"));
    let across = (x_mm as f32 - x1) * (c.x - a.x) / (x3 - x1);
    a + vec2(across, (y_mm as f32 - y1) * (b.y - a.y) / (y2 - y1))
}

fn find<'a>(bench: &'a Bench, reference: &str) -> Option<&'a Position> {
    bench.job().boards[0].positions.iter().find(|position| position.reference == reference)
}

#[test]
fn a_can_is_traced_by_a_drag_from_its_middle_to_its_rim_and_entered_once_it_is_confirmed() {
    let mut bench = without_c5();
    let (from, to) = (at(&bench, 151.5, 119.0), at(&bench, 151.5, 128.5));
    drag(&mut bench, from, to);
    bench.assert_says("to about 1 mm");
    assert!(find(&bench, "C13").is_none(), "nothing is entered before it is confirmed");
    assert_eq!(bench.text_of("Designator"), "C13");
    bench.type_into("Designator", "C5");
    bench.click("Stripe seen: rotation 0°");
    bench.click("Add C5");
    let traced = find(&bench, "C5").unwrap();
    let (x, y) = traced.centre_mm().unwrap();
    let diameter = traced.original.can.diameter_mm.unwrap();
    assert!(
        (x - 150.0).abs() <= 1.0 && (y - 120.0).abs() <= 1.0 && (diameter - 16.0).abs() <= 1.0,
        "{x} {y} {diameter}"
    );
    assert_eq!(traced.rotation_deg, Some(0.0));
    assert!(traced.traced_from.as_ref().unwrap().starts_with("supply.jpg: Ø "), "{:?}", traced.traced_from);
    // The next one is offered, and one step takes the whole of this one back.
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert!(find(&bench, "C5").is_none());
}

#[test]
fn the_map_stands_still_while_cans_are_traced_and_only_zoom_to_fit_changes_it() {
    // Without an outline the map ends with the photo and the room around its cans: a can at the edge makes it larger.
    let mut bench = without_c5_and(|job| job.boards[0].outline_mm = None);
    let places = |bench: &Bench| ["C1", "C2", "C9"].map(|reference| can(bench, reference));
    let before = places(&bench);
    let (middle, rim) = (at(&bench, 120.0, -3.0), at(&bench, 130.0, -3.0));
    drag(&mut bench, middle, rim);
    bench.click("Add C13");
    assert!(find(&bench, "C13").unwrap().y_mm.unwrap() < 8.0);
    assert_eq!(places(&bench), before);
    bench.press(Key::Escape);
    assert_eq!(places(&bench), before);
    bench.click_exactly("Zoom to fit");
    assert_ne!(places(&bench), before);
}

#[test]
fn a_circle_is_begun_moved_resized_and_entered_by_keys_alone() {
    let mut bench = without_c5();
    let middle = at(&bench, 60.0, 100.0);
    click_at(&mut bench, middle);
    bench.press(Key::Enter);
    for key in [Key::ArrowRight, Key::ArrowRight, Key::ArrowDown, Key::Plus, Key::Plus] {
        bench.press(key);
    }
    bench.press(Key::Enter);
    let traced = find(&bench, "C13").unwrap();
    assert_eq!(traced.original.can.diameter_mm, Some(11.0));
    let before = traced.centre_mm();
    bench.press(Key::Enter);
    bench.press(Key::Escape);
    bench.press(Key::Escape);
    assert_eq!((find(&bench, "C14"), find(&bench, "C13").unwrap().centre_mm()), (None, before));
    assert!(!bench.says("Press in the middle of a can"), "Esc ends");
}

#[test]
fn proposals_enter_nothing_and_a_click_on_one_traces_it() {
    let mut bench = without_c5_and(|job| {
        let large = job.boards[0].positions.iter_mut().find(|position| position.reference == "C12").unwrap();
        (large.x_mm, large.y_mm) = (None, None);
    });
    let before = bench.job().clone();
    bench.click_exactly("Find cans");
    bench.assert_says(" proposed");
    assert_eq!(*bench.job(), before);
    let large = at(&bench, 79.0, 117.0);
    click_at(&mut bench, large);
    bench.assert_says("to about 1 mm");
    bench.type_into("Designator", "C12");
    bench.click("Enter C12");
    let traced = bench.position("Supply", "C12");
    assert!((traced.original.can.diameter_mm.unwrap() - 35.0).abs() <= 1.5, "{:?}", traced.original.can.diameter_mm);
    assert!(traced.pick == before.boards[0].positions.iter().find(|p| p.reference == "C12").unwrap().pick);
}

#[test]
fn of_cans_that_are_placed_none_is_proposed_and_escape_ends_wherever_the_keyboard_is() {
    let proposed = |bench: &Bench| {
        let found = bench.harness.root().children_recursive().filter_map(|node| node.accesskit_node().value());
        // The line below the map counts proposed parts in the same words.
        let counts = found.filter_map(|text| text.strip_suffix(" proposed")?.parse::<usize>().ok());
        bench.says("Next proposal").then(|| counts.sum::<usize>())
    };
    let mut bench = without_c5();
    bench.click_exactly("Find cans");
    let new = proposed(&bench).unwrap();
    bench.press(Key::Escape);
    assert!(!bench.says("Press in the middle of a can"), "Escape ends");
    bench.click_exactly("Trace cans");
    assert_eq!(proposed(&bench), None, "what was proposed went with the tool");
    bench.press_with(Modifiers::COMMAND, Key::Num7);
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    assert!(!bench.says("Press in the middle of a can"), "so did the tool with the view");
    let mut bench = without_c5_and(|job| {
        job.boards[0].positions.iter_mut().for_each(|position| (position.x_mm, position.y_mm) = (None, None));
    });
    bench.click_exactly("Find cans");
    assert!(proposed(&bench).unwrap() > new, "{new}");
}

#[test]
fn the_height_of_a_can_is_taken_off_where_the_camera_is_known() {
    let mut bench = without_c5();
    let size = |bench: &Bench| {
        let found = bench.harness.root().children_recursive().filter_map(|node| node.accesskit_node().value());
        let label = found.filter(|text| text.starts_with("Ø ")).find(|text| text.contains("to about 1 mm")).unwrap();
        label.split(' ').nth(1).unwrap().parse::<f64>().unwrap()
    };
    let (from, to) = (at(&bench, 79.0, 117.0), at(&bench, 79.0, 134.0));
    drag(&mut bench, from, to);
    let seen = size(&bench);
    bench.harness.get_by_label("Can height").set_value_accesskit(300.0);
    bench.settle();
    // By hand: the camera of the demo is 3000 mm away, so a tenth is taken off.
    assert!((size(&bench) / seen - 0.9).abs() < 0.01, "{seen} {}", size(&bench));
}

#[test]
fn a_photo_without_a_scale_is_calibrated_first() {
    let mut loaded = load::load_demo().unwrap();
    loaded.job.boards[0].photo_corners_mm = None;
    let mut bench = Bench::with(Window::holding(loaded, None));
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.click_exactly("Trace cans");
    bench.assert_says("The photo has no scale yet");
    let (from, to) = (can(&bench, "C1"), can(&bench, "C2"));
    drag(&mut bench, from, to);
    assert!(!bench.says("to about 1 mm"));
    bench.click_exactly("Calibrate scale");
    bench.assert_says("Click two points of the photo");
}
