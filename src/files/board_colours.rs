//! What the colours of a board tell of its cans: mark, colour and word.

use crate::domain::Outcome;
use crate::files::drawing::Mark;
use crate::physics::condition::Condition;
use crate::sizing::{BoardMap, CanOnMap, CanState};

/// What the colours of a board stand for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Colours {
    /// How far the choice of the new part has come.
    #[default]
    NewPart,
    /// What is left of the old part.
    OldPart,
    /// A unit at the bench: what is done, and what is left of the old parts of the others.
    Unit,
    /// None: black on white for the bench.
    Bench,
}

impl Colours {
    /// The mark, its colour and the word of a can.
    pub fn of(self, can: &CanOnMap) -> (Mark, Outcome, &'static str) {
        match self {
            Self::NewPart | Self::Bench => (can.state.into(), can.state.outcome(), can.state.word()),
            Self::OldPart => of_old(can.condition),
            Self::Unit if can.at_bench.as_ref().is_some_and(|at| at.done) => DONE,
            Self::Unit => of_unit(can.condition),
        }
    }

    /// Every mark that occurs: what it looks like, its word, how many cans bear it.
    pub fn legend(self, map: &BoardMap) -> Vec<(Mark, &'static str, usize)> {
        use Condition::{Ageing, Sound, Unknown, WornOut};
        let looks: Vec<(Mark, Outcome, &'static str)> = match self {
            Self::OldPart => [Sound, Ageing, Unknown, WornOut].map(of_old).into(),
            Self::Unit => [DONE].into_iter().chain([WornOut, Ageing, Sound, Unknown].map(of_unit)).collect(),
            Self::NewPart | Self::Bench => {
                CanState::ALL.iter().map(|&state| (state.into(), state.outcome(), state.word())).collect()
            }
        };
        let count = |word| map.cans.iter().filter(|can| self.of(can).2 == word).count();
        let entries = looks.into_iter().map(|(mark, _, word)| (mark, word, count(word)));
        entries.filter(|entry| entry.2 > 0).collect()
    }
}

/// A can of a unit whose new part is in.
pub(super) const DONE: (Mark, Outcome, &str) = (Mark::Outcome(Outcome::Pass), Outcome::Pass, "done");

/// A can of a unit that is not done, by its old part. What is good is no tick: that is for what is done.
fn of_unit(condition: Condition) -> (Mark, Outcome, &'static str) {
    match condition {
        Condition::Sound => (Mark::Proposed, Outcome::Pass, "old part good"),
        Condition::Ageing => (Mark::Outcome(Outcome::Marginal), Outcome::Marginal, "old part ageing"),
        Condition::WornOut => (Mark::Outcome(Outcome::Fail), Outcome::Fail, "old part worn out"),
        Condition::Unknown => (Mark::Open, Outcome::Unknown, "to do"),
    }
}

/// A can by its old part.
fn of_old(condition: Condition) -> (Mark, Outcome, &'static str) {
    let (outcome, word) = condition_outcome(condition);
    (outcome.into(), outcome, word)
}

/// A condition borrows the mark and colour of the outcome it comes closest to, and has its own word.
pub fn condition_outcome(condition: Condition) -> (Outcome, &'static str) {
    match condition {
        Condition::Sound => (Outcome::Pass, "good"),
        Condition::Ageing => (Outcome::Marginal, "ageing"),
        Condition::Unknown => (Outcome::Unknown, "unknown"),
        Condition::WornOut => (Outcome::Fail, "worn out"),
    }
}
