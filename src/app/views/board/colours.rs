//! What the colours of the map stand for.

use crate::domain::Outcome;
use crate::physics::condition::Condition;
use crate::sizing::CanOnMap;

/// What the colours of the map stand for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum Colours {
    /// How the chosen part fares.
    #[default]
    Outcome,
    /// What is left of the old part.
    OldPart,
}

impl Colours {
    /// The mark and the word of a can.
    pub(super) fn of(self, can: &CanOnMap) -> (Outcome, &'static str) {
        match self {
            Self::Outcome => (can.verdict, can.verdict.word()),
            Self::OldPart => condition_outcome(can.condition),
        }
    }
}

/// A condition borrows the mark and colour of the outcome it comes closest to, and has its own word.
pub(super) fn condition_outcome(condition: Condition) -> (Outcome, &'static str) {
    match condition {
        Condition::Sound => (Outcome::Pass, "sound"),
        Condition::Ageing => (Outcome::Marginal, "ageing"),
        Condition::Unknown => (Outcome::Unknown, "not known"),
        Condition::WornOut => (Outcome::Fail, "worn out"),
    }
}
