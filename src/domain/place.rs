//! Where something is in a job, and what it is called.

use std::collections::HashSet;

use super::Job;

/// A position's place in its [`Job`](super::Job).
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PositionId {
    /// Index of the board.
    pub board: usize,
    /// Index of the position on the board.
    pub index: usize,
}

/// The place of another part or a test point in its [`Job`](super::Job).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OtherId {
    /// Index of the board; `None` for what belongs to the unit and to no board.
    pub board: Option<usize>,
    /// Index in the list there.
    pub index: usize,
}

/// A position, or another part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// A position with an electrolytic.
    Position(PositionId),
    /// Another part.
    Other(OtherId),
}

impl Place {
    /// Index of its board; `None` for what is on none.
    pub fn board(self) -> Option<usize> {
        match self {
            Self::Position(id) => Some(id.board),
            Self::Other(id) => id.board,
        }
    }
}

/// Names that tell the places of a job apart: a reference that stands on several boards comes with its board, as in `Servo C7`.
#[derive(Debug)]
pub struct Names<'a> {
    /// The job.
    pub job: &'a Job,
    on_several: HashSet<&'a str>,
}

impl<'a> Names<'a> {
    /// Looks every place of the job up once.
    pub fn of(job: &'a Job) -> Self {
        let positions = job.positions().map(|(id, _)| Place::from(id));
        let places = positions.chain(job.all_other_parts().map(|(id, _)| Place::from(id)));
        let mut known = std::collections::HashMap::new();
        let other_board = |place: Place| {
            let name = job.name_of(place);
            (*known.entry(name).or_insert(place.board()) != place.board()).then_some(name)
        };
        Self { job, on_several: places.filter_map(other_board).collect() }
    }

    /// The name of a place.
    pub fn name(&self, place: impl Into<Place>) -> String {
        let place = place.into();
        let name = self.job.name_of(place);
        if self.on_several.contains(name) { self.job.full_name(place) } else { name.to_owned() }
    }

    /// The names of places in a row; places the job does not have are left out.
    pub fn list<P: Copy + Into<Place>>(&self, places: &[P], between: &str) -> String {
        let names: Vec<String> = places.iter().map(|&at| self.name(at)).filter(|name| !name.is_empty()).collect();
        names.join(between)
    }
}

impl From<OtherId> for Place {
    fn from(id: OtherId) -> Self {
        Self::Other(id)
    }
}

impl From<PositionId> for Place {
    fn from(id: PositionId) -> Self {
        Self::Position(id)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Board, Position};

    #[test]
    fn a_reference_on_two_boards_comes_with_its_board() {
        let board = |name: &str, references: &[&str]| Board {
            name: name.into(),
            positions: references.iter().map(|&of| Position { reference: of.into(), ..Position::default() }).collect(),
            ..Board::default()
        };
        let job = Job { boards: vec![board("A", &["C1", "C2"]), board("B", &["C1", "C3"])], ..Job::default() };
        let all: Vec<PositionId> = job.positions().map(|(id, _)| id).collect();
        assert_eq!(Names::of(&job).list(&all, ", "), "A C1, C2, B C1, C3");
    }
}
