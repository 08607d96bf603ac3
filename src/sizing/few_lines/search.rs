//! Branch and bound: best bound first, in rounds of a fixed number of branches on all cores.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::sync::atomic::{AtomicBool, Ordering::Relaxed};
use std::time::Instant;

use rayon::prelude::*;

use super::bound::{Ascent, Bounder, Scratch, ascend};
use super::domain::{Domain, Pairs, View};
use super::model::Model;
use super::plan::Plan;
use super::problem::{Ended, FewLinesError, Limits, Progress};

/// A choice that is not cheaper by more than this is not looked for (currency of the job).
const COST_TOLERANCE: f64 = 1e-4;
/// Costs within this of a multiple of a step count as that multiple: rounding of sums of products.
const STEP_ROUNDING: f64 = 1e-7;
/// Branches of one round: fixed, so that the answer does not depend on the number of cores.
const ROUND_NODES: usize = 16;
const ROOT_ROUNDS: usize = 400;
const ROOT_PASSES: usize = 6;
const NODE_ROUNDS: usize = 100;
/// One branch in so many (by depth) also looks for a better choice.
const PLAN_EVERY: u32 = 8;
/// Step of the ranks, as a fraction of the first choice's cost.
const RANK_STEP: f64 = 2e-4;
/// Least variance of a facility's cost over the rounds that makes it worth splitting on.
const COST_VARIANCE_MIN: f64 = 1e-6;
const SHAKES: usize = 60;

/// What the search found.
#[derive(Debug)]
pub(super) struct Found {
    /// Facility of each position.
    pub(super) best: Option<Vec<usize>>,
    pub(super) lower_bound: f64,
    pub(super) nodes: u64,
    pub(super) ended: Ended,
}

/// A branch waiting.
#[derive(Debug, Clone)]
struct Node {
    domain: Domain,
    u: Vec<f64>,
    bound: f64,
    /// Bound in coarse steps: branches of nearly the same bound are taken deepest first, so that the
    /// search reaches choices.
    rank: i64,
    depth: u32,
}

impl PartialEq for Node {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Node {}
impl PartialOrd for Node {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Node {
    /// The heap gives the greatest first: lowest rank, then deepest, then lowest bound.
    fn cmp(&self, other: &Self) -> Ordering {
        other.rank.cmp(&self.rank).then(self.depth.cmp(&other.depth)).then(other.bound.total_cmp(&self.bound))
    }
}

/// What became of a branch.
enum Step {
    /// Out of time within it: it still waits.
    Unfinished(Node),
    Done {
        children: Vec<Node>,
        choice: Option<(Vec<usize>, f64)>,
    },
}

struct Search<'m, 's> {
    bounder: Bounder<'m>,
    pairs: Pairs,
    /// Bounds closer than this rank the same.
    rank_step: f64,
    stop: &'s (dyn Fn() -> bool + Sync),
}

pub(super) fn search(
    model: &Model,
    limits: Limits,
    cancel: &AtomicBool,
    progress: &mut dyn FnMut(Progress),
) -> Result<Found, FewLinesError> {
    let begun = Instant::now();
    let stop = || cancel.load(Relaxed) || begun.elapsed() >= limits.time;
    let mut first = Plan::start(model);
    if let Some(plan) = &mut first {
        plan.polish();
        plan.shake(SHAKES, &stop);
    }
    search_from(model, first, limits, cancel, &stop, progress)
}

/// The search proper, from a first choice if there is one.
pub(super) fn search_from(
    model: &Model,
    first: Option<Plan>,
    limits: Limits,
    cancel: &AtomicBool,
    stop: &(dyn Fn() -> bool + Sync),
    progress: &mut dyn FnMut(Progress),
) -> Result<Found, FewLinesError> {
    let saving_min = least_saving(model);
    let prices = first_prices(model, first.as_ref());
    let task = Search {
        bounder: Bounder::new(model),
        pairs: Pairs::new(model),
        rank_step: saving_min.max(prices.iter().sum::<f64>() * RANK_STEP),
        stop,
    };
    let mut nodes = 0;
    let mut waiting = BinaryHeap::new();
    waiting.push(Node { u: prices, domain: task.pairs.whole(model), bound: 0.0, rank: 0, depth: 0 });
    let mut best = first;
    loop {
        let best_cost = best.as_ref().map_or(f64::INFINITY, |plan| plan.cost);
        let cut = best_cost - saving_min;
        waiting.retain(|node: &Node| node.bound < cut);
        let lower_bound = waiting.iter().map(|n| n.bound).fold(best_cost, f64::min);
        progress(Progress { best: best.as_ref().map(|plan| plan.cost), lower_bound, nodes, waiting: waiting.len() });
        if waiting.is_empty() && best.is_none() {
            return Err(FewLinesError::Impossible);
        }
        let ended = if waiting.is_empty() {
            Some(Ended::Proven)
        } else if cancel.load(Relaxed) {
            Some(Ended::Cancelled)
        } else if stop() {
            Some(Ended::Time)
        } else if nodes >= limits.nodes {
            Some(Ended::Nodes)
        } else {
            None
        };
        if let Some(ended) = ended {
            return Ok(Found { best: best.map(|plan| plan.facility_of), lower_bound, nodes, ended });
        }
        let round: Vec<Node> = (0..ROUND_NODES).map_while(|_| waiting.pop()).collect();
        let steps: Vec<Step> = round.into_par_iter().map(|node| task.step(node, cut, best.as_ref())).collect();
        for step in steps {
            match step {
                Step::Unfinished(node) => waiting.push(node),
                Step::Done { children, choice } => {
                    nodes += 1;
                    waiting.extend(children);
                    if let Some((of, cost)) = choice
                        && best.as_ref().is_none_or(|plan| cost < plan.cost)
                    {
                        best = Some(Plan::of(model, &of));
                    }
                }
            }
        }
    }
}

/// How much cheaper another choice must be to be worth finding. Where every cost is a multiple of a
/// decimal step (prices in whole cents, no odd currency rates) so is every difference, and a choice
/// that is cheaper at all is cheaper by a whole step; choices of equal cost then need no search.
fn least_saving(model: &Model) -> f64 {
    let costs = || model.facilities.iter().flat_map(|f| &f.cost);
    [1.0, 10.0, 100.0, 1000.0]
        .into_iter()
        .find(|per_unit| {
            costs().all(|cost| {
                let steps = cost * per_unit;
                (steps - steps.round()).abs() <= STEP_ROUNDING * per_unit
            })
        })
        .map_or(COST_TOLERANCE, |per_unit| 0.9 / per_unit)
}

/// Prices to start from: what each position costs in the first choice, by weight.
fn first_prices(model: &Model, plan: Option<&Plan>) -> Vec<f64> {
    let Some(plan) = plan else {
        return vec![0.0; model.weights.len()];
    };
    let mut weight = vec![0; model.facilities.len()];
    for (position, &facility) in plan.facility_of.iter().enumerate() {
        weight[facility] += model.weights[position];
    }
    plan.facility_of
        .iter()
        .enumerate()
        .map(|(position, &facility)| {
            let total = weight[facility];
            model.facilities[facility].cost[total] * model.weights[position] as f64 / total as f64
        })
        .collect()
}

impl Search<'_, '_> {
    /// Bounds a branch, tightens it, tries to find a choice in it and splits it.
    fn step(&self, mut node: Node, cut: f64, near: Option<&Plan>) -> Step {
        let model = self.bounder.model;
        let mut scratch = Scratch::default();
        let none = || Step::Done { children: Vec::new(), choice: None };
        let (rounds, passes) = if node.depth == 0 { (ROOT_ROUNDS, ROOT_PASSES) } else { (NODE_ROUNDS, 2) };
        let mut last = None;
        for _ in 0..passes {
            let Some(view) = View::new(model, &self.pairs, &node.domain) else {
                return none();
            };
            if let Some(choice) = view.decided(model) {
                return Step::Done { children: Vec::new(), choice: Some(choice) };
            }
            let ascent = ascend(&self.bounder, &view, &node.u, rounds, cut, self.stop, &mut scratch);
            node.bound = node.bound.max(ascent.bound);
            if node.bound >= cut {
                return none();
            }
            if (self.stop)() {
                return Step::Unfinished(node);
            }
            node.u.clone_from(&ascent.u);
            let changed = self.bounder.tighten(&self.pairs, &view, &mut node.domain, &ascent.u, cut, &mut scratch);
            last = Some((view, ascent));
            if !changed {
                break;
            }
        }
        let Some((view, ascent)) = last else {
            return Step::Unfinished(node);
        };
        let choice = near.filter(|_| node.depth.is_multiple_of(PLAN_EVERY)).map(|plan| {
            let sets = view.slots.iter().zip(&ascent.served);
            let mut plan = plan.towards(sets.map(|(s, served)| (s.facility, served.clone())));
            plan.polish();
            (plan.facility_of, plan.cost)
        });
        Step::Done { children: self.split(&node, &view, &ascent), choice }
    }

    /// Splits on the facility that the prices are least sure of, else on a pair.
    fn split(&self, node: &Node, view: &View, ascent: &Ascent) -> Vec<Node> {
        let model = self.bounder.model;
        let child = |change: &dyn Fn(&mut Domain)| {
            let mut child = node.clone();
            child.depth += 1;
            #[expect(clippy::cast_possible_truncation, reason = "a cast that saturates ranks well enough")]
            let rank = (child.bound / self.rank_step) as i64;
            child.rank = rank;
            change(&mut child.domain);
            child
        };
        let doubt = |share: f64| share.min(1.0 - share);
        // Splitting where the cost stays the same (the shelf covers it) settles nothing.
        let matters = |slot: usize| ascent.cost_variance[slot] > COST_VARIANCE_MIN;
        let unsure = (0..view.slots.len())
            .filter(|&s| !view.slots[s].open && doubt(ascent.used[s]) > 0.05 && matters(s))
            .max_by(|a, b| doubt(ascent.used[*a]).total_cmp(&doubt(ascent.used[*b])));
        if let Some(slot) = unsure {
            let facility = view.slots[slot].facility;
            let use_it = child(&|domain| domain.least[facility] = domain.least[facility].max(1));
            let drop_it = child(&|domain| {
                let positions = model.facilities[facility].positions.iter();
                for &position in positions {
                    self.pairs.forbid(model, domain, facility, position);
                }
            });
            return vec![use_it, drop_it];
        }
        // Once it is settled which facilities are used, how much each serves decides the cost.
        let spread = (0..view.slots.len())
            .filter(|s| matters(*s))
            .max_by(|a, b| ascent.cost_variance[*a].total_cmp(&ascent.cost_variance[*b]));
        if let Some(slot) = spread {
            let (facility, mean) = (view.slots[slot].facility, ascent.weight[slot]);
            let (least, most) = (node.domain.least[facility], node.domain.most[facility]);
            if least < most {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to whole weights")]
                let up_to = (mean.floor() as usize).clamp(least, most - 1);
                let fewer = child(&|domain| domain.most[facility] = up_to);
                let more = child(&|domain| domain.least[facility] = up_to + 1);
                return vec![fewer, more];
            }
        }
        // The pair in most doubt; without any, a pair of the position with most options.
        let pair = view
            .slots
            .iter()
            .zip(&ascent.share)
            .flat_map(|(slot, list)| list.iter().map(move |(p, share)| (slot.facility, *p, *share)))
            .filter(|(_, position, _)| view.options[*position] > 1)
            .max_by(|a, b| doubt(a.2).total_cmp(&doubt(b.2)))
            .map(|(facility, position, _)| (facility, position))
            .or_else(|| {
                let position = (0..view.options.len()).max_by_key(|p| view.options[*p])?;
                view.slots
                    .iter()
                    .map(|slot| slot.facility)
                    .find(|f| self.pairs.allowed(model, &node.domain, *f).any(|p| p == position))
                    .map(|facility| (facility, position))
            });
        let Some((facility, position)) = pair else {
            return vec![node.clone()];
        };
        let take = child(&|domain| {
            for other in (0..model.facilities.len()).filter(|f| *f != facility) {
                self.pairs.forbid(model, domain, other, position);
            }
        });
        let leave = child(&|domain| self.pairs.forbid(model, domain, facility, position));
        vec![take, leave]
    }
}
