//! The work other threads do for the window besides that of the views, which have their own workers.

use crate::app::storage::{catalog_sources, opening::Opened, photo, saving::SaveDone};
use crate::app::work::{sizing::SizingWork, worker::AnyWorker, worker::Worker};

/// Work on other threads.
#[derive(Default)]
pub(crate) struct Workers {
    pub loading: Worker<Result<Opened, String>>,
    /// The job on its way to its file.
    pub saving: Worker<SaveDone>,
    /// The outcome of the job.
    pub sizing: SizingWork,
    pub photo: photo::Work,
    pub catalogs: catalog_sources::Work,
    /// Tables, pictures and sheets on their way to a file: what to say about each.
    pub exporting: Worker<Result<String, String>>,
    /// Drawings of the map on their way to a file: what to say about each.
    pub map: Worker<Result<String, String>>,
}

impl Workers {
    pub(crate) fn all(&self) -> impl Iterator<Item = &dyn AnyWorker> {
        let Self { loading, saving, sizing, photo, catalogs, exporting, map } = self;
        let all: [&dyn AnyWorker; 10] = [
            loading,
            saving,
            &sizing.sizing,
            &sizing.candidates,
            &photo.worker,
            exporting,
            map,
            &catalogs.parts,
            &catalogs.bringing,
            &catalogs.looking,
        ];
        all.into_iter()
    }
}
