//! A job with the catalogues it needs, from the disk: what the command line and the window both start from.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::companions::Distinct;
use super::import::mapping::{self, Mapping};
use super::job::{self, JobError};
use super::offers::{self, OffersError};
use super::parts::{self, PartsError, PartsRead};
use super::save::folder_of;
use super::{Fault, Rejected, companions, demo};
use crate::domain::Job;
use crate::progress::Progress;
use crate::sizing::CatalogIndex;
use crate::sizing::changed::Records;

/// A job ready for sizing.
#[derive(Debug, Clone, Default)]
pub struct Loaded {
    /// The job.
    pub job: Job,
    /// Its parts; for the command line with the offers of further suppliers, which the window reads by itself.
    pub catalog_index: CatalogIndex,
    /// Cells and rows of the lists that were not used.
    pub rejected: Vec<Rejected>,
    /// Remarks for the person, one sentence each.
    pub notes: Vec<String>,
    /// The job file comes from a later version: to be shown, not to be overwritten.
    pub newer: bool,
    /// Fields of the job file that cannot be used and are left unknown.
    pub unusable: Vec<Fault>,
    /// What was known of the chosen parts when the job was saved.
    pub as_saved: Records,
}

/// Why a job could not be loaded.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum LoadError {
    /// The job file.
    #[error(transparent)]
    Job(#[from] JobError),
    /// A catalogue.
    #[error(transparent)]
    Parts(#[from] PartsError),
    /// A list of offers.
    #[error(transparent)]
    Offers(#[from] OffersError),
    /// The job names no catalogue, and none was given.
    #[error("{}: catalogs: expected at least one catalogue; name one by --parts", job.display())]
    NoCatalog { job: PathBuf },
    /// A job from a stranger must not read files outside its own folder.
    #[error("{}: catalogs: {catalog} is outside the folder of the job; name it by --parts if you trust it", job.display())]
    Outside { job: PathBuf, catalog: String },
}

/// Reads `job_path`, its own catalogues and `more_parts`, in that order: later rows win.
///
/// # Errors
/// When a file cannot be used, or there is no catalogue at all.
pub fn load(job_path: &Path, more_parts: &[PathBuf]) -> Result<Loaded, LoadError> {
    load_mapped(job_path, more_parts, &[], &Progress::default())
}

/// The same; catalogues with headers of their own are read by `mappings`, or by one remembered.
///
/// # Errors
/// When a file cannot be used, there is no catalogue at all, or the loading was cancelled.
pub fn load_mapped(
    job_path: &Path,
    more_parts: &[PathBuf],
    mappings: &[Mapping],
    progress: &Progress,
) -> Result<Loaded, LoadError> {
    let read = job::read(job_path)?;
    let mut notes = read.notes;
    let mut paths = Vec::new();
    let mut known = Distinct::default();
    for catalog in &read.job.catalogs {
        let path = inside_folder(job_path, catalog)?;
        if known.is_again(&path) {
            continue;
        }
        if path.exists() || more_parts.is_empty() {
            paths.push(path);
        } else {
            notes.push(format!("{}: not found; the catalogues given by --parts are used without it.", path.display()));
        }
    }
    for path in more_parts {
        if !known.is_again(path) {
            paths.push(path.clone());
        }
    }
    if paths.is_empty() {
        return Err(LoadError::NoCatalog { job: job_path.to_owned() });
    }
    let parts = parts::read_files_mapped(&paths, mappings, mapping::own_folder().as_deref(), progress)?;
    let mut loaded = together(read.job, notes, read.newer, parts, progress)?;
    loaded.as_saved = read.as_saved;
    let offers = offers::read_for_job(&loaded.job, job_path)?;
    loaded.catalog_index = loaded.catalog_index.with_offers(Arc::new(offers.book));
    loaded.rejected.extend(offers.rejected);
    loaded.notes.extend(offers.notes);
    Ok(loaded)
}

/// Reads a job and, of its own catalogues, those that can be had: the notes tell what is missing, and fields that cannot be
/// used are listed and left unknown. For the window, where a board can be worked on before there are parts.
///
/// # Errors
/// When the job file cannot be used, or the loading was cancelled.
pub fn open(job_path: &Path, progress: &Progress) -> Result<Loaded, LoadError> {
    let (read, unusable) = job::read_usable(job_path)?;
    let mut notes = read.notes;
    notes.extend(unusable.iter().map(|fault| format!("{fault}; left unknown.")));
    let mut known = Distinct::default();
    let named = read.job.catalogs.iter().filter(|name| !known.is_again(&folder_of(job_path).join(name)));
    let paths = named.filter_map(|name| catalogue(job_path, name).map_err(|why| notes.push(parts::left_out(why))).ok());
    let files = paths.map(|path| (path, None)).collect();
    let parts = parts::read_usable(files, mapping::own_folder().as_deref(), progress)?;
    if read.job.catalogs.is_empty() {
        notes.push("The job names no catalogue yet: open or import one to have parts to choose from.".to_owned());
    }
    let loaded = together(read.job, notes, read.newer, parts, progress)?;
    // Sorted once, before anybody waits for a list by part number.
    _ = loaded.catalog_index.catalog().by_number();
    Ok(Loaded { unusable, as_saved: read.as_saved, ..loaded })
}

/// The built-in demo.
///
/// # Errors
/// Never with the demo as it is shipped; the readers are the usual ones.
pub fn load_demo() -> Result<Loaded, LoadError> {
    let read = demo::job()?;
    together(read.job, read.notes, read.newer, demo::parts()?, &Progress::default())
}

fn together(
    job: Job,
    mut notes: Vec<String>,
    newer: bool,
    parts: PartsRead,
    progress: &Progress,
) -> Result<Loaded, LoadError> {
    notes.extend(parts.notes);
    let catalog_index = CatalogIndex::new_watched(Arc::new(parts.catalog), progress).ok_or(PartsError::Stopped)?;
    Ok(Loaded { job, catalog_index, rejected: parts.rejected, notes, newer, ..Loaded::default() })
}

/// A job from a recovery file with the parts it had: kept beside that file at `kept_parts`, of the job's own folder, or of the
/// demo. Parts that are not to be had leave a note; the job comes back all the same.
pub fn recovered(job: Job, job_path: Option<&Path>, kept_parts: Option<&Path>) -> Loaded {
    let parts = match (kept_parts, job_path) {
        (Some(kept), _) => parts::read_files(&[kept.to_owned()]),
        (None, Some(path)) => {
            let paths: Vec<PathBuf> = job.catalogs.iter().filter_map(|name| companions::inside(path, name)).collect();
            parts::read_files_mapped(&paths, &[], mapping::own_folder().as_deref(), &Progress::default())
        }
        (None, None) => demo::parts(),
    };
    let (parts, mut notes) = match parts {
        Ok(parts) => (parts, Vec::new()),
        Err(error) => (PartsRead::default(), vec![format!("The catalogue of the recovered job is missing: {error}")]),
    };
    let of_demo = |name: &String| demo::FILES.iter().any(|(own, _)| own == name);
    if kept_parts.is_some() {
        notes.push(format!("{} parts were kept with the unsaved work.", parts.catalog.len()));
    } else if job_path.is_none() && !job.catalogs.iter().all(of_demo) {
        notes.push("The parts of the unsaved work were not kept: these are the invented parts of the demo.".to_owned());
    }
    notes.extend(parts.notes);
    let catalog_index = CatalogIndex::new(Arc::new(parts.catalog));
    Loaded { job, catalog_index, rejected: parts.rejected, notes, ..Loaded::default() }
}

/// Where a catalogue that a job names lies, in the job's folder.
///
/// # Errors
/// In words, why it is not to be had.
pub(crate) fn catalogue(job_path: &Path, name: &str) -> Result<PathBuf, String> {
    let path = inside_folder(job_path, name).map_err(|error| error.to_string())?;
    path.exists().then_some(path).ok_or_else(|| format!("{name} does not lie beside the job"))
}

fn inside_folder(job_path: &Path, catalog: &str) -> Result<PathBuf, LoadError> {
    companions::inside(job_path, catalog)
        .ok_or_else(|| LoadError::Outside { job: job_path.to_owned(), catalog: catalog.to_owned() })
}
