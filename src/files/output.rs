//! The one rule by which the program writes files for a person, alone or as a set.
//!
//! A file is replaced unasked only when the program wrote it and nobody changed it since. That is known from what it remembers
//! of its writings on this machine ([`Written`]); of a file it does not remember, from how the file begins. A file that was read
//! for this work, a job that somebody worked on, a record of units, and every other file stays unless the person said that it may be replaced; then
//! the version before is kept beside it. Links, devices, pipes and folders are never replaced. A set is written as a
//! whole: before the first file is put in its place, all of them are on the disk.

use std::collections::{BTreeSet, HashSet};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use tempfile::TempPath;

use super::companions::same_file;
use super::job_file::Stamp;
use super::save::{SaveError, folder_of, keep_previous, put_in_place, stage, unfinished};
use super::written::{Recalled, Written};
use super::{bounded, parts};

/// Whether a file that stands in the way may be replaced.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Replace {
    /// Only one that holds the same already.
    Same,
    /// One that the program wrote and nobody changed since.
    Own,
    /// Any file that was not read for this work, no job and no record: the person was asked about this very file.
    Asked,
}

/// Why a file is not replaced.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// A folder.
    #[error("is a folder")]
    Folder,
    /// A symbolic link.
    #[error("is a link, which is not written through; name the file itself")]
    Link,
    /// A device, a pipe or the like.
    #[error("is no ordinary file")]
    Special,
    /// Two files of a set have one place.
    #[error("would be written twice")]
    Twice,
    /// It was read for this work.
    #[error("was read for this work, so it is not replaced")]
    Input,
    /// A job.
    #[error("is a job that differs, so it is not replaced")]
    Job,
    /// A record of units.
    #[error("is the record of the units, so it is not replaced")]
    Record,
    /// Not written by this program, or changed since.
    #[error("was not written by this program or was changed since, so it is not replaced")]
    Foreign,
}

/// Why a set was not written; nothing on the disk changed.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum OutputError {
    /// A file stands in the way.
    #[error("{}: {why}", path.display())]
    Refused { path: PathBuf, why: Refusal },
    /// The disk or the system said no.
    #[error(transparent)]
    Failed(#[from] SaveError),
}

impl OutputError {
    /// Whether the file would be replaced if the person said so.
    pub fn can_be_overruled(&self) -> bool {
        use Refusal::{Foreign, Input, Job, Record};
        matches!(self, Self::Refused { why: Input | Job | Record | Foreign, .. })
    }
}

/// Files to be written together.
#[derive(Debug, Default)]
pub struct Outputs {
    files: Vec<(PathBuf, Vec<u8>, Replace)>,
    inputs: Vec<PathBuf>,
    overwrite: bool,
    memory: Option<Written>,
}

/// Writes a file whose place the person chose in a window that asks before a file is replaced.
///
/// # Errors
/// In words, why it is not written.
pub fn asked(path: &Path, content: Vec<u8>) -> Result<(), String> {
    let mut outputs = Outputs::new(Vec::new(), false);
    outputs.add(path.to_owned(), content, Replace::Asked);
    outputs.write().map(|_| ()).map_err(|error| error.to_string())
}

/// What is done about one file.
enum Step {
    /// It holds the same already.
    Leave,
    Create,
    Replace {
        keep: bool,
        /// What stands there, when the program wrote it.
        own: Option<Stamp>,
    },
}

impl Outputs {
    /// A set of which none may replace any of `inputs`. With `overwrite` the person said that everything but links, special
    /// files and folders may be replaced.
    pub fn new(inputs: Vec<PathBuf>, overwrite: bool) -> Self {
        Self { files: Vec::new(), inputs, overwrite, memory: Written::of_person() }
    }

    /// The same with another memory of what the program wrote.
    #[must_use]
    pub fn remembering(self, memory: Option<Written>) -> Self {
        Self { memory, ..self }
    }

    /// Adds a file.
    pub fn add(&mut self, path: PathBuf, content: impl Into<Vec<u8>>, replace: Replace) {
        self.files.push((path, content.into(), replace));
    }

    /// Adds a table that `fill` makes.
    ///
    /// # Errors
    /// None in practice: writing to memory.
    pub fn add_table(
        &mut self,
        path: PathBuf,
        fill: impl FnOnce(&mut Vec<u8>) -> csv::Result<()>,
    ) -> Result<(), OutputError> {
        let mut content = Vec::new();
        match fill(&mut content) {
            Ok(()) => self.add(path, content, Replace::Own),
            Err(error) => return Err(SaveError { path, source: error.into() }.into()),
        }
        Ok(())
    }

    /// Writes all of it or nothing, folders made if need be; the paths of the files that were or already stood there.
    ///
    /// # Errors
    /// When a file stands in the way, a folder cannot be written or the disk is full.
    pub fn write(self) -> Result<Vec<PathBuf>, OutputError> {
        let _alone = alone_in(self.files.iter().map(|(path, ..)| folder_of(path)));
        let known = self.memory.as_ref().map(Written::recall).unwrap_or_default();
        let (mut steps, mut places) = (Vec::new(), HashSet::new());
        for (path, content, replace) in &self.files {
            let first = places.insert(path.canonicalize().unwrap_or_else(|_| path.clone()));
            let twice = || Err(OutputError::Refused { path: path.clone(), why: Refusal::Twice });
            steps.push(if first { self.step(path, content, *replace, &known) } else { twice() }?);
        }
        let mut staged = Vec::new();
        for ((path, content, _), step) in self.files.iter().zip(steps) {
            let failed = |source| SaveError { path: path.clone(), source };
            match step {
                Step::Leave => continue,
                Step::Create => fs::create_dir_all(folder_of(path)).map_err(failed)?,
                Step::Replace { .. } => {}
            }
            staged.push((path, content, stage(path, content).map_err(failed)?, step));
        }
        if let Some(memory) = self.memory.as_ref().filter(|_| !staged.is_empty()) {
            let stamps = staged.iter().map(|(path, content, _, step)| {
                let own = if let Step::Replace { own, .. } = step { *own } else { None };
                (path.as_path(), own, Stamp::of(content))
            });
            // What is not remembered is known by how it begins, or asked about the next time.
            let _ = memory.remember(stamps);
        }
        let mut done = Vec::new();
        for (path, _, file, step) in staged {
            let placed = backup(path, &step).and_then(|before| {
                put_in_place(file, path)?;
                Ok(before)
            });
            match placed {
                Ok(before) => done.push((path, before)),
                Err(source) => {
                    done.into_iter().rev().for_each(take_back);
                    return Err(SaveError { path: path.clone(), source }.into());
                }
            }
        }
        Ok(self.files.into_iter().map(|(path, ..)| path).collect())
    }

    /// What to do about a file.
    fn step(&self, path: &Path, content: &[u8], replace: Replace, known: &Recalled) -> Result<Step, OutputError> {
        let failed = |source| SaveError { path: path.to_owned(), source };
        let refused = |why| Err(OutputError::Refused { path: path.to_owned(), why });
        let there = match fs::symlink_metadata(path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Step::Create),
            Err(error) => return Err(failed(error).into()),
            Ok(there) if there.is_symlink() => return refused(Refusal::Link),
            Ok(there) if there.is_dir() => return refused(Refusal::Folder),
            Ok(there) if !there.is_file() => return refused(Refusal::Special),
            Ok(_) => Standing::read(path).map_err(failed)?,
        };
        if there.stamp == Stamp::of(content) {
            return Ok(Step::Leave);
        }
        let known = known.stamps_of(path);
        let untouched = known.contains(&there.stamp);
        let is_job = holds(&there.beginning, "\"refarad-job\"");
        let refusal = if self.inputs.iter().any(|input| same_file(input, path)) {
            Some(Refusal::Input)
        } else if is_job && !(untouched && replace == Replace::Own) {
            Some(Refusal::Job)
        } else if holds(&there.beginning, "\"refarad-unit\"") {
            Some(Refusal::Record)
        } else {
            let own = untouched || (known.is_empty() && begins_alike(&there.beginning, content));
            let may = replace == Replace::Asked || (replace == Replace::Own && own);
            (!may).then_some(Refusal::Foreign)
        };
        if let Some(why) = refusal.filter(|_| !self.overwrite) {
            return refused(why);
        }
        // What the program wrote itself can be written again; everything else is kept.
        let keep = refusal.is_some() || !untouched || is_job;
        Ok(Step::Replace { keep, own: untouched.then_some(there.stamp) })
    }
}

/// The folders of a set, or where they are to be made, locked while the answer lives: of two calls that write into one folder the
/// later waits, so that the set is of one of them. Where the system has no such locks, or the other does not end, nobody waits.
fn alone_in<'a>(folders: impl Iterator<Item = &'a Path>) -> Vec<fs::File> {
    const TRIES: u32 = 100;
    const PAUSE: Duration = Duration::from_millis(100);
    let there = |folder: &Path| folder.ancestors().find(|at| at.is_dir()).unwrap_or(Path::new(".")).canonicalize().ok();
    // In one order, so that two calls never wait for each other.
    let folders: BTreeSet<PathBuf> = folders.filter_map(there).collect();
    let locked = |folder: &PathBuf| {
        let folder = fs::File::open(folder).ok()?;
        for _ in 0..TRIES {
            match folder.try_lock() {
                Err(fs::TryLockError::WouldBlock) => std::thread::sleep(PAUSE),
                _ => break,
            }
        }
        Some(folder)
    };
    folders.iter().filter_map(locked).collect()
}

/// What stands at a place.
struct Standing {
    stamp: Stamp,
    beginning: Vec<u8>,
}

impl Standing {
    fn read(path: &Path) -> io::Result<Self> {
        let beginning = bounded::beginning(path);
        Ok(Self { stamp: Stamp::of_reader(bounded::open(path, u64::MAX)?)?, beginning })
    }
}

fn holds(content: &[u8], word: &str) -> bool {
    content.windows(word.len()).any(|part| part == word.as_bytes())
}

/// Whether a file begins as only the program begins it: a page or drawing that names the program, a mapping, or a table with
/// the same header row, unless that is the header row of a catalogue, which people keep by hand.
fn begins_alike(there: &[u8], new: &[u8]) -> bool {
    const HEAD: usize = 512;
    const LEAST_COLUMNS: usize = 4;
    let head = |content: &[u8]| content[..content.len().min(HEAD)].to_vec();
    let marked = |mark: &str| holds(&head(there), mark) && holds(&head(new), mark);
    let header =
        |content: &[u8]| content.split(|&byte| byte == b'\n').next().unwrap_or_default().trim_ascii_end().to_vec();
    let row = header(new);
    let table = row.split(|&byte| byte == b',').count() >= LEAST_COLUMNS && header(there) == row;
    marked(GENERATOR) || marked("\"refarad-mapping\"") || (table && !parts::is_canonical(&row))
}

/// How a page or drawing says what wrote it.
pub(super) const GENERATOR: &str = "Written by Refarad";

/// Keeps what stands at a place: beside it where it is to stay, else under a name that goes when this work is done.
fn backup(path: &Path, step: &Step) -> io::Result<Option<Backup>> {
    match step {
        Step::Replace { keep: true, .. } => keep_previous(path).map(|kept| Some(Backup::Kept(kept))),
        Step::Replace { keep: false, .. } => {
            let mut copy = unfinished(path)?;
            io::copy(&mut fs::File::open(path)?, &mut copy)?;
            Ok(Some(Backup::Passing(copy.into_temp_path())))
        }
        _ => Ok(None),
    }
}

enum Backup {
    Kept(PathBuf),
    Passing(TempPath),
}

/// Undoes the placing of one file, as far as the disk still allows it.
fn take_back((path, before): (&PathBuf, Option<Backup>)) {
    let _ = match before {
        None => fs::remove_file(path),
        Some(Backup::Passing(before)) => before.persist(path).map_err(|error| error.error),
        Some(Backup::Kept(before)) => fs::rename(before, path),
    };
}
