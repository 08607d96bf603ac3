//! A job as a few-lines problem, and a choice of parts told in terms of the job.

use std::collections::HashMap;

use super::found::{LeftOut, Order, OrderError, OrderOptions, OrderPick, OrderStep, OrderedPart, with_picks};
use super::others::OtherOrder;
use super::problem::{empty_problem, part};
use crate::domain::{Catalog, Job, OtherId, PartId, PositionId};
use crate::sizing::asked::{self, JobCurrency};
use crate::sizing::catalog_index::CatalogIndex;
use crate::sizing::contexts::Contexts;
use crate::sizing::few_lines::{self, Choice, Demand, Ended, FewLinesError, Preference, Problem};
use crate::sizing::interval::Interval;
use crate::sizing::other_parts::all_own_years;
use crate::sizing::purchase::pieces;
use crate::sizing::quantities::{best_offer, pieces_needed};
use crate::sizing::size::{evaluate_all, evaluate_part};

/// The job as the search sees it, with the way back.
pub(super) struct Instance<'a> {
    job: &'a Job,
    catalog_index: &'a CatalogIndex,
    constraints: &'a OrderOptions,
    pub(super) problem: Problem,
    pub(super) positions: Vec<PositionId>,
    pub(super) parts: Vec<PartId>,
    /// Where each of them is in the problem.
    known: HashMap<PartId, usize>,
    /// Calendar years of each passing part at each position.
    pub(super) years: Vec<HashMap<usize, Option<f64>>>,
    pub(super) left_out: Vec<(PositionId, LeftOut)>,
    pub(super) currency: JobCurrency,
    pub(super) notes: Vec<String>,
}

impl<'a> Instance<'a> {
    pub(super) fn new(
        job: &'a Job,
        catalog_index: &'a CatalogIndex,
        constraints: &'a OrderOptions,
    ) -> Result<Self, OrderError> {
        let catalog = catalog_index.catalog();
        let currency = JobCurrency::of(job, catalog);
        let (preference, notes) = preference(job);
        let second_source = job.second_source.unwrap_or(false);
        let problem = Problem { second_source, preference, ..empty_problem(job) };
        let mut instance = Self {
            job,
            catalog_index,
            constraints,
            problem,
            currency,
            notes,
            positions: Vec::new(),
            parts: Vec::new(),
            known: HashMap::new(),
            years: Vec::new(),
            left_out: Vec::new(),
        };
        let both = job.must_use.iter().find(|must| job.never_use.iter().any(|never| never.trim() == must.trim()));
        if let Some(both) = both {
            return Err(OrderError::Contradiction(both.trim().to_owned()));
        }
        let is_other = |number: &&String| {
            job.all_other_parts().any(|(_, part)| part.numbers().any(|known| known == number.trim()))
        };
        let must: Vec<PartId> = job
            .must_use
            .iter()
            .filter(|number| !is_other(number))
            .map(|number| catalog.find(number.trim()).ok_or_else(|| OrderError::UnknownPart(number.clone())))
            .collect::<Result<_, _>>()?;
        must.into_iter().for_each(|id| _ = instance.part(id));
        let places = Contexts::new(job, catalog);
        for (id, _) in job.positions() {
            if let Err(why) = instance.position(&places, id) {
                instance.left_out.push((id, why));
            }
        }
        Ok(instance)
    }

    /// Adds a position with every part that passes there.
    fn position(&mut self, places: &Contexts, id: PositionId) -> Result<(), LeftOut> {
        let (job, catalog) = (self.job, self.catalog());
        let context = places.at(id).ok_or(LeftOut::NothingPasses)?;
        let pick = job.position(id).and_then(|position| position.pick.as_deref());
        let pick = pick.filter(|_| !self.constraints.replace_picks);
        let candidates = match pick {
            Some(pick) => vec![evaluate_part(&context, catalog, catalog.find(pick).ok_or(LeftOut::PickKept)?)],
            None => evaluate_all(&context, catalog, &self.catalog_index.admitted(&context)),
        };
        let worst = self.constraints.worst(pick.is_some());
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
            passing.into_iter().map(|(part, years)| (self.part(part), years)).collect();
        let mut passing: Vec<usize> = years.keys().copied().collect();
        passing.sort_unstable_by_key(|&at| catalog.part_number(self.parts[at]));
        if !passing.iter().any(|&at| self.problem.parts[at].usable()) {
            return Err(LeftOut::NothingPriced);
        }
        self.problem.positions.push(few_lines::Position { pieces, passing });
        self.positions.push(id);
        self.years.push(years);
        Ok(())
    }

    fn catalog(&self) -> &'a Catalog {
        self.catalog_index.catalog()
    }

    /// The place of a part in the problem; adds it when it is new.
    fn part(&mut self, id: PartId) -> usize {
        let catalog = self.catalog();
        *self.known.entry(id).or_insert_with(|| {
            let number = catalog.part_number(id);
            let maker = Some(catalog.maker(id).trim().to_owned()).filter(|maker| !maker.is_empty());
            let asked = asked::offers(self.job, &self.currency, catalog, Some(id), number, Vec::new());
            self.problem.parts.push(part(self.job, number, maker, &asked));
            self.parts.push(id);
            self.parts.len() - 1
        })
    }

    /// Positions whose part does not hold once every position has its new part.
    pub(super) fn clashes(&self, picks: &[usize]) -> Vec<usize> {
        let (job, catalog) = (self.job, self.catalog());
        let parts = self.positions.iter().zip(picks).map(|(&id, &at)| (id, self.parts[at]));
        let picked = with_picks(job, self.catalog_index, parts);
        let places = Contexts::new(&picked, catalog);
        let holds = |at: usize| {
            let kept = !self.constraints.replace_picks && job.position(self.positions[at])?.pick.is_some();
            let context = places.at(self.positions[at])?;
            let verdict = evaluate_part(&context, catalog, self.parts[picks[at]]).evaluation.verdict;
            Some(verdict <= self.constraints.worst(kept))
        };
        (0..picks.len()).filter(|&at| holds(at) == Some(false)).collect()
    }

    /// Takes a part from a position; a position without parts leaves the problem.
    pub(super) fn give_up(&mut self, at: usize, part: usize) {
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

    /// How long the job lasts with what is ordered and the other parts that go in; not known where nothing is ordered.
    fn interval(&self, picks: &[usize], worn: &[(OtherId, Option<f64>)]) -> Interval {
        let years = picks.iter().enumerate().map(|(at, &part)| (self.positions[at], self.years_at(at, part)));
        let left_out = self.left_out.iter().map(|(id, _)| (*id, None));
        Interval::of(years).and(left_out).and(worn.iter().copied())
    }

    pub(super) fn report(&self, choice: &Choice, others: Option<OtherOrder>) -> Order {
        let job = self.job;
        let worn: Vec<_> = match &others {
            Some(others) => all_own_years(&others.applied(job)).collect(),
            None => all_own_years(job).collect(),
        };
        let cheapest = self.cheapest();
        let separate = few_lines::price(&self.problem, &cheapest);
        let total = choice.spent();
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
        lines.sort_by_key(|line| self.catalog().part_number(line.part));
        Order {
            picks: picks.collect(),
            others,
            left_out: self.left_out.clone(),
            lines,
            steps: self.steps(&cheapest, &choice.picks, &worn),
            total,
            separate_total: separate.as_ref().map_or(total, Choice::spent),
            separate_lines: separate
                .as_ref()
                .map_or(0, |c| c.lines.iter().filter(|l| l.best.line.proposed.qty > 0).count()),
            intervals: (self.interval(&cheapest, &worn), self.interval(&choice.picks, &worn)),
            lower_bound: total,
            gap: 0.0,
            ended: Ended::Proven,
            currency: self.currency.clone(),
            notes: self.notes.clone(),
            names: self.parts.iter().map(|&id| (id, self.catalog().part_number(id).to_owned())).collect(),
        }
    }

    /// From `from` to `to`, all positions that change to one part in one step, at each point the step that saves most.
    fn steps(&self, from: &[usize], to: &[usize], worn: &[(OtherId, Option<f64>)]) -> Vec<OrderStep> {
        let mut picks = from.to_vec();
        let mut waiting: Vec<usize> = (0..picks.len()).filter(|&at| from[at] != to[at]).map(|at| to[at]).collect();
        waiting.sort_unstable();
        waiting.dedup();
        let total = |picks: &[usize]| few_lines::price(&self.problem, picks).map(|choice| choice.spent()).ok();
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
                interval_years: self.interval(&changed, worn).years,
            });
            picks = changed;
            waiting.retain(|&other| other != part);
        }
        steps
    }

    pub(super) fn in_words(&self, error: &FewLinesError) -> OrderError {
        let reference = |&at: &usize| Some(self.job.position(*self.positions.get(at)?)?.reference.as_str());
        OrderError::Demands(match error {
            FewLinesError::NoPart(at) => {
                let refs: Vec<&str> = at.iter().filter_map(reference).collect();
                format!(
                    "no part that passes, has a price, may be used and (if wanted) has a second source at {}",
                    refs.join(", ")
                )
            }
            FewLinesError::MustUse(at) => {
                let number = self.parts.get(*at).map_or("", |&id| self.catalog().part_number(id));
                format!("{number} is required but passes nowhere or has no price that can be compared")
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
