//! Working, surge and reverse voltage.

use super::graded;
use crate::domain::{Assumed, Can, Check, Outcome, Technology};
use crate::physics::voltage::{HIGH_VOLTAGE_FROM_V, usual_surge_v};
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::Evaluation;
use crate::sizing::place::Place;

/// Reverse voltage a polar part stands for a moment, V (makers print 1 to 1.5 V).
const REVERSE_MAX_V: f64 = 1.0;

/// The worst of three: peak against the derated rating, transient against surge, reverse voltage. A stress that was not
/// entered leaves the check unknown: a part is not called safe against a voltage nobody measured. A non-polar original
/// takes only non-polar parts; non-polar parts are exempt from the reverse voltage.
pub(super) fn check(place: &Place, can: &Can, evaluation: &mut Evaluation) {
    let technology = can.technology_or_wet();
    let usage = place.peak_v.zip(can.rated_v).map(|(peak_v, rated_v)| peak_v / rated_v);
    evaluation.figures.voltage_usage = usage;
    let working = usage
        .zip(use_max(place, can))
        .map_or(Outcome::Unknown, |(usage, use_max)| graded(at_most(usage, use_max), at_most(usage, 1.0)));

    let surge_v = can.surge_v.or_else(|| Some(usual_surge_v(technology, can.rated_v?)));
    let transient_v = place.position.stress.transient_v;
    let transient = transient_v
        .zip(surge_v)
        .map_or(Outcome::Unknown, |(transient_v, surge_v)| graded(at_most(transient_v, surge_v), false));

    let reverse = if technology == Technology::NonPolar {
        Outcome::Pass
    } else {
        let min_v = place.position.stress.min_v;
        min_v.map_or(Outcome::Unknown, |min_v| graded(at_least(min_v, 0.0), at_least(min_v, -REVERSE_MAX_V)))
    };
    let polarity =
        graded(place.original_technology != Technology::NonPolar || technology == Technology::NonPolar, false);

    evaluation.set(Check::Voltage, working.max(transient).max(reverse).max(polarity));
    if can.technology.is_none() {
        evaluation.assumed.insert(Assumed::TECHNOLOGY);
    }
    if can.surge_v.is_none() && surge_v.is_some() && transient_v.is_some() {
        evaluation.assumed.insert(Assumed::SURGE);
    }
}

/// Largest share of the rated voltage by policy.
pub(super) fn use_max(place: &Place, can: &Can) -> Option<f64> {
    let policy = place.policy;
    Some(match can.technology_or_wet() {
        Technology::Hybrid | Technology::Polymer => policy.voltage_use_max_polymer,
        Technology::Wet | Technology::NonPolar if can.rated_v? < HIGH_VOLTAGE_FROM_V => policy.voltage_use_max_wet_lv,
        Technology::Wet | Technology::NonPolar => policy.voltage_use_max_wet_hv,
    })
}
