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
    bench.enter("Interval", "8 years");
    assert_eq!(bench.job().interval_years, Some(8.0));
    bench.assert_says("8 years");
}

#[test]
fn a_margin_is_changed_and_put_back_to_its_default() {
    let mut bench = job_editor();
    bench.enter("Ripple", "0.6");
    assert_eq!(bench.job().policy.ripple_use_max, 0.6);
    bench.click_exactly("Reset to 0.8");
    assert_eq!(bench.job().policy.ripple_use_max, Policy::default().ripple_use_max);
}

#[test]
fn a_margin_below_zero_is_refused() {
    let mut bench = job_editor();
    let before = bench.job().policy.clone();
    bench.type_into("Life over target", "-1");
    bench.assert_says("Not taken: ");
    assert_eq!(bench.job().policy, before);
}

#[test]
fn the_board_says_how_often_it_is_in_a_unit() {
    let mut bench = Bench::demo();
    bench.press_with(Modifiers::COMMAND, Key::B);
    bench.enter("Boards per unit", "3");
    assert_eq!(bench.job().boards[0].per_unit, Some(3.0));
    bench.enter("Boards per unit", "");
    assert_eq!(bench.job().boards[0].per_unit, None);
    bench.assert_says("assumed 1");
}
