//! No outcome gets better when the stress rises.

use proptest::prelude::*;
use refarad::domain::{Check, Job, Outcome, Stress};
use refarad::sizing::Evaluation;

use super::scenes::{Dice, can, dice, job_of, nearly_good, runs, stressed};
use super::support::{self, evaluate, line, phase, position};

/// The same part before and after a change of the stress.
fn before_and_after(
    mut dice: Dice,
    prepare: impl FnOnce(&mut Stress),
    raise: impl FnOnce(&mut Stress, &mut Dice),
) -> (Evaluation, Evaluation) {
    let (part, position) = if dice.chance(0.5) {
        nearly_good(&mut dice)
    } else {
        let missing = dice.pick(&[0.0, 0.05]);
        (can(&mut dice, missing), stressed(&mut dice))
    };
    let mut job = job_of(&mut dice, position);
    let stress = |job: &mut Job| std::mem::take(&mut job.boards[0].positions[0].stress);
    let mut own = stress(&mut job);
    prepare(&mut own);
    job.boards[0].positions[0].stress = own;
    let before = evaluate(&job, &part);
    raise(&mut job.boards[0].positions[0].stress, &mut dice);
    (before, evaluate(&job, &part))
}

/// Whether the first figure is not above the second but for rounding; what is not known says nothing.
fn not_more(a: Option<f64>, b: Option<f64>) -> bool {
    a.zip(b).is_none_or(|(a, b)| a <= b || a - b <= 1e-9 * b.abs().max(1.0))
}

fn assert_not_better((before, after): &(Evaluation, Evaluation)) -> Result<(), TestCaseError> {
    for check in Check::ALL {
        // A figure that was enough to fail may no longer be known at the higher stress; neither is usable.
        let (was, is) = (before.outcome(check), after.outcome(check));
        prop_assert!(is >= was || !(is.usable() || was.usable()), "{}: {before:#?} {after:#?}", check.word());
    }
    prop_assert!(after.verdict >= before.verdict || !after.verdict.usable());
    let (before, after) = (&before.figures, &after.figures);
    prop_assert!(not_more(after.headroom, before.headroom), "headroom: {before:?} {after:?}");
    prop_assert!(not_more(after.life_uncapped_h, before.life_uncapped_h), "life: {before:?} {after:?}");
    prop_assert!(not_more(before.ripple_usage, after.ripple_usage), "ripple: {before:?} {after:?}");
    prop_assert!(not_more(before.voltage_usage, after.voltage_usage), "voltage: {before:?} {after:?}");
    Ok(())
}

/// Ripple asks for figures that no ripple does without; where they are missing a failing life becomes unknown.
fn assert_not_better_with_ripple(pair: &(Evaluation, Evaluation)) -> Result<(), TestCaseError> {
    let unknown = |evaluation: &Evaluation| evaluation.outcome(Check::Ripple) == Outcome::Unknown;
    if unknown(&pair.1) && !unknown(&pair.0) {
        prop_assert!(!pair.1.verdict.usable());
        return Ok(());
    }
    assert_not_better(pair)
}

proptest! {
    #![proptest_config(runs(500))]

    /// With the lowest ambient given and kept: it is a figure of its own.
    #[test]
    fn a_hotter_ambient_makes_nothing_better(dice in dice(), rise_k in 0.0..60.0f64, all in any::<bool>()) {
        let pair = before_and_after(dice, |_| (), |stress, _| {
            for phase in stress.phases.as_mut().unwrap().iter_mut().take(if all { 2 } else { 1 }) {
                phase.ambient_c = phase.ambient_c.map(|c| c + rise_k);
            }
        });
        assert_not_better(&pair)?;
    }

    #[test]
    fn a_colder_lowest_ambient_makes_nothing_better(dice in dice(), fall_k in 0.0..60.0f64) {
        let pair = before_and_after(dice, |_| (), |stress, _| {
            stress.ambient_min_c = stress.ambient_min_c.map(|c| c - fall_k);
        });
        assert_not_better(&pair)?;
    }

    #[test]
    fn more_ripple_in_every_line_makes_nothing_better(dice in dice(), times in 1.0..4.0f64) {
        let pair = before_and_after(dice, |_| (), |stress, _| {
            for line in stress.ripple.as_mut().unwrap() {
                line.a = line.a.map(|a| a * times);
            }
        });
        assert_not_better(&pair)?;
    }

    #[test]
    fn another_line_of_ripple_makes_nothing_better(dice in dice(), hz in 50.0..2e5f64, a in 0.0..3.0f64) {
        let pair = before_and_after(dice, |_| (), |stress, _| stress.ripple.as_mut().unwrap().push(line(hz, a)));
        assert_not_better_with_ripple(&pair)?;
    }

    #[test]
    fn a_larger_ripple_scale_makes_nothing_better(dice in dice(), more in 0.0..3.0f64) {
        let pair = before_and_after(dice, |_| (), |stress, _| {
            for phase in stress.phases.as_mut().unwrap() {
                phase.ripple_scale = phase.ripple_scale.map(|scale| scale + more);
            }
        });
        assert_not_better(&pair)?;
    }

    #[test]
    fn ripple_where_there_was_none_makes_nothing_better(dice in dice()) {
        // The two changes run one after the other, so the lines pass through a cell.
        let kept = std::cell::RefCell::new(None);
        let take = |stress: &mut Stress| *kept.borrow_mut() = stress.ripple.replace(Vec::new());
        let pair = before_and_after(dice, take, |stress, _| stress.ripple = kept.take());
        assert_not_better_with_ripple(&pair)?;
    }

    #[test]
    fn higher_and_more_reversed_voltages_make_nothing_better(
        dice in dice(), working_v in 0.0..200.0f64, ripple_v in 0.0..20.0f64, short_v in 0.0..200.0f64, reverse_v in 0.0..3.0f64,
    ) {
        let pair = before_and_after(dice, |_| (), |stress, dice| {
            let mut on = |change_v: f64| if dice.chance(0.5) { change_v } else { 0.0 };
            let changes_v = [on(working_v), on(ripple_v), on(short_v), on(reverse_v)];
            stress.dc_v = stress.dc_v.map(|v| v + changes_v[0]);
            stress.ripple_peak_v = stress.ripple_peak_v.map(|v| v + changes_v[1]);
            stress.transient_v = stress.transient_v.map(|v| v + changes_v[2]);
            stress.min_v = stress.min_v.map(|v| v - changes_v[3]);
        });
        assert_not_better(&pair)?;
    }

    #[test]
    fn less_air_makes_nothing_better(dice in dice(), less in 0.0..1.0f64) {
        let pair = before_and_after(
            dice,
            |_| (),
            |stress, _| stress.airflow_lfm = stress.airflow_lfm.map(|lfm| lfm * less),
        );
        assert_not_better(&pair)?;
    }
}

/// The exception of the cold end. Without a lowest ambient of its own the coolest phase stands in, so warming that phase
/// also cures a failure in the cold.
#[test]
fn without_a_lowest_ambient_of_its_own_a_warmer_coolest_phase_cures_the_cold() {
    let at = |coolest_c| {
        let mut position = position();
        position.stress.ambient_min_c = None;
        position.stress.phases = Some(vec![phase(0.5, coolest_c, 1.0), phase(0.5, 50.0, 1.0)]);
        evaluate(&support::job(vec![position]), &support::can()).verdict
    };
    assert_eq!([at(-45.0), at(-35.0)], [Outcome::Fail, Outcome::Pass]);
}
