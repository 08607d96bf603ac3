//! The parts that come into question for the selected position: a table one filters and sorts, the reasons of the
//! selected one, the pinned ones side by side.

mod clipboard;
mod columns;
mod compare;
mod detail;
mod empty;
mod entry;
mod filter;
mod listing;
mod matching;
mod quantity;
mod row;
mod table;
mod toolbar;
mod why;

use std::collections::HashSet;
use std::sync::Arc;

use egui::{self, Panel, ScrollArea, Ui, Vec2};

use crate::app::actions::action::Action;
use crate::app::state::candidates::Candidates;
use crate::app::state::scene::Scene;
use crate::app::state::selection::Candidate;
use crate::app::views::Density;
use crate::app::views::Step;
use crate::app::widgets::theme::space;
use crate::app::widgets::wording;
use crate::app::widgets::{self, Beside, Edge};
use crate::app::work::worker::{Worker, in_front};
use crate::domain::PositionId;
use crate::sizing::CatalogIndex;
use columns::{COLUMNS, TableColumn};
use entry::Entry;
use listing::{Ask, Sort};

#[cfg(test)]
pub(crate) use filter::EXAMPLES;
pub(crate) use listing::Listing;

/// Every name a column has in the filter, for the test that the guide tells them all.
#[cfg(test)]
pub(crate) fn names_in_the_filter() -> impl Iterator<Item = &'static str> {
    COLUMNS.iter().flat_map(|column| column.words.iter().copied())
}

/// From this width on the reasons stand beside the table instead of below it, points.
const WIDE: f32 = 1560.0;

/// Width of the table with its usual columns, points.
const TABLE: f32 = 1040.0;

/// What the place remembers.
#[derive(Debug)]
pub(crate) struct CandidatesState {
    ask: Ask,
    listing: Option<Listing>,
    asked: Option<(Arc<Candidates>, Ask)>,
    /// For each of [`COLUMNS`] whether it is shown.
    shown: Vec<bool>,
    /// Candidates marked for copying, of the position they were marked at.
    marked: HashSet<Candidate>,
    marked_at: Option<PositionId>,
    below: Below,
    next: Next,
    /// How far the table was scrolled when last drawn.
    offset: Vec2,
}

/// What stands below the table, or beside it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
enum Below {
    /// Why the candidate in question fares as it does.
    #[default]
    Reasons,
    /// The pinned candidates side by side.
    Comparison,
    /// What can be typed into the filter.
    Examples,
}

/// What is to be done when the place is next drawn.
#[derive(Debug, Default)]
struct Next {
    /// Scroll to the selected row.
    reveal: bool,
    /// Scroll to the top.
    to_top: bool,
    /// Scroll sideways so far.
    to_x: Option<f32>,
    /// Move the keyboard into the filter.
    to_filter: bool,
}

impl Default for CandidatesState {
    fn default() -> Self {
        Self {
            ask: Ask::default(),
            listing: None,
            asked: None,
            shown: COLUMNS.iter().map(|column| column.usual).collect(),
            marked: HashSet::new(),
            marked_at: None,
            below: Below::default(),
            next: Next::default(),
            offset: Vec2::ZERO,
        }
    }
}

impl CandidatesState {
    /// Filters and sorts what is new, on `worker` if there is much of it.
    ///
    /// # Errors
    /// In words, when filtering went wrong.
    pub(crate) fn follow(
        &mut self,
        candidates: Option<&Arc<Candidates>>,
        catalog_index: &Arc<CatalogIndex>,
        worker: &Worker<Option<Listing>>,
    ) -> Result<(), String> {
        /// Up to this many rows are filtered and sorted at once; it takes less than 4 ms.
        const AT_ONCE: usize = 20_000;
        match worker.take() {
            Some(Ok(Some(listing))) => self.listing = Some(listing),
            Some(Err(error)) => return Err(error),
            Some(Ok(None)) | None => {}
        }
        let Some(candidates) = candidates else { return Ok(()) };
        let known = |(known, ask): &(Arc<Candidates>, Ask)| Arc::ptr_eq(known, candidates) && *ask == self.ask;
        if self.asked.as_ref().is_some_and(known) {
            return Ok(());
        }
        if self.marked_at != Some(candidates.position) {
            self.marked.clear();
            self.marked_at = Some(candidates.position);
            self.next.to_top = true;
        }
        self.next.to_top |= self.asked.as_ref().is_some_and(|(_, ask)| *ask != self.ask);
        let (candidates, ask, catalog_index) = (candidates.clone(), self.ask.clone(), catalog_index.clone());
        self.asked = Some((candidates.clone(), ask.clone()));
        let rows = if ask.ruled_out { catalog_index.catalog().len() } else { candidates.len() };
        if rows <= AT_ONCE {
            worker.cancel();
            self.listing = Listing::new(&candidates, catalog_index.catalog(), ask, &|| false);
        } else {
            worker.request("Filtering and sorting", move |progress| {
                in_front(|| Listing::new(&candidates, catalog_index.catalog(), ask, &|| progress.is_cancelled()))
            });
        }
        Ok(())
    }

    /// What is listed for the selected position.
    fn listed(&self, scene: &Scene) -> Option<&Listing> {
        self.listing.as_ref().filter(|listing| Some(listing.candidates.position) == scene.selection.position)
    }

    /// The candidates in the order shown: the original first.
    fn nth(&self, scene: &Scene, index: usize) -> Option<Candidate> {
        match index.checked_sub(1) {
            None => scene.position().map(|_| Candidate::Original),
            Some(at) => self.listed(scene)?.ids.get(at).copied().map(Candidate::Part),
        }
    }

    fn index_of(&self, scene: &Scene, candidate: Candidate) -> Option<usize> {
        match candidate {
            Candidate::Original => Some(0),
            Candidate::Part(id) => self.listed(scene)?.ids.iter().position(|&own| own == id).map(|at| at + 1),
        }
    }

    /// How many rows there are, the original included.
    fn count(&self, scene: &Scene) -> usize {
        self.listed(scene).map_or(0, |listing| listing.ids.len()) + 1
    }

    fn columns(&self) -> Vec<(usize, &'static TableColumn)> {
        COLUMNS.iter().enumerate().filter(|&(at, _)| at == 0 || self.shown[at]).collect()
    }

    /// Sorts by a column; again to turn the order round, and once more for the best first.
    fn sort_by(&mut self, column: usize) {
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
        (self.listing, self.asked) = (None, None);
        self.marked.clear();
    }

    /// Forgets what was marked: the positions have moved under the marks.
    pub(crate) fn forget_marks(&mut self) {
        self.marked.clear();
    }

    /// Shows the comparison, or the reasons when it is shown already.
    pub(crate) fn toggle_comparison(&mut self) {
        self.below = if self.below == Below::Comparison { Below::Reasons } else { Below::Comparison };
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
        let place = scene.place()?;
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
        let entries = wanted.into_iter().filter_map(|candidate| Entry::new(scene, &place, candidate));
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

/// Draws the place.
pub(super) fn show(ui: &mut Ui, scene: &Scene, density: Density, state: &mut CandidatesState, out: &mut Vec<Action>) {
    if scene.position().is_none() {
        ui.label("Select a position on the left; its candidates are then listed here.");
        return;
    }
    // Beside the table in a wide window, below it in a small one.
    let margin = space::PANEL;
    let (edge, id, panel, usual) = if ui.available_width() >= WIDE {
        let frame = egui::Frame::new().inner_margin(egui::Margin { left: margin, ..egui::Margin::ZERO });
        let id = "candidate detail beside";
        let spare = (ui.available_width() - TABLE).clamp(420.0, 900.0);
        (Edge::Right, id, Panel::right(id).frame(frame).resizable(true).size_range(360.0..=1200.0), spare)
    } else {
        let frame = egui::Frame::new().inner_margin(egui::Margin { top: margin, ..egui::Margin::ZERO });
        let id = "candidate detail";
        let share = (ui.available_height() * 0.36).clamp(130.0, 260.0);
        let most = (ui.available_height() - 150.0).max(80.0);
        (Edge::Bottom, id, Panel::bottom(id).frame(frame).resizable(true).size_range(60.0..=most), share)
    };
    let main = |ui: &mut Ui, (state, out): &mut (&mut CandidatesState, &mut Vec<Action>)| {
        toolbar::show(ui, scene, density, state, out);
        why::show(ui, scene, state);
        table::show(ui, scene, state, out);
    };
    let aside = |ui: &mut Ui, (state, out): &mut (&mut CandidatesState, &mut Vec<Action>)| below(ui, scene, state, out);
    widgets::main_then_panel(ui, Beside { edge, id, panel, usual }, &mut (state, out), main, aside);
}

/// The reasons of the candidate in question, the pinned ones side by side, or the examples of the filter.
fn below(ui: &mut Ui, scene: &Scene, state: &mut CandidatesState, out: &mut Vec<Action>) {
    let pinned = scene.selection.pinned.iter().filter(|c| **c != Candidate::Original).count();
    ui.horizontal_wrapped(|ui| {
        let tabs = [
            (Below::Reasons, "Reasons".to_owned(), "Every check of the selected candidate, with its figures."),
            (
                Below::Comparison,
                format!("Compare pinned ({pinned})"),
                "The pinned candidates side by side, against the original.",
            ),
            (Below::Examples, "Filter examples".to_owned(), "What can be typed into the filter."),
        ];
        for (tab, name, hover) in tabs {
            if ui.selectable_label(state.below == tab, name).on_hover_text(hover).clicked() {
                state.below = tab;
            }
        }
        if state.below == Below::Reasons {
            ui.add_space(8.0);
            detail::title(ui, scene);
        }
    });
    let scroll = ScrollArea::vertical().auto_shrink([false, false]).id_salt(state.below as u8);
    match state.below {
        Below::Reasons => scroll.show(ui, |ui| detail::show(ui, scene)).inner,
        Below::Comparison => compare::show(ui, scene, out),
        Below::Examples => scroll.show(ui, |ui| toolbar::examples(ui, state)).inner,
    }
}
