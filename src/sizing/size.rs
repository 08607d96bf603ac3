//! The whole job against the whole catalogue.

use rayon::prelude::*;

use super::checks::Supply;
use super::evaluation::Evaluation;
use super::interval::Interval;
use super::market::Market;
use super::place::Place;
use super::rank::better;
use crate::domain::{Catalog, Check, Job, Outcome, PartId, PositionId};

/// How many of the best parts are kept for a position.
pub const KEPT_PER_POSITION: usize = 20;

/// A part at a position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranked {
    /// Which part.
    pub id: PartId,
    /// How it fares.
    pub evaluation: Evaluation,
    /// Price of one piece when few are bought.
    pub price: Option<f64>,
    /// Certain to fail by capacitance, working voltage, mounting or body.
    pub ruled_out: bool,
}

/// How many parts came out how.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Counts {
    /// Parts ruled out at a glance by capacitance, working voltage, mounting or body; they count as failed and are in
    /// none of the other figures.
    pub ruled_out: usize,
    /// Verdicts of the others, in the order of [`Outcome::ALL`].
    pub verdicts: [usize; Outcome::ALL.len()],
    /// Failures of each check among the others, in the order of [`Check::ALL`].
    pub failing: [usize; Check::ALL.len()],
}

impl Counts {
    fn add(mut self, evaluation: &Evaluation) -> Self {
        self.verdicts[evaluation.verdict as usize] += 1;
        for (count, outcome) in self.failing.iter_mut().zip(evaluation.outcomes) {
            *count += usize::from(outcome == Outcome::Fail);
        }
        self
    }

    /// Parts with this verdict, those ruled out at a glance included.
    #[must_use]
    pub fn with_verdict(&self, verdict: Outcome) -> usize {
        let ruled_out = if verdict == Outcome::Fail { self.ruled_out } else { 0 };
        self.verdicts[verdict as usize] + ruled_out
    }
}

/// Where the chosen part comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// A person picked it.
    Pick,
    /// The program proposes it.
    Proposed,
    /// There is no part to propose.
    None,
}

impl Source {
    /// The word for it, in files and on screen.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Pick => "pick",
            Self::Proposed => "proposed",
            Self::None => "none",
        }
    }
}

/// The part of a position: picked, proposed or none.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// Where it comes from.
    pub source: Source,
    /// The part; `None` without one and for a pick the catalogue lacks.
    pub part: Option<Ranked>,
    /// Verdict on it; without a part that of the best candidate, unknown for a pick the catalogue lacks.
    pub verdict: Outcome,
}

/// Everything found out about one position.
#[derive(Debug, Clone, PartialEq)]
pub struct PositionSizing {
    /// Which position.
    pub id: PositionId,
    /// The original part, checked like a candidate.
    pub original: Evaluation,
    /// The best parts, best first, at most [`KEPT_PER_POSITION`].
    pub best: Vec<Ranked>,
    /// How all parts came out.
    pub counts: Counts,
    /// The part of the position.
    pub choice: Choice,
}

impl PositionSizing {
    /// Calendar years of the chosen part.
    #[must_use]
    pub fn chosen_years(&self) -> Option<f64> {
        self.choice.part.and_then(|part| part.evaluation.figures.calendar_years)
    }
}

/// How long one board lasts.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BoardSizing {
    /// With the original parts, new.
    pub as_built: Interval,
    /// With the chosen parts.
    pub as_chosen: Interval,
}

/// Everything found out about a job: an unchanging snapshot.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sizing {
    /// Every position, in the order of [`Job::positions`].
    pub positions: Vec<PositionSizing>,
    /// Every board, in the order of the job.
    pub boards: Vec<BoardSizing>,
}

impl Sizing {
    /// What was found out about one position.
    #[must_use]
    pub fn position(&self, id: PositionId) -> Option<&PositionSizing> {
        self.positions.binary_search_by_key(&id, |p| p.id).ok().map(|at| &self.positions[at])
    }

    /// Whether every position has a part whose verdict is pass or marginal.
    #[must_use]
    pub fn complete(&self) -> bool {
        self.positions.iter().all(|p| p.choice.part.is_some() && p.choice.verdict.usable())
    }
}

/// Sizes every position of `job` with the parts of `market`.
#[must_use]
pub fn size(job: &Job, market: &Market) -> Sizing {
    let ids: Vec<PositionId> = job.positions().map(|(id, _)| id).collect();
    let positions: Vec<PositionSizing> = ids.into_par_iter().filter_map(|id| size_position(job, market, id)).collect();
    let of_board = |board| positions.iter().filter(move |p| p.id.board == board);
    let board = |board| BoardSizing {
        as_built: Interval::of(of_board(board).map(|p| (p.id, p.original.figures.calendar_years))),
        as_chosen: Interval::of(of_board(board).map(|p| (p.id, p.chosen_years()))),
    };
    let boards = (0..job.boards.len()).map(board).collect();
    Sizing { positions, boards }
}

/// Sizes one position; `None` when the job has no such position.
#[must_use]
pub fn size_position(job: &Job, market: &Market, id: PositionId) -> Option<PositionSizing> {
    let catalog = market.catalog();
    let place = Place::new(job, catalog, id)?;
    let admitted = market.admitted(&place);
    let ruled_out = catalog.len() - admitted.len();
    let candidates = evaluate_all(&place, catalog, &admitted);
    let mut counts = candidates.iter().fold(Counts::default(), |counts, c| counts.add(&c.evaluation));
    counts.ruled_out = ruled_out;
    let best = best(&place, catalog, candidates, &admitted);
    let original = place.evaluate(&place.position.original.can, Supply::default());
    let choice = choose(&place, catalog, &best);
    Some(PositionSizing { id, original, best, counts, choice })
}

/// Checks the given parts at a position, in their order.
#[must_use]
pub fn evaluate_all(place: &Place, catalog: &Catalog, parts: &[PartId]) -> Vec<Ranked> {
    /// Below this many parts handing work to other threads costs more than it saves.
    const PARTS_PER_TASK: usize = 256;
    let evaluate = |&id: &PartId| evaluate_part(place, catalog, id, false);
    parts.par_iter().with_min_len(PARTS_PER_TASK).map(evaluate).collect()
}

/// Checks one part of the catalogue at a position.
#[must_use]
pub fn evaluate_part(place: &Place, catalog: &Catalog, id: PartId, ruled_out: bool) -> Ranked {
    let supply = Supply { status: catalog.status(id), stock: catalog.trade(id).stock };
    let evaluation = place.evaluate(&catalog.can(id), supply);
    Ranked { id, evaluation, price: catalog.small_price(id), ruled_out }
}

/// The best candidates, filled up with parts ruled out at a glance (by part number) when there are too few others.
fn best(place: &Place, catalog: &Catalog, mut candidates: Vec<Ranked>, admitted: &[PartId]) -> Vec<Ranked> {
    let missing = KEPT_PER_POSITION.saturating_sub(candidates.len());
    if missing > 0 {
        let others = catalog.by_number().iter().filter(|id| !admitted.contains(id));
        candidates.extend(others.take(missing).map(|&id| evaluate_part(place, catalog, id, true)));
    }
    let order = |a: &Ranked, b: &Ranked| better(catalog, a, b);
    if candidates.len() > KEPT_PER_POSITION {
        candidates.select_nth_unstable_by(KEPT_PER_POSITION - 1, order);
        candidates.truncate(KEPT_PER_POSITION);
    }
    candidates.sort_unstable_by(order);
    candidates
}

fn choose(place: &Place, catalog: &Catalog, best: &[Ranked]) -> Choice {
    if let Some(pick) = &place.position.pick {
        let part = catalog.find(pick).map(|id| evaluate_part(place, catalog, id, false));
        let verdict = part.map_or(Outcome::Unknown, |part| part.evaluation.verdict);
        return Choice { source: Source::Pick, part, verdict };
    }
    match best.first() {
        Some(part) if part.evaluation.verdict.usable() => {
            Choice { source: Source::Proposed, part: Some(*part), verdict: part.evaluation.verdict }
        }
        other => {
            Choice { source: Source::None, part: None, verdict: other.map_or(Outcome::Fail, |o| o.evaluation.verdict) }
        }
    }
}
