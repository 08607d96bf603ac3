//! How far the choice at a position has come: what a can on the map, a row of the list and the counter tell.

use super::{Choice, PositionSizing, Sizing, Source};
use crate::domain::{Outcome, PositionId, words};

words! {
    /// How far the choice at a position has come, the settled first; its word stands after a number: `3 proposed`.
    #[derive(Default)]
    pub enum CanState {
        /// A part that passes is picked.
        Picked,
        /// The part passes on stress nobody has entered: to be measured.
        #[strum(serialize = "on assumed stress")]
        OnAssumedStress,
        /// A part that passes is proposed, and nobody has picked one.
        Proposed,
        /// The part is marginal: it holds once the leads are formed, the vent space is seen to and the like.
        #[strum(serialize = "work to do")]
        WorkToDo,
        /// A figure is missing.
        #[strum(serialize = "not enough known")]
        NotEnoughKnown,
        /// The picked part fails.
        #[strum(serialize = "pick fails")]
        PickFails,
        /// No part of the catalogue is suitable.
        #[strum(serialize = "no part")]
        NoPart,
        /// Not checked yet.
        #[default]
        Open,
    }
}

impl CanState {
    /// The state of a choice.
    pub fn of(choice: &Choice) -> Self {
        match (choice.verdict, choice.source) {
            (Outcome::Pass, Source::Pick | Source::Proposed) if choice.passes_on_assumed_stress() => {
                Self::OnAssumedStress
            }
            (Outcome::Pass, Source::Pick) => Self::Picked,
            (Outcome::Pass, Source::Proposed) => Self::Proposed,
            (Outcome::Marginal, _) => Self::WorkToDo,
            (Outcome::Unknown, _) => Self::NotEnoughKnown,
            (Outcome::Fail, Source::Pick) => Self::PickFails,
            (Outcome::Fail | Outcome::Pass, _) => Self::NoPart,
        }
    }

    /// The outcome whose colour it borrows.
    pub fn outcome(self) -> Outcome {
        match self {
            Self::Proposed | Self::Picked | Self::OnAssumedStress => Outcome::Pass,
            Self::WorkToDo => Outcome::Marginal,
            Self::PickFails | Self::NoPart => Outcome::Fail,
            Self::NotEnoughKnown | Self::Open => Outcome::Unknown,
        }
    }
}

impl PositionSizing {
    /// Whether nothing is left to decide: a part is picked and may be used.
    pub fn is_settled(&self) -> bool {
        self.choice.source == Source::Pick && self.choice.part.is_some() && self.choice.verdict.usable()
    }
}

impl Sizing {
    /// The positions of one board.
    pub fn of_board(&self, board: usize) -> &[PositionSizing] {
        let from = |board| self.positions.partition_point(|p| p.id < PositionId { board, index: 0 });
        &self.positions[from(board)..from(board + 1)]
    }

    /// How many positions of a board are settled.
    pub fn settled(&self, board: usize) -> usize {
        self.of_board(board).iter().filter(|p| p.is_settled()).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_choice_tells_how_far_it_has_come() {
        let state = |source, verdict| CanState::of(&Choice { source, part: None, verdict });
        assert_eq!(state(Source::Pick, Outcome::Pass), CanState::Picked);
        assert_eq!(state(Source::Proposed, Outcome::Pass), CanState::Proposed);
        assert_eq!(state(Source::Pick, Outcome::Marginal), CanState::WorkToDo);
        assert_eq!(state(Source::Pick, Outcome::Fail), CanState::PickFails);
        assert_eq!(state(Source::None, Outcome::Fail), CanState::NoPart);
        assert_eq!(state(Source::None, Outcome::Unknown), CanState::NotEnoughKnown);
    }
}
