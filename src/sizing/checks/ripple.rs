//! Ripple current against what is allowed at the ambient, and the core rise it makes.

use super::graded;
use crate::domain::{Assumed, Can, Check, Outcome};
use crate::physics::frequency::{Multipliers, equivalent_current_a};
use crate::physics::heat::{AmbientFactors, core_rise_k, default_rated_rise_k};
use crate::sizing::compare::at_most;
use crate::sizing::evaluation::Evaluation;
use crate::sizing::place::Place;

/// What the life check needs of the ripple: current and rise at ripple scale 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rise {
    pub equivalent_a: f64,
    pub rated_a: f64,
    pub rated_rise_k: f64,
    pub airflow_lfm: f64,
}

impl Rise {
    /// Equivalent current at a ripple scale, A; a current has no sign, so a scale below zero counts by its size.
    fn at_scale_a(&self, ripple_scale: f64) -> f64 {
        self.equivalent_a * ripple_scale.abs()
    }

    /// Whether the current at a ripple scale is above the rated one.
    pub fn above_rated(&self, ripple_scale: f64) -> bool {
        !at_most(self.at_scale_a(ripple_scale), self.rated_a)
    }

    /// Core rise at a ripple scale, K.
    pub fn at_scale_k(&self, ripple_scale: f64) -> f64 {
        core_rise_k(self.rated_rise_k, self.at_scale_a(ripple_scale), self.rated_a, self.airflow_lfm)
    }
}

/// Largest usage over the phases. Unknown, also without any ripple, when the spectrum, the duty or a rating is missing;
/// the figures are then empty. Above the rated current at best marginal, since the life laws hold up to it.
pub(super) fn check(place: &Place, can: &Can, evaluation: &mut Evaluation) -> Option<Rise> {
    evaluation.set(Check::Ripple, Outcome::Unknown);
    let rise = rise(place, can, evaluation)?;
    let phases = place.phases.as_deref()?;
    let factors = AmbientFactors::of(can)?;
    if factors.assumed {
        evaluation.assumed.insert(Assumed::RIPPLE_TEMP_FACTORS);
    }
    let mut worst: Option<(f64, f64, f64, f64)> = None;
    let mut above_rated = false;
    for phase in phases {
        let equivalent_a = rise.at_scale_a(phase.ripple_scale);
        let allowed_a = rise.rated_a * factors.at(phase.ambient_c);
        let usage = if allowed_a > 0.0 { equivalent_a / allowed_a } else { f64::INFINITY };
        above_rated |= rise.above_rated(phase.ripple_scale);
        if worst.is_none_or(|w| usage > w.0) {
            worst = Some((usage, equivalent_a, allowed_a, rise.at_scale_k(phase.ripple_scale)));
        }
    }
    let (usage, equivalent_a, allowed_a, rise_k) = worst?;
    let figures = &mut evaluation.figures;
    figures.ripple_usage = Some(usage);
    figures.ripple_eq_a = Some(equivalent_a);
    figures.ripple_allowed_a = Some(allowed_a);
    figures.core_rise_k = Some(rise_k);
    let by_usage = graded(at_most(usage, place.policy.ripple_use_max), at_most(usage, 1.0));
    let by_rating = if above_rated { Outcome::Marginal } else { Outcome::Pass };
    evaluation.set(Check::Ripple, by_usage.max(by_rating));
    Some(rise)
}

fn rise(place: &Place, can: &Can, evaluation: &mut Evaluation) -> Option<Rise> {
    let (rated_a, rated_hz, temp_max_c) = (can.ripple_a?, can.ripple_hz?, can.temp_max_c?);
    let lines = place.ripple.as_deref()?;
    // Without any ripple no multiplier is needed, so none has to be known.
    let equivalent_a = if lines.is_empty() {
        0.0
    } else {
        let multipliers = Multipliers::of(can)?;
        if multipliers.assumed {
            evaluation.assumed.insert(Assumed::FREQUENCY_MULTIPLIERS);
        }
        equivalent_current_a(&multipliers, rated_hz, lines)
    };
    let rated_rise_k = can.core_rise_k.unwrap_or_else(|| {
        evaluation.assumed.insert(Assumed::CORE_RISE);
        default_rated_rise_k(can.technology_or_wet(), temp_max_c)
    });
    Some(Rise { equivalent_a, rated_a, rated_rise_k, airflow_lfm: place.airflow_lfm })
}
