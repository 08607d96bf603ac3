//! What the program remembers of the files it wrote: place and stamp, so that a file that was changed since is known.

use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};

use serde_json::{Map, Value};

use super::bounded;
use super::job_file::Stamp;
use super::save::{folder_of, save};

/// The oldest are forgotten beyond this many.
const MOST: usize = 2000;
/// Far more than that many take.
const BYTES_MAX: u64 = 16 << 20;

/// The memory in a folder of the desktop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    folder: PathBuf,
}

impl Written {
    /// The memory of this person; `None` when the person has no home.
    pub fn of_person() -> Option<Self> {
        directories::ProjectDirs::from("", "", "refarad").map(|own| Self::in_folder(own.data_local_dir()))
    }

    /// A memory in `folder`, which is made when it is needed.
    pub fn in_folder(folder: &Path) -> Self {
        Self { folder: folder.to_owned() }
    }

    /// Everything that is remembered.
    pub fn recall(&self) -> Recalled {
        let bytes = bounded::read(&self.file(), BYTES_MAX).unwrap_or_default();
        Recalled(serde_json::from_slice(&bytes).unwrap_or_default())
    }

    /// Remembers files that are about to be written, each with the stamp of what the program itself wrote there before, if that
    /// still stands there: a program that is killed between leaves one or the other.
    ///
    /// # Errors
    /// When the folder cannot be written.
    pub fn remember<'a>(&self, files: impl Iterator<Item = (&'a Path, Option<Stamp>, Stamp)>) -> io::Result<()> {
        std::fs::create_dir_all(&self.folder)?;
        // Two programs that write at one time remember both; not every file system knows locks.
        let lock = File::create(self.folder.join("written.lock"))?;
        let _ = lock.lock();
        let mut all = self.recall().0;
        for (path, before, stamp) in files {
            let Some(name) = name_of(path) else { continue };
            all.shift_remove(&name);
            let both: Vec<Stamp> = before.into_iter().chain([stamp]).collect();
            // The latest stands last.
            all.insert(name, serde_json::to_value(both)?);
        }
        let surplus = all.len().saturating_sub(MOST);
        let latest: Map<String, Value> = all.into_iter().skip(surplus).collect();
        save(&self.file(), &serde_json::to_vec(&latest)?).map_err(|error| error.source)
    }

    fn file(&self) -> PathBuf {
        self.folder.join("written.json")
    }
}

/// What is remembered at one time.
#[derive(Debug, Clone, Default)]
pub struct Recalled(Map<String, Value>);

impl Recalled {
    /// The stamps of what the program wrote last at `path` and of what it was about to replace; nothing when it never wrote
    /// there.
    pub fn stamps_of(&self, path: &Path) -> Vec<Stamp> {
        let known = name_of(path).and_then(|name| self.0.get(&name).cloned());
        known.and_then(|stamps| serde_json::from_value(stamps).ok()).unwrap_or_default()
    }
}

/// The place of a file, by whatever way its folder was named.
fn name_of(path: &Path) -> Option<String> {
    let folder = folder_of(path).canonicalize().ok()?;
    Some(folder.join(path.file_name()?).to_string_lossy().into_owned())
}

#[cfg(test)]
#[path = "../../tests/within/written.rs"]
mod tests;
