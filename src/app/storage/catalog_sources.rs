//! The catalogues the job names: read from its folder, or held until the job has one. The parts at hand follow the names in
//! the job, so that undo takes the parts of a catalogue out again and redo brings them back.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::app::Window;
use crate::app::Workers;
use crate::app::state::edit::Edit;
use crate::domain::Job;
use crate::files::companions::{self, Held};
use crate::files::import::mapping;
use crate::files::{Rejected, bounded, load, parts, save};
use crate::progress::Progress;
use crate::sizing::CatalogIndex;

/// What is known of the job's catalogues.
#[derive(Debug, Clone, Default)]
pub(crate) struct CatalogSources {
    /// Catalogues that may not lie beside the job yet.
    pub held: Held,
    /// The names the parts at hand were asked for by; `None` when they are to be read anew.
    asked: Option<Vec<String>>,
}

impl CatalogSources {
    /// The parts at hand are those of these names.
    pub(crate) fn of(names: &[String], held: Held) -> Self {
        Self { held, asked: Some(names.to_vec()) }
    }

    /// Whether a catalogue that the job names does not lie beside its file yet.
    pub(crate) fn is_only_held(&self, job: &Job, path: &Path) -> bool {
        let lies = |name: &String| companions::inside(path, name).is_some_and(|path| path.exists());
        job.catalogs.iter().any(|name| self.held.contains_key(name) && !lies(name))
    }
}

/// The parts of the catalogues a job names.
pub(crate) struct StockRead {
    catalog_index: CatalogIndex,
    rejected: Vec<Rejected>,
    notes: Vec<String>,
}

/// A name no catalogue of the job has, and no file in its folder.
pub(crate) fn free_name(job: &Job, path: Option<&Path>, held: &Held, stem: &str) -> String {
    let clean: String =
        stem.chars().map(|c| if c.is_alphanumeric() || "-_. ()".contains(c) { c } else { '_' }).collect();
    let clean = clean.trim_matches(['.', ' ']);
    let clean = if clean.is_empty() { "parts" } else { clean };
    let folder = path.and_then(Path::parent);
    let taken = |name: &String| {
        let known = job.catalogs.iter().chain(held.keys()).any(|known| known.eq_ignore_ascii_case(name));
        known || folder.is_some_and(|folder| folder.join(name).exists())
    };
    let names = std::iter::once(format!("{clean}.csv")).chain((2..).map(|number| format!("{clean} ({number}).csv")));
    names.into_iter().find(|name| !taken(name)).unwrap_or_default()
}

fn read(names: &[String], held: &Held, path: Option<&Path>, progress: &Progress) -> Result<StockRead, String> {
    let mut files = Vec::new();
    let mut notes = Vec::new();
    for name in names {
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
                Ok((beside.unwrap_or_else(|| PathBuf::from(name)), bytes.to_vec()))
            }
            (None, Some(job)) => load::catalogue(job, name, progress),
            (None, None) => Err(format!("{name} is not at hand")),
        };
        match found {
            Ok(file) => files.push(file),
            Err(why) => notes.push(parts::left_out(why)),
        }
    }
    let own = mapping::own_folder();
    let read = parts::from_bytes_usable(files, own.as_deref(), progress).map_err(|error| error.to_string())?;
    notes.extend(read.notes);
    let catalog_index = CatalogIndex::new_watched(Arc::new(read.catalog), progress).ok_or("Stopped.")?;
    Ok(StockRead { catalog_index, rejected: read.rejected, notes })
}

impl Window {
    /// Asks for the parts of the catalogues the job names, where others are at hand.
    pub(crate) fn request_stock(&mut self) {
        let session = &mut self.session;
        let names = session.job().catalogs.clone();
        if session.stock.asked.as_ref() == Some(&names) {
            return;
        }
        session.stock.asked = Some(names.clone());
        let (held, path) = (session.stock.held.clone(), session.path.clone());
        let what =
            names.last().map_or_else(|| "Putting the catalogues away".to_owned(), |name| format!("Reading {name}"));
        self.workers.parts.request(what, move |progress| read(&names, &held, path.as_deref(), progress));
    }

    /// Takes in the parts that were asked for, and a catalogue from elsewhere.
    pub(crate) fn catch_up_stock(&mut self) {
        let Self { session, workers, .. } = self;
        if let Some(StockRead { catalog_index, rejected, notes }) =
            session.arrived(workers.parts.take().map(Result::flatten))
        {
            session.catalog_index = Arc::new(catalog_index);
            session.rejected = rejected;
            notes.into_iter().for_each(|note| session.say(note));
            let parts =
                crate::app::widgets::wording::count(session.catalog_index.catalog().len(), "part is", "parts are");
            session.say(format!("{parts} at hand now."));
            self.forget_parts();
        }
        if let Some((path, bytes)) = self.session.arrived(self.workers.bringing.take().map(Result::flatten)) {
            self.take_brought(&path, bytes);
        }
    }

    /// Forgets everything that goes by the places of parts in the catalogue: part numbers keep, their places do not.
    pub(crate) fn forget_parts(&mut self) {
        let Workers { sizing, candidates, listing, answering, buying, .. } = &self.workers;
        sizing.cancel();
        candidates.cancel();
        listing.cancel();
        answering.cancel();
        buying.cancel();
        self.places.candidates.forget_parts();
        self.places.life.forget_parts();
        self.places.purchase.forget_parts();
        let session = &mut self.session;
        session.selection.pinned.clear();
        (session.selection.candidate, session.selection.hovered) = (None, None);
        session.candidates = None;
        session.snapshot = Arc::default();
        (self.asked_for, self.buying_asked_for) = (None, crate::app::actions::purchase::Asked::default());
    }

    /// Adds a catalogue with canonical headers to those the job names; one from elsewhere is copied beside the job.
    pub(crate) fn add_catalogue(&mut self, path: PathBuf) {
        let session = &mut self.session;
        let inside = session.path.as_ref().and_then(|job| companions::name_inside(job, &path));
        if let Some(name) = inside {
            if session.job().catalogs.contains(&name) {
                session.stock.held.remove(&name);
                session.stock.asked = None;
                return;
            }
            self.name_catalogue(name);
            return;
        }
        self.workers.bringing.request(format!("Reading {}", path.display()), move |_| {
            let bytes = bounded::read(&path, bounded::TABLE_BYTES_MAX);
            bytes.map_err(|error| format!("{}: {error}", path.display())).map(|bytes| (path, bytes))
        });
    }

    fn take_brought(&mut self, path: &Path, bytes: Vec<u8>) {
        let session = &mut self.session;
        let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let name = free_name(session.job(), session.path.as_deref(), &session.stock.held, &stem);
        session.stock.held.insert(name.clone(), Arc::new(bytes));
        if session.path.is_none() {
            session.say(format!("{name} is written beside the job when the job is saved."));
        }
        self.name_catalogue(name);
    }

    fn name_catalogue(&mut self, name: String) {
        let mut job = Job { boards: Vec::new(), ..Job::clone(self.session.job()) };
        job.catalogs.push(name);
        self.session.history.close_entry();
        self.edit(Edit::Settings { job: Box::new(job), field: "catalogues".into() });
        self.session.history.close_entry();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_catalogue_gets_a_name_nothing_else_has_and_no_path() {
        let job = Job { catalogs: vec!["Parts.csv".into()], ..Job::default() };
        assert_eq!(free_name(&job, None, &Held::default(), "parts"), "parts (2).csv");
        assert_eq!(free_name(&job, None, &Held::default(), "../../x/y"), "_.._x_y.csv");
        assert_eq!(free_name(&job, None, &Held::default(), ""), "parts (2).csv");
    }
}
