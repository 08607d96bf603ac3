use egui_kittest::kittest::NodeT;

use crate::harness::Bench;

#[test]
fn every_position_is_listed_with_what_was_there_what_is_chosen_and_its_outcome() {
    let bench = Bench::demo();
    bench.assert_says("C1, 220u 400V 85C snap-in; SKARN-400-220U picked; ");
    assert!(bench.selected_rows().iter().any(|name| name.starts_with("C1, ")));
}

#[test]
fn a_click_selects_a_position_and_its_candidates_follow() {
    let mut bench = Bench::demo();
    bench.click("C3, ");
    assert!(bench.selected_rows().iter().any(|name| name.starts_with("C3, 47u 25V 85C")));
    bench.assert_says("was 47u 25V 85C");
}

/// Where the list of positions ends, points.
fn list_ends(bench: &Bench) -> f32 {
    let row =
        |node: &egui_kittest::Node<'_>| node.accesskit_node().label().is_some_and(|name| name.starts_with("C1, "));
    bench.harness.root().children_recursive().find(row).expect("the row of C1").rect().right()
}

#[test]
fn the_list_follows_the_window_until_a_person_drags_it() {
    let mut bench = Bench::demo();
    let size = |bench: &mut Bench, width: f32| {
        bench.harness.set_size(egui::vec2(width, 900.0));
        bench.settle();
        list_ends(bench)
    };
    let narrow = size(&mut bench, 1280.0);
    let wide = size(&mut bench, 2560.0);
    assert!(wide > narrow + 100.0, "{narrow} {wide}");
    assert_eq!(size(&mut bench, 1280.0), narrow);
    let edge = egui::pos2(narrow + 5.0, 600.0);
    bench.harness.drag_at(edge);
    bench.harness.step();
    bench.harness.hover_at(edge + egui::vec2(60.0, 0.0));
    bench.harness.step();
    bench.harness.drop_at(edge + egui::vec2(60.0, 0.0));
    bench.settle();
    let dragged = list_ends(&bench);
    assert!((dragged - narrow - 60.0).abs() < 8.0, "{narrow} {dragged}");
    assert_eq!(size(&mut bench, 2560.0), dragged);
}
