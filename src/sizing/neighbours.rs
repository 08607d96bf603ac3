//! The cans around a position, ordered so that a part is measured against few of them even on a crowded board.

use std::sync::Arc;

use super::footprint::{Footprint, Placed};
use crate::domain::{Board, Can, Catalog, Side};

/// So many of the nearest are put in order; the others are hardly ever looked at.
const NEAR: usize = 32;
/// Far above what rounding adds to a distance on a board, far below what anybody measures, mm.
const ROUNDING_MM: f64 = 1e-6;

/// The located cans of a board, with the bodies of their picks, else of their originals. A pick the catalogue lacks leaves
/// the body unknown.
#[derive(Debug)]
pub(super) struct Surroundings<'a>(Vec<Located<'a>>);

#[derive(Debug)]
struct Located<'a> {
    /// Index of the position on the board.
    index: usize,
    reference: &'a str,
    side: Side,
    centre_mm: [f64; 2],
    body: Option<Placed>,
}

impl<'a> Surroundings<'a> {
    /// Looks up every can of a board once.
    pub(super) fn of(board: &'a Board, catalog: &Catalog) -> Self {
        let located = board.positions.iter().enumerate().filter_map(|(index, position)| {
            let (x_mm, y_mm) = position.centre_mm()?;
            let body = |can: &Can| Placed::measured(Footprint::of(can)?, [x_mm, y_mm], position.rotation_deg);
            let body = match &position.pick {
                Some(pick) => catalog.find(pick).and_then(|id| body(&catalog.can(id))),
                None => body(&position.original.can),
            };
            let side = position.side.unwrap_or_default();
            Some(Located { index, reference: &position.reference, side, centre_mm: [x_mm, y_mm], body })
        });
        Self(located.collect())
    }

    /// The neighbours of the position at `index`: the others on its side. A position that is not located has none.
    pub(super) fn around(self: Arc<Self>, index: usize) -> Neighbours<'a> {
        let own = self.0.binary_search_by_key(&index, |located| located.index).ok();
        let mut neighbours = Neighbours { all: self, own, near: Vec::new(), all_are_near: true, has_unknown: false };
        let Some(centre_mm) = own.map(|own| neighbours.all.0[own].centre_mm) else { return neighbours };
        let (mut near, mut has_unknown) = (Vec::new(), false);
        for (at, other) in neighbours.others() {
            match &other.body {
                Some(body) => {
                    let [dx_mm, dy_mm] = [other.centre_mm[0] - centre_mm[0], other.centre_mm[1] - centre_mm[1]];
                    near.push((dx_mm.hypot(dy_mm) - body.reach_mm() - ROUNDING_MM, at));
                }
                None => has_unknown = true,
            }
        }
        neighbours.has_unknown = has_unknown;
        neighbours.all_are_near = near.len() <= NEAR;
        if !neighbours.all_are_near {
            near.select_nth_unstable_by(NEAR - 1, |a, b| a.0.total_cmp(&b.0));
            near.truncate(NEAR);
        }
        near.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
        neighbours.near = near;
        neighbours
    }
}

/// The cans beside one position.
#[derive(Debug, Clone)]
pub(super) struct Neighbours<'a> {
    all: Arc<Surroundings<'a>>,
    own: Option<usize>,
    /// The nearest of the known bodies: the least gap that the centre of the position can have to it, mm, rising, and its
    /// place among all.
    near: Vec<(f64, usize)>,
    all_are_near: bool,
    has_unknown: bool,
}

impl<'a> Neighbours<'a> {
    /// Whether there is none.
    pub(super) fn is_empty(&self) -> bool {
        self.near.is_empty() && !self.has_unknown
    }

    /// Whether the body of one of them is not known.
    pub(super) fn has_unknown(&self) -> bool {
        self.has_unknown
    }

    /// The nearest of the known bodies to one at the position, and the gap to it, mm; of several the first on the board.
    pub(super) fn nearest(&self, own: &Placed) -> Option<(&'a str, f64)> {
        let reach_mm = own.reach_mm();
        let mut best: Option<(f64, usize)> = None;
        for &(bound_mm, at) in &self.near {
            if best.is_some_and(|(gap_mm, _)| gap_mm < bound_mm - reach_mm) {
                break;
            }
            best = nearer(best, self.gap_to(own, at));
        }
        // No other body can be nearer than the last of the near ones can.
        let proven = |&(bound_mm, _): &(f64, usize)| best.is_some_and(|(gap_mm, _)| gap_mm < bound_mm - reach_mm);
        if !self.all_are_near && !self.near.last().is_some_and(proven) {
            best = self.others().map(|(at, _)| self.gap_to(own, at)).fold(best, nearer);
        }
        best.map(|(gap_mm, at)| (self.all.0[at].reference, gap_mm))
    }

    fn gap_to(&self, own: &Placed, at: usize) -> Option<(f64, usize)> {
        self.all.0[at].body.as_ref().map(|body| (own.gap_mm(body), at))
    }

    fn others(&self) -> impl Iterator<Item = (usize, &Located<'a>)> {
        let own = self.own.map(|own| (own, self.all.0[own].side));
        let all = self.all.0.iter().enumerate();
        all.filter(move |&(at, other)| own.is_some_and(|(own, side)| at != own && other.side == side))
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
mod tests {
    use super::*;
    use crate::domain::{CatalogBuilder, Position};
    use crate::sizing::testing::{can, part, position};
    use proptest::prelude::*;

    fn round(diameter_mm: f64, centre_mm: [f64; 2]) -> Placed {
        Placed::at(Footprint::Round { diameter_mm }, centre_mm, None)
    }

    fn located(reference: &str, x_mm: f64, y_mm: f64) -> Position {
        Position { reference: reference.into(), x_mm: Some(x_mm), y_mm: Some(y_mm), ..position() }
    }

    #[test]
    fn neighbours_are_the_located_positions_on_the_same_side_with_the_body_of_their_pick() {
        let mut builder = CatalogBuilder::default();
        builder.push(&part("WIDE", None, Can { diameter_max_mm: Some(18.5), ..can() }));
        let catalog = builder.finish().0;
        let picked = Position { pick: Some("WIDE".into()), ..located("C2", 30.0, 0.0) };
        let below = Position { side: Some(Side::Bottom), ..located("C3", 20.0, 0.0) };
        let nowhere = Position { y_mm: None, ..located("C4", 20.0, 0.0) };
        let lost = Position { pick: Some("LOST".into()), ..located("C5", -40.0, 0.0) };
        let board =
            Board { positions: vec![located("C1", 0.0, 0.0), picked, below, nowhere, lost], ..Board::default() };
        let all = Arc::new(Surroundings::of(&board, &catalog));
        let first = all.clone().around(0);
        assert_eq!(first.nearest(&round(10.0, [0.0, 0.0])), Some(("C2", 30.0 - 18.5 / 2.0 - 5.0)));
        assert!(first.has_unknown() && !first.is_empty());
        assert!(all.clone().around(3).is_empty(), "a position without a place has no neighbours");
        assert!(all.around(2).is_empty(), "nobody else is on the bottom side");
    }

    proptest! {
        #[test]
        fn the_nearest_is_that_of_all_of_them(
            cans in prop::collection::vec((0.0..300.0f64, 0.0..300.0f64, 3.0..60.0f64, any::<bool>()), 1..90),
            diameter_mm in 3.0..120.0f64,
        ) {
            let body = |(diameter_max_mm, lies): (f64, bool)| Can {
                mounting: lies.then_some(crate::domain::Mounting::Axial),
                diameter_max_mm: Some(diameter_max_mm),
                diameter_mm: None,
                height_mm: None,
                height_max_mm: Some(2.0 * diameter_max_mm),
                ..can()
            };
            // On whole millimetres several are at one distance.
            let positions = cans.iter().enumerate().map(|(at, &(x, y, diameter_mm, lies))| {
                let mut position = located(&format!("C{at}"), x.round(), y.round());
                position.rotation_deg = Some(0.0);
                position.original.can = body((diameter_mm.round(), lies));
                position
            });
            let board = Board { positions: positions.collect(), ..Board::default() };
            let all = Arc::new(Surroundings::of(&board, &Catalog::default()));
            let own = round(diameter_mm.round(), all.0[0].centre_mm);
            let gaps = all.0[1..].iter().map(|other| (other.reference, own.gap_mm(&other.body.unwrap())));
            let nearest = gaps.min_by(|a, b| a.1.total_cmp(&b.1));
            prop_assert_eq!(all.clone().around(0).nearest(&own), nearest);
        }
    }
}
