//! Leakage current, where the circuit sets a limit.

use super::graded;
use crate::domain::{Assumed, Can, Check, Outcome};
use crate::physics::leakage::usual_ua;
use crate::sizing::compare::at_most;
use crate::sizing::evaluation::Evaluation;
use crate::sizing::place::Place;

/// Passes without a limit; with one, the part's own or the usual leakage current must not exceed it.
pub(super) fn check(place: &Place, can: &Can, evaluation: &mut Evaluation) {
    let Some(max_ua) = place.position.needs.leakage_max_ua else { return };
    let usual = || Some(usual_ua(can.technology_or_wet(), can.capacitance_uf?, can.rated_v?));
    let leakage_ua = can.leakage_ua.or_else(usual);
    if can.leakage_ua.is_none() && leakage_ua.is_some() {
        evaluation.assumed.insert(Assumed::LEAKAGE);
    }
    evaluation.figures.leakage_ua = leakage_ua;
    let outcome = leakage_ua.map_or(Outcome::Unknown, |own_ua| graded(at_most(own_ua, max_ua), false));
    evaluation.set(Check::Leakage, outcome);
}
