//! Which phase of the duty eats the life.

use super::checks::Change;
use super::position_context::PositionContext;
use super::reasons::figure;
use crate::domain::{Assumed, Can, style};

/// One phase of the duty and what it does to a part.
#[derive(Debug, Clone, PartialEq)]
pub struct PhaseDamage {
    /// What the phase is called.
    pub name: String,
    /// Share of the energised time, 0 to 1.
    pub time_share: f64,
    /// Ambient, °C.
    pub ambient_c: f64,
    /// Factor on every ripple line.
    pub ripple_scale: f64,
    /// Core rise, K.
    pub rise_k: f64,
    /// Life if this phase lasted for ever, h, before the cap.
    pub life_h: f64,
    /// Share of the life this phase uses, 0 to 1; all shares together 1.
    pub damage_share: f64,
}

/// The duty of a position as it wears one part.
#[derive(Debug, Clone, PartialEq)]
pub struct DutyDamage {
    /// The phases in the order entered.
    pub phases: Vec<PhaseDamage>,
    /// Index of the phase that uses most of the life.
    pub eats_most: usize,
    /// Life under the whole duty, h, before the cap.
    pub life_h: f64,
    /// Figures that came from default tables.
    pub assumed: Assumed,
}

impl DutyDamage {
    /// A sentence on the phase that uses most.
    pub fn sentence(&self) -> String {
        let Some(worst) = self.phases.get(self.eats_most) else { return String::new() };
        if self.phases.len() == 1 {
            return format!("One phase: {} °C for the whole time.", figure(worst.ambient_c));
        }
        format!(
            "\"{}\" takes {} % of the time and {} % of the life ({} °C, core {} K above).",
            worst.name,
            figure(100.0 * worst.time_share),
            figure(100.0 * worst.damage_share),
            figure(worst.ambient_c),
            style::rise(worst.rise_k)
        )
    }
}

/// Share of the life each phase uses, by linear damage: share of the time over the life in that phase (published, Cosel technical
/// information). `None` where the duty, the ripple or a figure of the part is missing.
pub fn damage_by_phase(context: &PositionContext, can: &Can) -> Option<DutyDamage> {
    let (under, assumed) = context.under_duty(can)?;
    let phases = context.duty()?;
    let life_h = under.life_h(phases, Change::NONE)?;
    let total: f64 = phases.iter().map(|phase| phase.share).sum();
    let found: Vec<PhaseDamage> = phases
        .iter()
        .enumerate()
        .map(|(at, phase)| {
            let in_phase_h = under.phase(phase, Change::NONE).nominal_h;
            let time_share = phase.share / total;
            PhaseDamage {
                name: context.phase_name(at),
                time_share,
                ambient_c: phase.ambient_c,
                ripple_scale: phase.ripple_scale,
                rise_k: under.rise_k(phase),
                life_h: in_phase_h,
                damage_share: if time_share > 0.0 { time_share / in_phase_h * life_h } else { 0.0 },
            }
        })
        .collect();
    let most = found.iter().enumerate().max_by(|a, b| a.1.damage_share.total_cmp(&b.1.damage_share))?.0;
    Some(DutyDamage { phases: found, eats_most: most, life_h, assumed })
}

#[cfg(test)]
mod tests {
    use super::super::testing_duty::{duty, job_with, wet_can};
    use super::*;
    use crate::domain::{Catalog, Job, PositionId};
    use crate::sizing::Supply;

    fn damage(job: &Job) -> Option<DutyDamage> {
        damage_by_phase(&PositionContext::new(job, &Catalog::default(), PositionId::default())?, &wet_can())
    }

    #[test]
    fn a_phase_ten_kelvin_hotter_eats_twice_its_share_of_time() {
        // 10 K rule: equal ripple, 60 and 70 °C, half the time each: 1/3 and 2/3
        let found = damage(&job_with(duty(&[(1.0, 60.0, 1.0), (1.0, 70.0, 1.0)]))).unwrap();
        let shares: Vec<f64> = found.phases.iter().map(|p| p.damage_share).collect();
        assert!((shares[0] - 1.0 / 3.0).abs() < 1e-12 && (shares[1] - 2.0 / 3.0).abs() < 1e-12, "{shares:?}");
        assert_eq!(found.eats_most, 1);
        assert!(found.sentence().contains("50 % of the time and 66.7 % of the life"), "{}", found.sentence());
    }

    #[test]
    fn the_life_is_that_of_the_check_and_the_shares_make_one() {
        let job = job_with(duty(&[(0.55, 43.0, 1.0), (0.15, 52.0, 1.9), (0.3, 79.0, 0.6), (0.0, 100.0, 1.0)]));
        let found = damage(&job).unwrap();
        let context = PositionContext::new(&job, &Catalog::default(), PositionId::default()).unwrap();
        assert_eq!(Some(found.life_h), context.evaluate(&wet_can(), Supply::default()).figures.life_uncapped_h);
        assert!((found.phases.iter().map(|p| p.damage_share).sum::<f64>() - 1.0).abs() < 1e-12);
        assert_eq!(found.phases[3].damage_share, 0.0);
        assert!(found.assumed.contains(Assumed::CORE_RISE));
    }

    #[test]
    fn without_ripple_or_duty_nothing_is_said() {
        let mut job = job_with(duty(&[(1.0, 60.0, 1.0)]));
        job.boards[0].positions[0].stress.ripple = None;
        job.boards[0].positions[0].original.can.ripple_a = None;
        assert_eq!(damage(&job), None);
    }
}
