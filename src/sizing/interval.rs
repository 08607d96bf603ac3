//! How long a board lasts: as long as its first position or other part.

use crate::domain::{OtherId, Place, PositionId};

/// Years until the first of several positions and other parts is used up.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Interval {
    /// Least calendar years over what is known; `None` when none is.
    pub years: Option<f64>,
    /// What has those years.
    pub limiting: Option<Place>,
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
        if self.years.is_none_or(|least| years < least) {
            (self.years, self.limiting) = (Some(years), Some(place));
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
        assert_eq!(interval.clone().and([(other, 8.0)]), interval);
        let shorter = interval.and([(other, 3.0)]);
        assert_eq!((shorter.years, shorter.limiting), (Some(3.0), Some(Place::Other(other))));
    }
}
