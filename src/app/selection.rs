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
    /// Several positions at a time, for one change to all of them; empty while only one is selected.
    pub marked: Vec<PositionId>,
}

impl Selection {
    /// Selects a position; the candidate is let go when it is another position.
    pub(crate) fn select(&mut self, position: Option<PositionId>) {
        if self.position != position {
            self.candidate = None;
            self.hovered = None;
            if position.is_none_or(|id| !self.marked.contains(&id)) {
                self.marked.clear();
            }
        }
        self.position = position;
        if let Some(id) = position {
            self.board = id.board;
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
