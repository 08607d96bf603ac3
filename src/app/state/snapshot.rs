//! What the worker found out: unchanging, shared, and marked with the job and the parts it was found out for.

use std::sync::Arc;

use crate::app::state::selection::Candidate;
use crate::domain::{Can, Catalog, Job, Position};
use crate::sizing::{CatalogIndex, Sizing};

/// A sized job.
#[derive(Debug, Clone, Default)]
pub(crate) struct Snapshot {
    /// The job it was sized for.
    pub job: Arc<Job>,
    /// The parts it was sized with.
    pub catalog_index: Arc<CatalogIndex>,
    /// What came out.
    pub sizing: Sizing,
}

/// The figures of a candidate.
pub(crate) fn can_of(candidate: Candidate, position: &Position, catalog: &Catalog) -> Can {
    match candidate {
        Candidate::Original => position.original.can.clone(),
        Candidate::Part(id) => catalog.can(id),
    }
}
