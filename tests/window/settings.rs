use egui::{Key, Modifiers};
use refarad::domain::Policy;

use crate::harness::Bench;

fn job_editor() -> Bench {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::J);
    bench
}

#[test]
fn the_interval_is_changed_and_the_target_follows() {
    let mut bench = job_editor();
    bench.enter("Service interval", "8 years");
    assert_eq!(bench.job().interval_years, Some(8.0));
    bench.assert_says("8 years");
}

#[test]
fn a_margin_is_changed_and_put_back_to_its_default() {
    let mut bench = job_editor();
    bench.enter("Max. ripple utilisation", "60 %");
    assert_eq!(bench.job().policy.ripple_use_max, 0.6);
    bench.press_button("Reset to 80 %");
    assert_eq!(bench.job().policy.ripple_use_max, Policy::default().ripple_use_max);
}

#[test]
fn a_margin_below_one_is_refused() {
    let mut bench = job_editor();
    let before = bench.job().policy.clone();
    bench.type_into("Life margin factor", "0.9");
    bench.assert_says("Refused: 0.9: expected a factor of 1 or more");
    assert_eq!(bench.job().policy, before);
}

#[test]
fn a_share_of_a_policy_is_percent_and_never_above_the_whole() {
    let mut bench = job_editor();
    bench.enter("Max. ripple utilisation", "75");
    assert_eq!(bench.job().policy.ripple_use_max, 0.75);
    bench.type_into("Max. ripple utilisation", "120");
    bench.assert_says("Refused: 120 %: expected a share above 0 % and up to 100 %");
    assert_eq!(bench.job().policy.ripple_use_max, 0.75);
}

#[test]
fn the_board_says_how_often_it_is_in_a_unit() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::B);
    bench.enter("Boards per unit", "3");
    assert_eq!(bench.job().boards[0].per_unit, Some(3.0));
    bench.enter("Boards per unit", "");
    assert_eq!(bench.job().boards[0].per_unit, None);
    bench.assert_says("1, assumed");
}
