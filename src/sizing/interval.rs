//! How long a board lasts: as long as its first position or other part.

use crate::domain::{OtherId, Place, PositionId};

/// How many an [`Interval`] names: what limits and the next three.
const SHOWN: usize = 4;

/// Years until the first of several positions and other parts is used up.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Interval {
    /// Least calendar years over what is known; `None` when none is.
    pub years: Option<f64>,
    /// What has those years.
    pub limiting: Option<Place>,
    /// The first four to be used up with their years, shortest first (ties: the order given).
    pub shortest: Vec<(Place, f64)>,
    /// Positions whose years are not known: the board may last shorter than `years`.
    pub unknown: Vec<PositionId>,
}

impl Interval {
    /// From the calendar years of each position.
    #[must_use]
    pub fn of(positions: impl IntoIterator<Item = (PositionId, Option<f64>)>) -> Self {
        let mut interval = Self::default();
        for (id, years) in positions {
            match years {
                None => interval.unknown.push(id),
                Some(years) => interval.take(id.into(), years),
            }
        }
        interval
    }

    /// With other parts that have an interval of their own.
    #[must_use]
    pub fn and(mut self, others: impl IntoIterator<Item = (OtherId, f64)>) -> Self {
        for (id, years) in others {
            self.take(Place::Other(id), years);
        }
        self
    }

    /// The position that limits; `None` where another part does, or nothing is known.
    #[must_use]
    pub fn limiting_position(&self) -> Option<PositionId> {
        match self.limiting? {
            Place::Position(id) => Some(id),
            Place::Other(_) => None,
        }
    }

    fn take(&mut self, place: Place, years: f64) {
        let at = self.shortest.partition_point(|(_, least)| *least <= years);
        if at < SHOWN {
            self.shortest.truncate(SHOWN - 1);
            self.shortest.insert(at, (place, years));
            (self.limiting, self.years) = self.shortest.first().copied().unzip();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_to_fail_limits_the_board_and_unknown_positions_are_named() {
        let at = |index| PositionId { board: 0, index };
        let interval = Interval::of([(at(0), Some(12.0)), (at(1), Some(7.5)), (at(2), None)]);
        assert_eq!((interval.years, interval.limiting), (Some(7.5), Some(at(1).into())));
        assert_eq!(interval.unknown, [at(2)]);
        let other = OtherId { board: Some(0), index: 0 };
        let longer = interval.clone().and([(other, 8.0)]);
        assert_eq!((longer.years, longer.limiting), (Some(7.5), Some(at(1).into())));
        let names = [at(1).into(), Place::Other(other), at(0).into()];
        assert_eq!(longer.shortest.iter().map(|(place, _)| *place).collect::<Vec<_>>(), names);
        let many = Interval::of((0..9).map(|n| (at(n), Some(9.0 - n as f64))));
        assert_eq!(many.shortest, [8, 7, 6, 5].map(|n| (at(n).into(), 9.0 - n as f64)));
        let shorter = interval.and([(other, 3.0)]);
        assert_eq!((shorter.years, shorter.limiting), (Some(3.0), Some(Place::Other(other))));
    }
}
