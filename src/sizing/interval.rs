//! How long a board lasts: as long as its first position or other part.

use super::reasons::figure;
use crate::domain::{Job, Place, PositionId};

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
    /// What wears in years that are not known: the board may last shorter than `years`.
    pub unknown: Vec<Place>,
}

impl Interval {
    /// From the calendar years of positions and other parts.
    pub fn of<P: Into<Place>>(places: impl IntoIterator<Item = (P, Option<f64>)>) -> Self {
        Self::default().and(places)
    }

    /// With the calendar years of more of them.
    #[must_use]
    pub fn and<P: Into<Place>>(mut self, places: impl IntoIterator<Item = (P, Option<f64>)>) -> Self {
        for (place, years) in places {
            match years {
                None => self.unknown.push(place.into()),
                Some(years) => self.take(place.into(), years),
            }
        }
        self
    }

    /// In words, after the name of the board: `lasts at most 8.3 years, limited by C7; life not known at C4`.
    pub fn told(&self, job: &Job) -> String {
        // Of several boards together a reference alone may be that of any.
        let places = self.shortest.iter().map(|(place, _)| place).chain(&self.unknown);
        let mut boards = places.filter_map(|place| place.board());
        let first = boards.next();
        let several = boards.any(|board| Some(board) != first);
        let name = |place: Place| if several { job.full_name(place) } else { job.name_of(place).to_owned() };
        let unknown = match self.unknown.as_slice() {
            [] => String::new(),
            few if few.len() <= SHOWN => {
                format!("; life not known at {}", few.iter().map(|&place| name(place)).collect::<Vec<_>>().join(", "))
            }
            more => {
                let positions = more.iter().filter(|place| matches!(place, Place::Position(_))).count();
                let counts = [(positions, "position"), (more.len() - positions, "other part")];
                let counts = counts.into_iter().filter(|(count, _)| *count > 0);
                let told = counts.map(|(count, what)| format!("{count} {what}{}", if count == 1 { "" } else { "s" }));
                format!("; life not known at {}", told.collect::<Vec<_>>().join(" and "))
            }
        };
        match (self.years, self.limiting) {
            (Some(years), Some(limiting)) => {
                let at_most = if unknown.is_empty() { "" } else { "at most " };
                format!("lasts {at_most}{} years, limited by {}{unknown}", figure(years), name(limiting))
            }
            _ if unknown.is_empty() => "has no positions yet".to_owned(),
            _ => "lasts an unknown time".to_owned() + &unknown,
        }
    }

    /// The position that limits; `None` where another part does, or nothing is known.
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
    use crate::domain::{Board, OtherId, Position};

    #[test]
    fn the_first_to_fail_limits_the_board_and_unknown_positions_are_named() {
        let at = |index| PositionId { board: 0, index };
        let interval = Interval::of([(at(0), Some(12.0)), (at(1), Some(7.5)), (at(2), None)]);
        assert_eq!((interval.years, interval.limiting), (Some(7.5), Some(at(1).into())));
        assert_eq!(interval.unknown, [at(2).into()]);
        let other = OtherId { board: Some(0), index: 0 };
        let longer = interval.clone().and([(other, Some(8.0))]);
        assert_eq!((longer.years, longer.limiting), (Some(7.5), Some(at(1).into())));
        let names = [at(1).into(), Place::Other(other), at(0).into()];
        assert_eq!(longer.shortest.iter().map(|(place, _)| *place).collect::<Vec<_>>(), names);
        let many = Interval::of((0..9).map(|n| (at(n), Some(9.0 - n as f64))));
        let position = |n| Position { reference: format!("C{n}"), ..Position::default() };
        let board = Board { positions: (1..4).map(position).collect(), ..Board::default() };
        let job = Job { boards: vec![board], ..Job::default() };
        assert_eq!(interval.told(&job), "lasts at most 7.5 years, limited by C2; life not known at C3");
        assert_eq!(many.shortest, [8, 7, 6, 5].map(|n| (at(n).into(), 9.0 - n as f64)));
        let shorter = interval.and([(other, Some(3.0))]);
        assert_eq!((shorter.years, shorter.limiting), (Some(3.0), Some(Place::Other(other))));
    }
}
