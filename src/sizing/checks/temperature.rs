//! Category temperatures against the ambient.

use crate::domain::{Can, Check, Outcome};
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::{Evaluation, graded};
use crate::sizing::position_context::PositionContext;

/// Distance from the upper category temperature that passes, K.
const UPPER_MARGIN_K: f64 = 5.0;

/// Coldest and hottest ambient inside the category temperatures. An ambient below the lower one fails.
pub(super) fn check(context: &PositionContext, can: &Can, evaluation: &mut Evaluation) {
    let (coldest_c, hottest_c) = (context.ambient.min_c, context.ambient.max_c);
    let cold = coldest_c
        .zip(can.temp_min_c)
        .map_or(Outcome::Unknown, |(ambient_c, min_c)| graded(at_least(ambient_c, min_c), false));
    let hot = hottest_c.zip(can.temp_max_c).map_or(Outcome::Unknown, |(ambient_c, max_c)| {
        graded(at_most(ambient_c, max_c - UPPER_MARGIN_K), at_most(ambient_c, max_c))
    });
    // What is known of an incomplete duty can fail but not pass.
    let duty = if context.ambient.complete { Outcome::Pass } else { Outcome::Unknown };
    evaluation.set(Check::Temperature, cold.max(hot).max(duty));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Position;
    use crate::sizing::testing::{outcome, phase};
    use Outcome::{Fail, Marginal, Pass, Unknown};

    #[test]
    fn the_last_five_kelvin_below_the_upper_category_temperature_are_marginal() {
        let at = |hottest_c| {
            let phases = vec![phase(0.9, 40.0, 1.0), phase(0.1, hottest_c, 1.0)];
            outcome(Check::Temperature, |p| p.stress.phases = Some(phases), |_| ())
        };
        assert_eq!([100.0, 100.1, 105.0, 105.1].map(at), [Pass, Marginal, Marginal, Fail]);
    }

    #[test]
    fn colder_than_the_lower_category_temperature_fails() {
        let at = |ambient_c| outcome(Check::Temperature, |p| p.stress.ambient_min_c = Some(ambient_c), |_| ());
        assert_eq!([-40.0, -40.1].map(at), [Pass, Fail]);
    }

    #[test]
    fn the_coldest_phase_stands_in_for_the_lowest_ambient() {
        let cold = |p: &mut Position| {
            p.stress.ambient_min_c = None;
            p.stress.phases = Some(vec![phase(0.5, -41.0, 1.0), phase(0.5, 40.0, 1.0)]);
        };
        assert_eq!(outcome(Check::Temperature, cold, |_| ()), Fail);
    }

    #[test]
    fn a_missing_temperature_is_unknown_unless_the_other_end_fails() {
        assert_eq!(outcome(Check::Temperature, |_| (), |can| can.temp_min_c = None), Unknown);
        assert_eq!(outcome(Check::Temperature, |_| (), |can| can.temp_max_c = None), Unknown);
        assert_eq!(outcome(Check::Temperature, |p| p.stress.phases = None, |_| ()), Unknown);
        let hot = |p: &mut Position| p.stress.phases = Some(vec![phase(1.0, 120.0, 1.0)]);
        assert_eq!(outcome(Check::Temperature, hot, |can| can.temp_min_c = None), Fail);
    }
}
