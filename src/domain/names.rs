//! What the places of a job are called where several boards are told together.

use std::collections::HashSet;

use super::job::Job;
use super::place::Place;

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Board, Position, PositionId};

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
