//! What a branch of the search still leaves open, and its layout for the bound.

use super::model::{Facility, Model};

/// What is still open in a branch: which facility may serve which position, and between which
/// weights each facility serves (a least weight of 1 or more: it must be used).
#[derive(Debug, Clone)]
pub(super) struct Domain {
    allowed: Vec<u64>,
    pub(super) least: Vec<usize>,
    pub(super) most: Vec<usize>,
}

/// Where the pairs of facility and position lie in [`Domain`].
#[derive(Debug)]
pub(super) struct Pairs {
    /// First pair of each facility.
    start: Vec<usize>,
    count: usize,
}

impl Pairs {
    pub(super) fn new(model: &Model) -> Self {
        let mut start = Vec::with_capacity(model.facilities.len());
        let mut count = 0;
        for facility in &model.facilities {
            start.push(count);
            count += facility.positions.len();
        }
        Self { start, count }
    }

    /// Everything allowed that the model allows.
    pub(super) fn whole(&self, model: &Model) -> Domain {
        Domain {
            allowed: vec![u64::MAX; self.count.div_ceil(64)],
            least: model.facilities.iter().map(|f| usize::from(f.must)).collect(),
            most: model.facilities.iter().map(|f| f.cost.len() - 1).collect(),
        }
    }

    /// The positions a facility may still serve.
    pub(super) fn allowed<'a>(
        &'a self,
        model: &'a Model,
        domain: &'a Domain,
        facility: usize,
    ) -> impl Iterator<Item = usize> + 'a {
        let start = self.start[facility];
        let positions = &model.facilities[facility].positions;
        positions.iter().enumerate().filter_map(move |(local, &p)| {
            let pair = start + local;
            (domain.allowed[pair / 64] >> (pair % 64) & 1 == 1).then_some(p)
        })
    }

    /// Forbids a pair.
    pub(super) fn forbid(&self, model: &Model, domain: &mut Domain, facility: usize, position: usize) {
        if let Ok(local) = model.facilities[facility].positions.binary_search(&position) {
            let pair = self.start[facility] + local;
            domain.allowed[pair / 64] &= !(1 << (pair % 64));
        }
    }
}

/// One way to use a facility: positions only it can serve, and those it may serve beside them.
#[derive(Debug, Clone)]
pub(super) struct Way {
    pub(super) fixed: Vec<usize>,
    pub(super) fixed_weight: usize,
    pub(super) free: Vec<usize>,
}

/// A facility still in play.
#[derive(Debug, Clone)]
pub(super) struct Slot {
    pub(super) facility: usize,
    /// Least weight it serves if it is used, at least 1.
    pub(super) least: usize,
    /// Most weight it serves.
    pub(super) most: usize,
    /// It must be used.
    pub(super) open: bool,
    /// The ways it can be used; one unless a second source is required.
    pub(super) ways: Vec<Way>,
}

/// A domain laid out for the bound.
#[derive(Debug, Clone)]
pub(super) struct View {
    pub(super) slots: Vec<Slot>,
    /// Number of facilities that may serve each position.
    pub(super) options: Vec<usize>,
}

impl View {
    /// `None` if the domain holds no choice (seen without search).
    pub(super) fn new(model: &Model, pairs: &Pairs, domain: &Domain) -> Option<Self> {
        let mut options = vec![0; model.weights.len()];
        let allowed: Vec<Vec<usize>> =
            (0..model.facilities.len()).map(|f| pairs.allowed(model, domain, f).collect()).collect();
        for &position in allowed.iter().flatten() {
            options[position] += 1;
        }
        if options.contains(&0) {
            return None;
        }
        let mut slots = Vec::new();
        for (facility, allowed) in allowed.into_iter().enumerate() {
            let item = &model.facilities[facility];
            let (fixed, free): (Vec<usize>, Vec<usize>) = allowed.into_iter().partition(|p| options[*p] == 1);
            let (least, most) = (domain.least[facility], domain.most[facility]);
            let open = least > 0 || !fixed.is_empty();
            let ways = ways(model, item, &fixed, &free, least.max(1), most);
            if !ways.is_empty() {
                slots.push(Slot { facility, least: least.max(1), most, open, ways });
            } else if open {
                return None;
            }
        }
        Some(Self { slots, options })
    }

    /// The facility of every position and the cost, once nothing is left to decide.
    pub(super) fn decided(&self, model: &Model) -> Option<(Vec<usize>, f64)> {
        if self.options.iter().any(|count| *count > 1) {
            return None;
        }
        let mut facility_of = vec![0; self.options.len()];
        let mut cost = 0.0;
        for slot in &self.slots {
            let way = slot.ways.first()?;
            for &position in &way.fixed {
                facility_of[position] = slot.facility;
            }
            cost += model.facilities[slot.facility].cost[way.fixed_weight];
        }
        Some((facility_of, cost))
    }
}

/// The ways that can serve a weight between `least` and `most`.
fn ways(model: &Model, item: &Facility, fixed: &[usize], free: &[usize], least: usize, most: usize) -> Vec<Way> {
    let weight = |set: &[usize]| -> usize { set.iter().map(|p| model.weights[*p]).sum() };
    let fixed_weight = weight(fixed);
    item.families
        .iter()
        .filter(|family| fixed.iter().all(|p| family.binary_search(p).is_ok()))
        .map(|family| Way {
            fixed: fixed.to_vec(),
            fixed_weight,
            free: free.iter().copied().filter(|p| family.binary_search(p).is_ok()).collect(),
        })
        .filter(|way| way.fixed_weight <= most && way.fixed_weight + weight(&way.free) >= least)
        .collect()
}
