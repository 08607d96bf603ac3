//! The files a job names (catalogues, offers, photos): where they may lie, and how they go with it to another folder.

use std::collections::{BTreeMap, HashSet};
use std::fs::File;
use std::io;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use super::save::{SaveError, folder_of, save};
use super::{bounded, parts_writer};
use crate::domain::{Catalog, Job, Part};

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

/// Where the file that a job names lies; `None` when that is outside the job's own folder, also by way of a link: a job from
/// a stranger reads nothing there.
#[must_use]
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
        moved.catalogs = vec![put("parts.csv", &written(from.parts, to)?, to)?];
    }
    Ok((moved, notes))
}

fn written(parts: &Catalog, to: &Path) -> Result<Vec<u8>, SaveError> {
    let invented = parts.ids().any(|id| parts.is_invented(id));
    let parts: Vec<Part> = parts.ids().map(|id| parts.part(id)).collect();
    let mut content = Vec::new();
    parts_writer::write(&mut content, &parts, invented)
        .map_err(|error| SaveError { path: to.to_owned(), source: io::Error::other(error) })?;
    Ok(content)
}

/// Whether two paths lead to one file, also by way of a link; files that are not there are told apart by their names.
#[must_use]
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
#[must_use]
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

/// Writes a file under its name, or the next free one; returns that.
fn put(name: &str, content: &[u8], to: &Path) -> Result<String, SaveError> {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Board;
    use crate::files::demo;

    fn from(old: &Path, job: &Job, to: &Path) -> (Job, Vec<String>) {
        let from = From { beside: Some(old), held: &Held::new(), parts: &Catalog::default() };
        bring(job, from, to).unwrap()
    }

    fn folder(outer: &Path, name: &str) -> PathBuf {
        let folder = outer.join(name);
        std::fs::create_dir(&folder).unwrap();
        folder.join("job.json")
    }

    #[test]
    fn everything_a_job_names_goes_with_it_and_replaces_nothing() {
        let outer = tempfile::tempdir().unwrap();
        let (old, new) = (folder(outer.path(), "old"), folder(outer.path(), "new"));
        std::fs::create_dir(old.with_file_name("lists")).unwrap();
        for (name, content) in [("lists/parts.csv", "parts"), ("offers.csv", "mine"), ("board.png", "picture")] {
            std::fs::write(old.with_file_name(name), content).unwrap();
        }
        std::fs::write(new.with_file_name("offers.csv"), "theirs").unwrap();
        std::fs::write(new.with_file_name("board.png"), "picture").unwrap();
        let job = Job {
            catalogs: vec!["lists/parts.csv".into(), "none.csv".into()],
            offers: vec!["offers.csv".into()],
            boards: vec![Board { photo: Some("board.png".into()), ..Board::default() }],
            ..Job::default()
        };
        let (moved, notes) = from(&old, &job, &new);
        assert_eq!(moved.catalogs, ["lists/parts.csv", "none.csv"]);
        assert_eq!(moved.offers, ["offers-2.csv"]);
        assert_eq!(moved.boards[0].photo.as_deref(), Some("board.png"));
        assert!(notes.len() == 1 && notes[0].starts_with("none.csv"), "{notes:?}");
        let read = |name: &str| std::fs::read_to_string(new.with_file_name(name)).unwrap();
        assert_eq!(
            (read("lists/parts.csv"), read("offers.csv"), read("offers-2.csv")),
            ("parts".into(), "theirs".into(), "mine".into())
        );
        assert_eq!(from(&old, &job, &new).0, moved, "a second time there is nothing to do");
    }

    #[test]
    fn in_the_same_folder_nothing_is_copied() {
        let outer = tempfile::tempdir().unwrap();
        let old = folder(outer.path(), "old");
        let job = Job { catalogs: vec!["none.csv".into()], ..Job::default() };
        assert_eq!(from(&old, &job, &old.with_file_name("other.json")), (job, Vec::new()));
    }

    #[test]
    fn parts_that_are_only_in_memory_are_written_as_a_catalogue() {
        let outer = tempfile::tempdir().unwrap();
        let new = folder(outer.path(), "new");
        let catalog = demo::parts().unwrap().catalog;
        let written =
            |job: &Job, held: &Held| bring(job, From { beside: None, held, parts: &catalog }, &new).unwrap().0;
        let moved = written(&Job::default(), &Held::new());
        assert_eq!(moved.catalogs, ["parts.csv"]);
        let again = crate::files::parts::read_files(&[new.with_file_name("parts.csv")]).unwrap();
        assert_eq!(again.catalog.len(), catalog.len());
        let held = Held::from([("parts.csv".to_owned(), Arc::new(b"others".to_vec()))]);
        let moved = written(&moved, &held);
        assert_eq!(moved.catalogs, ["parts-2.csv"], "a name that is taken gets a number");
        assert_eq!(std::fs::read(new.with_file_name("parts-2.csv")).unwrap(), b"others");
    }

    #[test]
    fn only_files_below_the_folder_of_the_job_have_a_name_inside() {
        let outer = tempfile::tempdir().unwrap();
        let job = folder(outer.path(), "job");
        let photo = job.with_file_name("b").join("photo.png");
        std::fs::create_dir(photo.parent().unwrap()).unwrap();
        for path in [&job, &photo, &outer.path().join("secret.png")] {
            std::fs::write(path, "x").unwrap();
        }
        assert_eq!(name_inside(&job, &photo).as_deref(), Some("b/photo.png"));
        assert_eq!(name_inside(&job, &job.with_file_name("../secret.png")), None);
    }

    #[test]
    fn names_that_lead_out_of_the_folder_are_not_followed() {
        let outer = tempfile::tempdir().unwrap();
        let job = folder(outer.path(), "job");
        std::fs::write(outer.path().join("secret.csv"), "secret").unwrap();
        for name in [
            "../secret.csv",
            "/etc/hostname",
            "a/../../secret.csv",
            "..\\secret.csv",
            "C:secret.csv",
            "\\\\host\\share\\a.csv",
            "a\0b",
        ] {
            assert_eq!(inside(&job, name), None, "{name}");
        }
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink(outer.path().join("secret.csv"), job.with_file_name("link.csv")).unwrap();
            std::os::unix::fs::symlink(outer.path(), job.with_file_name("up")).unwrap();
            assert_eq!((inside(&job, "link.csv"), inside(&job, "up/secret.csv")), (None, None));
        }
        assert_eq!(inside(&job, "./lists/parts.csv"), Some(job.with_file_name("./lists/parts.csv")));
    }
}
