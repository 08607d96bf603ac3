//! Equivalent series resistance against its limits.

use crate::domain::{Assumed, Can, Check, Outcome, Technology};
use crate::physics::esr::{Esr, Ladder, at_hz, at_hz_by, cold_factor, cold_factor_floor};
use crate::physics::voltage::HIGH_VOLTAGE_FROM_V;
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::{Evaluation, graded};
use crate::sizing::position_context::PositionContext;

/// How far outside a limit is still marginal.
const MARGINAL_OUTSIDE: f64 = 0.10;

/// A sheet's ESR is a maximum; cans lie near this share of it (from memory).
const USUAL_SHARE_OF_MAXIMUM: f64 = 0.5;

/// Frequency above which an impedance ratio given at 120 Hz says nothing of the ESR of a wet part, Hz.
const RATIO_HOLDS_UP_TO_HZ: f64 = 1e3;

/// ESR at the position's frequency between its limits, and in the cold where a limit for the cold is given. A part whose ESR
/// rests on the usual dissipation factors alone never fails.
pub(super) fn check(context: &PositionContext, can: &Can, evaluation: &mut Evaluation) {
    let needs = &context.position.needs;
    let as_part = at_hz(can, context.esr_hz);
    let from_ladder = as_part.is_some_and(|esr| esr.from_ladder());
    // Against a limit of the usual dissipation factors a part of the usual dissipation factors takes the same ones.
    let both = from_ladder && context.esr_max.from_ladder;
    let esr = if both { at_hz_by(Ladder::Limit, can, context.esr_hz) } else { as_part };
    if let Some(esr) = &esr {
        evaluation.assumed.insert(esr.assumed);
    }
    evaluation.assumed.insert(context.esr_max.assumed);
    let esr_mohm = esr.map(|esr| esr.mohm);
    evaluation.figures.esr_mohm = esr_mohm;
    let upper = upper(context, esr_mohm, from_ladder);
    let lower = needs.esr_min_mohm.map_or(Outcome::Pass, |min| lower(esr_mohm, min, from_ladder));
    let cold = cold(context, can, as_part, evaluation);
    evaluation.set(Check::Esr, upper.max(lower).max(cold));
}

fn upper(context: &PositionContext, esr_mohm: Option<f64>, from_ladder: bool) -> Outcome {
    let limit = &context.esr_max;
    let (Some(esr), Some(max), Some(most)) = (esr_mohm, limit.mohm, limit.most_mohm) else { return Outcome::Unknown };
    match (from_ladder, limit.from_ladder) {
        (false, true) => graded(at_most(esr, max), at_most(esr, (1.0 + MARGINAL_OUTSIDE) * most)),
        (true, false) => unknown_unless_pass(below(esr, max)),
        _ => below(esr, max),
    }
}

fn lower(esr_mohm: Option<f64>, min_mohm: f64, from_ladder: bool) -> Outcome {
    let Some(esr) = esr_mohm else { return Outcome::Unknown };
    let outcome = graded(at_least(USUAL_SHARE_OF_MAXIMUM * esr, min_mohm), at_least(esr, min_mohm));
    if from_ladder && outcome == Outcome::Fail { Outcome::Unknown } else { outcome }
}

/// ESR at the coldest ambient; shown always where it is known, checked against a limit for the cold.
fn cold(context: &PositionContext, can: &Can, esr: Option<Esr>, evaluation: &mut Evaluation) -> Outcome {
    let limit = context.position.needs.esr_cold_max_mohm;
    let unknown = if limit.is_some() { Outcome::Unknown } else { Outcome::Pass };
    let (Some(esr), Some(coldest_c)) = (esr, context.ambient.min_c.filter(|_| context.ambient.complete)) else {
        return unknown;
    };
    let rise = ColdRise::of(context, can, coldest_c);
    evaluation.figures.esr_cold_mohm = rise.factor.map(|factor| esr.mohm * factor);
    let Some(max) = limit else { return Outcome::Pass };
    evaluation.assumed.insert_if(rise.assumed, Assumed::Z_RATIO);
    let outcome = match evaluation.figures.esr_cold_mohm {
        Some(cold_mohm) if rise.doubtful => below(cold_mohm, max).max(Outcome::Marginal),
        Some(cold_mohm) => below(cold_mohm, max),
        // In the cold the ESR never falls.
        None if below(esr.mohm, max) == Outcome::Fail => Outcome::Fail,
        None => Outcome::Unknown,
    };
    if esr.from_ladder() { unknown_unless_pass(outcome) } else { outcome }
}

impl PositionContext<'_> {
    /// Whether the ESR shown for the cold rests on a ratio that was not given for that temperature, be it checked or not.
    pub fn cold_esr_is_assumed(&self, can: &Can) -> bool {
        self.ambient.min_c.is_some_and(|coldest_c| ColdRise::of(self, can, coldest_c).assumed)
    }
}

/// What the cold does to the ESR of a part.
struct ColdRise {
    /// Factor on the ESR at 20 °C; `None` when unknown.
    factor: Option<f64>,
    /// Whether it was not given for this very temperature.
    assumed: bool,
    /// Whether it is too uncertain for a pass.
    doubtful: bool,
}

impl ColdRise {
    fn of(context: &PositionContext, can: &Can, coldest_c: f64) -> Self {
        if coldest_c >= 20.0 {
            return Self { factor: Some(1.0), assumed: false, doubtful: false };
        }
        let technology = can.technology_or_wet();
        let wet = matches!(technology, Technology::Wet | Technology::NonPolar);
        let rated_v = can.rated_v.unwrap_or(f64::INFINITY);
        let own = can.z_ratio.zip(can.z_cold_c).filter(|&(_, cold_c)| cold_c < 20.0);
        let given_here = own.is_some_and(|(_, cold_c)| cold_c == coldest_c);
        let factor = match (own, technology) {
            (Some((ratio, cold_c)), _) => cold_factor(coldest_c, ratio, cold_c, rated_v),
            // From memory.
            (None, Technology::Polymer) => Some(1.25),
            (None, Technology::Hybrid) => Some(1.5),
            (None, _) => None,
        };
        let beyond_ratio = wet && !at_most(context.esr_hz, RATIO_HOLDS_UP_TO_HZ);
        let far_below = own.is_some_and(|(_, cold_c)| !at_least(coldest_c, cold_c - 5.0));
        let high_voltage = can.rated_v.is_some_and(|rated_v| rated_v >= HIGH_VOLTAGE_FROM_V) && !given_here;
        let floor = if beyond_ratio { cold_factor_floor(coldest_c) } else { 1.0 };
        Self {
            factor: factor.map(|factor| factor.max(floor)),
            assumed: factor.is_some() && !given_here,
            doubtful: beyond_ratio || far_below || high_voltage,
        }
    }
}

fn below(esr_mohm: f64, max_mohm: f64) -> Outcome {
    graded(at_most(esr_mohm, max_mohm), at_most(esr_mohm, (1.0 + MARGINAL_OUTSIDE) * max_mohm))
}

/// A usual dissipation factor can promise that a part is inside a limit, not that it is outside.
fn unknown_unless_pass(outcome: Outcome) -> Outcome {
    if outcome == Outcome::Pass { outcome } else { Outcome::Unknown }
}
