//! A job and the catalogues it needs, from the disk.

use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use refarad::domain::Job;
use refarad::files::{Rejected, job, parts};
use refarad::sizing::Market;

use super::Failure;

/// A job ready for sizing.
pub(super) struct Loaded {
    pub job: Job,
    pub market: Market,
    pub rejected: Vec<Rejected>,
    pub notes: Vec<String>,
    pub newer: bool,
}

/// Reads `job_path`, its own catalogues and `more_parts`, in that order: later rows win.
pub(super) fn load(job_path: &Path, more_parts: &[PathBuf]) -> Result<Loaded, Failure> {
    let read = job::read(job_path).map_err(|error| error.to_string())?;
    let mut notes = read.notes;
    let mut paths = Vec::new();
    for catalog in &read.job.catalogs {
        let path = inside_folder(job_path, catalog)?;
        if path.exists() || more_parts.is_empty() {
            paths.push(path);
        } else {
            notes.push(format!("{}: not found; the catalogues given by --parts are used without it.", path.display()));
        }
    }
    for path in more_parts {
        if !paths.iter().any(|known| same_file(known, path)) {
            paths.push(path.clone());
        }
    }
    if paths.is_empty() {
        return Err(format!("{}: catalogs: expected at least one catalogue; name one by --parts", job_path.display()));
    }
    let read_parts = parts::read_files(&paths).map_err(|error| error.to_string())?;
    notes.extend(read_parts.notes);
    let market = Market::new(Arc::new(read_parts.catalog));
    Ok(Loaded { job: read.job, market, rejected: read_parts.rejected, notes, newer: read.newer })
}

/// The path of a catalogue named in a job file. A job from a stranger must not read files outside its own folder.
fn inside_folder(job_path: &Path, catalog: &str) -> Result<PathBuf, Failure> {
    let relative = Path::new(catalog);
    let stays = relative.components().all(|part| matches!(part, Component::Normal(_) | Component::CurDir));
    if !stays {
        return Err(format!(
            "{}: catalogs: {catalog} is outside the folder of the job; name it by --parts if you trust it",
            job_path.display()
        ));
    }
    Ok(job_path.parent().unwrap_or(Path::new("")).join(relative))
}

fn same_file(a: &Path, b: &Path) -> bool {
    match (a.canonicalize(), b.canonicalize()) {
        (Ok(a), Ok(b)) => a == b,
        _ => a == b,
    }
}
