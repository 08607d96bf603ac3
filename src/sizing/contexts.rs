//! Many positions of one job made ready: the cans of each board are looked up once for all of them.

use std::sync::Arc;

use super::market::Market;
use super::neighbours::Surroundings;
use super::position_context::PositionContext;
use crate::domain::{Catalog, Job, PositionId};

/// The positions of a job, each made ready when it is asked for.
#[derive(Debug)]
pub struct Contexts<'a> {
    job: &'a Job,
    boards: Vec<Surroundings<'a>>,
    market: Arc<Market<'a>>,
}

impl<'a> Contexts<'a> {
    /// Looks up the cans of every board.
    pub fn new(job: &'a Job, catalog: &Catalog) -> Self {
        let boards = job.boards.iter().map(|board| Surroundings::of(board, catalog));
        Self { job, boards: boards.collect(), market: Arc::new(Market::of(job, catalog)) }
    }

    /// The job.
    pub fn job(&self) -> &'a Job {
        self.job
    }

    /// The position at `id`; `None` when the job has no such position.
    pub fn at(&self, id: PositionId) -> Option<PositionContext<'a>> {
        PositionContext::among(self.boards.get(id.board)?.around(id.index), self.market.clone(), self.job, id)
    }
}
