//! The cans around a position, ordered so that a part is measured against few of them even on a crowded board.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::sync::{Arc, OnceLock};

use super::footprint::{Footprint, Placed};
use crate::domain::{Board, Can, Catalog, Side};

/// So many of the nearest are looked at; where more than these lie over each other, one of them is the worst.
const NEAR: usize = 128;
/// Far above what rounding adds to a distance on a board, far below what anybody measures, mm.
const ROUNDING_MM: f64 = 1e-6;

/// The located cans of a board.
#[derive(Debug)]
pub(super) struct Surroundings<'a>(Arc<Cans<'a>>);

/// Cans that have a place, with the bodies of their picks, else of their originals. A pick the catalogue lacks leaves the body unknown.
#[derive(Debug, Default)]
struct Cans<'a> {
    located: Vec<Located<'a>>,
    /// Of the cans with a known body, for each side.
    trees: [Tree; 2],
    /// Cans whose body is not known, for each side.
    unknown: [usize; 2],
}

#[derive(Debug)]
struct Located<'a> {
    /// Index of the position on the board.
    index: usize,
    reference: &'a str,
    side: Side,
    centre_mm: [f64; 2],
    body: Option<Placed>,
}

impl<'a> Located<'a> {
    /// The can of the position at `index`; `None` where the position has no place.
    fn at(board: &'a Board, catalog: &Catalog, index: usize) -> Option<Self> {
        let position = &board.positions[index];
        let (x_mm, y_mm) = position.centre_mm()?;
        let body = |can: &Can| Placed::measured(Footprint::of(can)?, [x_mm, y_mm], position.rotation_deg);
        let body = match &position.pick {
            Some(pick) => catalog.find(pick).and_then(|id| body(&catalog.can(id))),
            None => body(&position.original.can),
        };
        let side = position.side.unwrap_or_default();
        Some(Self { index, reference: &position.reference, side, centre_mm: [x_mm, y_mm], body })
    }

    fn all(board: &'a Board, catalog: &Catalog) -> impl Iterator<Item = Self> {
        (0..board.positions.len()).filter_map(|index| Self::at(board, catalog, index))
    }
}

impl<'a> Surroundings<'a> {
    /// Looks up every can of a board once.
    pub(super) fn of(board: &'a Board, catalog: &Catalog) -> Self {
        let located: Vec<Located> = Located::all(board, catalog).collect();
        let on = |side: Side| located.iter().enumerate().filter(move |(_, can)| can.side == side);
        let tree = |side| {
            let known = on(side)
                .filter_map(|(at, can)| Some(Spot { at, centre_mm: can.centre_mm, reach_mm: can.body?.reach_mm() }));
            Tree::of(known.collect())
        };
        let sides = [Side::Top, Side::Bottom];
        let trees = sides.map(tree);
        let unknown = sides.map(|side| on(side).filter(|(_, can)| can.body.is_none()).count());
        Self(Arc::new(Cans { located, trees, unknown }))
    }

    /// The neighbours of the position at `index`: the others on its side. A position that is not located has none.
    pub(super) fn around(&self, index: usize) -> Neighbours<'a> {
        let Self(cans) = self;
        let own = cans.located.binary_search_by_key(&index, |located| located.index).ok();
        let has_unknown = own.is_some_and(|own| {
            let can = &cans.located[own];
            cans.unknown[usize::from(can.side == Side::Bottom)] > usize::from(can.body.is_none())
        });
        Neighbours { cans: cans.clone(), own: own.unwrap_or(usize::MAX), near: OnceLock::new(), has_unknown }
    }
}

/// A lower bound of the gap from a centre to a can with this reach, which stands at place `at` among all.
fn bound(from_mm: [f64; 2], to_mm: [f64; 2], reach_mm: f64, at: usize) -> Bound {
    // Not `hypot`: its care for the last digit costs more than the rest, and rounding is allowed for.
    let away_mm = (to_mm[0] - from_mm[0]).powi(2) + (to_mm[1] - from_mm[1]).powi(2);
    Bound(away_mm.sqrt() - reach_mm - ROUNDING_MM, at)
}

/// Puts one more among the nearest found.
fn offer(found: &mut BinaryHeap<Bound>, bound: Bound) {
    if !is_hopeless(found, bound) {
        found.push(bound);
        if found.len() > NEAR {
            found.pop();
        }
    }
}

fn is_hopeless(found: &BinaryHeap<Bound>, bound: Bound) -> bool {
    found.len() >= NEAR && found.peek().is_some_and(|&worst| bound >= worst)
}

/// The centre of a known body.
#[derive(Debug, Clone, Copy)]
struct Spot {
    /// Place among the located cans.
    at: usize,
    centre_mm: [f64; 2],
    /// From the centre to the farthest point of the body, mm.
    reach_mm: f64,
}

/// Spots in halves, so that the nearest to a point are found without a look at the others.
#[derive(Debug, Default)]
struct Tree {
    low_mm: [f64; 2],
    high_mm: [f64; 2],
    /// The largest of its spots, mm.
    reach_mm: f64,
    /// The least place of its spots.
    first: usize,
    below: Below,
}

#[derive(Debug)]
enum Below {
    Spots(Vec<Spot>),
    Halves(Box<[Tree; 2]>),
}

impl Default for Below {
    fn default() -> Self {
        Self::Spots(Vec::new())
    }
}

/// A lower bound of the gap to the centre of a position, mm, and a place among all; ordered by both.
#[derive(Debug, Clone, Copy)]
struct Bound(f64, usize);

impl Ord for Bound {
    fn cmp(&self, other: &Self) -> Ordering {
        self.0.total_cmp(&other.0).then(self.1.cmp(&other.1))
    }
}

impl PartialOrd for Bound {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Bound {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Bound {}

impl Tree {
    fn of(mut spots: Vec<Spot>) -> Self {
        /// So few are looked through one by one.
        const LEAF: usize = 8;
        let along = |axis: usize| spots.iter().map(move |spot| spot.centre_mm[axis]);
        let low_mm = [0, 1].map(|axis| along(axis).fold(f64::INFINITY, f64::min));
        let high_mm = [0, 1].map(|axis| along(axis).fold(f64::NEG_INFINITY, f64::max));
        let reach_mm = spots.iter().map(|spot| spot.reach_mm).fold(0.0, f64::max);
        let first = spots.iter().map(|spot| spot.at).min().unwrap_or_default();
        let below = if spots.len() <= LEAF {
            Below::Spots(spots)
        } else {
            let axis = usize::from(high_mm[1] - low_mm[1] > high_mm[0] - low_mm[0]);
            let middle = spots.len() / 2;
            // Spots at one place are told apart by their order on the board.
            let order = |a: &Spot, b: &Spot| a.centre_mm[axis].total_cmp(&b.centre_mm[axis]).then(a.at.cmp(&b.at));
            spots.select_nth_unstable_by(middle, order);
            let upper = spots.split_off(middle);
            Below::Halves(Box::new([Self::of(spots), Self::of(upper)]))
        };
        Self { low_mm, high_mm, reach_mm, first, below }
    }

    /// No spot of it has a lesser one.
    fn bound(&self, centre_mm: [f64; 2]) -> Bound {
        let away =
            |axis: usize| (self.low_mm[axis] - centre_mm[axis]).max(centre_mm[axis] - self.high_mm[axis]).max(0.0);
        bound([0.0; 2], [away(0), away(1)], self.reach_mm, self.first)
    }

    /// Puts the nearest to a point among those found, without the one at `own`.
    fn nearest(&self, centre_mm: [f64; 2], own: usize, found: &mut BinaryHeap<Bound>) {
        match &self.below {
            Below::Spots(spots) => {
                for spot in spots.iter().filter(|spot| spot.at != own) {
                    offer(found, bound(centre_mm, spot.centre_mm, spot.reach_mm, spot.at));
                }
            }
            Below::Halves(halves) => {
                let mut order = [0, 1].map(|half: usize| (halves[half].bound(centre_mm), half));
                order.sort_unstable();
                for (bound, half) in order {
                    if !is_hopeless(found, bound) {
                        halves[half].nearest(centre_mm, own, found);
                    }
                }
            }
        }
    }
}

/// The cans beside one position.
#[derive(Debug, Clone, Default)]
pub(super) struct Neighbours<'a> {
    cans: Arc<Cans<'a>>,
    /// Where its own can stands among them, if it has a place.
    own: usize,
    /// The nearest of the known bodies, rising; looked for once somebody asks.
    near: OnceLock<Vec<Bound>>,
    has_unknown: bool,
}

impl<'a> Neighbours<'a> {
    /// Those of the position at `index` for who looks at no other one: every can is looked at once, and nothing is ordered.
    pub(super) fn of(board: &'a Board, catalog: &Catalog, index: usize) -> Self {
        let Some(own) = Located::at(board, catalog, index) else { return Self::default() };
        let (mut near, mut has_unknown) = (BinaryHeap::new(), false);
        for can in Located::all(board, catalog).filter(|can| can.side == own.side && can.index != own.index) {
            match can.body {
                Some(body) => offer(&mut near, bound(own.centre_mm, can.centre_mm, body.reach_mm(), can.index)),
                None => has_unknown = true,
            }
        }
        let near = near.into_sorted_vec();
        let mut indices: Vec<usize> = near.iter().map(|bound| bound.1).collect();
        indices.sort_unstable();
        let located = indices.iter().filter_map(|&index| Located::at(board, catalog, index)).collect();
        let place = |Bound(bound_mm, index): Bound| Bound(bound_mm, indices.partition_point(|&other| other < index));
        let near: Vec<Bound> = near.into_iter().map(place).collect();
        Self { cans: Arc::new(Cans { located, ..Cans::default() }), own: 0, near: near.into(), has_unknown }
    }

    fn near(&self) -> &[Bound] {
        self.near.get_or_init(|| {
            // A position without a place has none.
            let Some(own) = self.cans.located.get(self.own) else { return Vec::new() };
            let mut near = BinaryHeap::new();
            self.cans.trees[usize::from(own.side == Side::Bottom)].nearest(own.centre_mm, self.own, &mut near);
            near.into_sorted_vec()
        })
    }

    /// Whether there is none.
    pub(super) fn is_empty(&self) -> bool {
        !self.has_unknown && self.near().is_empty()
    }

    /// Whether the body of one of them is not known.
    pub(super) fn has_unknown(&self) -> bool {
        self.has_unknown
    }

    /// The nearest of the known bodies to one at the position, and the gap to it, mm; of several the first on the board.
    pub(super) fn nearest(&self, own: &Placed) -> Option<(&'a str, f64)> {
        let reach_mm = own.reach_mm();
        let mut best: Option<(f64, usize)> = None;
        for &Bound(bound_mm, at) in self.near() {
            if best.is_some_and(|(gap_mm, _)| gap_mm < bound_mm - reach_mm) {
                break;
            }
            best = nearer(best, self.cans.located[at].body.as_ref().map(|body| (own.gap_mm(body), at)));
        }
        best.map(|(gap_mm, at)| (self.cans.located[at].reference, gap_mm))
    }
}

/// The smaller gap; of equal ones that of the first on the board.
fn nearer(a: Option<(f64, usize)>, b: Option<(f64, usize)>) -> Option<(f64, usize)> {
    match (a, b) {
        (Some(a), Some(b)) => Some(if b.0.total_cmp(&a.0).then(b.1.cmp(&a.1)).is_lt() { b } else { a }),
        (a, b) => a.or(b),
    }
}

#[cfg(test)]
#[path = "../../tests/within/neighbours.rs"]
mod tests;
