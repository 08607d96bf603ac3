//! The state of the window that is not about drawing: the job, what is selected, what was found out, what is to be said.

use std::cell::OnceCell;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::app::state::{
    candidates::Candidates, catalog_sources::CatalogSources, edit::Edit, history::History, scene::BoardPhoto,
    scene::Scene, selection::Selection, snapshot::Snapshot,
};
use crate::domain::{Job, PositionId};
use crate::files::{
    Rejected, companions::Held, demo, job_file::Stamp, load::Loaded, offers::OffersRead, unit_record::RecordsRead,
};
use crate::sizing::{CatalogIndex, Interval, changed::Records};

/// Which photo: that of a board of the job in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct PhotoName {
    /// The job file; `None` for a photo that is held until the job is saved.
    pub job: Option<PathBuf>,
    /// What the board names, relative to it.
    pub photo: String,
}

/// The job at hand and everything around it.
#[derive(Default)]
pub(crate) struct Session {
    /// The job with its past.
    pub history: History,
    /// The job as it is in its file.
    saved: Arc<Job>,
    /// Its file; `None` for the demo and for a job never saved.
    pub path: Option<PathBuf>,
    /// What the file held when it was read or written last; `None` for a job without a file.
    pub stamp: Option<Stamp>,
    /// The file comes from a later version and is not to be overwritten.
    pub newer: bool,
    pub catalog_index: Arc<CatalogIndex>,
    /// What is known of the catalogues the job names.
    pub stock: CatalogSources,
    /// What was known of the chosen parts when the job was saved last; empty where nobody kept it.
    pub as_saved: Arc<Records>,
    /// Cells and rows of the catalogues that were not used.
    pub rejected: Vec<Rejected>,
    /// What was said, oldest first.
    pub messages: Vec<String>,
    /// How much had been said when the job was changed last: all of that is about the job before.
    said_before: usize,
    /// What is selected, pinned and shown.
    pub selection: Selection,
    /// What came out last.
    pub snapshot: Arc<Snapshot>,
    /// The candidates of the selected position, once they are checked, with the job they were checked for.
    pub candidates: Option<(Arc<Job>, Arc<Candidates>)>,
    /// The photo of the selected board, once it is read.
    pub photo: Option<BoardPhoto>,
    /// Offers of further suppliers, from the lists the job names.
    pub offers: Arc<OffersRead>,
    /// They are still being read: what is worked out without them does not count.
    pub offers_due: bool,
    /// The record of the units, once it is read.
    pub records: Arc<RecordsRead>,
    /// The position a part was picked for last, with the board's interval before, until its sizing has arrived.
    pub picked: Option<(PositionId, Option<Interval>)>,
    /// Counts changes that moved positions: what remembers places in the job follows it.
    pub moves: u64,
    /// Counts changes of the catalogue: what remembers places of parts in it follows it.
    pub catalogs_seen: u64,
}

impl Session {
    /// A session with a job as it was read.
    pub(crate) fn new(loaded: Loaded, path: Option<PathBuf>) -> Self {
        let job = Arc::new(loaded.job);
        let first = job.positions().next().map(|(id, _)| id);
        let mut held = Held::new();
        let (name, content) = demo::FILES[1];
        if path.is_none() && job.catalogs.iter().any(|named| named == name) {
            // The demo has no folder its catalogue and its photos could lie in.
            held.insert(name.to_owned(), Arc::new(content.as_bytes().to_vec()));
            held.extend(demo::PHOTOS.map(|(name, content)| (name.to_owned(), Arc::new(content.to_vec()))));
        }
        let mut session = Self {
            stock: CatalogSources::of(&job.catalogs, held),
            offers_due: path.is_some() && !job.offers.is_empty(),
            history: History::new(job.clone()),
            saved: job,
            path,
            newer: loaded.newer,
            as_saved: Arc::new(loaded.as_saved),
            catalog_index: Arc::new(loaded.catalog_index),
            rejected: loaded.rejected,
            messages: loaded.notes,
            ..Self::default()
        };
        session.selection.select(first);
        session
    }

    /// A session with a new job of one's own, which is in no file yet.
    pub(crate) fn begun(job: Job) -> Self {
        Self { history: History::new(Arc::new(job)), ..Self::default() }
    }

    /// Whether the job is an invented example, whose parts nobody can buy.
    pub(crate) fn is_invented(&self) -> bool {
        self.job().invented == Some(true)
    }

    pub(crate) fn job(&self) -> &Arc<Job> {
        self.history.job()
    }

    /// Whether the job differs from its file.
    pub(crate) fn is_dirty(&self) -> bool {
        !Arc::ptr_eq(&self.saved, self.job()) && *self.saved != **self.job()
    }

    /// Remembers that `job` now stands in the file at `path`.
    pub(crate) fn mark_saved(&mut self, path: &Path, job: Arc<Job>, stamp: Stamp) {
        self.saved = job;
        self.stamp = Some(stamp);
        self.path = Some(path.to_owned());
        self.newer = false;
    }

    /// What is not to be kept, or stands in a file already, is `job`: leaving it behind is not asked about.
    pub(crate) fn count_as_saved(&mut self, job: Arc<Job>) {
        self.saved = job;
    }

    /// What is to be known at a glance: what was said last, or what was changed since.
    pub(crate) fn news(&self) -> String {
        match (self.messages.get(self.said_before..).and_then(<[String]>::last), self.history.undo_label()) {
            (Some(said), _) => said.clone(),
            (None, Some(changed)) => format!("Done: {changed}."),
            (None, None) => "Ready.".to_owned(),
        }
    }

    /// Says something to the person, and keeps it.
    pub(crate) fn say(&mut self, message: impl Into<String>) {
        self.messages.push(message.into());
    }

    /// What came of work on another thread; where it failed, that is said.
    pub(crate) fn arrived<T>(&mut self, done: Option<Result<T, String>>) -> Option<T> {
        done?.map_err(|error| self.say(error)).ok()
    }

    /// Selects a position; a position the job no longer has becomes the nearest one it has.
    pub(crate) fn select(&mut self, wanted: Option<PositionId>) {
        let job = self.job().clone();
        let has = |id: PositionId| job.position(id).is_some();
        let nearest = |id: PositionId| {
            let before = (0..id.index).rev().map(|index| PositionId { index, ..id }).find(|&id| has(id));
            before.or_else(|| job.positions().next().map(|(id, _)| id))
        };
        let position = wanted.and_then(|id| if has(id) { Some(id) } else { nearest(id) });
        if position != self.selection.position {
            self.candidates = None;
        }
        self.selection.select(position);
        self.selection.board = self.selection.board.min(job.boards.len().saturating_sub(1));
    }

    /// Changes the job.
    pub(crate) fn edit(&mut self, edit: Edit) {
        let structural = matches!(edit, Edit::Add { .. } | Edit::Remove(_) | Edit::Whole { .. });
        if self.keeping_marks(|session| session.history.edit(edit)).is_some() {
            self.said_before = self.messages.len();
        }
        self.moves += u64::from(structural);
    }

    /// Undoes the last change, or does it again; what it was.
    pub(crate) fn step_history(&mut self, step: impl FnOnce(&mut History) -> Option<String>) -> Option<String> {
        let label = self.keeping_marks(|session| step(&mut session.history))?;
        self.moves += 1;
        Some(label)
    }

    /// Other parts are loaded: everything that goes by their places in the catalogue is forgotten.
    pub(crate) fn forget_parts(&mut self) {
        self.catalogs_seen += 1;
        self.selection.pinned.clear();
        (self.selection.candidate, self.selection.hovered) = (None, None);
        self.candidates = None;
        self.snapshot = Arc::default();
    }

    /// Makes a change to the job, then selects and marks what was selected and marked; a mark goes with its position.
    pub(crate) fn keeping_marks<T>(&mut self, change: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.job().clone();
        let marked = std::mem::take(&mut self.selection.marked);
        let changed = change(self);
        self.select(self.selection.position);
        let job = self.job();
        let name = |job: &Job, id: PositionId| job.position(id).map(|position| position.reference.clone());
        let counts = |job: &Job| job.boards.iter().map(|board| board.positions.len()).collect::<Vec<_>>();
        let same_places = counts(&before) == counts(job);
        let stays =
            |id: &PositionId| job.position(*id).is_some() && (same_places || name(job, *id) == name(&before, *id));
        let marked = marked.into_iter().filter(stays).collect();
        self.selection.marked = marked;
        changed
    }

    /// Whether what came out last is of the job as it is now, with all its parts and offers.
    pub(crate) fn is_fresh(&self) -> bool {
        let Snapshot { job, catalog_index, .. } = &*self.snapshot;
        !self.offers_due && Arc::ptr_eq(self.job(), job) && Arc::ptr_eq(&self.catalog_index, catalog_index)
    }

    /// What views read.
    pub(crate) fn scene(&self) -> Scene<'_> {
        let job = self.job();
        let of_selected = |c: &&(Arc<Job>, Arc<Candidates>)| Some(c.1.position) == self.selection.position;
        Scene {
            job,
            catalog: self.catalog_index.catalog(),
            sizing: &self.snapshot.sizing,
            fresh: self.is_fresh(),
            candidates: self.candidates.as_ref().filter(of_selected).map(|c| &c.1),
            selection: &self.selection,
            photo: self.photo.as_ref(),
            records: &self.records,
            place: OnceCell::new(),
        }
    }
}

#[cfg(test)]
#[path = "../../../tests/window/inside/session.rs"]
mod tests;
