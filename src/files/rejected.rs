//! What of a list was not used.

use std::path::PathBuf;

/// A row or cell that was not used, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rejected {
    /// File it stands in.
    pub file: PathBuf,
    /// Line in the file, from 1.
    pub line: u64,
    /// Field or column.
    pub field: String,
    /// What stands there.
    pub value: String,
    /// Why it was not used.
    pub reason: String,
}
