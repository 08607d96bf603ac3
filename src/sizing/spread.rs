//! How far the years may spread: of one part at a position, of a whole board.

use super::ambient::DutyPhase;
use super::checks::{Change, UnderDuty};
use super::position_context::PositionContext;
use crate::domain::{Assumed, Can, Job, PositionId};
use crate::physics::life::LIFE_CAP_H;
use crate::physics::spread::{Importance, Input, Percentiles, Uncertainty, importance, percentiles, sample};

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
    #[must_use]
    pub fn usual() -> Self {
        Self::filled(&crate::domain::Uncertainty::default())
    }

    /// The settings of the job; `None` when it has none: then there is no spread until somebody says how sure the inputs are. What it leaves open
    /// is filled from [`usual`](Self::usual) and named.
    #[must_use]
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
    #[must_use]
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
#[must_use]
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
        Some(member.under.life(member.phases, change)?.nominal_h / hours_per_year)
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
        assumed: members.iter().fold(Assumed::default(), |all, member| all | member.assumed),
    })
}

/// The word for an input.
#[must_use]
pub fn word(input: Input) -> &'static str {
    match input {
        Input::Ambient => "ambient",
        Input::Ripple => "ripple",
        Input::Endurance => "endurance",
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing_duty::{duty, job_of, job_with, position, wet_can};
    use super::*;
    use crate::domain::Catalog;

    fn place(job: &Job, index: usize) -> PositionContext<'_> {
        PositionContext::new(job, &Catalog::default(), PositionId { board: 0, index }).unwrap()
    }

    #[test]
    fn nobody_said_anything_means_no_spread_and_what_is_left_open_is_named() {
        let mut job = job_with(duty(&[(1.0, 70.0, 1.0)]));
        assert_eq!(Settings::of(&job), None);
        job.uncertainty =
            Some(crate::domain::Uncertainty { ambient_sigma_k: Some(1.0), seed: Some(9), ..Default::default() });
        let settings = Settings::of(&job).unwrap();
        assert_eq!((settings.uncertainty.ambient_k, settings.seed), (1.0, 9));
        assert_eq!(settings.assumed, ["ripple_sigma_rel", "endurance_sigma_rel", "samples"]);
        assert_eq!(Settings::usual().assumed.len(), 5);
    }

    #[test]
    fn with_only_the_ambient_uncertain_and_no_ripple_it_is_the_closed_form() {
        let mut job = job_with(duty(&[(1.0, 75.0, 1.0)]));
        job.boards[0].positions[0].stress.ripple = Some(Vec::new());
        let uncertainty = Uncertainty { ambient_k: 3.0, ripple: 0.0, endurance: 0.0 };
        let settings = Settings { uncertainty, samples: 50_000, ..Settings::usual() };
        let found = of_part(&place(&job, 0), &wet_can(), &settings).unwrap();
        // 5000 h, 105 to 75 °C: times 8; 5 K of rated rise without ripple: times 2^0.5
        let median = 5000.0 * 8.0 * 2f64.sqrt() / 3000.0;
        // ln L is normal with sigma 3 ln2/10; its 90 % point lies 1.2816 sigmas above (scipy.stats.norm.ppf)
        let factor = (1.281_551_565_544_600_4 * 3.0 * std::f64::consts::LN_2 / 10.0).exp();
        for (found, closed) in [
            (found.uncapped_years.p10, median / factor),
            (found.uncapped_years.p50, median),
            (found.uncapped_years.p90, median * factor),
        ] {
            assert!((found / closed - 1.0).abs() < 0.01, "{found} {closed}");
        }
        assert_eq!(found.importance.unwrap()[0].input, Input::Ambient);
        assert_eq!(found.years.p90, 15.0);
        assert!(found.limited_by.is_empty() && found.assumed.contains(Assumed::CORE_RISE));
    }

    #[test]
    fn a_board_lasts_as_long_as_its_shortest_position_and_says_which() {
        let job = job_of(vec![
            position("C1", duty(&[(1.0, 60.0, 1.0)])),
            position("C2", duty(&[(1.0, 95.0, 1.0)])),
            position("C3", duty(&[(1.0, 60.0, 1.0)])),
        ]);
        let positions: Vec<(PositionId, PositionContext, Can)> =
            (0..3).map(|index| (PositionId { board: 0, index }, place(&job, index), wet_can())).collect();
        let settings = Settings::usual();
        let board = of_board(&positions, &settings).unwrap();
        assert_eq!(board.limited_by[0].0.index, 1);
        assert!(board.limited_by[0].1 > 0.99 && board.reaches_target.unwrap() < 0.05);
        let again = of_board(&positions, &settings).unwrap();
        assert_eq!(board, again, "the same seed gives the same figures");
        let alone = of_part(&place(&job, 1), &wet_can(), &settings).unwrap();
        assert!((board.years.p50 / alone.years.p50 - 1.0).abs() < 0.05);
    }

    #[test]
    fn a_board_with_an_unknown_position_names_it() {
        let mut job = job_of(vec![position("C1", duty(&[(1.0, 60.0, 1.0)])), position("C2", Vec::new())]);
        job.boards[0].positions[1].stress.ripple = None;
        let positions: Vec<(PositionId, PositionContext, Can)> =
            (0..2).map(|index| (PositionId { board: 0, index }, place(&job, index), wet_can())).collect();
        assert_eq!(of_board(&positions, &Settings::usual()), Err(vec![PositionId { board: 0, index: 1 }]));
        assert_eq!(of_board(&[], &Settings::usual()), Err(vec![]));
    }

    #[test]
    fn a_histogram_holds_every_sample_once() {
        let job = job_with(duty(&[(1.0, 75.0, 1.0)]));
        let found = of_part(&place(&job, 0), &wet_can(), &Settings::usual()).unwrap();
        for most in [1.0, 10.0, 1000.0] {
            let bars = found.histogram(20, most);
            assert_eq!(bars.iter().map(|bar| bar.count).sum::<usize>(), 2000);
        }
        assert!(found.histogram(10, f64::NAN).is_empty() && found.histogram(0, 1.0).is_empty());
    }
}
