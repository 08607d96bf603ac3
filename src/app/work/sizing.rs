//! The sizing of the job and the candidates of the selected position, on threads of their own.

use std::sync::Arc;

use crate::app::state::{Candidates, Session, Snapshot};
use crate::app::work::worker::{AnyWorker, Worker, in_front};
use crate::domain::{Job, PositionId};
use crate::sizing::{self, CatalogIndex};

/// What is sized, and what was asked for last.
#[derive(Default)]
pub(crate) struct SizingWork {
    /// The outcome of the whole job; nothing when it was cancelled.
    pub sizing: Worker<Option<Snapshot>>,
    /// The candidates of the selected position with the job they belong to; nothing when cancelled.
    pub candidates: Worker<Option<(Arc<Job>, Arc<Candidates>)>>,
    asked: Option<(Arc<Job>, Arc<CatalogIndex>, Option<PositionId>)>,
    /// The job changed, and its sizing is still to be asked for.
    sizing_is_due: bool,
}

impl SizingWork {
    /// Takes what came out; whether the job is sized anew.
    pub(crate) fn poll(&self, session: &mut Session) -> bool {
        if let Some(candidates) = session.arrived(self.candidates.take()) {
            session.candidates = candidates;
        }
        match session.arrived(self.sizing.take()) {
            Some(Some(snapshot)) => session.snapshot = Arc::new(snapshot),
            _ => return false,
        }
        true
    }

    /// Asks for the sizing of a changed job and for the candidates of a changed selection.
    pub(crate) fn request(&mut self, session: &Session) {
        let (job, catalog_index) = (session.job().clone(), session.catalog_index.clone());
        let position = session.selection.position;
        let (known_job, known_position) = match &self.asked {
            Some((known, parts, position)) => {
                (Arc::ptr_eq(known, &job) && Arc::ptr_eq(parts, &catalog_index), *position)
            }
            None => (false, None),
        };
        if !known_job {
            self.sizing.cancel();
            self.candidates.cancel();
            self.sizing_is_due = true;
        }
        if !known_job || known_position != position {
            self.asked = Some((job.clone(), catalog_index.clone(), position));
            if let Some(position) = position {
                let (job, catalog_index) = (job.clone(), catalog_index.clone());
                self.candidates.request("Checking the candidates", move |progress| {
                    let candidates = in_front(|| Candidates::of(&job, &catalog_index, position, progress))?;
                    Some((job, Arc::new(candidates)))
                });
            }
        }
        // What is looked at comes first.
        if self.sizing_is_due && self.candidates.busy().is_none() {
            self.sizing_is_due = false;
            self.sizing.request("Sizing the job", move |progress| {
                let sizing = sizing::size_watched(&job, &catalog_index, progress)?;
                Some(Snapshot { job, catalog_index, sizing })
            });
        }
    }
}
