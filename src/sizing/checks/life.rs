//! Life with the load profile against the target.

use super::ripple::Rise;
use crate::domain::{Assumed, Can, Check, EnduranceBasis, LifeBasis, Outcome, Technology};
use crate::physics::life::{Conditions, Life, capped_h, linear_damage, voltage_factor};
use crate::physics::voltage::HIGH_VOLTAGE_FROM_V;
use crate::sizing::ambient::DutyPhase;
use crate::sizing::compare::at_least;
use crate::sizing::evaluation::{Evaluation, graded};
use crate::sizing::position_context::PositionContext;

/// Life of each phase, combined by linear damage, capped, against the target. The band takes the shortest and longest law
/// in each phase before the phases are combined. A useful life ends at more wear, so it is at best marginal where the position
/// does not say that the circuit still works then.
pub(super) fn check(context: &PositionContext, can: &Can, rise: Option<&Rise>, evaluation: &mut Evaluation) {
    evaluation.set(Check::Life, Outcome::Unknown);
    let Some(life) = rise.and_then(|rise| duty_life(context, can, rise)) else { return };
    evaluation.assumed.insert_if(can.endurance_basis.is_none(), Assumed::ENDURANCE_BASIS);
    let life_h = capped_h(life.nominal_h);
    let figures = &mut evaluation.figures;
    figures.life_uncapped_h = Some(life.nominal_h);
    figures.life_h = Some(life_h);
    figures.life_low_h = Some(capped_h(life.low_h));
    figures.life_high_h = Some(capped_h(life.high_h));
    figures.calendar_years =
        context.hours_per_year.map(|hours| (life_h / hours).min(context.policy.calendar_cap_years));
    if let Some(target_h) = context.target_h {
        let outcome = graded(at_least(life_h, context.policy.life_margin * target_h), at_least(life_h, target_h));
        evaluation.set(Check::Life, outcome);
    }
    let worn = can.life_basis == Some(LifeBasis::Useful);
    if worn && context.position.needs.end_of_life != Some(LifeBasis::Useful) {
        evaluation.set(Check::Life, evaluation.outcome(Check::Life).max(Outcome::Marginal));
    }
}

/// Uncapped life with the load profile; `None` where a figure is missing.
fn duty_life(context: &PositionContext, can: &Can, rise: &Rise) -> Option<Life> {
    UnderDuty::new(context, can, *rise)?.life(context.duty()?, Change::NONE)
}

/// A change of what was entered, for sampling and for curves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::sizing) struct Change {
    /// Added to every ambient, K.
    pub ambient_shift_k: f64,
    /// Factor on every ripple line.
    pub ripple: f64,
    /// Factor on the endurance.
    pub endurance: f64,
}

impl Change {
    pub(in crate::sizing) const NONE: Self = Self { ambient_shift_k: 0.0, ripple: 1.0, endurance: 1.0 };
}

/// A can at a place with everything the life needs, ready for many questions.
#[derive(Debug, Clone)]
pub(in crate::sizing) struct UnderDuty {
    pub conditions: Conditions,
    pub rise: Rise,
    technology: Technology,
}

impl UnderDuty {
    /// `None` where a figure is missing.
    pub(super) fn new(context: &PositionContext, can: &Can, rise: Rise) -> Option<Self> {
        let conditions = Conditions {
            endurance_h: can.endurance_h?,
            temp_max_c: can.temp_max_c?,
            rated_rise_k: rise.rated_rise_k,
            rise_assumed: rise.rise_assumed,
            tested_with_ripple: can.endurance_basis == Some(EnduranceBasis::Ripple),
            ambient_c: 0.0,
            rise_share: 0.0,
            voltage_factor: counted_voltage_factor(context, can),
        };
        Some(Self { conditions, rise, technology: can.technology_or_wet() })
    }

    /// Uncapped life if this phase lasted for ever.
    pub(in crate::sizing) fn phase(&self, phase: &DutyPhase, change: Change) -> Life {
        self.conditions_in(phase, change).life(self.technology)
    }

    fn conditions_in(&self, phase: &DutyPhase, change: Change) -> Conditions {
        let scale = phase.ripple_scale * change.ripple;
        Conditions {
            ambient_c: phase.ambient_c + change.ambient_shift_k,
            rise_share: self.rise.share_at_scale(scale),
            endurance_h: self.conditions.endurance_h * change.endurance,
            ..self.conditions
        }
    }

    /// Uncapped life over these phases by linear damage; `None` when the shares make no duty.
    pub(in crate::sizing) fn life(&self, phases: &[DutyPhase], change: Change) -> Option<Life> {
        linear_damage(phases.iter().map(|phase| (phase.share, self.phase(phase, change))))
    }

    /// The nominal life of [`life`](Self::life) alone, h.
    pub(in crate::sizing) fn life_h(&self, phases: &[DutyPhase], change: Change) -> Option<f64> {
        let exactly = |phase| Life::exactly(self.conditions_in(phase, change).nominal_h(self.technology));
        Some(linear_damage(phases.iter().map(|phase| (phase.share, exactly(phase))))?.nominal_h)
    }

    /// Core rise during the endurance test, K.
    pub(in crate::sizing) fn test_rise_k(&self) -> f64 {
        if self.conditions.tested_with_ripple { self.conditions.rated_rise_k } else { 0.0 }
    }

    /// Core rise in a phase, K.
    pub(in crate::sizing) fn rise_k(&self, phase: &DutyPhase) -> f64 {
        self.rise.at_scale_k(phase.ripple_scale)
    }
}

/// Factor for working below the rated voltage, 1 unless the policy counts it and the operating voltage was entered.
fn counted_voltage_factor(context: &PositionContext, can: &Can) -> f64 {
    let counts = context.policy.count_voltage_derating && can.technology_or_wet() == Technology::Wet;
    let rated_v = can.rated_v.filter(|&rated_v| counts && rated_v >= HIGH_VOLTAGE_FROM_V);
    let working_v = context.electrical.stress.dc_v;
    working_v.zip(rated_v).map_or(1.0, |(working_v, rated_v)| voltage_factor(working_v, rated_v))
}
