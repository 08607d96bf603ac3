//! The interval between rebuilds: what limits it, what a longer one costs, which picks are the
//! cheapest over a horizon.
//!
//! A board lasts as long as its shortest-lived position. For a wanted interval the cheapest picks
//! are, at each position on its own, the cheapest option that lasts that long; only the years that
//! some option has can be an interval. Sweeping these thresholds therefore gives the exact frontier
//! of interval against cost, and as the cost over a horizon falls with the interval and rises with
//! the cost of the parts, the best plan lies on that frontier (derived).
//!
//! Costs are in the currency of the job and add up over positions; order lines, minimums and
//! breaks shared between positions are the matter of `few_lines`.

use std::cmp::Ordering;

use thiserror::Error;

/// One part that could be fitted at a position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlanOption {
    /// What the part costs at this position in one rebuild; `None` = no price known.
    pub cost: Option<f64>,
    /// Calendar years it lasts there; `None` = not known.
    pub years: Option<f64>,
}

impl PlanOption {
    /// Cost and years where both are known and usable: cost not negative, years above 0.
    fn known(self) -> Option<(f64, f64)> {
        let cost = self.cost.filter(|cost| cost.is_finite() && *cost >= 0.0)?;
        let years = self.years.filter(|years| years.is_finite() && *years > 0.0)?;
        Some((cost, years))
    }
}

/// Picks for every position with the interval they hold and what one rebuild's parts cost.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Option taken at each position (index into that position's options).
    pub picks: Vec<usize>,
    /// The least years over the positions.
    pub interval_years: f64,
    /// Cost of the parts of one rebuild.
    pub parts_cost: f64,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PlanError {
    /// There is nothing to plan.
    #[error("there are no positions")]
    NoPositions,
    /// These positions have no option whose price and years are both known.
    #[error("{} position(s) have no option with known price and known years", .0.len())]
    NoCandidate(Vec<usize>),
    /// The horizon must be finite and above 0.
    #[error("a horizon of {0} years cannot be planned")]
    Horizon(f64),
    /// The teardown cost must be finite and not negative.
    #[error("{0} is not a teardown cost")]
    Teardown(f64),
}

/// The exact frontier: for every interval worth having the least cost of parts, shortest interval
/// (and least cost) first; each plan lasts longer and costs more than the one before it.
///
/// At a position the cheapest option that lasts long enough is taken (ties: more years, then the
/// order given). Options without known price or years are never taken.
///
/// # Errors
/// [`PlanError::NoPositions`], [`PlanError::NoCandidate`].
pub fn frontier(positions: &[Vec<PlanOption>]) -> Result<Vec<Plan>, PlanError> {
    if positions.is_empty() {
        return Err(PlanError::NoPositions);
    }
    let sweeps: Vec<Vec<Ranked>> = positions.iter().map(|options| cheapest_by_years(options)).collect();
    let bare: Vec<usize> = (0..sweeps.len()).filter(|p| sweeps[*p].is_empty()).collect();
    if !bare.is_empty() {
        return Err(PlanError::NoCandidate(bare));
    }
    let mut thresholds: Vec<f64> = sweeps.iter().flatten().map(|c| c.years).collect();
    thresholds.sort_by(|a, b| b.total_cmp(a));
    thresholds.dedup();

    // From the longest interval down: a shorter one stays only if it is cheaper.
    let mut plans: Vec<Plan> = Vec::new();
    for threshold in thresholds {
        let Some(plan) = cheapest_plan(&sweeps, threshold) else {
            continue;
        };
        if plans.last().is_none_or(|longer| plan.parts_cost < longer.parts_cost) {
            plans.push(plan);
        }
    }
    plans.reverse();
    Ok(plans)
}

#[derive(Clone, Copy)]
struct Ranked {
    option: usize,
    cost: f64,
    years: f64,
}

/// The options of a position worth considering: cheaper than every one that lasts as long or longer.
/// Cheapest (and shortest) first.
fn cheapest_by_years(options: &[PlanOption]) -> Vec<Ranked> {
    let mut known: Vec<Ranked> = options
        .iter()
        .enumerate()
        .filter_map(|(option, item)| item.known().map(|(cost, years)| Ranked { option, cost, years }))
        .collect();
    known.sort_by(|a, b| b.years.total_cmp(&a.years).then(a.cost.total_cmp(&b.cost)).then(a.option.cmp(&b.option)));
    let mut kept: Vec<Ranked> = Vec::new();
    for candidate in known {
        if kept.last().is_none_or(|longer| candidate.cost < longer.cost) {
            kept.push(candidate);
        }
    }
    kept.reverse();
    kept
}

/// The cheapest picks that last at least `years`; `None` if some position cannot.
fn cheapest_plan(sweeps: &[Vec<Ranked>], years: f64) -> Option<Plan> {
    let mut plan = Plan { picks: Vec::with_capacity(sweeps.len()), interval_years: f64::INFINITY, parts_cost: 0.0 };
    for sweep in sweeps {
        let taken = sweep.get(sweep.partition_point(|c| c.years < years))?;
        plan.picks.push(taken.option);
        plan.interval_years = plan.interval_years.min(taken.years);
        plan.parts_cost += taken.cost;
    }
    Some(plan)
}

/// Rebuilds within `horizon_years`, the first one included: `ceil(horizon / interval)`.
///
/// A quotient within one part in 10^9 of a whole number counts as that number, so that 20 years
/// at an interval of 10 are 2 rebuilds even where the interval was computed as 9.999999999999998.
/// `None` unless both are finite and above 0.
pub fn rebuilds(horizon_years: f64, interval_years: f64) -> Option<f64> {
    let usable = |years: f64| years.is_finite() && years > 0.0;
    if !usable(horizon_years) || !usable(interval_years) {
        return None;
    }
    let quotient = horizon_years / interval_years;
    let whole = quotient.round();
    let near = whole >= 1.0 && (quotient - whole).abs() <= 1e-9 * whole;
    let count = if near { whole } else { quotient.ceil() };
    count.is_finite().then_some(count)
}

/// What the rebuilds of a plan cost over a horizon.
#[derive(Debug, Clone, PartialEq)]
pub struct HorizonPlan {
    /// The picks.
    pub plan: Plan,
    /// Rebuilds within the horizon, the first one included.
    pub rebuilds: f64,
    /// `rebuilds * (teardown_cost + parts_cost)`.
    pub total_cost: f64,
}

/// The plan that costs least over the horizon, out of a [`frontier`] (ties: the longer interval).
/// `Ok(None)` for an empty frontier.
///
/// # Errors
/// [`PlanError::Horizon`], [`PlanError::Teardown`].
pub fn best_over_horizon(
    frontier: &[Plan],
    horizon_years: f64,
    teardown_cost: f64,
) -> Result<Option<HorizonPlan>, PlanError> {
    let costed = over_horizon(frontier, horizon_years, teardown_cost)?;
    Ok(costed.into_iter().rev().min_by(|a, b| a.total_cost.partial_cmp(&b.total_cost).unwrap_or(Ordering::Equal)))
}

/// Every plan of the frontier with its cost over the horizon, for the curve of years against cost.
///
/// # Errors
/// [`PlanError::Horizon`], [`PlanError::Teardown`].
pub fn over_horizon(frontier: &[Plan], horizon_years: f64, teardown_cost: f64) -> Result<Vec<HorizonPlan>, PlanError> {
    if !teardown_cost.is_finite() || teardown_cost < 0.0 {
        return Err(PlanError::Teardown(teardown_cost));
    }
    frontier
        .iter()
        .map(|plan| {
            let rebuilds = rebuilds(horizon_years, plan.interval_years).ok_or(PlanError::Horizon(horizon_years))?;
            Ok(HorizonPlan { plan: plan.clone(), rebuilds, total_cost: rebuilds * (teardown_cost + plan.parts_cost) })
        })
        .collect()
}

/// The cheapest plan of a [`frontier`] that lasts at least `target_years`; `None` if none does.
/// What it costs to reach the target is its cost less that of the picks as they are.
pub fn cheapest_for_target(frontier: &[Plan], target_years: f64) -> Option<&Plan> {
    frontier.iter().find(|plan| plan.interval_years >= target_years)
}
