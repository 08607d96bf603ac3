//! How far the years may spread: of one part at a position, of a whole board.

use super::ambient::DutyPhase;
use super::checks::{Change, UnderDuty};
use super::position_context::PositionContext;
use super::reasons::figure;
use crate::domain::{Assumed, Can, Job, PositionId};
use crate::physics::life::LIFE_CAP_H;
use crate::physics::spread::{Importance, Percentiles, Uncertainty, importance, percentiles, sample};

/// What is sampled, and which of it nobody said.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// How uncertain the inputs are.
    pub uncertainty: Uncertainty,
    /// Lives drawn.
    pub samples: u32,
    /// Start of the random sequence.
    pub seed: u64,
    /// Names of the settings that come from common practice and not from the job.
    pub assumed: Vec<&'static str>,
}

impl Settings {
    /// Common practice, no source: ambient known to 3 K, ripple to 20 %, endurance to 15 %; 2000 lives. Everything is assumed.
    pub fn usual() -> Self {
        Self::filled(&crate::domain::Uncertainty::default())
    }

    /// The settings of the job; `None` when it has none: then there is no spread until somebody says how sure the inputs are. What it leaves open
    /// is filled from [`usual`](Self::usual) and named.
    pub fn of(job: &Job) -> Option<Self> {
        job.uncertainty.as_ref().map(Self::filled)
    }

    fn filled(given: &crate::domain::Uncertainty) -> Self {
        let mut assumed = Vec::new();
        let mut or = |value: Option<f64>, usual: f64, name: &'static str| {
            value.unwrap_or_else(|| {
                assumed.push(name);
                usual
            })
        };
        let uncertainty = Uncertainty {
            ambient_k: or(given.ambient_sigma_k, 3.0, "ambient_sigma_k"),
            ripple: or(given.ripple_sigma_rel, 0.20, "ripple_sigma_rel"),
            endurance: or(given.endurance_sigma_rel, 0.15, "endurance_sigma_rel"),
        };
        if given.samples.is_none() {
            assumed.push("samples");
        }
        if given.seed.is_none() {
            assumed.push("seed");
        }
        Self { uncertainty, samples: given.samples.unwrap_or(2000), seed: given.seed.unwrap_or(1), assumed }
    }
}

/// `P10 4.1, P50 6, P90 8.3`.
pub fn in_words(Percentiles { p10, p50, p90 }: Percentiles) -> String {
    format!("P10 {}, P50 {}, P90 {}", figure(p10), figure(p50), figure(p90))
}

/// How the years of a part or a board spread.
#[derive(Debug, Clone, PartialEq)]
pub struct YearsSpread {
    /// Years, capped as in the life check.
    pub years: Percentiles,
    /// The same before the caps.
    pub uncapped_years: Percentiles,
    /// Which input matters most, largest first; `None` where none moves the life.
    pub importance: Option<[Importance; 3]>,
    /// Years of every sample before the caps, rising: for a histogram or a curve.
    pub sorted_years: Vec<f64>,
    /// Years from which the caps hold.
    pub cap_years: f64,
    /// Share of the samples that reach the target, 0 to 1; `None` without a target.
    pub reaches_target: Option<f64>,
    /// For a board: the positions and the share of the samples each limited, largest first.
    pub limited_by: Vec<(PositionId, f64)>,
    /// Figures of the parts that came from default tables.
    pub assumed: Assumed,
}

/// One bar of a histogram.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar {
    /// Lower edge, years.
    pub from_years: f64,
    /// Upper edge, years.
    pub to_years: f64,
    /// Samples in it.
    pub count: usize,
}

impl YearsSpread {
    /// `bars` bars of equal width from 0 to `most_years`; samples beyond go into the last bar. Empty for impossible figures.
    pub fn histogram(&self, bars: u32, most_years: f64) -> Vec<Bar> {
        if !(most_years > 0.0 && most_years.is_finite()) {
            return Vec::new();
        }
        let width = most_years / f64::from(bars);
        let below = |years: f64| self.sorted_years.partition_point(|&sample| sample < years);
        (0..bars)
            .map(|at| {
                let (from_years, to_years) = (f64::from(at) * width, f64::from(at + 1) * width);
                let upper = if at + 1 == bars { self.sorted_years.len() } else { below(to_years) };
                Bar { from_years, to_years, count: upper - below(from_years) }
            })
            .collect()
    }
}

/// One position of a board, ready for sampling.
struct Member<'a> {
    id: PositionId,
    under: UnderDuty,
    phases: &'a [DutyPhase],
    assumed: Assumed,
    target_h: Option<f64>,
}

impl<'a> Member<'a> {
    fn new(id: PositionId, context: &'a PositionContext, can: &Can) -> Option<Self> {
        let (under, assumed) = context.under_duty(can)?;
        Some(Self { id, under, phases: context.duty()?, assumed, target_h: context.target_h })
    }
}

/// Spread of the years of `can` at `place`. `None` where the life itself is unknown: what is unknown has no spread.
pub fn of_part(context: &PositionContext, can: &Can, settings: &Settings) -> Option<YearsSpread> {
    years_spread(&[Member::new(PositionId::default(), context, can)?], context, settings)
        .map(|spread| YearsSpread { limited_by: Vec::new(), ..spread })
}

/// Spread of the years of a board whose positions carry these cans: the least of its positions in every sample. All see the same error of the
/// ambient in one sample (one cabinet, one summer), each its own ripple and endurance.
///
/// `Err` names the positions whose life is unknown: a board with one of those has no spread.
///
/// # Errors
/// The positions whose life is unknown; empty when there are none at all, or no hours per year.
pub fn of_board(
    positions: &[(PositionId, PositionContext, Can)],
    settings: &Settings,
) -> Result<YearsSpread, Vec<PositionId>> {
    let members: Vec<Result<Member, PositionId>> =
        positions.iter().map(|(id, context, can)| Member::new(*id, context, can).ok_or(*id)).collect();
    let unknown: Vec<PositionId> = members.iter().filter_map(|member| member.as_ref().err().copied()).collect();
    if !unknown.is_empty() {
        return Err(unknown);
    }
    let members: Vec<Member> = members.into_iter().filter_map(Result::ok).collect();
    let context = positions.first().map(|(_, context, _)| context).ok_or_else(Vec::new)?;
    years_spread(&members, context, settings).ok_or_else(Vec::new)
}

/// `place` gives the hours in a year and the caps, which all positions of a job share.
fn years_spread(members: &[Member], context: &PositionContext, settings: &Settings) -> Option<YearsSpread> {
    let hours_per_year = context.hours_per_year.filter(|&hours| hours > 0.0)?;
    let life = |at: usize, ambient_shift_k: f64, ripple: f64, endurance: f64| {
        let member = members.get(at)?;
        let change = Change { ambient_shift_k, ripple, endurance };
        Some(member.under.life_h(member.phases, change)? / hours_per_year)
    };
    let Settings { uncertainty, samples, seed, .. } = *settings;
    let found = sample(uncertainty, members.len(), samples, seed, life)?;
    let cap_years = (LIFE_CAP_H / hours_per_year).min(context.policy.calendar_cap_years);
    // A cap keeps the order, so the percentiles of capped years are the capped percentiles, samples in between aside.
    let capped: Vec<f64> = found.sorted.iter().map(|years| years.min(cap_years)).collect();
    let target_h = members.iter().filter_map(|member| member.target_h).reduce(f64::max);
    let reaches_target = target_h.map(|target_h| {
        let short = capped.partition_point(|&years| years * hours_per_year < target_h * (1.0 - 1e-9));
        1.0 - short as f64 / capped.len() as f64
    });
    let mut limited_by: Vec<(PositionId, f64)> = members
        .iter()
        .zip(&found.limited_by)
        .filter(|&(_, &count)| count > 0)
        .map(|(member, &count)| (member.id, f64::from(count) / f64::from(samples)))
        .collect();
    limited_by.sort_by(|a, b| b.1.total_cmp(&a.1));
    Some(YearsSpread {
        years: percentiles(&capped)?,
        uncapped_years: found.percentiles,
        importance: importance(uncertainty, members.len(), samples, seed, life),
        sorted_years: found.sorted,
        cap_years,
        reaches_target,
        limited_by,
        assumed: members.iter().fold(Assumed::default(), |all, member| all.with(member.assumed)),
    })
}
