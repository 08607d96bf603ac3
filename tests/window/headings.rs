//! Every heading explains itself to who rests on it, and to who cannot see it.

use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::NodeT;

use crate::harness::Bench;

/// Names of what is told apart as a heading: the headings proper, and the buttons that sort.
fn headings(bench: &Bench) -> Vec<(String, Option<String>)> {
    let heading = |node: egui_kittest::Node<'_>| {
        let node = node.accesskit_node();
        let name = node.label().unwrap_or_default();
        let is_one = node.role() == Role::Heading || name.starts_with("Sort by ");
        is_one.then(|| (name, node.description()))
    };
    bench.harness.root().children_recursive().filter_map(heading).collect()
}

fn heading<'a>(bench: &'a Bench, name: &str) -> egui_kittest::Node<'a> {
    let is_it = |node: &egui_kittest::Node<'_>| {
        let node = node.accesskit_node();
        (node.role() == Role::Heading || name.starts_with("Sort by ")) && node.label().as_deref() == Some(name)
    };
    bench.harness.root().children_recursive().find(is_it).expect("a heading of that name")
}

/// What appears when the pointer rests on a control.
fn shown_over(bench: &mut Bench, name: &str) -> Vec<String> {
    let texts = |bench: &Bench| {
        let text =
            |node: egui_kittest::Node<'_>| node.accesskit_node().value().or_else(|| node.accesskit_node().label());
        bench.harness.root().children_recursive().filter_map(text).collect::<Vec<_>>()
    };
    heading(bench, name).scroll_to_me();
    bench.settle();
    let before = texts(bench);
    heading(bench, name).hover();
    // A hover appears once the pointer has rested.
    for _ in 0..40 {
        bench.harness.step();
    }
    texts(bench).into_iter().filter(|text| !before.contains(text)).collect()
}

/// Rests on every heading of a view, and counts them.
fn assert_explained(bench: &mut Bench, view: &str, expected: &[&str]) {
    let all = headings(bench);
    for name in expected {
        assert!(all.iter().any(|(known, _)| known.starts_with(name)), "{view} has a heading {name}: {all:?}");
    }
    for (name, description) in all {
        let told = description.unwrap_or_default();
        assert!(told.ends_with('.'), "{view}: {name} is described: {told}");
        let shown = shown_over(bench, &name);
        assert!(shown.iter().any(|text| text.contains(&told)), "{view}: over {name}: {shown:?}");
    }
}

#[test]
fn headings_of_the_board_explain_themselves() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    assert_explained(&mut bench, "board", &["C1 from the side", "Best parts"]);
}

#[test]
fn every_column_of_the_candidates_explains_itself() {
    let mut bench = Bench::demo();
    bench.click("C3, ");
    assert_explained(&mut bench, "candidates", &["Why ", "Sort by ESR check", "Sort by headroom", "Sort by price"]);
}

#[test]
fn the_comparison_explains_itself() {
    let mut bench = Bench::demo();
    bench.click("C3, ");
    bench.press(Key::P);
    bench.press(Key::C);
    assert_explained(&mut bench, "comparison", &["against the original"]);
}

#[test]
fn headings_of_the_editors_explain_themselves() {
    for (key, expected) in [
        (Key::E, &["Ripple spectrum", "Duty"][..]),
        (Key::B, &["Mounting holes, mm", "Keep-outs, mm"][..]),
        (Key::J, &["Job", "Policy"][..]),
    ] {
        let mut bench = Bench::demo();
        bench.press_with(Modifiers::COMMAND, Key::Num1);
        bench.press_with(Modifiers::COMMAND, key);
        assert_explained(&mut bench, "editor", expected);
    }
}

#[test]
fn a_figure_with_a_formula_names_its_source() {
    let mut bench = Bench::demo();
    bench.click("C3, ");
    let shown = shown_over(&mut bench, "Sort by years of life (years)").join(" ");
    assert!(shown.contains("Beckhoff PS9011 manual"), "{shown}");
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    let shown = shown_over(&mut bench, "C3 from the side").join(" ");
    assert!(shown.contains("Source: KEMET"), "{shown}");
}
