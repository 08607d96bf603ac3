//! Saving a job without losing anybody's work: what stood there stays beside it as `….previous`, and a file that somebody
//! else changed meanwhile is noticed before it is replaced.

use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

pub use super::save::previous;
use super::save::{SaveError, save};
use super::{bounded, job};
use crate::domain::Job;
use crate::sizing::changed::Records;

/// The content of a file at one time, to notice that it changed since.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stamp {
    /// Bytes.
    len: u64,
    /// FNV-1a of 64 bits: the same in every version of the program, since recovery files and the names of mappings keep it.
    pub(super) fnv1a: u64,
}

impl Stamp {
    /// The stamp of a content.
    pub fn of(content: &[u8]) -> Self {
        Self { len: 0, fnv1a: 0xcbf2_9ce4_8422_2325 }.and(content)
    }

    fn and(self, more: &[u8]) -> Self {
        let step = |hash: u64, byte: &u8| (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
        Self { len: self.len + more.len() as u64, fnv1a: more.iter().fold(self.fnv1a, step) }
    }

    /// The stamp of everything that can be read.
    ///
    /// # Errors
    /// When it cannot be read to its end.
    pub fn of_reader(mut from: impl io::Read) -> io::Result<Self> {
        let mut stamp = Self::of(&[]);
        let mut buffer = vec![0; 1 << 16];
        loop {
            match from.read(&mut buffer)? {
                0 => return Ok(stamp),
                read => stamp = stamp.and(&buffer[..read]),
            }
        }
    }

    /// The stamp of the job file as it is now; `None` when there is none that can be read.
    pub fn of_file(path: &Path) -> Option<Self> {
        bounded::read(path, bounded::JOB_BYTES_MAX).ok().map(|content| Self::of(&content))
    }
}

/// What is thought to stand where a job is to be saved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Expect {
    /// The content that was read or written last.
    Known(Stamp),
    /// Nothing.
    Nothing,
    /// Whatever: the person said that it may be replaced.
    Anything,
}

/// A job was not saved; nothing on the disk changed.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum JobSaveError {
    /// The file is no longer what was read.
    #[error("{}: somebody else changed the file since it was opened", path.display())]
    Changed { path: PathBuf },
    /// There is a file already.
    #[error("{}: there is a file of this name already", path.display())]
    Occupied { path: PathBuf },
    /// It could not be written.
    #[error(transparent)]
    Failed(#[from] SaveError),
}

/// Saves a job whole or not at all, keeping what stood there as [`previous`], with what is known of the chosen parts, so that the next
/// opening can tell what changed; the stamp of what stands there now.
///
/// # Errors
/// When something unexpected stands there, or the file cannot be written.
pub fn save_job(path: &Path, job: &Job, as_saved: &Records, expected: Expect) -> Result<Stamp, JobSaveError> {
    // A link stays a link, and the file it leads to is replaced.
    let path = &path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let there = match bounded::read(path, bounded::JOB_BYTES_MAX) {
        Ok(content) => Some(content),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(source) => return Err(SaveError { path: path.clone(), source }.into()),
    };
    match (expected, &there) {
        (Expect::Known(stamp), Some(content)) if Stamp::of(content) != stamp => {
            return Err(JobSaveError::Changed { path: path.clone() });
        }
        (Expect::Nothing, Some(_)) => return Err(JobSaveError::Occupied { path: path.clone() }),
        _ => {}
    }
    let text = job::to_text_with(job, None, as_saved);
    // Saved twice, the previous version is still the one before.
    if let Some(content) = there.filter(|content| content != text.as_bytes()) {
        save(&previous(path), &content)?;
    }
    save(path, text.as_bytes())?;
    Ok(Stamp::of(text.as_bytes()))
}

#[cfg(test)]
#[path = "../../tests/within/job_file.rs"]
mod tests;
