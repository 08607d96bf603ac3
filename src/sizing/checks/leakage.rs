//! Leakage current, where the circuit sets a limit.

use crate::domain::{Assumed, Can, Check, Outcome};
use crate::physics::leakage::usual_ua;
use crate::sizing::compare::at_most;
use crate::sizing::evaluation::{Evaluation, graded};
use crate::sizing::position_context::PositionContext;

/// Passes without a limit; with one, the part's own or the usual leakage current must not exceed it.
pub(super) fn check(context: &PositionContext, can: &Can, evaluation: &mut Evaluation) {
    let Some(max_ua) = context.position.needs.leakage_max_ua else { return };
    let usual = || Some(usual_ua(can.technology_or_wet(), can.capacitance_uf?, can.rated_v?));
    let leakage_ua = can.leakage_ua.or_else(usual);
    if can.leakage_ua.is_none() && leakage_ua.is_some() {
        evaluation.assumed.insert(Assumed::LEAKAGE);
    }
    evaluation.figures.leakage_ua = leakage_ua;
    let outcome = leakage_ua.map_or(Outcome::Unknown, |own_ua| graded(at_most(own_ua, max_ua), false));
    evaluation.set(Check::Leakage, outcome);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Technology;
    use crate::sizing::testing::{evaluated, outcome};

    #[test]
    fn without_a_limit_it_passes_whatever_is_known() {
        let evaluation = evaluated(|p| p.needs.leakage_max_ua = None, |can| *can = Can::default());
        assert_eq!(evaluation.outcome(Check::Leakage), Outcome::Pass);
        assert_eq!(evaluation.figures.leakage_ua, None);
        assert!(!evaluation.assumed.contains(Assumed::LEAKAGE));
    }

    #[test]
    fn the_limit_itself_passes_and_anything_above_fails() {
        let at = |own| outcome(Check::Leakage, |_| (), |can| can.leakage_ua = Some(own));
        assert_eq!([0.0, 150.0, 150.1].map(at), [Outcome::Pass, Outcome::Pass, Outcome::Fail]);
    }

    #[test]
    fn the_usual_figure_stands_in_and_is_marked() {
        let usual = |technology| {
            let evaluation = evaluated(|_| (), |can| (can.leakage_ua, can.technology) = (None, technology));
            assert!(evaluation.assumed.contains(Assumed::LEAKAGE));
            evaluation.figures.leakage_ua.unwrap()
        };
        assert_eq!(usual(Some(Technology::Wet)), 0.01 * 470.0 * 25.0);
        assert_eq!(usual(None), usual(Some(Technology::Wet)));
        assert_eq!(usual(Some(Technology::Hybrid)), usual(Some(Technology::Wet)));
        assert_eq!(usual(Some(Technology::Polymer)), 0.2 * 470.0 * 25.0);
    }

    #[test]
    fn a_limit_and_nothing_to_go_by_is_unknown() {
        let removals: [fn(&mut Can); 2] = [|can| can.rated_v = None, |can| can.capacitance_uf = None];
        for remove in removals {
            let without = |can: &mut Can| {
                can.leakage_ua = None;
                remove(can);
            };
            assert_eq!(outcome(Check::Leakage, |_| (), without), Outcome::Unknown);
        }
    }
}
