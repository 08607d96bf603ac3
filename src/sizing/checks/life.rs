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
    if can.endurance_basis.is_none() {
        evaluation.assumed.insert(Assumed::ENDURANCE_BASIS);
    }
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
    conditions: Conditions,
    rise: Rise,
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
        let scale = phase.ripple_scale * change.ripple;
        Conditions {
            ambient_c: phase.ambient_c + change.ambient_shift_k,
            rise_share: self.rise.share_at_scale(scale),
            endurance_h: self.conditions.endurance_h * change.endurance,
            ..self.conditions
        }
        .life(self.technology)
    }

    /// Uncapped life over these phases by linear damage; `None` when the shares make no duty.
    pub(in crate::sizing) fn life(&self, phases: &[DutyPhase], change: Change) -> Option<Life> {
        linear_damage(phases.iter().map(|phase| (phase.share, self.phase(phase, change))))
    }

    /// Equivalent current at ripple scale 1, A.
    pub(in crate::sizing) fn equivalent_a(&self) -> f64 {
        self.rise.equivalent_a
    }

    /// Core rise at rated ripple, K.
    pub(in crate::sizing) fn rated_rise_k(&self) -> f64 {
        self.rise.rated_rise_k
    }

    /// Core rise during the endurance test, K.
    pub(in crate::sizing) fn test_rise_k(&self) -> f64 {
        if self.conditions.tested_with_ripple { self.conditions.rated_rise_k } else { 0.0 }
    }

    /// Factor for working below the rated voltage.
    pub(in crate::sizing) fn voltage_factor(&self) -> f64 {
        self.conditions.voltage_factor
    }

    /// Factor of moving air on the current.
    pub(in crate::sizing) fn air(&self) -> f64 {
        self.rise.air
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Job, RippleLine};
    use crate::sizing::testing::{evaluated, evaluated_in, outcome, phase};
    use Outcome::{Fail, Marginal, Pass, Unknown};

    /// At the conditions of the endurance test the life is the endurance, 5000 h.
    fn at_test_conditions(job: &mut Job) {
        let position = &mut job.boards[0].positions[0];
        position.stress.ripple = Some(vec![RippleLine { hz: Some(1e5), a: Some(1.0), ..RippleLine::default() }]);
        position.stress.phases = Some(vec![phase(1.0, 105.0, 1.0)]);
    }

    fn life_h(change_job: impl FnOnce(&mut Job), change_can: impl FnOnce(&mut Can)) -> f64 {
        evaluated_in(change_job, change_can).figures.life_h.unwrap()
    }

    #[test]
    fn the_margin_over_the_target_passes_and_the_target_itself_is_marginal() {
        let with_target = |target_h| {
            let change = |job: &mut Job| {
                at_test_conditions(job);
                job.boards[0].positions[0].needs.life_h = Some(target_h);
            };
            evaluated_in(change, |_| ()).outcome(Check::Life)
        };
        assert_eq!([4000.0, 4000.1, 5000.0, 5000.1].map(with_target), [Pass, Marginal, Marginal, Fail]);
    }

    #[test]
    fn without_an_own_target_it_is_the_interval_of_the_job() {
        let with_interval = |years: Option<f64>, hours: Option<f64>| {
            let change = |job: &mut Job| {
                at_test_conditions(job);
                job.boards[0].positions[0].needs.life_h = None;
                (job.interval_years, job.hours_per_year) = (years, hours);
            };
            evaluated_in(change, |_| ()).outcome(Check::Life)
        };
        assert_eq!(with_interval(Some(2.0), Some(2000.0)), Pass);
        assert_eq!(with_interval(Some(2.0), Some(2500.0)), Marginal);
        assert_eq!(with_interval(Some(2.1), Some(2500.0)), Fail);
        assert_eq!([with_interval(None, Some(1.0)), with_interval(Some(1.0), None)], [Unknown, Unknown]);
    }

    #[test]
    fn an_endurance_without_ripple_is_believed_less() {
        let voltage_basis = |can: &mut Can| can.endurance_basis = Some(EnduranceBasis::Voltage);
        assert!((life_h(at_test_conditions, voltage_basis) - 5000.0 * 0.5f64.sqrt()).abs() < 1e-6);
        let unknown_basis = evaluated_in(at_test_conditions, |can| can.endurance_basis = None);
        assert!((unknown_basis.figures.life_h.unwrap() - 5000.0 * 0.5f64.sqrt()).abs() < 1e-6);
        assert!(unknown_basis.assumed.contains(Assumed::ENDURANCE_BASIS));
    }

    #[test]
    fn life_is_capped_at_15_years_and_calendar_years_by_policy() {
        let figures = evaluated(|_| (), |_| ()).figures;
        assert!(figures.life_uncapped_h.unwrap() > 200_000.0);
        assert_eq!((figures.life_h, figures.life_high_h), (Some(131_400.0), Some(131_400.0)));
        assert_eq!(figures.calendar_years, Some(15.0), "131400 h at 3000 h a year would be 43.8 years");
        let all_day = evaluated_in(|job| job.hours_per_year = Some(8760.0), |_| ()).figures;
        assert_eq!(all_day.calendar_years, Some(15.0));
        let short = evaluated_in(|job| job.policy.calendar_cap_years = 10.0, |_| ()).figures;
        assert_eq!(short.calendar_years, Some(10.0));
    }

    #[test]
    fn without_hours_per_year_there_are_no_calendar_years_but_a_life() {
        let figures = evaluated_in(|job| job.hours_per_year = None, |_| ()).figures;
        assert!(figures.life_h.is_some() && figures.calendar_years.is_none());
    }

    #[test]
    fn phases_combine_by_linear_damage_with_shares_brought_to_one() {
        let two = |job: &mut Job| {
            at_test_conditions(job);
            let phases = vec![phase(3.0, 105.0, 1.0), phase(1.0, 95.0, 1.0)];
            job.boards[0].positions[0].stress.phases = Some(phases);
        };
        assert!((life_h(two, |_| ()) - 1.0 / (0.75 / 5000.0 + 0.25 / 10_000.0)).abs() < 1e-6);
    }

    #[test]
    fn the_cap_comes_after_the_phases_are_combined() {
        let two = |job: &mut Job| {
            at_test_conditions(job);
            let phases = vec![phase(1.0, 40.0, 1.0), phase(1.0, 65.0, 1.0)];
            job.boards[0].positions[0].stress.phases = Some(phases);
        };
        // 452 548 h and 80 000 h; capping the first before would give 99 451 h.
        assert_eq!(life_h(two, |_| ()), 131_400.0);
    }

    #[test]
    fn working_below_the_rating_counts_only_by_policy_and_only_for_high_voltage_wet_parts() {
        let gain = |counted, rated_v: f64, technology| {
            let change = |job: &mut Job| {
                at_test_conditions(job);
                job.policy.count_voltage_derating = counted;
                job.boards[0].positions[0].stress.dc_v = Some(0.8 * rated_v);
            };
            let life_h = life_h(change, |can| {
                can.rated_v = Some(rated_v);
                can.technology = Some(technology);
            });
            life_h / 5000.0
        };
        assert!((gain(true, 160.0, Technology::Wet) - 0.8f64.powf(-2.5)).abs() < 1e-9);
        assert_eq!(gain(false, 160.0, Technology::Wet), 1.0);
        assert_eq!(gain(true, 159.9, Technology::Wet), 1.0);
        assert_eq!(gain(true, 160.0, Technology::Hybrid), 1.0);
        assert_eq!(gain(true, 160.0, Technology::NonPolar), 1.0);
        let unmeasured = |job: &mut Job| {
            job.policy.count_voltage_derating = true;
            job.boards[0].positions[0].stress.dc_v = None;
        };
        // Without a measured voltage nothing is gained by it.
        let uncounted = evaluated_in(unmeasured, |can| can.rated_v = Some(200.0)).figures.life_uncapped_h;
        assert_eq!(uncounted, evaluated(|_| (), |_| ()).figures.life_uncapped_h);
    }

    #[test]
    fn the_band_contains_the_law_and_polymer_has_none() {
        let warm = |job: &mut Job| job.boards[0].positions[0].stress.phases = Some(vec![phase(1.0, 80.0, 1.5)]);
        let wet = evaluated_in(warm, |_| ()).figures;
        let (low, nominal, high) = (wet.life_low_h.unwrap(), wet.life_h.unwrap(), wet.life_high_h.unwrap());
        assert!(low < nominal && nominal <= high, "{low} {nominal} {high}");
        let hot = |job: &mut Job| job.boards[0].positions[0].stress.phases = Some(vec![phase(1.0, 100.0, 1.0)]);
        let polymer = evaluated_in(hot, |can| can.technology = Some(Technology::Polymer)).figures;
        assert!(polymer.life_h.unwrap() < 131_400.0);
        assert_eq!((polymer.life_low_h, polymer.life_high_h), (polymer.life_h, polymer.life_h));
    }

    #[test]
    fn a_useful_life_is_at_best_marginal_where_the_circuit_does_not_stand_the_wear() {
        use LifeBasis::{Endurance, Useful};
        let at = |basis, end_of_life| {
            outcome(Check::Life, |p| p.needs.end_of_life = end_of_life, |can| can.life_basis = basis)
        };
        assert_eq!([at(Some(Useful), None), at(Some(Useful), Some(Endurance))], [Marginal, Marginal]);
        assert_eq!([at(Some(Useful), Some(Useful)), at(Some(Endurance), None), at(None, None)], [Pass; 3]);
    }

    #[test]
    fn a_missing_figure_leaves_it_unknown() {
        let removals: [fn(&mut Can); 4] =
            [|c| c.endurance_h = None, |c| c.temp_max_c = None, |c| c.ripple_a = None, |c| c.ripple_hz = None];
        for remove in removals {
            assert_eq!(outcome(Check::Life, |_| (), remove), Unknown);
        }
        let unrated = |p: &mut crate::domain::Position| (p.stress.ripple, p.original.can.ripple_a) = (None, None);
        assert_eq!(outcome(Check::Life, unrated, |_| ()), Unknown);
        let negative_share = vec![phase(-1.0, 100.0, 1.0), phase(2.0, 40.0, 1.0)];
        assert_eq!(outcome(Check::Life, |p| p.stress.phases = Some(negative_share), |_| ()), Unknown);
    }
}
