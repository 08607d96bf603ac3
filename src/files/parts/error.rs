//! What a catalogue cannot do without, and why a file is none.

use std::path::PathBuf;

use crate::files::canonical::{List, ListError};
use crate::files::import::SourceError;

pub(super) const CATALOGUE: List =
    List { name: "a catalogue", required: &["part_number", "capacitance_uf", "rated_v"] };

/// A catalogue file could not be used at all.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum PartsError {
    /// Read as a file with canonical headers.
    #[error(transparent)]
    List(#[from] ListError),
    /// A file without canonical headers for which no mapping is known.
    #[error(
        "{}: the headers are not those of a catalogue (part_number, capacitance_uf, rated_v), and no mapping fits; \
         run `refarad read` on it first, or give its mapping by --map",
        path.display()
    )]
    NoMapping { path: PathBuf },
    /// Nobody waits for it any more.
    #[error("the reading of the catalogue was stopped")]
    Stopped,
    /// A file without canonical headers is no table at all.
    #[error(transparent)]
    NoTable(#[from] SourceError),
}
