//! A temperature log as phases of a duty, and how much the life changes by it.

use super::ambient::DutyPhase;
use super::checks::Change;
use super::position_context::PositionContext;
use crate::domain::{Can, Phase};

/// Most phases a log is cut into: more than a person can read in a table.
pub const MOST_PHASES: usize = 24;

/// Ambients below this count as this in every law, °C (published: makers count them so).
const FLOOR_C: f64 = 40.0;

/// A stretch of time at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// How long, any unit, not negative.
    pub weight: f64,
    /// Temperature, °C.
    pub ambient_c: f64,
}

/// A log cut into phases.
#[derive(Debug, Clone, PartialEq)]
pub struct Binned {
    /// The phases, coolest first, with shares that add to 1; no ripple scale: the log does not know it.
    pub phases: Vec<Phase>,
    /// Lowest temperature of the log, °C.
    pub min_c: f64,
    /// Highest temperature of the log, °C.
    pub max_c: f64,
    /// Mean over time, °C.
    pub mean_c: f64,
    /// Relative error of the life by the cutting for a part under the 10 K rule without ripple: life by the phases over life by
    /// every stretch of the log, less 1. Positive: the phases promise too much.
    pub life_error: f64,
}

/// Cuts a log into at most `count` phases of equal width in temperature.
///
/// The ambient of a phase is the one whose damage by the 10 K rule is that of its stretches (`10 log2 of the mean of 2^(T/10)`): a mean
/// temperature would promise too much life, since the hot hours cost more than the cool ones give back (derived). Phases nobody was in are
/// left out. `None` for an empty log, one without duration, a temperature that is no number, or a `count` of 0 or above [`MOST_PHASES`].
#[must_use]
pub fn bin(log: &[Stretch], count: usize) -> Option<Binned> {
    let usable = |s: &Stretch| s.ambient_c.is_finite() && s.weight.is_finite() && s.weight >= 0.0;
    let total: f64 = log.iter().map(|s| s.weight).sum();
    let makes_a_log = log.iter().all(usable) && total > 0.0 && total.is_finite();
    if !makes_a_log || !(1..=MOST_PHASES).contains(&count) {
        return None;
    }
    let lived = || log.iter().filter(|s| s.weight > 0.0);
    let min_c = lived().map(|s| s.ambient_c).reduce(f64::min)?;
    let max_c = lived().map(|s| s.ambient_c).reduce(f64::max)?;
    let width_k = (max_c - min_c) / count as f64;
    // time, and damage over time seen from the hottest temperature so that no power overflows
    let mut bins = vec![(0.0, 0.0); count];
    for stretch in lived() {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "not negative, and cut to the bins"
        )]
        let at = if width_k > 0.0 { ((stretch.ambient_c - min_c) / width_k) as usize } else { 0 };
        let bin = &mut bins[at.min(count - 1)];
        bin.0 += stretch.weight;
        bin.1 += stretch.weight * ((stretch.ambient_c - max_c) / 10.0).exp2();
    }
    let phases: Vec<Phase> = bins
        .into_iter()
        .filter(|&(weight, _)| weight > 0.0)
        .map(|(weight, damage)| Phase {
            share: Some(weight / total),
            ambient_c: Some(max_c + 10.0 * (damage / weight).log2()),
            ..Phase::default()
        })
        .collect();
    let damage = |ambient_c: f64| ((ambient_c.max(FLOOR_C) - max_c) / 10.0).exp2();
    let of_log: f64 = lived().map(|s| s.weight / total * damage(s.ambient_c)).sum();
    let of_phases: f64 = phases.iter().filter_map(|p| Some(p.share? * damage(p.ambient_c?))).sum();
    Some(Binned {
        min_c,
        max_c,
        mean_c: lived().map(|s| s.weight / total * s.ambient_c).sum(),
        life_error: of_log / of_phases - 1.0,
        phases,
    })
}

/// Relative error of the life of `can` at `place` when the phases stand for the log: life by the phases over life by every stretch, less 1,
/// by the part's own law with the ripple as entered at scale 1. `None` where a figure is missing.
#[must_use]
pub fn life_error(context: &PositionContext, can: &Can, log: &[Stretch], phases: &[Phase]) -> Option<f64> {
    let (under, _) = context.under_duty(can)?;
    let at = |share: f64, ambient_c: f64| DutyPhase { share, ambient_c, ripple_scale: 1.0 };
    let full: Vec<DutyPhase> = log.iter().map(|s| at(s.weight, s.ambient_c)).collect();
    let cut: Vec<DutyPhase> = phases.iter().map(|p| Some(at(p.share?, p.ambient_c?))).collect::<Option<_>>()?;
    let life_h = |phases: &[DutyPhase]| Some(under.life(phases, Change::NONE)?.nominal_h);
    Some(life_h(&cut)? / life_h(&full)? - 1.0)
}

#[cfg(test)]
mod tests {
    use super::super::testing_duty::{duty, job_with, wet_can};
    use super::*;
    use crate::domain::{Catalog, PositionId, Technology};

    fn day() -> Vec<Stretch> {
        // a day between 35 and 65 °C in steps of a minute
        (0..1440)
            .map(|minute| {
                let turn = f64::from(minute) / 1440.0 * std::f64::consts::TAU;
                Stretch { weight: 60.0, ambient_c: 50.0 - 15.0 * turn.cos() }
            })
            .collect()
    }

    #[test]
    fn phases_keep_the_time_and_the_range_of_the_log() {
        let found = bin(&day(), 4).unwrap();
        assert_eq!(found.phases.len(), 4);
        assert!((found.phases.iter().filter_map(|p| p.share).sum::<f64>() - 1.0).abs() < 1e-12);
        assert!((found.mean_c - 50.0).abs() < 1e-9);
        assert_eq!((found.min_c, found.max_c), (35.0, 65.0));
        assert!(found.phases.windows(2).all(|w| w[0].ambient_c < w[1].ambient_c));
    }

    #[test]
    fn one_phase_carries_the_damage_of_all_where_the_floor_is_not_touched() {
        // half at 60, half at 70 °C: mean of 1 and 2 is 1.5 times the damage at 60, so 60 + 10 log2(1.5) = 65.85 °C
        let log = [Stretch { weight: 5.0, ambient_c: 60.0 }, Stretch { weight: 5.0, ambient_c: 70.0 }];
        let found = bin(&log, 1).unwrap();
        assert!((found.phases[0].ambient_c.unwrap() - 65.849_625).abs() < 1e-6);
        assert!(found.life_error.abs() < 1e-12);
    }

    #[test]
    fn the_error_shrinks_with_more_phases_and_is_the_one_of_the_part() {
        let error = |count| bin(&day(), count).unwrap().life_error.abs();
        assert!(error(1) > error(12) && error(12) < 0.005, "{} {}", error(1), error(12));
        let mut job = job_with(duty(&[(1.0, 60.0, 1.0)]));
        let context = PositionContext::new(&job, &Catalog::default(), PositionId::default()).unwrap();
        for count in [1, 3, 8] {
            let found = bin(&day(), count).unwrap();
            let own = life_error(&context, &wet_can(), &day(), &found.phases).unwrap();
            assert!((own - found.life_error).abs() < 1e-9, "{count}: {own} {}", found.life_error);
        }
        // polymer follows another rule, so its error is its own
        let polymer = Can { technology: Some(Technology::Polymer), ..wet_can() };
        let found = bin(&day(), 3).unwrap();
        assert!((life_error(&context, &polymer, &day(), &found.phases).unwrap() - found.life_error).abs() > 1e-4);
        job.boards[0].positions[0].stress.ripple = None;
        job.boards[0].positions[0].original.can.ripple_a = None;
        let context = PositionContext::new(&job, &Catalog::default(), PositionId::default()).unwrap();
        assert_eq!(life_error(&context, &wet_can(), &day(), &found.phases), None);
    }

    #[test]
    fn what_is_no_log_has_no_phases() {
        let at = |weight: f64, ambient_c: f64| Stretch { weight, ambient_c };
        assert_eq!(bin(&[], 3), None);
        assert_eq!(bin(&[at(0.0, 20.0)], 3), None);
        assert_eq!(bin(&[at(1.0, f64::NAN)], 3), None);
        assert_eq!(bin(&[at(-1.0, 20.0), at(2.0, 20.0)], 3), None);
        assert!(bin(&day(), 0).is_none() && bin(&day(), MOST_PHASES + 1).is_none());
        assert_eq!(bin(&[at(1.0, 20.0)], 5).unwrap().phases.len(), 1);
    }
}
