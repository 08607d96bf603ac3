//! Life under the duty against the target.

use super::graded;
use super::ripple::Rise;
use crate::domain::{Assumed, Can, Check, EnduranceBasis, Outcome, Technology};
use crate::physics::life::{Conditions, Life, capped_h, linear_damage, voltage_factor};
use crate::physics::voltage::HIGH_VOLTAGE_FROM_V;
use crate::sizing::compare::at_least;
use crate::sizing::evaluation::Evaluation;
use crate::sizing::place::{DutyPhase, Place};

/// Life of each phase, combined by linear damage, capped, against the target. The band takes the shortest and longest law
/// in each phase before the phases are combined.
pub(super) fn check(place: &Place, can: &Can, rise: Option<&Rise>, evaluation: &mut Evaluation) {
    evaluation.set(Check::Life, Outcome::Unknown);
    let Some(life) = rise.and_then(|rise| duty_life(place, can, rise)) else { return };
    if can.endurance_basis.is_none() {
        evaluation.assumed.insert(Assumed::ENDURANCE_BASIS);
    }
    let life_h = capped_h(life.nominal_h);
    let figures = &mut evaluation.figures;
    figures.life_uncapped_h = Some(life.nominal_h);
    figures.life_h = Some(life_h);
    figures.life_low_h = Some(capped_h(life.low_h));
    figures.life_high_h = Some(capped_h(life.high_h));
    figures.calendar_years = place.hours_per_year.map(|hours| (life_h / hours).min(place.policy.calendar_cap_years));
    if let Some(target_h) = place.target_h {
        let outcome = graded(at_least(life_h, place.policy.life_margin * target_h), at_least(life_h, target_h));
        evaluation.set(Check::Life, outcome);
    }
}

/// Uncapped life under the duty; `None` where a figure is missing.
fn duty_life(place: &Place, can: &Can, rise: &Rise) -> Option<Life> {
    UnderDuty::new(place, can, *rise)?.life(place.phases.as_deref()?, Change::NONE)
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
    conditions: Conditions,
    rise: Rise,
    technology: Technology,
}

impl UnderDuty {
    /// `None` where a figure is missing.
    pub(super) fn new(place: &Place, can: &Can, rise: Rise) -> Option<Self> {
        let conditions = Conditions {
            endurance_h: can.endurance_h?,
            temp_max_c: can.temp_max_c?,
            test_rise_k: match can.endurance_basis {
                Some(EnduranceBasis::Ripple) => rise.rated_rise_k,
                Some(EnduranceBasis::Voltage) | None => 0.0,
            },
            ambient_c: 0.0,
            rise_k: 0.0,
            above_rated_ripple: false,
            voltage_factor: counted_voltage_factor(place, can)?,
        };
        Some(Self { conditions, rise, technology: can.technology_or_wet() })
    }

    /// Uncapped life if this phase lasted for ever.
    pub(in crate::sizing) fn phase(&self, phase: &DutyPhase, change: Change) -> Life {
        let scale = phase.ripple_scale * change.ripple;
        Conditions {
            ambient_c: phase.ambient_c + change.ambient_shift_k,
            rise_k: self.rise.at_scale_k(scale),
            above_rated_ripple: self.rise.above_rated(scale),
            endurance_h: self.conditions.endurance_h * change.endurance,
            ..self.conditions
        }
        .life(self.technology)
    }

    /// Uncapped life over these phases by linear damage; `None` when the shares make no duty.
    pub(in crate::sizing) fn life(&self, phases: &[DutyPhase], change: Change) -> Option<Life> {
        let lives: Vec<(f64, Life)> = phases.iter().map(|phase| (phase.share, self.phase(phase, change))).collect();
        linear_damage(&lives)
    }

    /// Core rise in a phase, K.
    pub(in crate::sizing) fn rise_k(&self, phase: &DutyPhase) -> f64 {
        self.rise.at_scale_k(phase.ripple_scale)
    }
}

/// Factor for working below the rated voltage, 1 unless the policy counts it; `None` where it would count but the working
/// voltage is not known.
fn counted_voltage_factor(place: &Place, can: &Can) -> Option<f64> {
    if !place.policy.count_voltage_derating || can.technology_or_wet() != Technology::Wet {
        return Some(1.0);
    }
    let rated_v = can.rated_v?;
    if rated_v < HIGH_VOLTAGE_FROM_V {
        return Some(1.0);
    }
    Some(voltage_factor(place.position.stress.dc_v?, rated_v))
}
