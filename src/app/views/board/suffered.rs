//! Which old parts wore more than the stress entered explains: where the stress is underestimated.

use crate::app::state::scene::Scene;
use crate::domain::{Date, Position, PositionId};
use crate::files::board_colours::Colours;
use crate::sizing::old_part::board_by_condition;

/// The positions of a board whose old part suffered more than predicted, worked out when the colours show the old parts.
#[derive(Debug, Default)]
pub(super) struct Suffered {
    /// The board and its positions they were worked out for.
    of: Option<(usize, Vec<Position>)>,
    /// The most worn first.
    ids: Vec<PositionId>,
}

impl Suffered {
    /// Works out what is not there yet.
    pub(super) fn provide(&mut self, scene: &Scene, colours: Colours) {
        let Some(board) = scene.board().filter(|_| colours == Colours::OldPart) else {
            *self = Self::default();
            return;
        };
        let at = scene.selection.board;
        if self.of.as_ref().is_some_and(|(known, positions)| *known == at && *positions == board.positions) {
            return;
        }
        let now = Date::today().map(Date::fractional_year);
        let old = board_by_condition(scene.job, scene.catalog, at, now);
        self.ids = old.into_iter().filter(|old| old.suffered_more()).map(|old| old.id).collect();
        self.of = Some((at, board.positions.clone()));
    }

    /// The positions, the most worn first.
    pub(super) fn ids(&self) -> &[PositionId] {
        &self.ids
    }
}
