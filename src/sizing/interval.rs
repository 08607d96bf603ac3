//! How long a board lasts: as long as its first position.

use crate::domain::PositionId;

/// Years until the first of several positions is used up.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Interval {
    /// Least calendar years over the positions that are known; `None` when none is.
    pub years: Option<f64>,
    /// The position with those years.
    pub limiting: Option<PositionId>,
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
                Some(years) if interval.years.is_none_or(|least| years < least) => {
                    interval.years = Some(years);
                    interval.limiting = Some(id);
                }
                Some(_) => {}
            }
        }
        interval
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_to_fail_limits_the_board_and_unknown_positions_are_named() {
        let at = |index| PositionId { board: 0, index };
        let interval = Interval::of([(at(0), Some(12.0)), (at(1), Some(7.5)), (at(2), None)]);
        assert_eq!((interval.years, interval.limiting), (Some(7.5), Some(at(1))));
        assert_eq!(interval.unknown, [at(2)]);
    }
}
