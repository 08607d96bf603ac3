use eframe::egui::{Key, Modifiers};

use crate::harness::Bench;

fn help() -> Bench {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::Num5);
    bench
}

#[test]
fn the_methods_are_told_with_formula_and_source() {
    let mut bench = help();
    bench.click_exactly("Methods");
    bench.assert_says("I_eq = sqrt( sum (I_k / F(f_k))^2 )");
    bench.assert_says("Source: Vishay BCcomponents doc. 28340");
}

#[test]
fn every_outcome_comes_with_what_to_do() {
    let mut bench = help();
    bench.click_exactly("Outcomes and what to do");
    bench.assert_says("missing data never passes");
    bench.assert_says("Take the next higher rated voltage");
}

#[test]
fn the_caution_stands_in_the_help_and_at_a_dangerous_position_only() {
    let mut bench = help();
    bench.click_exactly("Cautions");
    bench.assert_says("Isolate, discharge, verify with a meter.");
    bench.press_with(Modifiers::COMMAND, Key::Num2);
    bench.assert_says("Caution: stored energy ");
    bench.click("C3, ");
    assert!(!bench.says("Caution: stored energy "));
}
