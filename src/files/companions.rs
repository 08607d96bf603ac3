//! The files a job names (catalogues, offers, photos): where they may lie, and how they go with it to another folder.

use std::collections::{BTreeMap, HashSet};
use std::fs::File;
use std::io;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use super::save::{SaveError, folder_of, save};
use super::{EXPORTED, bounded, parts_writer};
use crate::domain::{Catalog, Job};

/// Catalogues held in memory, by the name the job gives them.
pub type Held = BTreeMap<String, Arc<Vec<u8>>>;

/// Where the files of a job come from.
#[derive(Debug, Clone, Copy)]
pub struct From<'a> {
    /// The job file they lie beside; `None` for a job that was never saved.
    pub beside: Option<&'a Path>,
    /// Catalogues that may not lie beside it yet.
    pub held: &'a Held,
    /// The parts at hand: written where the job names no catalogue and was never saved.
    pub parts: &'a Catalog,
}

/// A name for a catalogue that none of the job has, no export ever writes, and no file beside `path`.
pub fn free_name(job: &Job, path: Option<&Path>, held: &Held, stem: &str) -> String {
    let clean: String =
        stem.chars().map(|c| if c.is_alphanumeric() || "-_. ()".contains(c) { c } else { '_' }).collect();
    let clean = clean.trim_matches(['.', ' ']);
    let clean = if clean.is_empty() { "parts" } else { clean };
    let folder = path.and_then(Path::parent);
    let taken = |name: &String| {
        let known = job.catalogs.iter().chain(&job.offers).chain(held.keys()).map(String::as_str).chain(EXPORTED);
        let known = known.into_iter().any(|known| known.eq_ignore_ascii_case(name));
        known || folder.is_some_and(|folder| folder.join(name).exists())
    };
    let names = std::iter::once(format!("{clean}.csv")).chain((2..).map(|number| format!("{clean} ({number}).csv")));
    names.into_iter().find(|name| !taken(name)).unwrap_or_default()
}

/// Where the file that a job names lies; `None` when that is outside the job's own folder, also by way of a link: a job from
/// a stranger reads nothing there.
pub fn inside(job_path: &Path, name: &str) -> Option<PathBuf> {
    // Other systems take a backslash or a drive for more than a part of a name.
    let plain = |part: Component| match part {
        Component::Normal(part) => !part.to_string_lossy().contains(['\\', ':', '\0']),
        part => part == Component::CurDir,
    };
    if !Path::new(name).components().all(plain) {
        return None;
    }
    let folder = folder_of(job_path);
    let path = folder.join(name);
    match (path.canonicalize(), folder.canonicalize()) {
        (Ok(real), Ok(folder)) if !real.starts_with(&folder) => None,
        // What is not there is for the reader to tell.
        _ => Some(path),
    }
}

/// Files named so far, by whatever way: one that is named several times is read once.
#[derive(Debug, Default)]
pub(super) struct Distinct(HashSet<PathBuf>);

impl Distinct {
    /// Whether the file was named before.
    pub(super) fn is_again(&mut self, path: &Path) -> bool {
        !self.0.insert(path.canonicalize().unwrap_or_else(|_| path.to_owned()))
    }
}

/// Brings everything the job names into the folder of `to`, so that the job opens there on its own. Nothing is replaced: a
/// name that is taken gets a number. The job with the names as they are there, and remarks for the person.
///
/// # Errors
/// When a file cannot be written.
pub fn bring(job: &Job, from: From, to: &Path) -> Result<(Job, Vec<String>), SaveError> {
    let mut moved = job.clone();
    let mut notes = Vec::new();
    let old = from.beside.filter(|old| !same_folder(old, to));
    let photos = moved.boards.iter_mut().filter_map(|board| board.photo.as_mut());
    for name in moved.catalogs.iter_mut().chain(&mut moved.offers).chain(photos) {
        let new = match (from.held.get(name), old) {
            (Some(content), _) => Some(put(name, content, to)?),
            (None, Some(old)) => copy(old, name, to)?,
            (None, None) => continue,
        };
        match new {
            Some(new) => *name = new,
            None => notes.push(format!("{name} could not be read beside the job and was not copied.")),
        }
    }
    if from.beside.is_none() && moved.catalogs.is_empty() && !from.parts.is_empty() {
        let content = parts_writer::whole(from.parts).map_err(|source| SaveError { path: to.to_owned(), source })?;
        moved.catalogs = vec![put("parts.csv", &content, to)?];
    }
    Ok((moved, notes))
}

/// Whether two paths lead to one file, also by way of a link; files that are not there are told apart by their names.
pub fn same_file(a: &Path, b: &Path) -> bool {
    a == b || matches!((a.canonicalize(), b.canonicalize()), (Ok(a), Ok(b)) if a == b)
}

fn same_folder(a: &Path, b: &Path) -> bool {
    let real = |path: &Path| folder_of(path).canonicalize();
    matches!((real(a), real(b)), (Ok(a), Ok(b)) if a == b)
}

/// Copies one file; the name it has now, or `None` when there is nothing to copy.
fn copy(old: &Path, name: &str, to: &Path) -> Result<Option<String>, SaveError> {
    let content = inside(old, name).and_then(|path| bounded::read(&path, bounded::TABLE_BYTES_MAX).ok());
    content.map(|content| put(name, &content, to)).transpose()
}

/// The name a job knows a file in its folder by, with slashes; `None` for a file that lies elsewhere, also by way of a link.
pub fn name_inside(job_path: &Path, file: &Path) -> Option<String> {
    let folder = folder_of(job_path).canonicalize().ok()?;
    let file = file.canonicalize().ok()?;
    let parts = file.strip_prefix(folder).ok()?.components().map(|part| part.as_os_str().to_str());
    Some(parts.collect::<Option<Vec<_>>>()?.join("/"))
}

/// Brings one file into the folder of a job and returns the name the job knows it by. A file that is already there stays where
/// it is; another is copied beside the job file under a name that is still free.
///
/// # Errors
/// When the file cannot be read or the copy cannot be written.
pub fn bring_file(job_path: &Path, file: &Path) -> io::Result<String> {
    if let Some(name) = name_inside(job_path, file) {
        return Ok(name);
    }
    let content = bounded::read(file, bounded::TABLE_BYTES_MAX)?;
    put(&file.file_name().unwrap_or_default().to_string_lossy(), &content, job_path).map_err(|error| error.source)
}

/// What the list of offers made of a file is called, without its ending.
pub fn offers_stem(file_stem: &str) -> String {
    format!("{file_stem}.offers")
}

/// Writes a file under its name into the folder of the job `to`, or under the next free one; returns that.
///
/// # Errors
/// When it cannot be written.
pub fn put(name: &str, content: &[u8], to: &Path) -> Result<String, SaveError> {
    let folder = folder_of(to);
    let fault = |path: &Path, source| SaveError { path: path.to_owned(), source };
    let (stem, ending) = match name.rsplit_once('.') {
        Some((stem, ending)) if !ending.contains('/') => (stem, format!(".{ending}")),
        _ => (name, String::new()),
    };
    let first = folder.join(name);
    let holder = first.parent().unwrap_or(folder);
    if !folder.is_dir() {
        return Err(fault(folder, io::ErrorKind::NotFound.into()));
    }
    std::fs::create_dir_all(holder).map_err(|error| fault(holder, error))?;
    for n in 1..1000 {
        let number = if n == 1 { String::new() } else { format!("-{n}") };
        let name = format!("{stem}{number}{ending}");
        let path = folder.join(&name);
        if bounded::read(&path, content.len() as u64).is_ok_and(|there| there == content) {
            return Ok(name);
        }
        // Taken at once, so that nobody else takes the name meanwhile; then filled whole or not at all.
        match File::create_new(&path) {
            Ok(_) => {
                return match save(&path, content) {
                    Ok(()) => Ok(name),
                    Err(error) => {
                        let _ = std::fs::remove_file(&path);
                        Err(error)
                    }
                };
            }
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(fault(&path, error)),
        }
    }
    Err(fault(&first, io::Error::other("no free name")))
}
