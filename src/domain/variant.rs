//! A named question "what if": the whole job a few kelvin warmer, with more ripple, more hours, another interval.

use serde::{Deserialize, Serialize};

use super::style::figure;
use super::{Extra, Job, Phase};

/// A change of the operating conditions of the whole job, kept beside what was entered and never mixed into it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Variant {
    /// What the shop calls it.
    pub name: String,
    /// Added to every ambient, the lowest ones too, K; absent = 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ambient_shift_k: Option<f64>,
    /// Factor on every ripple current, over the scale of each phase; absent = 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ripple_factor: Option<f64>,
    /// Energised hours in a year; absent = those of the job.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hours_per_year: Option<f64>,
    /// Years until the next rebuild; absent = those of the job.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub interval_years: Option<f64>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

impl Variant {
    /// Whether it changes nothing.
    #[must_use]
    pub fn is_as_entered(&self) -> bool {
        self.ambient_shift_k.unwrap_or(0.0) == 0.0
            && self.ripple_factor.unwrap_or(1.0) == 1.0
            && self.hours_per_year.is_none()
            && self.interval_years.is_none()
    }

    /// In a few words: `+8 K, ripple × 1.2`.
    #[must_use]
    pub fn in_words(&self) -> String {
        let shift = self.ambient_shift_k.filter(|&shift| shift != 0.0).map(|shift_k| {
            let sign = if shift_k < 0.0 { "−" } else { "+" };
            format!("{sign}{} K", figure(shift_k.abs()))
        });
        let ripple = self.ripple_factor.filter(|&factor| factor != 1.0).map(|f| format!("ripple × {}", figure(f)));
        let hours = self.hours_per_year.map(|hours| format!("{} h a year", figure(hours)));
        let years = self.interval_years.map(|years| format!("{} years", figure(years)));
        [shift, ripple, hours, years].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// The job under these conditions. Where no phase was entered there is no ambient to shift, and no ripple to scale.
    #[must_use]
    pub fn applied(&self, job: &Job) -> Job {
        let mut job = job.clone();
        let (shift_k, factor) = (self.ambient_shift_k.unwrap_or(0.0), self.ripple_factor.unwrap_or(1.0));
        let vary = |phases: &mut Option<Vec<Phase>>, min_c: &mut Option<f64>| {
            for phase in phases.iter_mut().flatten() {
                phase.ambient_c = phase.ambient_c.map(|ambient_c| ambient_c + shift_k);
                if factor != 1.0 {
                    phase.ripple_scale = Some(phase.ripple_scale.unwrap_or(1.0) * factor);
                }
            }
            *min_c = min_c.map(|min_c| min_c + shift_k);
        };
        vary(&mut job.conditions.phases, &mut job.conditions.ambient_min_c);
        for board in &mut job.boards {
            vary(&mut board.conditions.phases, &mut board.conditions.ambient_min_c);
            for position in &mut board.positions {
                vary(&mut position.stress.phases, &mut position.stress.ambient_min_c);
            }
        }
        job.hours_per_year = self.hours_per_year.or(job.hours_per_year);
        job.interval_years = self.interval_years.or(job.interval_years);
        job
    }
}
