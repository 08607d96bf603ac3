//! What the worker found out: unchanging, shared, and marked with the job and the parts it was found out for.

use std::ops::Deref;
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

/// Something shared, which equals itself alone: what was worked out for it holds as long as it is still that one.
#[derive(Debug, Default)]
pub(crate) struct Same<T>(pub Arc<T>);

impl<T> PartialEq for Same<T> {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<T> Clone for Same<T> {
    fn clone(&self) -> Self {
        Self(self.0.clone())
    }
}

impl<T> Deref for Same<T> {
    type Target = Arc<T>;

    fn deref(&self) -> &Arc<T> {
        &self.0
    }
}
