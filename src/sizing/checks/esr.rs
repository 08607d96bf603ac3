//! Equivalent series resistance against its limits.

use super::graded;
use crate::domain::{Can, Check, Outcome};
use crate::physics::esr::at_hz;
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::Evaluation;
use crate::sizing::place::Place;

/// How far outside a limit is still marginal.
const MARGINAL_OUTSIDE: f64 = 0.10;

/// ESR at the position's frequency between its limits; in the cold too when a limit for the cold is given and the part's
/// cold ratio applies at the lowest ambient.
pub(super) fn check(place: &Place, can: &Can, evaluation: &mut Evaluation) {
    let needs = &place.position.needs;
    let esr = at_hz(can, place.esr_hz);
    if let Some(esr) = &esr {
        evaluation.assumed.insert(esr.assumed);
    }
    evaluation.assumed.insert(place.esr_max_assumed);
    let esr_mohm = esr.map(|e| e.mohm);
    evaluation.figures.esr_mohm = esr_mohm;

    let upper = esr_mohm.zip(place.esr_max_mohm).map_or(Outcome::Unknown, |(esr, max)| below(esr, max));
    let lower = match (needs.esr_min_mohm, esr_mohm) {
        (None, _) => Outcome::Pass,
        (Some(_), None) => Outcome::Unknown,
        (Some(min), Some(esr)) => graded(at_least(esr, min), at_least(esr, (1.0 - MARGINAL_OUTSIDE) * min)),
    };

    let cold_applies = place.ambient_min_c.zip(can.z_cold_c).map(|(ambient_c, cold_c)| ambient_c <= cold_c);
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
