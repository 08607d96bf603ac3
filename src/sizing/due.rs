//! When a rebuilt unit has to come back.

use super::size::{PositionSizing, Sizing};
use crate::domain::{Date, Job, Place};

/// The time until the next rebuild, and what sets it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Due {
    /// Years from the rebuild; `None` when neither the job nor any part says.
    pub years: Option<f64>,
    /// What is used up before the interval of the job ends; `None` when the interval decides.
    pub limited_by: Option<Place>,
    /// Positions and other parts whose life is not known: the unit may have to come back sooner.
    pub unknown: Vec<Place>,
}

impl Due {
    /// The next rebuild of a job as chosen: its interval, or the life of the first part to go where that is shorter.
    pub fn of(job: &Job, sizing: &Sizing) -> Self {
        let parts = sizing.interval(None, PositionSizing::chosen_years);
        let (years, limited_by) = match (job.interval_years, parts.years) {
            (Some(planned), Some(years)) if years < planned => (Some(years), parts.limiting),
            (Some(planned), _) => (Some(planned), None),
            (None, years) => (years, parts.limiting),
        };
        Self { years, limited_by, unknown: parts.unknown }
    }

    /// The day it is due when the rebuild is done on `done`.
    pub fn date(&self, done: Date) -> Option<Date> {
        done.plus_years(self.years?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Outcome, PositionId};
    use crate::sizing::{Choice, Evaluation, Figures, Ranked, Source};

    fn sizing(years: &[Option<f64>]) -> Sizing {
        let position = |(index, years): (usize, &Option<f64>)| {
            let figures = Figures { calendar_years: *years, ..Figures::default() };
            let evaluation = Evaluation { figures, ..Evaluation::default() };
            let part =
                Ranked { id: crate::domain::PartId(0), evaluation, price: None, cost: None, offer: None, excess: None };
            PositionSizing {
                id: PositionId { board: 0, index },
                original: Evaluation::default(),
                best: Vec::new(),
                failing: Some([0; crate::domain::Check::ALL.len()]),
                choice: Choice { source: Source::Pick, part: Some(part), verdict: Outcome::Pass },
                needs: Vec::new(),
            }
        };
        Sizing { positions: years.iter().enumerate().map(position).collect(), ..Sizing::default() }
    }

    #[test]
    fn the_shorter_of_interval_and_first_part_decides() {
        let job = |years| Job { interval_years: years, ..Job::default() };
        let due = Due::of(&job(Some(10.0)), &sizing(&[Some(12.0), None]));
        assert_eq!((due.years, due.limited_by, due.unknown.len()), (Some(10.0), None, 1));
        let due = Due::of(&job(Some(10.0)), &sizing(&[Some(12.0), Some(8.5)]));
        assert_eq!((due.years, due.limited_by), (Some(8.5), Some(PositionId { board: 0, index: 1 }.into())));
        assert_eq!(due.date("2026-11-25".parse().unwrap()), "2035-05-26".parse().ok());
        assert_eq!(Due::of(&job(None), &sizing(&[None])).years, None);
    }
}
