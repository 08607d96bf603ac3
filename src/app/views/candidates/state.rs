//! What the table of candidates remembers: what is asked for and listed, which columns, what is marked.

use std::collections::HashSet;
use std::sync::Arc;

use egui::Vec2;

use super::listing::{Ask, Listing, Sort};
use super::{clipboard, columns::COLUMNS, columns::TableColumn, entry::Entry};
use crate::app::state::{Candidate, Candidates, Scene, Session, Step};
use crate::app::widgets::{drafts::Drafts, wording};
use crate::app::work::{AnyWorker, Worker, in_front};
use crate::domain::PositionId;

/// What the place remembers.
#[derive(Default)]
pub(crate) struct CandidatesState {
    /// Filters and sorts.
    worker: Worker<Option<Listing>>,
    pub(super) ask: Ask,
    pub(super) listing: Option<Listing>,
    pub(super) asked: Option<(Arc<Candidates>, Ask)>,
    /// Those of [`COLUMNS`] that are shown or hidden against their custom.
    pub(super) unusual: HashSet<usize>,
    /// Candidates marked for copying, of the position they were marked at.
    pub(super) marked: HashSet<Candidate>,
    pub(super) marked_at: Option<PositionId>,
    pub(super) below: Below,
    /// The comparison shows only what differs.
    pub(super) differences: bool,
    pub(super) next: Next,
    /// How far the table was scrolled when last drawn.
    pub(super) offset: Vec2,
    /// What is typed into the advice where too little is known.
    pub(super) needed: Drafts,
}

/// What stands below the table, or beside it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum Below {
    /// Why the selected candidate fares as it does.
    #[default]
    Reasons,
    /// The pinned candidates side by side.
    Comparison,
    /// What can be typed into the filter.
    Examples,
}

/// What is to be done when the place is next drawn.
#[derive(Debug, Default)]
pub(super) struct Next {
    /// Scroll to the selected row.
    pub(super) reveal: bool,
    pub(super) to_top: bool,
    /// Scroll sideways so far.
    pub(super) to_x: Option<f32>,
    /// Move the keyboard into the filter.
    pub(super) to_filter: bool,
}

impl CandidatesState {
    /// The work on other threads.
    pub(crate) fn work(&self) -> [&dyn AnyWorker; 1] {
        [&self.worker]
    }

    /// Filters and sorts what is new, on another thread if there is much of it.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        /// Up to this many rows are filtered and sorted at once; it takes less than 4 ms.
        const AT_ONCE: usize = 20_000;
        if let Some(Some(listing)) = session.arrived(self.worker.take()) {
            self.listing = Some(listing);
        }
        let (Some((_, candidates)), catalog_index) = (&session.candidates, &session.catalog_index) else { return };
        let known = |(known, ask): &(Arc<Candidates>, Ask)| Arc::ptr_eq(known, candidates) && *ask == self.ask;
        if self.asked.as_ref().is_some_and(known) {
            return;
        }
        if self.marked_at != Some(candidates.position) {
            self.marked.clear();
            self.marked_at = Some(candidates.position);
            self.next.to_top = true;
        }
        self.next.to_top |= self.asked.as_ref().is_some_and(|(_, ask)| *ask != self.ask);
        let (candidates, ask, catalog_index) = (candidates.clone(), self.ask.clone(), catalog_index.clone());
        self.asked = Some((candidates.clone(), ask.clone()));
        let rows =
            if candidates.lists_excluded(ask.ruled_out) { catalog_index.catalog().len() } else { candidates.len() };
        if rows <= AT_ONCE {
            self.worker.cancel();
            self.listing = Listing::new(&candidates, catalog_index.catalog(), ask, &|| false);
        } else {
            self.worker.request("Filtering and sorting", move |progress| {
                in_front(|| Listing::new(&candidates, catalog_index.catalog(), ask, &|| progress.is_cancelled()))
            });
        }
    }

    /// What is listed for the selected position.
    pub(super) fn listed(&self, scene: &Scene) -> Option<&Listing> {
        self.listing.as_ref().filter(|listing| Some(listing.candidates.position) == scene.selection.position)
    }

    /// The candidates in the order shown: the original first.
    pub(super) fn nth(&self, scene: &Scene, index: usize) -> Option<Candidate> {
        match index.checked_sub(1) {
            None => scene.position().map(|_| Candidate::Original),
            Some(at) => self.listed(scene)?.ids.get(at).copied().map(Candidate::Part),
        }
    }

    pub(super) fn index_of(&self, scene: &Scene, candidate: Candidate) -> Option<usize> {
        match candidate {
            Candidate::Original => Some(0),
            Candidate::Part(id) => self.listed(scene)?.ids.iter().position(|&own| own == id).map(|at| at + 1),
        }
    }

    /// How many rows there are, the original included.
    pub(super) fn count(&self, scene: &Scene) -> usize {
        self.listed(scene).map_or(0, |listing| listing.ids.len()) + 1
    }

    pub(super) fn shows(&self, at: usize) -> bool {
        at == 0 || COLUMNS[at].usual != self.unusual.contains(&at)
    }

    pub(super) fn columns(&self) -> Vec<(usize, &'static TableColumn)> {
        COLUMNS.iter().enumerate().filter(|&(at, _)| self.shows(at)).collect()
    }

    /// Sorts by a column; again to turn the order round, and once more for the best first.
    pub(super) fn sort_by(&mut self, column: usize) {
        let first = Sort { column, descending: COLUMNS[column].best_is_largest() };
        let second = Sort { descending: !first.descending, ..first };
        self.ask.sort = match self.ask.sort {
            Some(sort) if sort == first => Some(second),
            Some(sort) if sort == second => None,
            _ => Some(first),
        };
    }

    /// Forgets what was listed: the parts are others now.
    pub(crate) fn forget_parts(&mut self) {
        self.worker.cancel();
        (self.listing, self.asked) = (None, None);
        self.marked.clear();
    }

    /// Forgets what was marked: the positions have moved under the marks.
    pub(crate) fn forget_marks(&mut self) {
        self.marked.clear();
    }

    /// Shows the comparison, or the reasons when it is shown already.
    /// `true`: it stands there now.
    pub(crate) fn toggle_comparison(&mut self) -> bool {
        self.below = if self.below == Below::Comparison { Below::Reasons } else { Below::Comparison };
        self.below == Below::Comparison
    }

    pub(crate) fn compares(&self) -> bool {
        self.below == Below::Comparison
    }

    /// Moves the keyboard into the filter.
    pub(crate) fn use_filter(&mut self) {
        self.next.to_filter = true;
    }

    /// Marks a candidate for copying, or unmarks it.
    pub(crate) fn toggle_mark(&mut self, candidate: Candidate) {
        if !self.marked.remove(&candidate) {
            self.marked.insert(candidate);
        }
    }

    /// Marks everything listed, or, when something is marked already, unmarks it; says what was done.
    pub(crate) fn mark_all(&mut self, scene: &Scene) -> String {
        if !self.marked.is_empty() {
            self.marked.clear();
            return "Nothing is marked any more.".to_owned();
        }
        let ids = self.listed(scene).map_or(&[][..], |listing| &listing.ids);
        let marked: HashSet<Candidate> = ids.iter().take(clipboard::ROWS_MAX).map(|&id| Candidate::Part(id)).collect();
        let rest = ids.len() - marked.len();
        self.marked = marked;
        let rest = if rest > 0 { format!("; {rest} more are too many to copy at a time") } else { String::new() };
        format!("{} marked{rest}.", wording::count(self.marked.len(), "candidate is", "candidates are"))
    }

    /// The marked candidates, else the one in question, as a table with the columns shown; with how many rows it has.
    /// `None` when there is none.
    pub(crate) fn copied(&self, scene: &Scene) -> Option<(String, usize)> {
        let mut wanted: Vec<Candidate> = self.marked.iter().copied().collect();
        if wanted.is_empty() {
            wanted.extend(scene.candidate());
        }
        // In the order shown; what the filter hides by now comes last.
        if wanted.len() > 1 {
            let all = (0..self.count(scene)).filter_map(|index| self.nth(scene, index));
            let order: std::collections::HashMap<Candidate, usize> = all
                .enumerate()
                .filter(|(_, candidate)| self.marked.contains(candidate))
                .map(|(at, c)| (c, at))
                .collect();
            wanted.sort_by_key(|candidate| order.get(candidate).copied().unwrap_or(usize::MAX));
        }
        let columns: Vec<&TableColumn> = self.columns().into_iter().map(|(_, column)| column).collect();
        let mut lines = vec![clipboard::headings(&columns)];
        let entries = wanted.into_iter().filter_map(|candidate| Entry::new(scene, candidate));
        lines.extend(entries.map(|entry| clipboard::row(&columns, &entry)));
        let rows = lines.len() - 1;
        (rows > 0).then(|| (lines.join("\n") + "\n", rows))
    }
}

/// The candidate a move leads to, in the order shown.
pub(crate) fn step(state: &mut CandidatesState, scene: &Scene, step: Step) -> Option<Candidate> {
    state.next.reveal = true;
    let at = scene.candidate().and_then(|candidate| state.index_of(scene, candidate));
    state.nth(scene, step.from(at, state.count(scene))?)
}
