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
pub fn life_error(context: &PositionContext, can: &Can, log: &[Stretch], phases: &[Phase]) -> Option<f64> {
    let (under, _) = context.under_duty(can)?;
    let at = |share: f64, ambient_c: f64| DutyPhase { share, ambient_c, ripple_scale: 1.0 };
    let full: Vec<DutyPhase> = log.iter().map(|s| at(s.weight, s.ambient_c)).collect();
    let cut: Vec<DutyPhase> = phases.iter().map(|p| Some(at(p.share?, p.ambient_c?))).collect::<Option<_>>()?;
    let life_h = |phases: &[DutyPhase]| under.life_h(phases, Change::NONE);
    Some(life_h(&cut)? / life_h(&full)? - 1.0)
}
