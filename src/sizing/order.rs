//! An order of few lines for a job: which part to take where so that parts and order lines cost least together, and what
//! each step away from the part that is cheapest by itself costs and gives.

use std::collections::HashMap;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use super::asked::{self, JobCurrency};
use super::few_lines::{self, Choice, Demand, Ended, FewLinesError, Limits, Preference, Problem, Progress};
use super::market::Market;
use super::place::Place;
use super::purchase::pieces;
use super::quantities::{best_offer, pieces_needed};
use super::shelf;
use super::size::{evaluate_all, evaluate_part};
use crate::domain::{Job, OfferBook, Outcome, PartId, PositionId};

/// How often a part that turns out to hit a neighbour's new part is given up and the search repeated.
const REPAIR_ROUNDS: usize = 12;

/// What the buyer wants of the search, beside the wishes in the job.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Wishes {
    /// Positions with a pick keep it.
    pub keep_picks: bool,
    /// Parts with the verdict marginal may be used too.
    pub accept_marginal: bool,
    /// When to stop before the proof is complete; the time is for the whole search.
    pub limits: Limits,
}

/// Why a position has no part in the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeftOut {
    /// No part passes there.
    NothingPasses,
    /// Parts pass, but none may be used and has a price in a currency with a rate.
    NothingPriced,
    /// The pick is not in the catalogue, or does not hold.
    PickKept,
    /// How many pieces it takes cannot be counted.
    Quantity,
}

impl LeftOut {
    /// The reason in words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::NothingPasses => "no part passes",
            Self::NothingPriced => "no part that passes may be used and has a comparable price",
            Self::PickKept => "its pick is kept, though it is not in the catalogue or does not hold",
            Self::Quantity => "its pieces cannot be counted",
        }
    }
}

/// The part of one position.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderPick {
    /// Which position.
    pub position: PositionId,
    /// The part of the order.
    pub part: PartId,
    /// Calendar years with it; `None` when unknown.
    pub years: Option<f64>,
    /// The part that is cheapest for this position by itself.
    pub cheapest: PartId,
    /// Calendar years with that.
    pub cheapest_years: Option<f64>,
}

/// Some positions that leave their cheapest part for a common one.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderStep {
    /// The positions.
    pub positions: Vec<PositionId>,
    /// What they change to.
    pub part: PartId,
    /// What that adds to the order, line handling included; negative when it saves (currency of the job).
    pub cost: f64,
    /// Least calendar years over these positions before and after; `None` when one of them is unknown.
    pub years: (Option<f64>, Option<f64>),
    /// Least known calendar years over all positions of the order after the step.
    pub interval_years: Option<f64>,
}

/// One line of the order.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderedPart {
    /// The part.
    pub part: PartId,
    /// The positions it serves.
    pub positions: Vec<PositionId>,
    /// Pieces to order; 0 when the shelf has them.
    pub order_qty: u64,
    /// Line total, currency of the job.
    pub total: f64,
    /// A part of another maker that passes at all these positions.
    pub alternative: Option<PartId>,
}

/// The order found.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// A part for each position of the order.
    pub picks: Vec<OrderPick>,
    /// Positions that could not be part of it.
    pub left_out: Vec<(PositionId, LeftOut)>,
    /// The lines, one for each distinct part.
    pub lines: Vec<OrderedPart>,
    /// From the cheapest picks to these, step by step, the step that saves most first.
    pub steps: Vec<OrderStep>,
    /// Parts and line handling of this order, currency of the job.
    pub total: f64,
    /// The same when each position takes its cheapest part by itself.
    pub separate_total: f64,
    /// Order lines then.
    pub separate_lines: usize,
    /// Least known calendar years over the positions, with the cheapest picks and with these.
    pub interval_years: (Option<f64>, Option<f64>),
    /// No choice among the parts considered costs less than this (worth of preferred makers included).
    pub lower_bound: f64,
    /// How much cheaper a choice could at most be, as a share of this one; 0 when proven.
    pub gap: f64,
    /// Why the search ended.
    pub ended: Ended,
    /// Currency of the amounts.
    pub currency: JobCurrency,
    /// What else the buyer should know, a sentence each.
    pub notes: Vec<String>,
}

impl Order {
    /// Lines that have to be ordered.
    #[must_use]
    pub fn ordered_lines(&self) -> usize {
        self.lines.iter().filter(|line| line.order_qty > 0).count()
    }

    /// The job with the parts of the order as picks.
    #[must_use]
    pub fn applied(&self, job: &Job, market: &Market) -> Job {
        with_picks(job, market, self.picks.iter().map(|pick| (pick.position, pick.part)))
    }
}

/// Why there is no order.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum OrderError {
    /// No position can be part of it.
    #[error("no position has a part that passes and a price that can be compared; add prices, currency and rates")]
    Nothing,
    /// A part that must be used is in no catalogue.
    #[error("must_use: {0} is not in the catalogue")]
    UnknownPart(String),
    /// The search found none in time.
    #[error("no choice was found in time; give it more")]
    Time,
    /// The demands cannot be met.
    #[error("{0}")]
    Demands(String),
}

/// Finds the cheapest order with a part that passes at every position that has one.
///
/// Fit to neighbours is judged with their current parts, then again with the parts of the order; a part that would hit its
/// new neighbour is given up there and the search repeated, which the notes say. `cancel` may be set from another thread.
///
/// # Errors
/// See [`OrderError`].
pub fn order(
    job: &Job,
    market: &Market,
    book: &OfferBook,
    wishes: &Wishes,
    cancel: &AtomicBool,
    progress: &mut dyn FnMut(Progress),
) -> Result<Order, OrderError> {
    let mut instance = Instance::new(job, market, book, wishes)?;
    let started = Instant::now();
    let mut given_up = 0;
    loop {
        if instance.positions.is_empty() {
            return Err(OrderError::Nothing);
        }
        let left = wishes.limits.time.saturating_sub(started.elapsed()).max(Duration::from_millis(50));
        let limits = Limits { time: left, ..wishes.limits };
        let outcome = few_lines::solve(&instance.problem, limits, cancel, progress)
            .map_err(|error| instance.in_words(job, market, &error))?;
        let gap = outcome.gap().unwrap_or_default();
        let choice = outcome.choice.ok_or(OrderError::Time)?;
        let clashes = instance.clashes(job, market, wishes, &choice.picks);
        let clash = clashes.first().copied();
        if let Some(at) = clash.filter(|_| given_up < REPAIR_ROUNDS) {
            given_up += 1;
            instance.give_up(at, choice.picks[at]);
            continue;
        }
        let mut found = instance.report(market, &choice);
        (found.lower_bound, found.gap, found.ended) = (outcome.lower_bound, gap, outcome.ended);
        if given_up > 0 {
            found.notes.push(format!(
                "{given_up} times a part was given up at a position because it would hit a neighbour's new part; the proof holds for the parts left."
            ));
        }
        for at in clashes {
            let reference = job.position(instance.positions[at]).map_or("", |p| &p.reference);
            found
                .notes
                .push(format!("{reference}: the part does not hold beside its neighbours' new parts; check the fit."));
        }
        return Ok(found);
    }
}

/// The job as the search sees it, with the way back.
struct Instance {
    problem: Problem,
    positions: Vec<PositionId>,
    parts: Vec<PartId>,
    /// Calendar years of each passing part at each position.
    years: Vec<HashMap<usize, Option<f64>>>,
    left_out: Vec<(PositionId, LeftOut)>,
    currency: JobCurrency,
    notes: Vec<String>,
}

impl Instance {
    fn new(job: &Job, market: &Market, book: &OfferBook, wishes: &Wishes) -> Result<Self, OrderError> {
        let catalog = market.catalog();
        let currency = JobCurrency::of(job, catalog);
        let (preference, notes) = preference(job);
        let mut instance = Self {
            problem: Problem {
                positions: Vec::new(),
                parts: Vec::new(),
                spare_pct: job.spare_pct.unwrap_or(0.0),
                line_cost: job.line_cost.unwrap_or(0.0),
                second_source: job.second_source.unwrap_or(false),
                preference,
            },
            positions: Vec::new(),
            parts: Vec::new(),
            years: Vec::new(),
            left_out: Vec::new(),
            currency,
            notes,
        };
        let must: Vec<PartId> = job
            .must_use
            .iter()
            .map(|number| catalog.find(number.trim()).ok_or_else(|| OrderError::UnknownPart(number.clone())))
            .collect::<Result<_, _>>()?;
        let mut known = HashMap::new();
        for id in must {
            instance.part(job, market, book, id, &mut known);
        }
        let ids: Vec<PositionId> = job.positions().map(|(id, _)| id).collect();
        for id in ids {
            if let Err(why) = instance.position(job, market, book, wishes, id, &mut known) {
                instance.left_out.push((id, why));
            }
        }
        Ok(instance)
    }

    /// Adds a position with every part that passes there.
    fn position(
        &mut self,
        job: &Job,
        market: &Market,
        book: &OfferBook,
        wishes: &Wishes,
        id: PositionId,
        known: &mut HashMap<PartId, usize>,
    ) -> Result<(), LeftOut> {
        let catalog = market.catalog();
        let place = Place::new(job, catalog, id).ok_or(LeftOut::NothingPasses)?;
        let pick = job.position(id).and_then(|position| position.pick.as_deref()).filter(|_| wishes.keep_picks);
        let candidates = match pick {
            Some(pick) => vec![evaluate_part(&place, catalog, catalog.find(pick).ok_or(LeftOut::PickKept)?, false)],
            None => evaluate_all(&place, catalog, &market.admitted(&place)),
        };
        let worst = if wishes.accept_marginal { Outcome::Marginal } else { Outcome::Pass };
        let passing: Vec<(PartId, Option<f64>)> = candidates
            .iter()
            .filter(|part| part.evaluation.verdict <= worst)
            .map(|part| (part.id, part.evaluation.figures.calendar_years))
            .collect();
        if passing.is_empty() {
            return Err(if pick.is_some() { LeftOut::PickKept } else { LeftOut::NothingPasses });
        }
        let pieces = pieces(job, id).filter(|&pieces| pieces > 0).ok_or(LeftOut::Quantity)?;
        let years: HashMap<usize, Option<f64>> =
            passing.into_iter().map(|(part, years)| (self.part(job, market, book, part, known), years)).collect();
        let mut passing: Vec<usize> = years.keys().copied().collect();
        passing.sort_unstable_by_key(|&at| catalog.part_number(self.parts[at]));
        let usable = |&at: &usize| {
            let part = &self.problem.parts[at];
            part.demand != Demand::Never && best_offer(1, 0, &part.offers).is_some()
        };
        if !passing.iter().any(usable) {
            return Err(LeftOut::NothingPriced);
        }
        self.problem.positions.push(few_lines::Position { pieces, passing });
        self.positions.push(id);
        self.years.push(years);
        Ok(())
    }

    /// The place of a part in the problem; adds it when it is new.
    fn part(
        &mut self,
        job: &Job,
        market: &Market,
        book: &OfferBook,
        id: PartId,
        known: &mut HashMap<PartId, usize>,
    ) -> usize {
        *known.entry(id).or_insert_with(|| {
            let catalog = market.catalog();
            let number = catalog.part_number(id);
            let named = |list: &[String]| list.iter().any(|wanted| wanted.trim() == number);
            let demand = match (named(&job.never_use), named(&job.must_use)) {
                (true, _) => Demand::Never,
                (false, true) => Demand::Must,
                (false, false) => Demand::Free,
            };
            let maker = catalog.maker(id).trim();
            let asked = asked::offers(job, &self.currency, catalog, book, Some(id), number);
            self.problem.parts.push(few_lines::Part {
                maker: (!maker.is_empty()).then(|| maker.to_owned()),
                offers: asked.into_iter().filter_map(|asked| asked.priced.ok()).collect(),
                shelf_qty: shelf::qty(job, number),
                demand,
            });
            self.parts.push(id);
            self.parts.len() - 1
        })
    }

    /// Positions whose part does not hold once every position has its new part.
    fn clashes(&self, job: &Job, market: &Market, wishes: &Wishes, picks: &[usize]) -> Vec<usize> {
        let catalog = market.catalog();
        let picked = with_picks(job, market, self.positions.iter().zip(picks).map(|(&id, &at)| (id, self.parts[at])));
        let worst = if wishes.accept_marginal { Outcome::Marginal } else { Outcome::Pass };
        let holds = |at: usize| {
            let place = Place::new(&picked, catalog, self.positions[at])?;
            let verdict = evaluate_part(&place, catalog, self.parts[picks[at]], false).evaluation.verdict;
            Some(verdict <= worst)
        };
        (0..picks.len()).filter(|&at| holds(at) == Some(false)).collect()
    }

    /// Takes a part from a position; a position without parts leaves the problem.
    fn give_up(&mut self, at: usize, part: usize) {
        self.problem.positions[at].passing.retain(|&other| other != part);
        if self.problem.positions[at].passing.is_empty() {
            self.problem.positions.remove(at);
            self.years.remove(at);
            self.left_out.push((self.positions.remove(at), LeftOut::NothingPasses));
        }
    }

    /// The part that is cheapest for each position by itself.
    fn cheapest(&self) -> Vec<usize> {
        let own_total = |position: &few_lines::Position, at: usize| {
            let part = &self.problem.parts[at];
            let need = pieces_needed(position.pieces, self.problem.spare_pct).ok()?;
            Some(best_offer(need, part.shelf_qty, &part.offers)?.total_job).filter(|_| part.demand != Demand::Never)
        };
        let cheapest = |position: &few_lines::Position| {
            let priced = position.passing.iter().filter_map(|&at| Some((own_total(position, at)?, at)));
            // Of equals the first, by part number.
            priced.reduce(|best, next| if next.0 < best.0 { next } else { best }).map_or(position.passing[0], |p| p.1)
        };
        self.problem.positions.iter().map(cheapest).collect()
    }

    fn years_at(&self, at: usize, part: usize) -> Option<f64> {
        self.years[at].get(&part).copied().flatten()
    }

    /// Least known years over all positions.
    fn interval_years(&self, picks: &[usize]) -> Option<f64> {
        picks.iter().enumerate().filter_map(|(at, &part)| self.years_at(at, part)).reduce(f64::min)
    }

    fn report(&self, market: &Market, choice: &Choice) -> Order {
        let cheapest = self.cheapest();
        let separate = few_lines::price(&self.problem, &cheapest);
        let spent = |choice: &Choice| choice.parts_cost + choice.lines_cost;
        let total = spent(choice);
        let picks = (0..self.positions.len()).map(|at| OrderPick {
            position: self.positions[at],
            part: self.parts[choice.picks[at]],
            years: self.years_at(at, choice.picks[at]),
            cheapest: self.parts[cheapest[at]],
            cheapest_years: self.years_at(at, cheapest[at]),
        });
        let lines = choice.lines.iter().map(|line| OrderedPart {
            part: self.parts[line.part],
            positions: line.positions.iter().map(|&at| self.positions[at]).collect(),
            order_qty: line.best.line.proposed.qty,
            total: line.best.total_job,
            alternative: line.alternative.map(|at| self.parts[at]),
        });
        let mut lines: Vec<OrderedPart> = lines.collect();
        lines.sort_by_key(|line| market.catalog().part_number(line.part));
        Order {
            picks: picks.collect(),
            left_out: self.left_out.clone(),
            lines,
            steps: self.steps(&cheapest, &choice.picks),
            total,
            separate_total: separate.as_ref().map_or(total, spent),
            separate_lines: separate
                .as_ref()
                .map_or(0, |c| c.lines.iter().filter(|l| l.best.line.proposed.qty > 0).count()),
            interval_years: (self.interval_years(&cheapest), self.interval_years(&choice.picks)),
            lower_bound: total,
            gap: 0.0,
            ended: Ended::Proven,
            currency: self.currency.clone(),
            notes: self.notes.clone(),
        }
    }

    /// From `from` to `to`, all positions that change to one part in one step, at each point the step that saves most.
    fn steps(&self, from: &[usize], to: &[usize]) -> Vec<OrderStep> {
        let mut picks = from.to_vec();
        let mut waiting: Vec<usize> = (0..picks.len()).filter(|&at| from[at] != to[at]).map(|at| to[at]).collect();
        waiting.sort_unstable();
        waiting.dedup();
        let total = |picks: &[usize]| few_lines::price(&self.problem, picks).map(|c| c.parts_cost + c.lines_cost).ok();
        let moved = |picks: &[usize], part: usize| -> Vec<usize> {
            picks.iter().zip(to).map(|(&now, &goal)| if goal == part { goal } else { now }).collect()
        };
        let mut steps = Vec::new();
        while let Some(before) = total(&picks) {
            let next = waiting.iter().filter_map(|&part| Some((total(&moved(&picks, part))?, part)));
            let Some((after, part)) = next.reduce(|best, next| if next.0 < best.0 { next } else { best }) else {
                break;
            };
            let changing: Vec<usize> = (0..picks.len()).filter(|&at| to[at] == part && picks[at] != part).collect();
            let least = |picks: &[usize]| {
                let years = changing.iter().map(|&at| self.years_at(at, picks[at]));
                years.collect::<Option<Vec<f64>>>()?.into_iter().reduce(f64::min)
            };
            let changed = moved(&picks, part);
            steps.push(OrderStep {
                positions: changing.iter().map(|&at| self.positions[at]).collect(),
                part: self.parts[part],
                cost: after - before,
                years: (least(&picks), least(&changed)),
                interval_years: self.interval_years(&changed),
            });
            picks = changed;
            waiting.retain(|&other| other != part);
        }
        steps
    }

    fn in_words(&self, job: &Job, market: &Market, error: &FewLinesError) -> OrderError {
        let reference = |&at: &usize| Some(job.position(*self.positions.get(at)?)?.reference.as_str());
        OrderError::Demands(match error {
            FewLinesError::NoPart(at) => {
                let refs: Vec<&str> = at.iter().filter_map(reference).collect();
                format!(
                    "no part that passes, has a price, may be used and (if wanted) has a second source at {}",
                    refs.join(", ")
                )
            }
            FewLinesError::MustUse(at) => {
                let number = self.parts.get(*at).map_or("", |&id| market.catalog().part_number(id));
                format!("must_use: {number} passes nowhere or has no price that can be compared")
            }
            other => other.to_string(),
        })
    }
}

/// Preferred makers and what they are worth, and what has to be said about it.
fn preference(job: &Job) -> (Option<Preference>, Vec<String>) {
    if job.prefer_makers.is_empty() {
        return (None, Vec::new());
    }
    let makers = job.prefer_makers.iter().map(|maker| maker.trim().to_owned()).collect();
    let with = |worth_per_line| Some(Preference { makers, worth_per_line });
    match (job.prefer_worth, job.line_cost) {
        (Some(worth), _) => (with(worth), Vec::new()),
        (None, Some(worth)) => {
            let note = "The job does not say what a preferred maker is worth: as much as an order line (assumed).";
            (with(worth), vec![note.to_owned()])
        }
        (None, None) => {
            (None, vec!["Preferred makers are not counted: the job has no prefer_worth and no line_cost.".into()])
        }
    }
}

fn with_picks(job: &Job, market: &Market, picks: impl Iterator<Item = (PositionId, PartId)>) -> Job {
    let mut job = job.clone();
    for (id, part) in picks {
        if let Some(position) = job.position_mut(id) {
            position.pick = Some(market.catalog().part_number(part).to_owned());
        }
    }
    job
}

#[cfg(test)]
#[path = "order_tests.rs"]
mod tests;
