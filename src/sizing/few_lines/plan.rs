//! Good choices without proof: a greedy start, moves that lower the cost, and small shakes.

use super::model::Model;

const NOWHERE: usize = usize::MAX;
/// A move must save more than rounding can.
const SAVING_MIN: f64 = 1e-9;

/// A choice under work: the facility of each position.
#[derive(Debug, Clone)]
pub(super) struct Plan<'m> {
    model: &'m Model,
    pub(super) facility_of: Vec<usize>,
    served: Vec<Vec<usize>>,
    weight: Vec<usize>,
    pub(super) cost: f64,
    /// Moves since the last [`Plan::keep_if_cheaper`]: position and where it was.
    moved: Vec<(usize, usize)>,
}

impl<'m> Plan<'m> {
    fn empty(model: &'m Model) -> Self {
        Self {
            model,
            facility_of: vec![NOWHERE; model.weights.len()],
            served: vec![Vec::new(); model.facilities.len()],
            weight: vec![0; model.facilities.len()],
            cost: 0.0,
            moved: Vec::new(),
        }
    }

    /// A choice found elsewhere.
    pub(super) fn of(model: &'m Model, facility_of: &[usize]) -> Self {
        let mut plan = Self::empty(model);
        for (position, &facility) in facility_of.iter().enumerate() {
            plan.put(position, facility);
        }
        plan.settle();
        plan
    }

    /// A first legal choice; `None` where the greedy start finds none (there may be one).
    pub(super) fn start(model: &'m Model) -> Option<Self> {
        let mut plan = Self::empty(model);
        for (position, facility) in demanded(model)? {
            plan.put(position, facility);
        }
        // Positions with the least freedom first.
        let mut waiting: Vec<(usize, usize)> = (0..model.weights.len())
            .filter(|p| plan.facility_of[*p] == NOWHERE)
            .map(|p| (model.serving[p].len(), p))
            .collect();
        waiting.sort_unstable();
        for (_, position) in waiting {
            let before = plan.cost;
            let mut best = None;
            for &facility in &model.serving[position] {
                plan.put(position, facility);
                if plan.legal(facility) && best.is_none_or(|(least, _)| plan.cost < least) {
                    best = Some((plan.cost, facility));
                }
                plan.put(position, NOWHERE);
            }
            plan.cost = before;
            plan.put(position, best?.1);
        }
        Some(plan)
    }

    /// This choice moved towards what each facility serves in a relaxation.
    pub(super) fn towards(&self, sets: impl Iterator<Item = (usize, Vec<usize>)>) -> Self {
        let mut plan = self.clone();
        let mut sets: Vec<(usize, Vec<usize>)> = sets.collect();
        sets.sort_by_key(|(_, served)| served.len());
        for (facility, served) in sets {
            for position in served {
                plan.move_if_legal(position, facility);
            }
        }
        plan
    }

    fn put(&mut self, position: usize, facility: usize) {
        let weight = self.model.weights[position];
        let old = self.facility_of[position];
        if old == facility {
            return;
        }
        if old != NOWHERE {
            let cost = &self.model.facilities[old].cost;
            self.cost -= cost[self.weight[old]];
            self.weight[old] -= weight;
            self.cost += cost[self.weight[old]];
            self.served[old].retain(|p| *p != position);
        }
        if facility != NOWHERE {
            let cost = &self.model.facilities[facility].cost;
            self.cost -= cost[self.weight[facility]];
            self.weight[facility] += weight;
            self.cost += cost[self.weight[facility]];
            self.served[facility].push(position);
        }
        self.facility_of[position] = facility;
        self.moved.push((position, old));
    }

    fn legal(&self, facility: usize) -> bool {
        let item = &self.model.facilities[facility];
        let served = &self.served[facility];
        (!item.must || !served.is_empty()) && (item.families.len() == 1 || item.allows(served))
    }

    fn move_if_legal(&mut self, position: usize, facility: usize) -> bool {
        let old = self.facility_of[position];
        if old == facility {
            return false;
        }
        self.put(position, facility);
        let legal = self.legal(facility) && self.legal(old);
        if !legal {
            self.put(position, old);
        }
        legal
    }

    /// Moves a position if that lowers the cost.
    fn move_if_cheaper(&mut self, position: usize, facility: usize) -> bool {
        let (old, before) = (self.facility_of[position], self.cost);
        if !self.move_if_legal(position, facility) {
            return false;
        }
        let cheaper = self.cost < before - SAVING_MIN;
        if !cheaper {
            self.put(position, old);
        }
        cheaper
    }

    /// Keeps what `change` did if it lowers the cost.
    fn keep_if_cheaper(&mut self, change: impl FnOnce(&mut Self)) -> bool {
        let before = self.cost;
        self.moved.clear();
        change(self);
        let cheaper = self.cost < before - SAVING_MIN;
        if !cheaper && !self.moved.is_empty() {
            for (position, old) in std::mem::take(&mut self.moved).into_iter().rev() {
                self.put(position, old);
            }
            self.cost = before;
        }
        cheaper
    }

    /// Gives all it can to one facility, then back what was cheaper where it was.
    fn gather(&mut self, facility: usize) {
        let model = self.model;
        let mut taken = Vec::new();
        for &position in &model.facilities[facility].positions {
            let old = self.facility_of[position];
            if self.move_if_legal(position, facility) {
                taken.push((position, old));
            }
        }
        for (position, old) in taken {
            self.move_if_cheaper(position, old);
        }
    }

    /// Hands over what one facility serves to another, as far as that passes.
    fn hand_over(&mut self, from: usize, to: usize) {
        for position in self.served[from].clone() {
            if self.model.facilities[to].positions.binary_search(&position).is_ok() {
                self.move_if_legal(position, to);
            }
        }
    }

    /// Spreads what a facility serves over those in use (and, failing that, any other).
    fn disband(&mut self, facility: usize) {
        for position in self.served[facility].clone() {
            let mut best: Option<(f64, usize)> = None;
            for &other in &self.model.serving[position] {
                if other == facility || !self.move_if_legal(position, other) {
                    continue;
                }
                if best.is_none_or(|(least, _)| self.cost < least) {
                    best = Some((self.cost, other));
                }
                self.put(position, facility);
            }
            if let Some((_, other)) = best {
                self.put(position, other);
            }
        }
    }

    /// Moves until none lowers the cost.
    pub(super) fn polish(&mut self) {
        let count = self.model.facilities.len();
        loop {
            let mut better = false;
            for facility in 0..count {
                better |= self.keep_if_cheaper(|plan| plan.gather(facility));
            }
            for from in 0..count {
                if self.served[from].is_empty() {
                    continue;
                }
                better |= self.keep_if_cheaper(|plan| plan.disband(from));
                for to in 0..count {
                    if to != from && !self.served[from].is_empty() {
                        better |= self.keep_if_cheaper(|plan| plan.hand_over(from, to));
                    }
                }
            }
            for position in 0..self.facility_of.len() {
                for &facility in &self.model.serving[position] {
                    better |= self.move_if_cheaper(position, facility);
                }
            }
            if !better {
                break;
            }
        }
        self.settle();
    }

    /// Sums the cost anew, free of the rounding of many moves.
    fn settle(&mut self) {
        self.cost = (0..self.weight.len()).map(|f| self.model.facilities[f].cost[self.weight[f]]).sum();
    }

    /// Shakes the choice and polishes it again, `rounds` times; the best is kept.
    pub(super) fn shake(&mut self, rounds: usize, stop: &dyn Fn() -> bool) {
        let mut random = Random(0x9E37_79B9_7F4A_7C15);
        for _ in 0..rounds {
            if stop() {
                break;
            }
            let mut other = self.clone();
            for _ in 0..2 {
                let facility = random.below(other.weight.len());
                if other.served[facility].is_empty() {
                    let positions = &self.model.facilities[facility].positions;
                    for &position in positions {
                        other.move_if_legal(position, facility);
                    }
                } else {
                    other.disband(facility);
                }
            }
            let position = random.below(self.facility_of.len());
            let in_use = other.facility_of[position];
            other.disband(in_use);
            other.polish();
            if other.cost < self.cost - SAVING_MIN {
                *self = other;
            }
        }
    }
}

/// One position for every facility that must be used, all different; `None` if there are too few.
fn demanded(model: &Model) -> Option<Vec<(usize, usize)>> {
    let mut holder = vec![NOWHERE; model.weights.len()];
    for facility in (0..model.facilities.len()).filter(|f| model.facilities[*f].must) {
        let mut tried = vec![false; holder.len()];
        if !find_place(model, facility, &mut holder, &mut tried) {
            return None;
        }
    }
    let held = holder.into_iter().enumerate();
    Some(held.filter(|(_, f)| *f != NOWHERE).collect())
}

/// Augmenting path of the bipartite matching.
fn find_place(model: &Model, facility: usize, holder: &mut [usize], tried: &mut [bool]) -> bool {
    for &position in &model.facilities[facility].positions {
        if tried[position] {
            continue;
        }
        tried[position] = true;
        if holder[position] == NOWHERE || find_place(model, holder[position], holder, tried) {
            holder[position] = facility;
            return true;
        }
    }
    false
}

/// A small fixed random sequence (xorshift64), so that a run can be repeated.
struct Random(u64);

impl Random {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        #[expect(clippy::cast_possible_truncation, reason = "below `end`, which is a usize")]
        let drawn = (self.0 % end as u64) as usize;
        drawn
    }
}
