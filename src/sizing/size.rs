//! The whole job against the whole catalogue.

use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;

use super::catalog_index::CatalogIndex;
use super::checks::Supply;
use super::contexts::Contexts;
use super::evaluation::Evaluation;
use super::interval::Interval;
use super::needs::{Need, needs};
use super::other_parts::all_own_years;
use super::position_context::PositionContext;
use super::rank::{Ranked, better};
use crate::domain::{Catalog, Check, Job, OtherId, Outcome, PartId, PositionId, words};
use crate::progress::Progress;

/// How many of the best parts are kept for a position.
pub const KEPT_PER_POSITION: usize = 20;
/// In a job of more positions only so few are kept of each, so that its memory stays that of the job; [`best_at`] finds the others.
const KEPT_OF_MANY: usize = 1;
/// From more positions on than this a job is one of many; no unit that is rebuilt by hand comes near.
const MANY: usize = 10_000;

words! {
    /// Where the chosen part comes from.
    pub enum Source {
        /// A person picked it.
        Pick,
        /// The program proposes it.
        Proposed,
        /// There is no part to propose.
        None,
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

impl Choice {
    /// What stands in the place of a part where there is none.
    pub fn instead_of_a_part(&self) -> &'static str {
        if self.verdict == Outcome::Unknown { "not enough data" } else { "no suitable part" }
    }

    /// Whether the part passes, but only against a stress that nobody entered.
    pub fn passes_on_assumed_stress(&self) -> bool {
        self.part.is_some_and(|part| part.evaluation.passes_on_assumed_stress())
    }
}

/// How many positions have a part of which verdict.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Counts {
    /// Pass, on stress that was entered.
    pub pass: usize,
    /// Pass, but only on stress that nobody entered.
    pub pass_on_assumed: usize,
    /// Marginal.
    pub marginal: usize,
    /// Unknown.
    pub unknown: usize,
    /// Fail, or no part.
    pub fail: usize,
}

impl Counts {
    /// Counts the choices of positions.
    pub fn of<'a>(choices: impl IntoIterator<Item = &'a Choice>) -> Self {
        let mut counts = Self::default();
        for choice in choices {
            *match choice.verdict {
                Outcome::Pass if choice.passes_on_assumed_stress() => &mut counts.pass_on_assumed,
                Outcome::Pass => &mut counts.pass,
                Outcome::Marginal => &mut counts.marginal,
                Outcome::Unknown => &mut counts.unknown,
                Outcome::Fail => &mut counts.fail,
            } += 1;
        }
        counts
    }

    /// The counts that are not 0: `8 pass, 4 pass on assumed stress`.
    pub fn words(&self) -> String {
        let all = [
            (self.pass, "pass"),
            (self.pass_on_assumed, "pass on assumed stress"),
            (self.marginal, "marginal"),
            (self.unknown, "unknown"),
            (self.fail, "fail"),
        ];
        let some = all.iter().filter(|(count, _)| *count > 0).map(|(count, word)| format!("{count} {word}"));
        some.collect::<Vec<_>>().join(", ")
    }
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
    /// How many parts fail each check, in the order of [`Check::ALL`]; those ruled out at a glance are not counted. `None` where
    /// the best were found before all were looked at.
    pub failing: Option<[usize; Check::ALL.len()]>,
    /// The part of the position.
    pub choice: Choice,
    /// What nobody has said of it that the checks cannot do without.
    pub needs: Vec<Need>,
}

impl PositionSizing {
    /// Calendar years of the chosen part.
    pub fn chosen_years(&self) -> Option<f64> {
        self.choice.part.and_then(|part| part.evaluation.figures.calendar_years)
    }
}

/// How long one board lasts.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BoardSizing {
    /// With the original parts, new, and the other parts as they go in.
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
    /// Years of the other parts that wear; `None` where they are not known.
    pub others: Vec<(OtherId, Option<f64>)>,
}

impl Sizing {
    /// What was found out about one position.
    pub fn position(&self, id: PositionId) -> Option<&PositionSizing> {
        self.positions.binary_search_by_key(&id, |p| p.id).ok().map(|at| &self.positions[at])
    }

    /// What limits a board, or with `None` the whole job: its positions with the years `of` gives, and its other parts.
    pub fn interval(&self, board: Option<usize>, of: impl Fn(&PositionSizing) -> Option<f64>) -> Interval {
        let inside = board.map_or(&self.positions[..], |board| self.of_board(board));
        Interval::of(inside.iter().map(|sized| (sized.id, of(sized)))).and(self.others_of(board))
    }

    /// The same with the chosen parts but where `instead` says other years.
    pub fn interval_with(&self, board: Option<usize>, instead: impl Fn(PositionId) -> Option<Option<f64>>) -> Interval {
        self.interval(board, |sized| instead(sized.id).unwrap_or_else(|| sized.chosen_years()))
    }

    /// Years of the other parts of a board and of those on no board, for which the unit is opened as well; with `None` of all of the job.
    pub fn others_of(&self, board: Option<usize>) -> impl Iterator<Item = (OtherId, Option<f64>)> {
        let here = move |id: &OtherId| board.is_none() || id.board.is_none() || id.board == board;
        self.others.iter().copied().filter(move |(id, _)| here(id))
    }

    /// The positions by verdict.
    pub fn counts(&self) -> Counts {
        Counts::of(self.positions.iter().map(|p| &p.choice))
    }

    /// Whether every position has a part whose verdict is pass or marginal.
    pub fn complete(&self) -> bool {
        self.positions.iter().all(|p| p.choice.part.is_some() && p.choice.verdict.usable())
    }
}

/// Sizes every position of `job` with the parts of `catalog_index`.
pub fn size(job: &Job, catalog_index: &CatalogIndex) -> Sizing {
    // Work that nobody can cancel is always finished.
    size_watched(job, catalog_index, &Progress::default()).unwrap_or_default()
}

/// Like [`size`], for somebody who waits; `None` once it is cancelled.
pub fn size_watched(job: &Job, catalog_index: &CatalogIndex, progress: &Progress) -> Option<Sizing> {
    let ids: Vec<PositionId> = job.positions().map(|(id, _)| id).collect();
    let (all, done) = (ids.len(), AtomicUsize::new(0));
    let contexts = Contexts::new(job, catalog_index.catalog());
    let sized = |id: PositionId| {
        let context = (!progress.is_cancelled()).then(|| contexts.at(id))??;
        let mut sized = size_place(&context, catalog_index, id);
        if all > MANY {
            sized.best.truncate(KEPT_OF_MANY);
            sized.best.shrink_to_fit();
        }
        progress.set_share((done.fetch_add(1, Ordering::Relaxed) + 1) as f32 / all as f32);
        Some(sized)
    };
    let positions: Vec<PositionSizing> = ids.into_par_iter().map(sized).collect::<Option<_>>()?;
    let mut sizing = Sizing { positions, boards: Vec::new(), others: all_own_years(job).collect() };
    let board = |at| BoardSizing {
        as_built: sizing.interval(Some(at), |p| p.original.figures.calendar_years),
        as_chosen: sizing.interval(Some(at), PositionSizing::chosen_years),
    };
    sizing.boards = (0..job.boards.len()).map(board).collect();
    Some(sizing)
}

/// Sizes one position; `None` when the job has no such position.
pub fn size_position(job: &Job, catalog_index: &CatalogIndex, id: PositionId) -> Option<PositionSizing> {
    Some(size_place(&PositionContext::new(job, catalog_index.catalog(), id)?, catalog_index, id))
}

fn size_place(context: &PositionContext, catalog_index: &CatalogIndex, id: PositionId) -> PositionSizing {
    let catalog = catalog_index.catalog();
    let (best, failing) = best_and_failing(context, catalog_index);
    let original = context.evaluate(&context.position.original.can, Supply::default());
    let choice = choose(context, catalog, &best);
    PositionSizing { id, original, best, failing, choice, needs: needs(context) }
}

/// The best parts at a position, best first, at most [`KEPT_PER_POSITION`]: those of [`PositionSizing::best`] and, in a job of very
/// many positions, the ones that were not kept.
pub fn best_at(context: &PositionContext, catalog_index: &CatalogIndex, sized: &PositionSizing) -> Vec<Ranked> {
    if sized.best.len() != KEPT_OF_MANY {
        return sized.best.clone();
    }
    best_and_failing(context, catalog_index).0
}

/// The best parts, best first, and how many fail each check when all had to be looked at.
fn best_and_failing(
    context: &PositionContext,
    catalog_index: &CatalogIndex,
) -> (Vec<Ranked>, Option<[usize; Check::ALL.len()]>) {
    if let Some(best) = enough_pass(context, catalog_index) {
        return (best, None);
    }
    let (catalog, admitted) = (catalog_index.catalog(), catalog_index.admitted(context));
    let tally = Tally::of(context, catalog, &admitted);
    (filled_up(context, catalog_index, tally.best), Some(tally.failing))
}

/// The best parts, best first, if [`KEPT_PER_POSITION`] pass. Parts are looked at in the order of the least they can cost: as soon as
/// enough pass that cost less than any other can, the others need no look.
fn enough_pass(context: &PositionContext, catalog_index: &CatalogIndex) -> Option<Vec<Ranked>> {
    /// Parts of the first look; each further one takes twice as many.
    const FIRST_LOOK: usize = 8 * KEPT_PER_POSITION;
    let catalog = catalog_index.catalog();
    let (mut rest, mut look, mut best) = (catalog_index.passable(context).peekable(), FIRST_LOOK, Vec::new());
    loop {
        let mut now: Vec<PartId> = rest.by_ref().take(look).map(|(_, id)| id).collect();
        // Parts that lie together are looked at together.
        now.sort_unstable();
        let passing = now.into_par_iter().with_min_len(PARTS_PER_TASK).filter_map(|id| {
            let passes = context.passes(&catalog.can(id), Supply::of(context, catalog, id));
            passes.then(|| evaluate_part(context, catalog, id))
        });
        best.par_extend(passing);
        keep_best(catalog, &mut best);
        let floor = rest.peek().map(|&(floor, _)| floor);
        if best.len() == KEPT_PER_POSITION {
            if floor.is_none_or(|floor| best.iter().all(|part| part.cost.is_some_and(|cost| cost < floor))) {
                return Some(sorted(catalog, best));
            }
        } else if floor.is_none() {
            return None;
        }
        look *= 2;
    }
}

/// Below this many parts handing work to other threads costs more than it saves.
const PARTS_PER_TASK: usize = 1024;

/// The best of the parts seen and how all of them came out; everything else is forgotten at once.
#[derive(Default)]
struct Tally {
    failing: [usize; Check::ALL.len()],
    best: Vec<Ranked>,
}

impl Tally {
    fn of(context: &PositionContext, catalog: &Catalog, parts: &[PartId]) -> Self {
        let of_some = |parts: &[PartId]| {
            let mut tally = Self::default();
            // The worst of the best after the last shortening: nothing behind it can stay.
            let mut floor: Option<Ranked> = None;
            for &id in parts {
                let ranked = evaluate_part(context, catalog, id);
                for (count, outcome) in tally.failing.iter_mut().zip(ranked.evaluation.outcomes) {
                    *count += usize::from(outcome == Outcome::Fail);
                }
                if floor.is_some_and(|floor| better(catalog, &floor, &ranked).is_lt()) {
                    continue;
                }
                tally.best.push(ranked);
                if tally.best.len() >= 2 * KEPT_PER_POSITION {
                    keep_best(catalog, &mut tally.best);
                    floor = tally.best.last().copied();
                }
            }
            tally
        };
        let join = |mut a: Self, b: Self| {
            a.failing.iter_mut().zip(b.failing).for_each(|(to, from)| *to += from);
            a.best.extend(b.best);
            keep_best(catalog, &mut a.best);
            a
        };
        parts.par_chunks(PARTS_PER_TASK).map(of_some).reduce(Self::default, join)
    }
}

/// Shortens a list of parts to the best of them, the worst of those last, the others in no particular order.
fn keep_best(catalog: &Catalog, parts: &mut Vec<Ranked>) {
    if parts.len() > KEPT_PER_POSITION {
        parts.select_nth_unstable_by(KEPT_PER_POSITION - 1, |a, b| better(catalog, a, b));
        parts.truncate(KEPT_PER_POSITION);
    }
}

/// Checks the given parts at a position, in their order.
pub fn evaluate_all(context: &PositionContext, catalog: &Catalog, parts: &[PartId]) -> Vec<Ranked> {
    let evaluate = |&id: &PartId| evaluate_part(context, catalog, id);
    parts.par_iter().with_min_len(PARTS_PER_TASK).map(evaluate).collect()
}

/// Checks one part of the catalogue at a position.
pub fn evaluate_part(context: &PositionContext, catalog: &Catalog, id: PartId) -> Ranked {
    let evaluation = context.evaluate(&catalog.can(id), Supply::of(context, catalog, id));
    let cost = if evaluation.verdict.usable() { context.cost_and_offer(catalog, id) } else { None };
    let (cost, offer) = cost.map_or((None, None), |(cost, offer)| (Some(cost), offer));
    Ranked { id, evaluation, price: catalog.small_price(id), cost, offer, excess: None }
}

/// The best candidates, best first, filled up with the nearest of the parts ruled out at a glance when there are too few.
fn filled_up(context: &PositionContext, catalog_index: &CatalogIndex, mut best: Vec<Ranked>) -> Vec<Ranked> {
    let catalog = catalog_index.catalog();
    keep_best(catalog, &mut best);
    let missing = KEPT_PER_POSITION - best.len();
    if missing > 0 {
        let mut excluded = catalog_index.excluded(context);
        if excluded.len() > missing {
            excluded.select_nth_unstable_by(missing, |a, b| nearest_first(catalog, a, b));
            excluded.truncate(missing);
        }
        best.extend(excluded.iter().map(|&part| evaluate_excluded(context, catalog, part)));
    }
    sorted(catalog, best)
}

/// Checks a part that [`CatalogIndex::excluded`] names with its excess.
pub fn evaluate_excluded(context: &PositionContext, catalog: &Catalog, (id, excess): (PartId, f32)) -> Ranked {
    Ranked { excess: Some(excess), ..evaluate_part(context, catalog, id) }
}

/// The order of the parts ruled out at a glance: the least far beyond the bounds first, ties by part number.
pub fn nearest_first(catalog: &Catalog, a: &(PartId, f32), b: &(PartId, f32)) -> std::cmp::Ordering {
    a.1.total_cmp(&b.1).then_with(|| catalog.part_number(a.0).cmp(catalog.part_number(b.0)))
}

fn sorted(catalog: &Catalog, mut best: Vec<Ranked>) -> Vec<Ranked> {
    best.sort_unstable_by(|a, b| better(catalog, a, b));
    // Hundreds may have passed before only the best were kept.
    best.shrink_to_fit();
    best
}

fn choose(context: &PositionContext, catalog: &Catalog, best: &[Ranked]) -> Choice {
    if let Some(pick) = &context.position.pick {
        let part = catalog.find(pick).map(|id| evaluate_part(context, catalog, id));
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
