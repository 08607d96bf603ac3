//! Opening a job: from its file, or the demo.

use std::path::PathBuf;

use crate::app::work::Worker;
use crate::domain::Job;
use crate::files::{companions::Held, job_file::Stamp, load, load::Loaded, load::load_demo};

/// A job that was opened.
pub(crate) struct Opened {
    pub loaded: Loaded,
    pub path: Option<PathBuf>,
    /// What the file held when it was read.
    pub stamp: Option<Stamp>,
    /// For recovered work: the job as it is in its file.
    pub saved: Option<Job>,
    /// Catalogues that are in no file of the job.
    pub held: Held,
}

/// Opens a job file, or the demo when there is none.
pub(crate) fn load(loading: &Worker<Result<Opened, String>>, path: Option<PathBuf>) {
    let what = path.as_ref().map_or_else(|| "Opening the demo".to_owned(), |p| format!("Opening {}", p.display()));
    loading.request(what, move |progress| {
        // Before it is read: what comes in between is noticed at saving.
        let stamp = path.as_deref().and_then(Stamp::of_file);
        let loaded = match &path {
            Some(path) => load::open(path, progress),
            None => load_demo(),
        };
        loaded
            .map(|loaded| Opened { loaded, path, stamp, saved: None, held: Held::new() })
            .map_err(|error| error.to_string())
    });
}
