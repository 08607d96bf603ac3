//! Every heading explains itself to who rests on it, and to who cannot see it.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::NodeT;

use crate::harness::Bench;

/// Names of what is told apart as a heading: the headings proper, and the buttons that sort.
fn headings(bench: &Bench) -> Vec<(String, Option<String>)> {
    let heading = |node: egui_kittest::Node<'_>| {
        let node = node.accesskit_node();
        let name = node.label().unwrap_or_default();
        let is_one = node.role() == Role::Heading || is_sorting(&name);
        is_one.then(|| (name, node.description()))
    };
    bench.harness.root().children_recursive().filter_map(heading).collect()
}

/// Headings of tables are buttons.
fn is_sorting(name: &str) -> bool {
    name.starts_with("Sort ")
}

fn heading<'a>(bench: &'a Bench, name: &str) -> egui_kittest::Node<'a> {
    let is_it = |node: &egui_kittest::Node<'_>| {
        let node = node.accesskit_node();
        (node.role() == Role::Heading || is_sorting(name)) && node.label().as_deref() == Some(name)
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
    // A hover appears once the pointer has rested for half a second; a step is a quarter.
    for _ in 0..8 {
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
    for (name, description) in &all {
        let told = description.as_deref().unwrap_or_default();
        assert!(told.ends_with('.'), "{view}: {name} is described: {told}");
        // Of several headings of a name the pointer finds the first.
        let (_, first) = all.iter().find(|(known, _)| known == name).expect("itself at least");
        let shown = shown_over(bench, name);
        let first = first.as_deref().unwrap_or_default();
        assert!(shown.iter().any(|text| text.contains(first)), "{view}: over {name}: {shown:?}");
    }
}

/// What folds away is a control of its own: it is described, too.
fn assert_folds(bench: &Bench, names: &[&str]) {
    for name in names {
        let is_it = |node: &egui_kittest::Node<'_>| {
            let node = node.accesskit_node();
            node.label().is_some_and(|label| label.starts_with(name)) && node.description().is_some()
        };
        assert!(bench.harness.root().children_recursive().any(|node| is_it(&node)), "{name} is described");
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
    assert_explained(&mut bench, "candidates", &["Why ", "Sort by verdict", "Sort by margin", "Sort by price"]);
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
        (Key::E, &["Ripple spectrum", "Load profile"][..]),
        (Key::B, &["Mounting holes, mm", "Keep-outs, mm"][..]),
        (Key::J, &["Job", "Policy"][..]),
    ] {
        let mut bench = Bench::demo();
        bench.press_with(Modifiers::COMMAND, Key::Num1);
        bench.press_with(Modifiers::COMMAND, key);
        if key == Key::E {
            bench.press_button("Stress");
        }
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

#[test]
fn headings_of_the_life_place_explain_themselves() {
    let mut bench = Bench::demo();
    bench.click("C3, ");
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    assert_explained(
        &mut bench,
        "life",
        &["Supply C3: years against ambient", "Supply C3: years against ripple", "Rise K", "Board"],
    );
    assert_folds(&bench, &["Load profile", "Spread", "Thermal cross-check", "Old part", "Shelf and re-forming"]);
    bench.click_exactly("Board overview");
    assert_explained(&mut bench, "every pick", &["Core rise", "Assumptions"]);
}

#[test]
fn headings_of_the_purchase_place_explain_themselves() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    assert_explained(&mut bench, "order", &["Sort the order by required", "Price list"]);
    assert_folds(&bench, &["Quantities: "]);
    for (tab, expected) in [("Consolidate order", "Search"), ("Stock and quotes", "On the shelf")] {
        bench.click_exactly(tab);
        assert_explained(&mut bench, tab, &[expected]);
    }
}

/// What rests on the heading that starts so, of several the first.
fn shown_over_one(bench: &mut Bench, starts: &str) -> String {
    let name = headings(bench).into_iter().map(|(name, _)| name).find(|name| name.starts_with(starts));
    shown_over(bench, &name.expect("a heading that starts so")).join(" ")
}

#[test]
fn computed_headings_of_life_and_purchase_show_formula_and_source() {
    let mut bench = Bench::demo();
    bench.click("C3, ");
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    for (heading, formula, source) in [
        ("Supply C3: years against ambient", "L = L0 2^", "Source: Rubycon life sheet"),
        ("Load profile, years", "1/L = sum w/L_phase", "Source: Cosel"),
        ("Rise K", "dT = dT0", "Source: "),
    ] {
        let shown = shown_over_one(&mut bench, heading);
        assert!(shown.contains(formula) && shown.contains(source), "{heading}: {shown}");
    }
    bench.press_with(Modifiers::COMMAND, Key::Num4);
    let shown = shown_over_one(&mut bench, "Sort the order by required");
    assert!(shown.contains("need = ceil(") && shown.contains("Source: "), "{shown}");
}

#[test]
fn the_help_has_every_explanation_under_a_heading_with_formula_and_source() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num5);
    assert_eq!(headings(&bench)[0].0, "Cautions first");
    bench.click("Headings on screen");
    let names: Vec<String> = headings(&bench).into_iter().map(|(name, _)| name).collect();
    for name in ["Voltage", "Years against the ambient", "Search", "Order quantity"] {
        assert!(names.iter().any(|known| known == name), "{name} in {names:?}");
    }
    bench.assert_says("1/L = sum w/L_phase");
    bench.assert_says("Source: Cosel technical information (published)");
}
