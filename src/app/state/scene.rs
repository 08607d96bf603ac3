//! Everything a view may read, and nothing it may change.

use crate::app::state::{candidates::Candidates, selection::Candidate, selection::Selection, snapshot::can_of};
use crate::domain::{Board, Can, Catalog, Job, Outcome, Phase, Position, PositionId};
use crate::files::{photo::Photo, unit_record::RecordsRead};
use crate::sizing::{
    self, BoardSizing, Evaluation, PositionContext, PositionSizing, Sizing, ambient, ambient::Inherited, needs,
};
use std::cell::OnceCell;
use std::sync::Arc;

/// The photo of a board, or what is wrong with it in words.
pub(crate) type BoardPhoto = Result<Arc<Photo>, String>;

/// Everything a view may read.
pub(crate) struct Scene<'a> {
    pub job: &'a Job,
    pub catalog: &'a Catalog,
    /// What came out for the job; a moment behind it while `fresh` is false.
    pub sizing: &'a Sizing,
    /// Whether `sizing` is that of `job`.
    pub fresh: bool,
    /// The candidates of the selected position; `None` while they are being checked.
    pub candidates: Option<&'a Arc<Candidates>>,
    /// What is selected, pinned and shown.
    pub selection: &'a Selection,
    /// The photo of the selected board, once it is read.
    pub photo: Option<&'a BoardPhoto>,
    /// The record of the units, as far as it is read.
    pub records: &'a RecordsRead,
    /// The selected position made ready, once somebody asks: it costs a look at every can of the board.
    pub place: OnceCell<Option<PositionContext<'a>>>,
}

impl<'a> Scene<'a> {
    /// The selected position.
    pub(crate) fn position(&self) -> Option<(PositionId, &'a Position)> {
        let id = self.selection.position?;
        Some((id, self.job.position(id)?))
    }

    /// What came out for the selected position.
    pub(crate) fn sized(&self) -> Option<&'a PositionSizing> {
        self.sizing.position(self.selection.position?)
    }

    /// The selected board.
    pub(crate) fn board(&self) -> Option<&'a Board> {
        self.job.boards.get(self.selection.board)
    }

    /// What came out for the selected board.
    pub(crate) fn board_sized(&self) -> Option<&'a BoardSizing> {
        self.sizing.boards.get(self.selection.board)
    }

    /// The selected position, ready for checking.
    pub(crate) fn place(&self) -> Option<&PositionContext<'a>> {
        let made = || PositionContext::new(self.job, self.catalog, self.selection.position?);
        self.place.get_or_init(made).as_ref()
    }

    /// The phases the selected position goes through, and whose they are where they are not its own.
    pub(crate) fn phases(&self) -> (Vec<Phase>, Option<Inherited>) {
        let Some((id, position)) = self.position() else { return Default::default() };
        let (phases, inherited) = ambient::phases(self.job, &self.job.boards[id.board], position);
        let inherited = inherited.filter(|_| !phases.is_empty());
        (phases, inherited)
    }

    /// The hottest ambient of the selected position, °C.
    pub(crate) fn hottest_c(&self) -> Option<f64> {
        self.phases().0.iter().filter_map(|phase| phase.ambient_c).reduce(f64::max)
    }

    /// The part picked or proposed for the selected position.
    pub(crate) fn chosen(&self) -> Option<Candidate> {
        self.sized()?.choice.part.map(|part| Candidate::Part(part.id))
    }

    /// The selected candidate: the selected one, else the chosen part, else the best, else the original.
    pub(crate) fn candidate(&self) -> Option<Candidate> {
        let best = || self.candidates?.best().map(Candidate::Part);
        let original = || self.position().map(|_| Candidate::Original);
        self.selection.candidate.or_else(|| self.chosen()).or_else(best).or_else(original)
    }

    pub(crate) fn name(&self, candidate: Candidate) -> &'a str {
        match candidate {
            Candidate::Original => "original part",
            Candidate::Part(id) => self.catalog.part_number(id),
        }
    }

    /// The figures of a candidate.
    pub(crate) fn can(&self, candidate: Candidate) -> Option<Can> {
        Some(can_of(candidate, self.position()?.1, self.catalog))
    }

    /// How a candidate fares at the selected position.
    pub(crate) fn evaluation(&self, candidate: Candidate) -> Option<Evaluation> {
        match candidate {
            Candidate::Original => self.sized().map(|sized| sized.original),
            // Checked anew: one part takes microseconds, and all of them would not fit in memory.
            Candidate::Part(id) => Some(sizing::evaluate_part(self.place()?, self.catalog, id).evaluation),
        }
    }

    /// What a position needs, in words, where too little is known of it to judge a part.
    pub(crate) fn needs(&self, id: PositionId) -> Option<String> {
        let sized = self.sizing.position(id).filter(|sized| sized.choice.verdict == Outcome::Unknown)?;
        needs::in_words(&sized.needs)
    }

    pub(crate) fn reference(&self, id: PositionId) -> &'a str {
        self.job.position(id).map_or("", |position| position.reference.as_str())
    }
}

#[cfg(test)]
#[path = "../../../tests/window/inside/scene.rs"]
mod tests;
