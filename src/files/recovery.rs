//! Work that is not saved yet, kept in a folder of the desktop against crashes and power cuts; never over the job itself.
//!
//! A recovery file is a job file with one more field, `recovery`: what it belongs to and since when. Beside it lies a file
//! that the running program holds locked; the lock goes with the program, however it ends. Parts that no file of the job has
//! lie beside it as a catalogue.

use std::fs::{File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{SystemTime, UNIX_EPOCH};

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::job_check::Fault;
use super::job_file::Stamp;
use super::save::{SaveError, save, set_aside};
use super::{demo, job, parts_writer};
use crate::domain::{Catalog, Date, Job};
use crate::sizing::CatalogIndex;
use crate::sizing::changed::Records;

const FIELD: &str = "recovery";

/// What a recovered job belongs to.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Origin {
    /// The job file; absent for the demo and a job never saved.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub job_file: Option<PathBuf>,
    /// What stood in the job file when the work began.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stamp: Option<Stamp>,
    /// The job file is of a later version and must not be overwritten.
    pub newer: bool,
    /// When it was kept, seconds since 1970.
    pub kept_unix_s: u64,
}

impl Origin {
    /// When it was kept, in words: `2026-11-25 13:05 UTC`.
    pub fn kept_at(&self) -> String {
        let days = i64::try_from(self.kept_unix_s / 86_400).ok().and_then(Date::from_days);
        let minute = self.kept_unix_s % 86_400 / 60;
        let day = days.map_or_else(|| "an unknown day".to_owned(), |day| day.to_string());
        format!("{day} {:02}:{:02} UTC", minute / 60, minute % 60)
    }
}

/// The recovery file of a running program. Nothing is on the disk before the first [`write`](Self::write).
#[derive(Debug)]
pub struct Recovery {
    folder: PathBuf,
    held: Mutex<Option<Held>>,
}

#[derive(Debug)]
struct Held {
    path: PathBuf,
    /// The parts that lie beside it, or that need not because the demo has them.
    parts: Option<Arc<CatalogIndex>>,
    _lock: File,
}

impl Recovery {
    /// Recovery in `folder`, which is made when it is needed.
    pub fn in_folder(folder: &Path) -> Self {
        Self { folder: folder.to_owned(), held: Mutex::new(None) }
    }

    /// Keeps `job`, instead of what was kept before, and `parts` where no file of the job has them.
    ///
    /// # Errors
    /// When the file cannot be written; what was kept before is then still there.
    pub fn write(&self, job: &Job, origin: &Origin, parts: Option<&Arc<CatalogIndex>>) -> Result<(), SaveError> {
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        if held.is_none() {
            *held = Some(hold(&self.folder).map_err(|source| SaveError { path: self.folder.clone(), source })?);
        }
        let Some(held) = held.as_mut() else { return Ok(()) };
        held.keep_parts(parts)?;
        let now = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
        let origin = Origin { kept_unix_s: now, ..origin.clone() };
        let origin = serde_json::to_value(origin).unwrap_or_default();
        save(&held.path, job::to_text_with(job, Some((FIELD, origin)), &Records::new()).as_bytes())
    }

    /// Removes what is kept: it is saved, or not wanted.
    pub fn clear(&self) {
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(Held { path, .. }) = held.take() {
            remove(&path);
        }
    }
}

impl Held {
    /// Parts are written when they are others than before, not with every change of the job.
    fn keep_parts(&mut self, parts: Option<&Arc<CatalogIndex>>) -> Result<(), SaveError> {
        if self.parts.as_ref().map(Arc::as_ptr) == parts.map(Arc::as_ptr) {
            return Ok(());
        }
        let path = parts_of(&self.path);
        match parts.filter(|catalog_index| !is_demo(catalog_index.catalog())) {
            Some(catalog_index) => {
                let content = parts_writer::whole(catalog_index.catalog());
                save(&path, &content.map_err(|source| SaveError { path: path.clone(), source })?)?;
            }
            None if path.exists() => std::fs::remove_file(&path).map_err(|source| SaveError { path, source })?,
            None => {}
        }
        self.parts = parts.cloned();
        Ok(())
    }
}

/// Whether these are the parts of the built-in demo, in whatever order.
fn is_demo(catalog: &Catalog) -> bool {
    demo::parts().is_ok_and(|own| {
        let own = own.catalog;
        let there = |id| catalog.find(own.part_number(id)).is_some_and(|at| catalog.part(at) == own.part(id));
        own.len() == catalog.len() && own.ids().all(there)
    })
}

/// A new pair of files, the lock held.
fn hold(folder: &Path) -> io::Result<Held> {
    std::fs::create_dir_all(folder)?;
    let since = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_millis());
    for n in 0..100u32 {
        let path = folder.join(format!("{since}-{}-{n}.json", std::process::id()));
        match File::create_new(lock_of(&path)) {
            Ok(lock) => {
                // Not every file system knows locks; the work is kept all the same.
                let _ = lock.try_lock();
                return Ok(Held { path, parts: None, _lock: lock });
            }
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(error),
        }
    }
    Err(io::Error::other("no free name"))
}

fn lock_of(path: &Path) -> PathBuf {
    path.with_extension("lock")
}

fn parts_of(path: &Path) -> PathBuf {
    path.with_extension("parts.csv")
}

fn remove(path: &Path) {
    // What cannot be removed is offered once more; that loses nothing.
    let _ = std::fs::remove_file(path);
    let _ = std::fs::remove_file(parts_of(path));
    let _ = std::fs::remove_file(lock_of(path));
}

/// Work that a program left behind when it ended without a farewell. Held, so that no other program offers it.
#[derive(Debug)]
pub struct LeftBehind {
    path: PathBuf,
    _lock: Option<File>,
    /// The job as it was.
    pub job: Job,
    /// What it belongs to.
    pub origin: Origin,
    /// A catalogue with its parts, where no file of the job has them.
    pub parts: Option<PathBuf>,
}

impl LeftBehind {
    /// Removes it from the disk.
    pub fn remove(self) {
        remove(&self.path);
    }
}

/// Everything left behind in `folder`, oldest first, and a sentence for each file that cannot be used.
pub fn left_behind(folder: &Path) -> (Vec<LeftBehind>, Vec<String>) {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let (mut found, mut faults) = (Vec::new(), Vec::new());
    let mut locks: Vec<PathBuf> =
        entries.map(|entry| entry.path()).filter(|path| path.extension().is_some_and(|kind| kind == "lock")).collect();
    locks.sort();
    for lock_path in locks {
        let path = lock_path.with_extension("json");
        let lock = match File::options().read(true).write(true).open(&lock_path) {
            Ok(lock) if held_by_another(&lock) => continue,
            Ok(lock) => Some(lock),
            Err(_) => None,
        };
        if !path.exists() {
            remove(&path);
            continue;
        }
        match read(&path) {
            Ok((job, origin, unusable)) => {
                faults.extend(unusable.iter().map(|fault| format!("Unsaved work: {fault}; it is unknown now.")));
                let parts = Some(parts_of(&path)).filter(|parts| parts.exists());
                found.push(LeftBehind { path, _lock: lock, job, origin, parts });
            }
            Err(error) => {
                let aside = put_aside(&path)
                    .map_or_else(|_| String::new(), |aside| format!("; it is kept as {}", aside.display()));
                faults.push(format!("Unsaved work could not be recovered. {error}{aside}"));
            }
        }
    }
    found.sort_by_key(|left| left.origin.kept_unix_s);
    (found, faults)
}

/// Whether a program that still runs holds the lock; else it is ours now, where the file system knows locks. A process that is just
/// being started holds a copy of every lock for a moment, so the question is asked a few times.
fn held_by_another(lock: &File) -> bool {
    const TRIES: u32 = 20;
    for left in (0..TRIES).rev() {
        if !matches!(lock.try_lock(), Err(TryLockError::WouldBlock)) {
            return false;
        }
        if left > 0 {
            std::thread::sleep(std::time::Duration::from_millis(10));
        }
    }
    true
}

/// Keeps a recovery file that cannot be used, and its parts, under names that nothing writes or removes.
fn put_aside(path: &Path) -> io::Result<PathBuf> {
    if parts_of(path).exists() {
        set_aside(&parts_of(path))?;
    }
    let aside = set_aside(path)?;
    let _ = std::fs::remove_file(lock_of(path));
    Ok(aside)
}

fn read(path: &Path) -> Result<(Job, Origin, Vec<Fault>), job::JobError> {
    let (read, faults) = job::read_usable(path)?;
    let mut job = read.job;
    let origin = job.extra.shift_remove(FIELD).unwrap_or(Value::Null);
    Ok((job, serde_json::from_value(origin).unwrap_or_default(), faults))
}
