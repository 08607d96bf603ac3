//! Working, surge and reverse voltage.

use super::graded;
use crate::domain::{Assumed, Can, Check, Outcome, Technology};
use crate::physics::voltage::{HIGH_VOLTAGE_FROM_V, usual_surge_v};
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::Evaluation;
use crate::sizing::position_context::PositionContext;

/// Reverse voltage a polar part stands for a moment, V (makers print 1 to 1.5 V).
const REVERSE_MAX_V: f64 = 1.0;

/// The worst of three: peak against the derated rating, transient against surge, reverse voltage. A stress that was not
/// entered leaves the check unknown: a part is not called safe against a voltage nobody measured. A non-polar original
/// takes only non-polar parts; non-polar parts are exempt from the reverse voltage.
pub(super) fn check(context: &PositionContext, can: &Can, evaluation: &mut Evaluation) {
    let technology = can.technology_or_wet();
    let usage = context.peak_v.zip(can.rated_v).map(|(peak_v, rated_v)| peak_v / rated_v);
    evaluation.figures.voltage_usage = usage;
    let working = usage
        .zip(use_max(context, can))
        .map_or(Outcome::Unknown, |(usage, use_max)| graded(at_most(usage, use_max), at_most(usage, 1.0)));

    let surge_v = can.surge_v.or_else(|| Some(usual_surge_v(technology, can.rated_v?)));
    let transient_v = context.position.stress.transient_v;
    let transient = transient_v
        .zip(surge_v)
        .map_or(Outcome::Unknown, |(transient_v, surge_v)| graded(at_most(transient_v, surge_v), false));

    let reverse = if technology == Technology::NonPolar {
        Outcome::Pass
    } else {
        let min_v = context.position.stress.min_v;
        min_v.map_or(Outcome::Unknown, |min_v| graded(at_least(min_v, 0.0), at_least(min_v, -REVERSE_MAX_V)))
    };
    let polarity =
        graded(context.original_technology != Technology::NonPolar || technology == Technology::NonPolar, false);

    evaluation.set(Check::Voltage, working.max(transient).max(reverse).max(polarity));
    if can.technology.is_none() {
        evaluation.assumed.insert(Assumed::TECHNOLOGY);
    }
    if can.surge_v.is_none() && surge_v.is_some() && transient_v.is_some() {
        evaluation.assumed.insert(Assumed::SURGE);
    }
}

/// Largest share of the rated voltage by policy.
pub(super) fn use_max(context: &PositionContext, can: &Can) -> Option<f64> {
    let policy = context.policy;
    Some(match can.technology_or_wet() {
        Technology::Hybrid | Technology::Polymer => policy.voltage_use_max_polymer,
        Technology::Wet | Technology::NonPolar if can.rated_v? < HIGH_VOLTAGE_FROM_V => policy.voltage_use_max_wet_lv,
        Technology::Wet | Technology::NonPolar => policy.voltage_use_max_wet_hv,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sizing::testing::{evaluated, outcome};
    use Outcome::{Fail, Marginal, Pass, Unknown};

    /// A wet part of this rating at a working voltage without ripple or transient.
    fn at(dc_v: f64, rated_v: f64, technology: Technology) -> Outcome {
        let part = |can: &mut Can| {
            can.rated_v = Some(rated_v);
            can.surge_v = None;
            can.technology = Some(technology);
        };
        let stress = |p: &mut crate::domain::Position| {
            p.stress.dc_v = Some(dc_v);
            p.stress.ripple_peak_v = Some(0.0);
            p.stress.transient_v = Some(dc_v);
        };
        outcome(Check::Voltage, stress, part)
    }

    #[test]
    fn the_limit_is_the_policy_share_of_the_rating_and_the_rating_itself_is_marginal() {
        assert_eq!([at(20.0, 25.0, Technology::Wet), at(20.01, 25.0, Technology::Wet)], [Pass, Marginal]);
        assert_eq!([at(25.0, 25.0, Technology::Wet), at(25.01, 25.0, Technology::Wet)], [Marginal, Fail]);
    }

    #[test]
    fn wet_parts_from_160_v_may_be_used_closer_to_their_rating_and_polymer_never() {
        assert_eq!([at(144.0, 160.0, Technology::Wet), at(144.1, 160.0, Technology::Wet)], [Pass, Marginal]);
        assert_eq!(at(135.0, 159.0, Technology::Wet), Marginal);
        assert_eq!(at(144.0, 160.0, Technology::NonPolar), Pass);
        for technology in [Technology::Polymer, Technology::Hybrid] {
            assert_eq!([at(128.0, 160.0, technology), at(128.1, 160.0, technology)], [Pass, Marginal]);
        }
    }

    #[test]
    fn the_peak_is_working_plus_ripple_voltage() {
        let usage = evaluated(|p| p.stress.ripple_peak_v = Some(3.0), |_| ()).figures.voltage_usage;
        assert_eq!(usage, Some(15.0 / 25.0));
    }

    #[test]
    fn a_transient_above_the_surge_voltage_fails() {
        let at = |transient_v, own_surge_v, technology| {
            outcome(
                Check::Voltage,
                |p| p.stress.transient_v = Some(transient_v),
                |can| {
                    can.surge_v = own_surge_v;
                    can.technology = Some(technology);
                },
            )
        };
        assert_eq!([at(30.0, Some(30.0), Technology::Wet), at(30.1, Some(30.0), Technology::Wet)], [Pass, Fail]);
        assert_eq!([at(28.75, None, Technology::Wet), at(28.76, None, Technology::Wet)], [Pass, Fail]);
        assert_eq!([at(25.0, None, Technology::Polymer), at(25.1, None, Technology::Polymer)], [Pass, Fail]);
        assert_eq!(at(25.1, None, Technology::Hybrid), Fail);
        assert_eq!(at(28.75, None, Technology::NonPolar), Pass);
        assert_eq!(at(26.0, Some(26.0), Technology::Polymer), Pass);
    }

    #[test]
    fn a_default_surge_voltage_is_marked_and_an_own_one_is_not() {
        assert!(evaluated(|_| (), |can| can.surge_v = None).assumed.contains(Assumed::SURGE));
        assert!(!evaluated(|_| (), |_| ()).assumed.contains(Assumed::SURGE));
    }

    #[test]
    fn reverse_voltage_is_marginal_down_to_minus_one_volt_except_for_non_polar_parts() {
        let at = |min_v, technology| {
            outcome(Check::Voltage, |p| p.stress.min_v = Some(min_v), |can| can.technology = Some(technology))
        };
        assert_eq!([0.0, -0.01, -1.0, -1.01].map(|v| at(v, Technology::Wet)), [Pass, Marginal, Marginal, Fail]);
        assert_eq!(at(-12.0, Technology::NonPolar), Pass);
        assert_eq!(at(-1.01, Technology::Polymer), Fail);
    }

    #[test]
    fn a_non_polar_original_takes_only_non_polar_parts() {
        let at = |original, own| {
            outcome(Check::Voltage, |p| p.original.can.technology = Some(original), |can| can.technology = own)
        };
        assert_eq!(at(Technology::NonPolar, Some(Technology::NonPolar)), Pass);
        assert_eq!(at(Technology::NonPolar, Some(Technology::Wet)), Fail);
        assert_eq!(at(Technology::NonPolar, None), Fail);
        assert_eq!(at(Technology::Wet, Some(Technology::NonPolar)), Pass);
    }

    #[test]
    fn a_stress_or_rating_that_is_missing_leaves_it_unknown_unless_something_else_fails() {
        assert_eq!(outcome(Check::Voltage, |p| p.stress.dc_v = None, |_| ()), Unknown);
        assert_eq!(outcome(Check::Voltage, |p| p.stress.ripple_peak_v = None, |_| ()), Unknown);
        assert_eq!(outcome(Check::Voltage, |p| p.stress.transient_v = None, |_| ()), Unknown);
        assert_eq!(outcome(Check::Voltage, |p| p.stress.min_v = None, |_| ()), Unknown);
        assert_eq!(outcome(Check::Voltage, |_| (), |can| can.rated_v = None), Unknown);
        let reversed_and_unmeasured = |p: &mut crate::domain::Position| {
            p.stress.transient_v = None;
            p.stress.min_v = Some(-5.0);
        };
        assert_eq!(outcome(Check::Voltage, reversed_and_unmeasured, |_| ()), Fail);
    }
}
