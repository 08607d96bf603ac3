//! What no choice can undercut: Lagrangian relaxation of "one part per position".
//!
//! Every position p gets a price `u_p`. Each part on its own then serves the positions that pay for
//! it best: it contributes `min over S of (g(weight of S) - sum of u_p over S)`. The prices' sum plus
//! these contributions never exceeds the cost of any choice, because a choice is one such set per
//! part. Moving the prices along the subgradient (positions served too often pay less, unserved ones
//! more) raises the bound. (M. L. Fisher, Management Science 27 (1981) 1-18, from memory; the
//! subproblem with a cost table is solved exactly by sorting or by dynamic programming, derived.)
//!
//! Where all tables rise, serving a position twice never pays, so prices stay at 0 or above.

use super::domain::{Domain, Pairs, Slot, View, Way};
use super::model::{Facility, Model};

/// Memory of the subproblem, kept between calls.
#[derive(Debug, Default)]
pub(super) struct Scratch {
    order: Vec<usize>,
    paid: Vec<f64>,
    taken: Vec<bool>,
    served: Vec<usize>,
}

/// The subproblems of a model at given prices.
#[derive(Debug)]
pub(super) struct Bounder<'m> {
    pub(super) model: &'m Model,
    /// All positions weigh 1: sorting solves the subproblem.
    unit_weights: bool,
    /// Least price of a position.
    pub(super) floor: f64,
}

impl<'m> Bounder<'m> {
    pub(super) fn new(model: &'m Model) -> Self {
        let rising = |f: &Facility| f.cost.windows(2).all(|pair| pair[0] <= pair[1]);
        Self {
            model,
            unit_weights: model.weights.iter().all(|w| *w == 1),
            floor: if model.facilities.iter().all(rising) { 0.0 } else { f64::NEG_INFINITY },
        }
    }

    /// The least value of a slot and the positions it then serves (left in `scratch.served`).
    /// `used`: it must serve at least one.
    fn least(&self, slot: &Slot, used: bool, u: &[f64], scratch: &mut Scratch) -> f64 {
        let mut best = if used { f64::INFINITY } else { 0.0 };
        scratch.served.clear();
        for way in &slot.ways {
            self.least_way(slot, way, u, &mut best, scratch);
        }
        best
    }

    /// Lowers `best` (and replaces `scratch.served`) if using this way is better.
    fn least_way(&self, slot: &Slot, way: &Way, u: &[f64], best: &mut f64, scratch: &mut Scratch) {
        self.fill(way, u, scratch);
        let mut at = None;
        self.values(slot, way, u, scratch, |total, value| {
            if value < *best {
                *best = value;
                at = Some(total);
            }
        });
        let Some(mut total) = at else { return };
        scratch.served.clear();
        scratch.served.extend_from_slice(&way.fixed);
        if self.unit_weights {
            scratch.served.extend_from_slice(&scratch.order[..total]);
            return;
        }
        let wide = scratch.paid.len();
        for (row, &position) in scratch.order.iter().enumerate().rev() {
            if scratch.taken[row * wide + total] {
                scratch.served.push(position);
                total -= self.model.weights[position];
            }
        }
    }

    /// Calls `each` with every weight of free positions that the slot may serve this way (after
    /// [`Bounder::fill`]) and its value.
    fn values(&self, slot: &Slot, way: &Way, u: &[f64], scratch: &Scratch, mut each: impl FnMut(usize, f64)) {
        let cost = &self.model.facilities[slot.facility].cost[way.fixed_weight..];
        let fixed_paid: f64 = way.fixed.iter().map(|p| u[*p]).sum();
        let first = slot.least.saturating_sub(way.fixed_weight);
        let end = (slot.most + 1).saturating_sub(way.fixed_weight);
        let paid = scratch.paid.iter().zip(cost).enumerate();
        for (total, (paid, cost)) in paid.take(end).skip(first) {
            each(total, cost - fixed_paid - paid);
        }
    }

    /// Fills `scratch.paid` with the most that free positions of each total weight pay.
    fn fill(&self, way: &Way, u: &[f64], scratch: &mut Scratch) {
        let Scratch { order, paid, taken, .. } = scratch;
        order.clear();
        order.extend_from_slice(&way.free);
        paid.clear();
        if self.unit_weights {
            order.sort_unstable_by(|a, b| u[*b].total_cmp(&u[*a]));
            paid.push(0.0);
            let mut sum = 0.0;
            for position in order.iter() {
                sum += u[*position];
                paid.push(sum);
            }
            return;
        }
        let weights = &self.model.weights;
        let wide = 1 + order.iter().map(|p| weights[*p]).sum::<usize>();
        paid.resize(wide, f64::NEG_INFINITY);
        paid[0] = 0.0;
        taken.clear();
        taken.resize(wide * order.len(), false);
        let mut reach = 0;
        for (row, &position) in order.iter().enumerate() {
            let weight = weights[position];
            reach += weight;
            let taken = &mut taken[row * wide..][..wide];
            for total in (weight..=reach).rev() {
                let with = paid[total - weight] + u[position];
                if with > paid[total] {
                    paid[total] = with;
                    taken[total] = true;
                }
            }
        }
    }

    /// The bound at prices `u`; `each` gets every slot's index, value and positions served.
    pub(super) fn evaluate(
        &self,
        view: &View,
        u: &[f64],
        scratch: &mut Scratch,
        mut each: impl FnMut(usize, f64, &[usize]),
    ) -> f64 {
        let mut bound: f64 = u.iter().sum();
        for (index, slot) in view.slots.iter().enumerate() {
            let value = self.least(slot, slot.open, u, scratch);
            bound += value;
            each(index, value, &scratch.served);
        }
        bound
    }

    /// Removes what cannot be part of a choice below `cut`, given prices `u`: closes facilities,
    /// narrows their weights, forbids pairs. True if anything changed.
    pub(super) fn tighten(
        &self,
        pairs: &Pairs,
        view: &View,
        domain: &mut Domain,
        u: &[f64],
        cut: f64,
        scratch: &mut Scratch,
    ) -> bool {
        let mut values = vec![0.0; view.slots.len()];
        let bound = self.evaluate(view, u, scratch, |slot, value, _| values[slot] = value);
        let mut changed = false;
        for (slot, &value) in view.slots.iter().zip(&values) {
            let others = bound - value;
            let mut forbid = Vec::new();
            let used = self.least(slot, true, u, scratch);
            if !slot.open && others + used >= cut {
                forbid.extend(pairs.allowed(self.model, domain, slot.facility));
            } else {
                changed |= self.narrow(slot, domain, u, cut - others, scratch);
                for position in pairs.allowed(self.model, domain, slot.facility) {
                    if view.options[position] > 1 && others + self.least_with(slot, position, u, scratch) >= cut {
                        forbid.push(position);
                    }
                }
            }
            changed |= !forbid.is_empty();
            for position in forbid {
                pairs.forbid(self.model, domain, slot.facility, position);
            }
        }
        changed
    }

    /// Narrows the weights of a facility to those with a value below `room`.
    fn narrow(&self, slot: &Slot, domain: &mut Domain, u: &[f64], room: f64, scratch: &mut Scratch) -> bool {
        let (mut least, mut most) = (usize::MAX, 0);
        for way in &slot.ways {
            self.fill(way, u, scratch);
            self.values(slot, way, u, scratch, |total, value| {
                if value < room {
                    least = least.min(way.fixed_weight + total);
                    most = most.max(way.fixed_weight + total);
                }
            });
        }
        if !slot.open && room > 0.0 {
            least = 0;
        }
        let facility = slot.facility;
        let changed = least > domain.least[facility] || most < domain.most[facility];
        domain.least[facility] = domain.least[facility].max(least);
        domain.most[facility] = domain.most[facility].min(most);
        changed
    }

    /// The least value of a slot that serves `position` (infinite if it cannot).
    fn least_with(&self, slot: &Slot, position: usize, u: &[f64], scratch: &mut Scratch) -> f64 {
        let mut best = f64::INFINITY;
        for way in &slot.ways {
            if let Some(at) = way.free.iter().position(|p| *p == position) {
                let mut with = way.clone();
                with.fixed.push(with.free.swap_remove(at));
                with.fixed_weight += self.model.weights[position];
                self.least_way(slot, &with, u, &mut best, scratch);
            }
        }
        best
    }
}

/// Result of raising the bound.
#[derive(Debug, Default)]
pub(super) struct Ascent {
    pub(super) bound: f64,
    /// The prices that gave it.
    pub(super) u: Vec<f64>,
    /// How often each facility (in the slots of the view) served each position, 0 to 1, over the
    /// later rounds; and how often it was used at all.
    pub(super) share: Vec<Vec<(usize, f64)>>,
    pub(super) used: Vec<f64>,
    /// Mean weight each facility served over the later rounds.
    pub(super) weight: Vec<f64>,
    /// Variance of what that cost.
    pub(super) cost_variance: Vec<f64>,
    /// What each slot served at the best bound.
    pub(super) served: Vec<Vec<usize>>,
}

/// What a slot served over the later half of the rounds, when the prices have settled.
#[derive(Clone, Default)]
struct Tally {
    /// How often each position was served by it.
    served: Vec<(usize, f64)>,
    used: f64,
    weight: f64,
    /// Sum of the costs and of their squares.
    costs: (f64, f64),
}

impl Tally {
    /// Counts one round: the positions the slot served in it.
    fn count(&mut self, model: &Model, slot: &Slot, positions: &[usize]) {
        self.used += f64::from(u8::from(!positions.is_empty()));
        let total: usize = positions.iter().map(|p| model.weights[*p]).sum();
        self.weight += total as f64;
        let cost = model.facilities[slot.facility].cost[total];
        self.costs.0 += cost;
        self.costs.1 += cost * cost;
        for &position in positions {
            match self.served.iter_mut().find(|(p, _)| *p == position) {
                Some((_, times)) => *times += 1.0,
                None => self.served.push((position, 1.0)),
            }
        }
    }
}

/// Subgradient rounds from prices `start`, towards `cut`; ends early once the bound reaches it.
pub(super) fn ascend(
    bounder: &Bounder,
    view: &View,
    start: &[f64],
    rounds: usize,
    cut: f64,
    stop: &(dyn Fn() -> bool + Sync),
    scratch: &mut Scratch,
) -> Ascent {
    let count = start.len();
    let mut u = start.to_vec();
    let mut direction = vec![0.0; count];
    let (mut tallies, mut counted) = (vec![Tally::default(); view.slots.len()], 0.0);
    let mut best = Ascent {
        bound: f64::NEG_INFINITY,
        u: u.clone(),
        served: vec![Vec::new(); view.slots.len()],
        ..Ascent::default()
    };
    let mut served: Vec<Vec<usize>> = vec![Vec::new(); view.slots.len()];
    let mut step = 1.0;
    let mut since = 0;
    for round in 0..rounds {
        let mut lacking = vec![1.0; count];
        let bound = bounder.evaluate(view, &u, scratch, |slot, _, positions| {
            served[slot].clear();
            served[slot].extend_from_slice(positions);
            for &position in positions {
                lacking[position] -= 1.0;
            }
        });
        if round * 2 >= rounds {
            counted += 1.0;
            let slots = tallies.iter_mut().zip(&view.slots).zip(&served);
            slots.for_each(|((tally, slot), served)| tally.count(bounder.model, slot, served));
        }
        if bound > best.bound {
            if bound > best.bound + 1e-4 * (cut - bound).abs().min(1e300) {
                since = 0;
            }
            best.bound = bound;
            best.u.clone_from(&u);
            best.served.clone_from(&served);
        }
        since += 1;
        if since > 12 {
            step *= 0.6;
            since = 0;
        }
        if best.bound >= cut || stop() {
            break;
        }
        let mut norm = 0.0;
        for p in 0..count {
            direction[p] = lacking[p] + 0.6 * direction[p];
            norm += direction[p] * direction[p];
        }
        if norm < 1e-12 || lacking.iter().all(|l| *l == 0.0) {
            break;
        }
        let target = if cut.is_finite() { cut } else { bound + 0.05 * bound.abs() + 1.0 };
        let length = step * (target - bound) / norm;
        for p in 0..count {
            u[p] = (u[p] + length * direction[p]).max(bounder.floor);
        }
    }
    let mean = |sum: f64| if counted > 0.0 { sum / counted } else { 0.0 };
    for Tally { served, used, weight, costs: (sum, squares) } in tallies {
        best.share.push(served.into_iter().map(|(position, times)| (position, mean(times))).collect());
        best.used.push(mean(used));
        best.weight.push(mean(weight));
        best.cost_variance.push(mean(squares) - mean(sum) * mean(sum));
    }
    best
}
