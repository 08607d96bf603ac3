//! What of a list was not used.

use std::path::{Path, PathBuf};

/// What kind of reason keeps a row or cell from being used.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Unused {
    /// It cannot be read, or says what cannot be.
    #[default]
    Faulty,
    /// It is about something else.
    Skipped,
    /// Nobody can tell what it is about.
    Unclear,
}

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
    /// What kind of reason that is.
    pub unused: Unused,
}

impl Rejected {
    /// What stands there, and why it was not used.
    pub fn new(file: &Path, line: u64, field: &str, value: &str, reason: impl Into<String>) -> Self {
        let (file, field, value) = (file.to_owned(), field.to_owned(), value.to_owned());
        Self { file, line, field, value, reason: reason.into(), unused: Unused::Faulty }
    }
}
