//! The catalogues the job names: read from its folder, or held until the job has one. The parts at hand follow the names in
//! the job, so that undo takes the parts of a catalogue out again and redo brings them back.

use std::collections::HashSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::app::state::{CatalogInfo, Edit, Session};
use crate::app::work::Worker;
use crate::domain::Date;
use crate::files::{Rejected, bounded, canonical, companions, companions::Held, import::mapping, load, parts, save};
use crate::progress::Progress;
use crate::sizing::CatalogIndex;

/// Reading of catalogues on other threads.
#[derive(Default)]
pub(crate) struct Work {
    /// The parts of the catalogues the job names.
    pub parts: Worker<Result<StockRead, String>>,
    /// A catalogue from elsewhere.
    pub bringing: Worker<Result<(PathBuf, Vec<u8>), String>>,
    /// What catalogues there are.
    pub looking: Worker<Vec<CatalogInfo>>,
}

/// The parts of the catalogues a job names.
pub(crate) struct StockRead {
    catalog_index: CatalogIndex,
    rejected: Vec<Rejected>,
    notes: Vec<String>,
}

fn read(names: &[String], held: &Held, path: Option<&Path>, progress: &Progress) -> Result<StockRead, String> {
    let mut files = Vec::new();
    let mut notes = Vec::new();
    let mut known = HashSet::new();
    for name in names.iter().filter(|name| known.insert(name.as_str())) {
        let found = match (held.get(name), path) {
            (Some(bytes), path) => {
                let beside = path.and_then(|job| companions::inside(job, name));
                if let Some(path) = beside.as_ref().filter(|path| !path.exists()) {
                    match save(path, bytes) {
                        Ok(()) => notes.push(format!("{} is written beside the job.", path.display())),
                        Err(error) => notes
                            .push(format!("{error}; the parts stay at hand and are written when the job is saved.")),
                    }
                }
                Ok((beside.unwrap_or_else(|| PathBuf::from(name)), Some(bytes.clone())))
            }
            (None, Some(job)) => load::catalogue(job, name).map(|path| (path, None)),
            (None, None) => Err(format!("{name} is not at hand")),
        };
        match found {
            Ok(file) => files.push(file),
            Err(why) => notes.push(parts::left_out(why)),
        }
    }
    let own = mapping::own_folder();
    let read = parts::read_usable(files, own.as_deref(), progress).map_err(|error| error.to_string())?;
    notes.extend(read.notes);
    let catalog_index = CatalogIndex::new_watched(Arc::new(read.catalog), progress).ok_or("Stopped.")?;
    // Sorted once, before anybody waits for a list by part number.
    _ = catalog_index.catalog().by_number();
    Ok(StockRead { catalog_index, rejected: read.rejected, notes })
}

/// Asks for the parts of the catalogues the job names, where others are at hand.
pub(crate) fn request(session: &mut Session, work: &Work) {
    let names = session.job().catalogs.clone();
    if session.stock.asked.as_ref() == Some(&names) {
        return;
    }
    session.stock.asked = Some(names.clone());
    let (held, path) = (session.stock.held.clone(), session.path.clone());
    let what = names.last().map_or_else(|| "Putting the catalogues away".to_owned(), |name| format!("Reading {name}"));
    work.parts.request(what, move |progress| read(&names, &held, path.as_deref(), progress));
}

/// Takes in the parts that were asked for, and a catalogue from elsewhere.
pub(crate) fn poll(session: &mut Session, work: &Work) {
    if let Some(StockRead { catalog_index, rejected, notes }) = session.arrived(work.parts.take().map(Result::flatten))
    {
        let offers = Arc::new(session.offers.book.clone());
        session.catalog_index = Arc::new(catalog_index.with_offers(offers));
        session.rejected = rejected;
        notes.into_iter().for_each(|note| session.say(note));
        let parts = crate::app::widgets::wording::count(session.catalog_index.catalog().len(), "part", "parts");
        session.say(format!("{parts} loaded."));
        session.forget_parts();
    }
    if let Some(listed) = session.arrived(work.looking.take()) {
        session.stock.listed = listed;
    }
    if let Some((path, bytes)) = session.arrived(work.bringing.take().map(Result::flatten)) {
        take_brought(session, &path, bytes);
    }
}

/// Adds a catalogue with canonical headers to those the job names; one from elsewhere is copied beside the job.
pub(crate) fn add(session: &mut Session, work: &Work, path: PathBuf) {
    let inside = session.path.as_ref().and_then(|job| companions::name_inside(job, &path));
    if let Some(name) = inside {
        if session.job().catalogs.contains(&name) {
            session.stock.held.remove(&name);
            session.stock.asked = None;
            return;
        }
        change_names(session, |names| names.push(name));
        return;
    }
    work.bringing.request(format!("Reading {}", path.display()), move |_| {
        let bytes = bounded::read(&path, bounded::TABLE_BYTES_MAX);
        bytes.map_err(|error| format!("{}: {error}", path.display())).map(|bytes| (path, bytes))
    });
}

fn take_brought(session: &mut Session, path: &Path, bytes: Vec<u8>) {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let name = companions::free_name(session.job(), session.path.as_deref(), &session.stock.held, &stem);
    session.stock.held.insert(name.clone(), Arc::new(bytes));
    if session.path.is_none() {
        session.say(format!("{name} is written beside the job when the job is saved."));
    }
    change_names(session, |names| names.push(name));
}

/// Looks what catalogues there are: those the job names, those held, those beside its file.
pub(crate) fn look(session: &Session, work: &Work) {
    let (mut names, held) = (session.job().catalogs.clone(), session.stock.held.clone());
    let (path, removed) = (session.path.clone(), session.stock.removed.clone());
    let used = names.len();
    work.looking.request("Looking for catalogues", move |_| {
        let beside = path.as_deref().and_then(Path::parent).and_then(|folder| std::fs::read_dir(folder).ok());
        let found = beside.into_iter().flatten().flatten().map(|entry| entry.path());
        let found = found.filter(|file| file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv")));
        let canonical = found.filter(|file| parts::is_canonical(&bounded::beginning(file)));
        names.extend(canonical.filter_map(|file| Some(file.file_name()?.to_str()?.to_owned())));
        names.extend(held.iter().filter(|(_, bytes)| parts::is_canonical(bytes)).map(|(name, _)| name.clone()));
        let unwanted = names.split_off(used).into_iter().filter(|name| !removed.contains(name));
        names.extend(unwanted.collect::<Vec<_>>());
        let mut seen = HashSet::new();
        names.retain(|name| seen.insert(name.clone()));
        names.iter().map(|name| info(name, &held, path.as_deref())).collect()
    });
}

fn info(name: &str, held: &Held, job: Option<&Path>) -> CatalogInfo {
    let path = job.and_then(|job| companions::inside(job, name)).filter(|path| path.exists());
    let bytes = held.get(name).map(|bytes| bytes.to_vec());
    let bytes = bytes.or_else(|| bounded::read(path.as_ref()?, bounded::TABLE_BYTES_MAX).ok()).unwrap_or_default();
    let text = String::from_utf8_lossy(&bytes);
    let is_row = |line: &&str| !line.trim().is_empty() && !line.trim_start().starts_with('#');
    let changed = path.as_ref().and_then(|path| std::fs::metadata(path).ok()?.modified().ok());
    CatalogInfo {
        name: name.to_owned(),
        parts: text.lines().filter(is_row).count().saturating_sub(1),
        changed: changed.and_then(Date::of_system_time).map(|date| date.to_string()),
        invented: canonical::says_invented(&text),
        path,
    }
}

/// Reads the catalogues anew: what lies in a file counts as it stands there.
pub(crate) fn reload(session: &mut Session, work: &Work) {
    let path = session.path.clone();
    let lies =
        |name: &str| path.as_ref().and_then(|job| companions::inside(job, name)).is_some_and(|file| file.exists());
    session.stock.held.retain(|name, _| !lies(name));
    session.stock.asked = None;
    look(session, work);
}

/// Uses a catalogue in the job, or no longer does.
pub(crate) fn set_used(session: &mut Session, work: &Work, name: &str, used: bool) {
    change_names(session, |names| {
        names.retain(|known| known != name);
        names.extend(used.then(|| name.to_owned()));
    });
    request(session, work);
}

/// Changes which catalogues the job names, as a step of its own.
fn change_names(session: &mut Session, change: impl FnOnce(&mut Vec<String>)) {
    session.history.close_entry();
    session.edit(Edit::settings(session.job(), "catalogues", |job| change(&mut job.catalogs)));
    session.history.close_entry();
}
