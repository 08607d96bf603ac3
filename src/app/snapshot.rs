//! What the worker found out: unchanging, shared, and marked with the job it was found out for.

use std::sync::Arc;

use super::selection::Candidate;
use crate::domain::{Can, Catalog, Job, PartId, Position, PositionId};
use crate::sizing::{self, Market, Place, Ranked, Sizing};

/// A sized job.
#[derive(Debug, Clone, Default)]
pub(crate) struct Snapshot {
    /// The job it was sized for.
    pub job: Arc<Job>,
    /// What came out.
    pub sizing: Sizing,
}

/// Every part worth looking at for one position, best first.
#[derive(Debug, Clone, Default)]
pub(crate) struct Candidates {
    /// The position.
    pub position: PositionId,
    /// The parts that are not ruled out at a glance, best first.
    pub rows: Vec<Ranked>,
    /// How many were ruled out by capacitance, working voltage, mounting or body.
    pub ruled_out: usize,
}

impl Candidates {
    /// Checks every part of the market at a position; `None` when the job has no such position.
    pub(crate) fn of(job: &Job, market: &Market, position: PositionId) -> Option<Self> {
        use rayon::slice::ParallelSliceMut;
        let catalog = market.catalog();
        let place = Place::new(job, catalog, position)?;
        let admitted = market.admitted(&place);
        let mut rows = sizing::evaluate_all(&place, catalog, &admitted);
        rows.par_sort_unstable_by(|a, b| sizing::better(catalog, a, b));
        Some(Self { position, rows, ruled_out: catalog.len() - admitted.len() })
    }

    /// The row of a part.
    pub(crate) fn row(&self, id: PartId) -> Option<&Ranked> {
        self.rows.iter().find(|row| row.id == id)
    }
}

/// The figures of a candidate.
pub(crate) fn can_of(candidate: Candidate, position: &Position, catalog: &Catalog) -> Can {
    match candidate {
        Candidate::Original => position.original.can.clone(),
        Candidate::Part(id) => catalog.can(id),
    }
}
