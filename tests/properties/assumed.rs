//! What is taken because nobody entered it is never kinder than the same figure, or a milder one, entered.

use proptest::prelude::*;
use refarad::domain::{Assumed, Can, Check, Job, Outcome, Stress, Technology};
use refarad::sizing::Evaluation;

use super::scenes::{Dice, can, dice, job_of, nearly_good, runs, stressed};
use super::support::{self, evaluate};

struct Scene {
    job: Job,
    part: Can,
}

impl Scene {
    fn new(dice: &mut Dice) -> Self {
        let (part, position) = if dice.chance(0.6) { nearly_good(dice) } else { (can(dice, 0.05), stressed(dice)) };
        let mut job = job_of(dice, position);
        let original = &mut job.boards[0].positions[0].original.can;
        *original = if dice.chance(0.5) { can(dice, 0.1) } else { support::can() };
        Self { job, part }
    }

    fn with(&self, change: impl FnOnce(&mut Stress)) -> Evaluation {
        let mut job = self.job.clone();
        change(&mut job.boards[0].positions[0].stress);
        evaluate(&job, &self.part)
    }
}

/// Taken instead of entered, nothing comes out better, and a pass says that it leans on it.
fn never_kinder(taken: &Evaluation, entered: &Evaluation, which: Assumed) -> Result<(), TestCaseError> {
    for check in Check::ALL {
        let (taken, entered) = (taken.outcome(check), entered.outcome(check));
        prop_assert!(taken >= entered || !taken.usable(), "{}: taken {taken:?}, entered {entered:?}", check.word());
    }
    prop_assert!(taken.verdict != Outcome::Pass || (taken.assumed.contains(which) && taken.passes_on_assumed_stress()));
    Ok(())
}

proptest! {
    #![proptest_config(runs(500))]

    #[test]
    fn a_transient_nobody_entered(mut dice in dice(), milder in 0.0..1.0f64) {
        let scene = Scene::new(&mut dice);
        let taken = scene.with(|stress| stress.transient_v = None);
        let Some(peak_v) = taken.figures.peak_v else { return Ok(()) };
        let entered = scene.with(|stress| stress.transient_v = Some(peak_v * milder));
        never_kinder(&taken, &entered, Assumed::TRANSIENT)?;
    }

    #[test]
    fn a_ripple_peak_nobody_entered(mut dice in dice(), milder in 0.0..1.0f64) {
        let scene = Scene::new(&mut dice);
        let taken = scene.with(|stress| stress.ripple_peak_v = None);
        let Some(peak_v) = taken.figures.peak_v.filter(|_| scene.part.technology != Some(Technology::NonPolar)) else {
            return Ok(());
        };
        let derived_v = peak_v - scene.job.boards[0].positions[0].stress.dc_v.unwrap();
        let entered = scene.with(|stress| stress.ripple_peak_v = Some(derived_v * milder));
        never_kinder(&taken, &entered, Assumed::RIPPLE_PEAK)?;
    }

    #[test]
    fn a_working_voltage_nobody_entered(mut dice in dice(), milder in 0.0..1.0f64) {
        let scene = Scene::new(&mut dice);
        let taken = scene.with(|stress| stress.dc_v = None);
        let Some(peak_v) = taken.figures.peak_v.filter(|_| scene.part.technology != Some(Technology::NonPolar)) else {
            return Ok(());
        };
        // The gain of working below the rated voltage is only for a voltage that was entered.
        let mut scene = scene;
        scene.job.policy.count_voltage_derating = false;
        let taken = scene.with(|stress| stress.dc_v = None);
        let entered = scene.with(|stress| (stress.dc_v, stress.ripple_peak_v) = (Some(peak_v * milder), Some(0.0)));
        never_kinder(&taken, &entered, Assumed::DC)?;
    }

    #[test]
    fn a_lowest_voltage_nobody_entered(mut dice in dice()) {
        let scene = Scene::new(&mut dice);
        let taken = scene.with(|stress| stress.min_v = None);
        let stress = &scene.job.boards[0].positions[0].stress;
        let lowest_v = stress.dc_v.unwrap() - stress.ripple_peak_v.unwrap();
        let entered = scene.with(|stress| stress.min_v = Some(lowest_v));
        never_kinder(&taken, &entered, Assumed::MIN)?;
    }

    /// Only "above the rating" is not held against a ripple that is the original's rating.
    #[test]
    fn a_ripple_nobody_entered(mut dice in dice(), milder in 0.0..1.0f64) {
        let scene = Scene::new(&mut dice);
        let taken = scene.with(|stress| stress.ripple = None);
        let original = &scene.job.boards[0].positions[0].original.can;
        let Some((hz, a)) = original.ripple_hz.zip(original.ripple_a) else {
            prop_assert!(!taken.verdict.usable());
            return Ok(());
        };
        let mut entered = scene.with(|stress| stress.ripple = Some(vec![support::line(hz, a * milder)]));
        let ripple = &mut entered.outcomes[Check::Ripple as usize];
        if *ripple == Outcome::Marginal && taken.figures.ripple_usage <= Some(scene.job.policy.ripple_use_max) {
            *ripple = Outcome::Pass;
        }
        never_kinder(&taken, &entered, Assumed::RIPPLE)?;
    }
}
