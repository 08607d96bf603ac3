//! What the person is looking at. The same in every place.

use crate::domain::{OtherId, PartId, PositionId};

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
    /// Where one begins: a new job, recent jobs, the demo.
    Start,
    /// The map of the board.
    Board,
    /// The table of candidates.
    #[default]
    Candidates,
    /// The life curves.
    Life,
    /// The order.
    Purchase,
    /// One unit, can by can.
    Bench,
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
    /// The other part in the editor.
    pub other: Option<OtherId>,
    /// The test point in the editor.
    pub test_point: Option<OtherId>,
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
    /// The list that gets the keyboard in the next frame: an arrow key of this frame would carry it on at once.
    pub keyboard_to: Option<List>,
    /// The list of positions scrolls to the selected one when next drawn.
    pub reveal: Option<Reveal>,
    /// What is laid over the window.
    pub overlay: Option<Overlay>,
    /// What the editor shows; `None` while it is closed.
    pub editor: Option<EditorSheet>,
}

/// How the list of positions scrolls to the selected one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Reveal {
    /// So that it can be seen.
    InSight,
    /// So that it is the first in sight, and with it those that came together with it.
    AtTop,
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

    /// Opens the editor with another part, or a test point where `is_part` is false.
    pub(crate) fn edit_other(&mut self, id: OtherId, is_part: bool) {
        // Only one of them is placed on the map.
        (self.other, self.test_point) = if is_part { (Some(id), None) } else { (None, Some(id)) };
        self.board = id.board.unwrap_or(self.board);
        self.editor = Some(EditorSheet::Others);
    }

    /// Opens the editor, or closes it when it shows that sheet already.
    pub(crate) fn toggle_editor(&mut self, sheet: EditorSheet) {
        self.editor = if self.editor == Some(sheet) { None } else { Some(sheet) };
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

/// A move in a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Step {
    Next,
    Previous,
    First,
    Last,
}

impl Step {
    /// Where the move leads in a list of `len` rows; `None` when it is empty. Without a start it leads to an end.
    pub(crate) fn from(self, at: Option<usize>, len: usize) -> Option<usize> {
        let last = len.checked_sub(1)?;
        Some(match (self, at) {
            (Self::First, _) | (Self::Next, None) => 0,
            (Self::Last, _) | (Self::Previous, None) => last,
            (Self::Next, Some(at)) => (at + 1).min(last),
            (Self::Previous, Some(at)) => at.saturating_sub(1).min(last),
        })
    }
}

/// A list that can be laid over the window.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Overlay {
    /// Every command with its keys.
    Keys,
    /// What was said, and what was rejected.
    Messages,
    Catalogs,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum EditorSheet {
    /// The selected and marked positions.
    #[default]
    Position,
    Board,
    /// The other parts and test points of the selected board and of the unit.
    Others,
    Job,
}

#[cfg(test)]
mod tests {
    use super::Step;

    #[test]
    fn moves_stop_at_the_ends() {
        assert_eq!(Step::Next.from(Some(1), 2), Some(1));
        assert_eq!(Step::Previous.from(Some(0), 2), Some(0));
        assert_eq!(Step::Next.from(None, 2), Some(0));
        assert_eq!(Step::Last.from(None, 2), Some(1));
        assert_eq!(Step::First.from(None, 0), None);
    }
}
