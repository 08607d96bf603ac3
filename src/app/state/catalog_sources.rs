//! What is known of the catalogues the job names.

use std::path::{Path, PathBuf};

use crate::domain::Job;
use crate::files::{companions, companions::Held};

/// What is known of the job's catalogues.
#[derive(Debug, Clone)]
pub(crate) struct CatalogSources {
    /// Catalogues that may not lie beside the job yet.
    pub held: Held,
    /// The names the parts at hand were asked for by; `None` when they are to be read anew.
    pub asked: Option<Vec<String>>,
    /// The catalogues there are, used or not, as they were looked at last.
    pub listed: Vec<CatalogInfo>,
    /// Names the person took off the list; one the job names is on it all the same.
    pub removed: Vec<String>,
}

/// A catalogue on the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct CatalogInfo {
    /// What the job calls it.
    pub name: String,
    /// Its file; `None` while it is only held until the job is saved.
    pub path: Option<PathBuf>,
    /// Its parts: rows under the header.
    pub parts: usize,
    /// Day it was changed last, as `2026-10-02`.
    pub changed: Option<String>,
    /// Whether it says that its parts are invented.
    pub invented: bool,
}

/// There are none, and none are to be read.
impl Default for CatalogSources {
    fn default() -> Self {
        Self::of(&[], Held::new())
    }
}

impl CatalogSources {
    /// The parts at hand are those of these names.
    pub(crate) fn of(names: &[String], held: Held) -> Self {
        Self { held, asked: Some(names.to_vec()), listed: Vec::new(), removed: Vec::new() }
    }

    /// Whether a catalogue that the job names does not lie beside its file yet.
    pub(crate) fn is_only_held(&self, job: &Job, path: &Path) -> bool {
        let lies = |name: &String| companions::inside(path, name).is_some_and(|path| path.exists());
        job.catalogs.iter().any(|name| self.held.contains_key(name) && !lies(name))
    }
}
