//! Ripple current against what is allowed at the ambient, and the core rise it makes.

use crate::domain::{Assumed, Can, Check, Outcome};
use crate::physics::frequency::{Multipliers, equivalent_current_a};
use crate::physics::heat::{AmbientFactors, air_multiplier, core_rise_k, default_rated_rise_k};
use crate::sizing::ambient::DutyPhase;
use crate::sizing::compare::at_most;
use crate::sizing::evaluation::{Evaluation, graded};
use crate::sizing::position_context::PositionContext;
use crate::sizing::ripple_origin::leans_on_assumed;

/// What the life check needs of the ripple: current and rise at ripple scale 1.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(clippy::struct_field_names, reason = "the assumption is that of the rise")]
pub(in crate::sizing) struct Rise {
    pub equivalent_a: f64,
    pub rated_a: f64,
    pub rated_rise_k: f64,
    /// Whether that rise is a default.
    pub rise_assumed: bool,
    /// Factor of moving air on the current.
    pub air: f64,
}

impl Rise {
    /// Equivalent current at a ripple scale, A; a current has no sign, so a scale below zero counts by its size.
    fn at_scale_a(&self, ripple_scale: f64) -> f64 {
        self.equivalent_a * ripple_scale.abs()
    }

    /// Core rise at a ripple scale over the rise at rated ripple.
    pub(super) fn share_at_scale(&self, ripple_scale: f64) -> f64 {
        core_rise_k(1.0, self.at_scale_a(ripple_scale), self.rated_a, self.air)
    }

    /// Core rise at a ripple scale, K.
    pub(super) fn at_scale_k(&self, ripple_scale: f64) -> f64 {
        self.rated_rise_k * self.share_at_scale(ripple_scale)
    }
}

/// The ripple in one phase.
#[derive(Clone, Copy)]
struct InPhase {
    usage: f64,
    equivalent_a: f64,
    allowed_a: f64,
    phase: DutyPhase,
}

/// Largest usage over the phases. Unknown, also without any ripple, when the spectrum, the duty or a rating is missing; the
/// figures are then empty, but a phase that is known and fails makes it fail. Above the rated current at best marginal, since
/// the life laws hold up to it; not where the current is only the original's rating.
pub(super) fn check(context: &PositionContext, can: &Can, evaluation: &mut Evaluation) -> Option<Rise> {
    evaluation.set(Check::Ripple, Outcome::Unknown);
    let rise = rise(context, can, evaluation)?;
    let factors = AmbientFactors::of(can)?;
    let mut worst: Option<InPhase> = None;
    let mut above_rated = false;
    for phase in &context.ambient.phases {
        let equivalent_a = rise.at_scale_a(phase.ripple_scale);
        let allowed_a = rise.rated_a * factors.at(phase.ambient_c);
        let usage = if allowed_a > 0.0 { equivalent_a / allowed_a } else { f64::INFINITY };
        above_rated |= !at_most(equivalent_a, rise.rated_a);
        if worst.is_none_or(|w| usage > w.usage || (usage == w.usage && equivalent_a > w.equivalent_a)) {
            worst = Some(InPhase { usage, equivalent_a, allowed_a, phase: *phase });
        }
    }
    let worst = worst?;
    if !context.ambient.complete {
        if !at_most(worst.usage, 1.0) {
            evaluation.set(Check::Ripple, Outcome::Fail);
        }
        return None;
    }
    evaluation.assumed.insert_if(factors.assumed, Assumed::RIPPLE_TEMP_FACTORS);
    let figures = &mut evaluation.figures;
    figures.ripple_usage = Some(worst.usage);
    figures.ripple_eq_a = Some(worst.equivalent_a);
    figures.ripple_allowed_a = Some(worst.allowed_a);
    figures.core_rise_k = Some(rise.at_scale_k(worst.phase.ripple_scale));
    figures.ripple_ambient_c = Some(worst.phase.ambient_c);
    let by_usage = graded(at_most(worst.usage, context.policy.ripple_use_max), at_most(worst.usage, 1.0));
    let by_rating = graded(!above_rated || context.electrical.ripple.assumed, true);
    evaluation.set(Check::Ripple, by_usage.max(by_rating));
    Some(rise)
}

pub(super) fn rise(context: &PositionContext, can: &Can, evaluation: &mut Evaluation) -> Option<Rise> {
    let (rated_a, rated_hz, temp_max_c) = (can.ripple_a?, can.ripple_hz?, can.temp_max_c?);
    let lines = context.lines()?;
    let assumed = &mut evaluation.assumed;
    assumed.insert_if(leans_on_assumed(&context.position.stress), Assumed::RIPPLE_ORIGIN);
    assumed.insert_if(context.electrical.ripple.assumed, Assumed::RIPPLE);
    // Without any ripple, and at the rating's own frequency, no multiplier is needed, so none has to be known.
    let needed = lines.iter().any(|line| line.0 != rated_hz);
    let multipliers = if needed { Multipliers::of(can) } else { None };
    assumed.insert_if(multipliers.is_some_and(|multipliers| multipliers.assumed), Assumed::FREQUENCY_MULTIPLIERS);
    let equivalent_a = equivalent_current_a(multipliers.as_ref(), rated_hz, lines)?;
    let rated_rise_k = can.core_rise_k.unwrap_or_else(|| default_rated_rise_k(can.technology_or_wet(), temp_max_c));
    let rise_assumed = can.core_rise_k.is_none();
    assumed.insert_if(rise_assumed, Assumed::CORE_RISE);
    let (air, large) = air_multiplier(context.ambient.airflow_lfm, can.diameter_mm);
    assumed.insert_if(large, Assumed::AIRFLOW);
    Some(Rise { equivalent_a, rated_a, rated_rise_k, rise_assumed, air })
}
