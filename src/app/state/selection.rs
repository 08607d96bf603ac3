//! What the person is looking at. The same in every place.

use crate::domain::{PartId, PositionId};

/// Candidates that can be pinned at a time.
pub(crate) const PINS_MAX: usize = 6;

/// A part that comes into question at a position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Candidate {
    /// The part that was built in, new.
    Original,
    /// A part of the catalogue.
    Part(PartId),
}

/// What the middle of the window shows.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash)]
pub(crate) enum View {
    /// The map of the board.
    Board,
    /// The table of candidates.
    #[default]
    Candidates,
    /// The life curves.
    Life,
    /// The order.
    Purchase,
    /// Lists of strangers.
    Import,
    /// Methods, sources, cautions.
    Help,
}

/// The list the arrow keys move in.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum List {
    /// The positions on the left.
    #[default]
    Positions,
    /// The candidates of the selected position.
    Candidates,
}

/// What is selected, pinned and shown.
#[derive(Debug, Clone, Default)]
pub(crate) struct Selection {
    /// Index of the board.
    pub board: usize,
    /// The position; `None` when the job has none.
    pub position: Option<PositionId>,
    /// Positions marked besides the selected one, to be changed together with it.
    pub marked: Vec<PositionId>,
    /// The candidate; `None` until one is selected: then the chosen part counts.
    pub candidate: Option<Candidate>,
    /// The candidate under the pointer in this frame.
    pub hovered: Option<Candidate>,
    /// Candidates kept for comparison, at most [`PINS_MAX`], oldest first.
    pub pinned: Vec<Candidate>,
    /// What fills the middle.
    pub view: View,
    /// The list the arrow keys move in.
    pub list: List,
}

impl Selection {
    /// Selects a position; the candidate is let go when it is another position.
    pub(crate) fn select(&mut self, position: Option<PositionId>) {
        if self.position != position {
            self.candidate = None;
            self.hovered = None;
        }
        self.marked.clear();
        self.position = position;
        if let Some(id) = position {
            self.board = id.board;
        }
    }

    /// The positions to be changed together: the selected one and the marked ones, in the order of the job.
    pub(crate) fn at_hand(&self) -> Vec<PositionId> {
        let mut ids: Vec<PositionId> = self.position.into_iter().chain(self.marked.iter().copied()).collect();
        ids.sort_unstable();
        ids.dedup();
        ids
    }

    /// Whether a position is the selected one or marked.
    pub(crate) fn has(&self, id: PositionId) -> bool {
        self.position == Some(id) || self.marked.contains(&id)
    }

    /// Marks a position, or takes its mark away; the selected one gives its place to another marked one.
    pub(crate) fn toggle_mark(&mut self, id: PositionId) {
        if self.position == Some(id) {
            if let Some(next) = self.marked.pop() {
                let rest = std::mem::take(&mut self.marked);
                self.select(Some(next));
                self.marked = rest;
            }
        } else if let Some(at) = self.marked.iter().position(|&marked| marked == id) {
            self.marked.remove(at);
        } else if self.position.is_none() {
            self.select(Some(id));
        } else {
            self.marked.push(id);
        }
    }

    /// Pins a candidate or unpins it; `false` when there are too many pins already.
    pub(crate) fn toggle_pin(&mut self, candidate: Candidate) -> bool {
        if let Some(at) = self.pinned.iter().position(|&p| p == candidate) {
            self.pinned.remove(at);
            return true;
        }
        let room = self.pinned.len() < PINS_MAX;
        if room {
            self.pinned.push(candidate);
        }
        room
    }
}
