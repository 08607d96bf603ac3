//! Equivalent series resistance against its limits.

use super::graded;
use crate::domain::{Can, Check, Outcome};
use crate::physics::esr::at_hz;
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::Evaluation;
use crate::sizing::position_context::PositionContext;

/// How far outside a limit is still marginal.
const MARGINAL_OUTSIDE: f64 = 0.10;

/// ESR at the position's frequency between its limits; in the cold too when a limit for the cold is given and the part's
/// cold ratio applies at the lowest ambient.
pub(super) fn check(context: &PositionContext, can: &Can, evaluation: &mut Evaluation) {
    let needs = &context.position.needs;
    let esr = at_hz(can, context.esr_hz);
    if let Some(esr) = &esr {
        evaluation.assumed.insert(esr.assumed);
    }
    evaluation.assumed.insert(context.esr_max_assumed);
    let esr_mohm = esr.map(|e| e.mohm);
    evaluation.figures.esr_mohm = esr_mohm;

    let upper = esr_mohm.zip(context.esr_max_mohm).map_or(Outcome::Unknown, |(esr, max)| below(esr, max));
    let lower = match (needs.esr_min_mohm, esr_mohm) {
        (None, _) => Outcome::Pass,
        (Some(_), None) => Outcome::Unknown,
        (Some(min), Some(esr)) => graded(at_least(esr, min), at_least(esr, (1.0 - MARGINAL_OUTSIDE) * min)),
    };

    let cold_applies = context.ambient_min_c.zip(can.z_cold_c).map(|(ambient_c, cold_c)| ambient_c <= cold_c);
    if cold_applies == Some(true) {
        evaluation.figures.esr_cold_mohm = esr_mohm.zip(can.z_ratio).map(|(esr, ratio)| esr * ratio);
    }
    let cold = match (needs.esr_cold_max_mohm, cold_applies) {
        (None, _) | (_, Some(false)) => Outcome::Pass,
        (_, None) => Outcome::Unknown,
        (Some(max), Some(true)) => evaluation.figures.esr_cold_mohm.map_or(Outcome::Unknown, |esr| below(esr, max)),
    };
    evaluation.set(Check::Esr, upper.max(lower).max(cold));
}

fn below(esr_mohm: f64, max_mohm: f64) -> Outcome {
    graded(at_most(esr_mohm, max_mohm), at_most(esr_mohm, (1.0 + MARGINAL_OUTSIDE) * max_mohm))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Assumed;
    use crate::sizing::testing::{evaluated, outcome};
    use Outcome::{Fail, Marginal, Pass, Unknown};

    fn at(esr_mohm: f64) -> Outcome {
        outcome(Check::Esr, |_| (), |can| can.esr_mohm = Some(esr_mohm))
    }

    #[test]
    fn up_to_ten_percent_above_the_limit_is_marginal() {
        assert_eq!([80.0, 80.1, 88.0, 88.1].map(at), [Pass, Marginal, Marginal, Fail]);
    }

    #[test]
    fn a_loop_that_needs_resistance_sets_a_lower_limit_with_the_same_tolerance() {
        let at = |esr| outcome(Check::Esr, |p| p.needs.esr_min_mohm = Some(50.0), |can| can.esr_mohm = Some(esr));
        assert_eq!([50.0, 49.9, 45.0, 44.9].map(at), [Pass, Marginal, Marginal, Fail]);
    }

    #[test]
    fn without_a_limit_it_is_the_originals_esr_at_the_same_frequency_and_marked_where_derived() {
        let no_limit = |p: &mut crate::domain::Position| p.needs.esr_max_mohm = None;
        let same = evaluated(no_limit, |_| ());
        assert_eq!(same.outcome(Check::Esr), Pass);
        assert!(!same.assumed.contains(Assumed::ESR_LIMIT), "given at this very frequency");
        let elsewhere = |p: &mut crate::domain::Position| {
            no_limit(p);
            p.needs.esr_hz = Some(120.0);
        };
        assert!(evaluated(elsewhere, |_| ()).assumed.contains(Assumed::ESR_LIMIT));
        assert_eq!(outcome(Check::Esr, no_limit, |can| can.esr_mohm = Some(66.1)), Fail);
        let nothing_known = |p: &mut crate::domain::Position| {
            no_limit(p);
            p.original.can = Can::default();
        };
        let unknown = evaluated(nothing_known, |_| ());
        assert_eq!(unknown.outcome(Check::Esr), Unknown);
        assert!(!unknown.assumed.contains(Assumed::ESR_LIMIT));
    }

    #[test]
    fn the_frequency_of_the_limits_is_100_khz_unless_given() {
        let at_frequency = |hz| evaluated(|p| p.needs.esr_hz = hz, |_| ()).figures.esr_mohm.unwrap();
        assert_eq!(at_frequency(None), 60.0);
        // Multiplier 0.7 at 120 Hz against 1 at 100 kHz.
        assert!((at_frequency(Some(120.0)) - 60.0 / 0.49).abs() < 1e-9);
    }

    #[test]
    fn the_cold_is_checked_where_the_ambient_gets_as_cold_as_the_ratio_says() {
        let at = |ambient_min_c, max_mohm| {
            let stress = |p: &mut crate::domain::Position| {
                p.stress.ambient_min_c = Some(ambient_min_c);
                p.needs.esr_cold_max_mohm = max_mohm;
            };
            let evaluation = evaluated(stress, |_| ());
            (evaluation.figures.esr_cold_mohm, evaluation.outcome(Check::Esr))
        };
        assert_eq!(at(-39.9, Some(100.0)), (None, Pass));
        assert_eq!(at(-40.0, None), (Some(180.0), Pass));
        assert_eq!(at(-40.0, Some(180.0)), (Some(180.0), Pass));
        assert_eq!(at(-40.0, Some(170.0)), (Some(180.0), Marginal));
        assert_eq!(at(-40.0, Some(163.0)), (Some(180.0), Fail));
    }

    #[test]
    fn a_cold_limit_without_cold_figures_is_unknown() {
        let cold = |p: &mut crate::domain::Position| {
            p.stress.ambient_min_c = Some(-40.0);
            p.needs.esr_cold_max_mohm = Some(200.0);
        };
        assert_eq!(outcome(Check::Esr, cold, |can| can.z_ratio = None), Unknown);
        assert_eq!(outcome(Check::Esr, cold, |can| can.z_cold_c = None), Unknown);
        assert_eq!(outcome(Check::Esr, |_| (), |can| can.z_ratio = None), Pass);
    }

    #[test]
    fn without_any_resistance_figure_it_falls_back_on_the_loss_factor_and_says_so() {
        let at = |change: fn(&mut Can)| evaluated(|p| p.needs.esr_hz = Some(120.0), change);
        let own = at(|can| can.esr_mohm = None);
        assert!((own.figures.esr_mohm.unwrap() - 395.07).abs() < 0.01, "0.14 / (2 pi 120 Hz 470 uF)");
        assert!(!own.assumed.contains(Assumed::TAN_DELTA));
        let usual = at(|can| (can.esr_mohm, can.tan_delta) = (None, None));
        assert_eq!(usual.figures.esr_mohm, own.figures.esr_mohm, "0.14 is also the usual figure at 25 V");
        assert!(usual.assumed.contains(Assumed::TAN_DELTA));
        let without_frequency = at(|can| can.esr_hz = None);
        assert_eq!(without_frequency.figures.esr_mohm, own.figures.esr_mohm);
    }

    #[test]
    fn nothing_to_go_by_is_unknown() {
        let bare = |can: &mut Can| (can.esr_mohm, can.tan_delta, can.capacitance_uf) = (None, None, None);
        assert_eq!(outcome(Check::Esr, |_| (), bare), Unknown);
        let needs_min = |p: &mut crate::domain::Position| p.needs.esr_min_mohm = Some(1.0);
        assert_eq!(outcome(Check::Esr, needs_min, bare), Unknown);
    }
}
