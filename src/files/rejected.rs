//! What of a list was not used.

use std::path::{Path, PathBuf};

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

impl Rejected {
    /// What stands there, and why it was not used.
    pub(in crate::files) fn new(file: &Path, line: u64, field: &str, value: &str, reason: impl Into<String>) -> Self {
        Self { file: file.to_owned(), line, field: field.to_owned(), value: value.to_owned(), reason: reason.into() }
    }
}
