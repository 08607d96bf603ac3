//! The map, the table and the plots have the room: how high they begin and how much of the window is theirs.

use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect};
use egui_kittest::kittest::NodeT;
use refarad::app::Window;
use refarad::domain::{Board, Can, Job, Original, Position};
use refarad::files::job;

use crate::harness::{Bench, DEMO};

/// Where what a name begins so stands.
fn rect(bench: &Bench, starts: &str) -> Rect {
    let named =
        |node: &egui_kittest::Node<'_>| node.accesskit_node().label().is_some_and(|name| name.starts_with(starts));
    bench
        .harness
        .root()
        .children_recursive()
        .find(named)
        .unwrap_or_else(|| panic!("{starts}…"))
        .rect()
        .translate(egui::Vec2::splat(-AROUND))
}

/// The harness leaves so much free around the window, points.
const AROUND: f32 = 8.0;

fn sized(size: [f32; 2], key: Key) -> Bench {
    let size = size.map(|side| side + 2.0 * AROUND);
    let mut bench = Bench::sized(Window::holding(DEMO.clone(), None), size);
    bench.press_with(Modifiers::COMMAND, key);
    bench
}

/// How much of the window an area takes.
fn share(area: Rect, [width, height]: [f32; 2]) -> f32 {
    area.area() / (width * height)
}

const USUAL: [f32; 2] = [1280.0, 720.0];

#[test]
fn the_map_begins_high_and_has_most_of_the_window() {
    for key in [Key::Num1, Key::Num7] {
        let mut bench = sized(USUAL, key);
        let map = rect(&bench, "Map of Supply");
        assert!(map.top() <= 110.0, "{key:?}: {map:?}");
        assert!(key == Key::Num7 || share(map, USUAL) >= 0.6, "{key:?}: {map:?} {}", share(map, USUAL));
        bench.press_with(Modifiers::COMMAND, Key::E);
        let map = rect(&bench, "Map of Supply");
        assert!(key == Key::Num7 || share(map, USUAL) >= 0.45, "with the editor: {map:?} {}", share(map, USUAL));
    }
}

#[test]
fn the_table_with_its_filter_begins_high() {
    let bench = sized(USUAL, Key::Num2);
    let table = rect(&bench, "Filter");
    assert!(table.top() <= 114.0, "{table:?}");
}

#[test]
fn the_map_keeps_half_of_the_height_with_large_text() {
    for size in [[1280.0 / 1.5, 480.0], [640.0, 360.0]] {
        for key in [Key::Num1, Key::Num7] {
            let map = rect(&sized(size, key), "Map of Supply");
            assert!(map.height() >= size[1] / 2.0, "{key:?} {size:?}: {map:?}");
        }
    }
}

#[test]
fn the_map_stays_where_it_is_when_a_hint_or_a_caution_comes_and_goes() {
    let mut bench = sized(USUAL, Key::Num1);
    bench.press(Key::Home);
    let before = rect(&bench, "Map of Supply");
    for key in [Key::ArrowDown, Key::ArrowDown, Key::ArrowDown, Key::ArrowDown] {
        bench.press(key);
        assert_eq!(rect(&bench, "Map of Supply"), before);
    }
    bench.click("Place parts");
    assert_eq!(rect(&bench, "Map of Supply"), before);
}

#[test]
fn at_the_bench_the_fields_are_in_sight_below_a_caution_with_large_text() {
    for size in [USUAL, [1280.0 / 1.5, 480.0], [640.0, 360.0]] {
        let bench = sized(size, Key::Num7);
        assert!(bench.says("Caution: "), "{size:?}");
        for field in ["Old: capacitance", "Old: ESR"] {
            let field = rect(&bench, field);
            assert!(field.bottom() < size[1] - 60.0, "{size:?}: {field:?}");
        }
    }
}

/// How many of these texts stand whole above the line at the bottom.
fn in_sight(bench: &Bench, height: f32, is: impl Fn(&egui_kittest::Node<'_>) -> bool) -> usize {
    let nodes = bench.harness.root().children_recursive().filter(is);
    nodes.filter(|node| node.rect().top() > 60.0 && node.rect().bottom() < height + AROUND - 24.0).count()
}

#[test]
fn with_large_text_the_figures_of_the_comparison_and_the_lines_of_the_order_have_the_room() {
    let size = [640.0, 360.0];
    let mut bench = sized(size, Key::Num2);
    for key in [Key::Home, Key::ArrowRight, Key::Home, Key::P, Key::ArrowDown, Key::P, Key::ArrowDown, Key::P, Key::C] {
        bench.press(key);
    }
    let figures = in_sight(&bench, size[1], |node| {
        let node = node.accesskit_node();
        node.value().is_some_and(|told| told.contains("; original part "))
    });
    assert!(figures >= 5, "{figures} lines of the comparison");
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    let lines = in_sight(&bench, size[1], |node| {
        let node = node.accesskit_node();
        node.role() == Role::ListBoxOption && node.label().is_some_and(|name| name.contains(": need "))
    });
    assert!(lines >= 5, "{lines} lines of the order");
    let top = |name: &str| rect(&bench, name).top();
    assert!((top("Export…") - top("Stock and quotes")).abs() < 4.0, "Export… stands beside the tabs");
    // What is folded is there at a click.
    bench.click("Quantities…");
    bench.assert_says("dome of 1996, units");
}

/// How many shapes a frame draws, those within others too.
fn shapes(shape: &egui::Shape) -> usize {
    match shape {
        egui::Shape::Vec(inner) => inner.iter().map(shapes).sum(),
        _ => 1,
    }
}

/// A board of so many rows of so many cans, zoomed in: how many nodes and shapes a frame has, whole and near.
fn work_of(side: i32, zoom: f32) -> [(usize, usize); 2] {
    let at = |n: i32| Position {
        reference: format!("C{n}"),
        x_mm: Some(f64::from(n % side) * 12.0),
        y_mm: Some(f64::from(n / side) * 12.0),
        original: Original { can: Can { diameter_mm: Some(8.0), ..Can::default() }, ..Original::default() },
        ..Position::default()
    };
    let board = Board { name: "Large".into(), positions: (0..side * side).map(at).collect(), ..Board::default() };
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("large.json");
    std::fs::write(&path, job::to_text(&Job { boards: vec![board], ..Job::default() })).unwrap();
    let mut bench = Bench::with(Window::new(refarad::app::Start { path: Some(path) }));
    bench.press(Key::Escape);
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    let work = |bench: &Bench| {
        let drawn = bench.harness.output().shapes.iter().map(|shape| shapes(&shape.shape)).sum();
        (bench.harness.root().children_recursive().count(), drawn)
    };
    let whole = work(&bench);
    bench.harness.hover_at(rect(&bench, "Map of Large").center());
    bench.settle();
    bench.harness.event(egui::Event::Zoom(zoom));
    bench.settle();
    [whole, work(&bench)]
}

#[test]
fn of_ten_thousand_cans_no_more_are_told_and_drawn_than_are_in_sight() {
    let (many, few) = (work_of(100, 16.0), work_of(25, 4.0));
    println!("nodes and shapes, whole and near: 10 000 cans {many:?}, 625 cans {few:?}");
    assert!(many.iter().all(|(nodes, _)| *nodes < 600), "{many:?}");
    assert!(many[0].1 < 12_000, "about a shape for each can: {many:?}");
    // As near, what is drawn does not depend on how many there are.
    assert!(many[1].1.abs_diff(few[1].1) * 5 < few[1].1, "{many:?} {few:?}");
}
