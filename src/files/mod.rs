//! Readers and writers: job file, catalogue, exports, the built-in demo.

pub mod cell;
pub mod demo;
pub mod designators;
pub mod export;
pub mod fields;
pub mod job;
pub mod load;
mod notation;
pub mod parts;
pub mod paste;
mod save;
pub mod table;

pub use notation::{neutral_text, number};
pub use save::{SaveError, save};

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
