//! What a change of parts does to each position before anybody agrees to it, and the one part that moves a board's limit.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::catalog_index::CatalogIndex;
use super::contexts::Contexts;
use super::interval::Interval;
use super::position_context::PositionContext;
use super::rank::Ranked;
use super::reasons::{check_name, figure, reason};
use super::size::{Sizing, Source, evaluate_all, evaluate_part};
use crate::domain::{Check, Job, OtherId, Outcome, Place, PositionId};
use crate::progress::Progress;

/// A part at a position, as a list of changes shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitting {
    /// The part; `None` where there is none.
    pub part_number: Option<String>,
    /// The verdict on it.
    pub verdict: Outcome,
    /// Calendar years it lasts; `None` when not known.
    pub years: Option<f64>,
    /// Cost of what this position needs, currency of the job; `None` without a price that compares.
    pub cost: Option<f64>,
}

/// One position that gets another part.
#[derive(Debug, Clone, PartialEq)]
pub struct PickChange {
    /// Which position.
    pub position: PositionId,
    /// What it has: its pick, else the proposed part.
    pub now: Fitting,
    /// What it would have, judged beside the other new parts.
    pub then: Fitting,
    /// A person picked what it has now.
    pub picked: bool,
    /// What is lost, a clause each; empty where nothing gets worse.
    pub lost: Vec<String>,
}

impl PickChange {
    /// Whether the part stays and nothing gets worse: a proposal becomes a pick.
    pub fn keeps_part(&self) -> bool {
        self.now.part_number == self.then.part_number && self.lost.is_empty()
    }

    /// Whether the change may be made without asking: the new part passes and nobody picked the old one.
    pub fn is_free(&self) -> bool {
        self.then.verdict == Outcome::Pass && !self.picked
    }
}

/// The positions whose part `picks` changes, with what each had and gets; positions that have the part already as their pick are left out.
pub fn pick_changes(
    job: &Job,
    catalog_index: &CatalogIndex,
    sizing: &Sizing,
    picks: &[(PositionId, String)],
) -> Vec<PickChange> {
    let catalog = catalog_index.catalog();
    let after = picked(job, picks.iter().cloned());
    let places = Contexts::new(&after, catalog);
    let change = |(id, number): &(PositionId, String)| {
        let (position, sized) = (job.position(*id)?, sizing.position(*id)?);
        if position.pick.as_deref() == Some(number) {
            return None;
        }
        let part = catalog.find(number)?;
        let context = places.at(*id)?;
        let then = evaluate_part(&context, catalog, part);
        let fitting = |part: &Ranked| Fitting {
            part_number: Some(catalog.part_number(part.id).to_owned()),
            verdict: part.evaluation.verdict,
            years: part.evaluation.figures.calendar_years,
            cost: context.cost_of_need(catalog, part.id),
        };
        let none =
            || Fitting { part_number: position.pick.clone(), verdict: sized.choice.verdict, years: None, cost: None };
        let now = sized.choice.part;
        Some(PickChange {
            position: *id,
            lost: now.map(|now| lost(&context, catalog_index, &now, &then)).unwrap_or_default(),
            now: now.as_ref().map_or_else(none, fitting),
            then: fitting(&then),
            picked: sized.choice.source == Source::Pick,
        })
    };
    picks.par_iter().filter_map(change).collect()
}

/// What gets worse from one part to the other: checks, years.
fn lost(context: &PositionContext, catalog_index: &CatalogIndex, now: &Ranked, then: &Ranked) -> Vec<String> {
    let can = catalog_index.catalog().can(then.id);
    let worse = |check: &Check| then.evaluation.outcome(*check) > now.evaluation.outcome(*check);
    let clause = |check: Check| {
        let why = reason(context, &can, &then.evaluation, check);
        format!("{} {}: {why}", check_name(check), then.evaluation.outcome(check).word())
    };
    let mut lost: Vec<String> = Check::ALL.into_iter().filter(worse).map(clause).collect();
    let years = |part: &Ranked| part.evaluation.figures.calendar_years;
    if let (Some(before), Some(after)) = (years(now), years(then))
        && figure(before) != figure(after)
        && after < before
    {
        lost.push(format!("{} years", figure(before - after)));
    }
    lost
}

/// The job with these picks.
pub fn picked(job: &Job, picks: impl IntoIterator<Item = (PositionId, String)>) -> Job {
    let mut job = job.clone();
    for (id, number) in picks {
        if let Some(position) = job.position_mut(id) {
            position.pick = Some(number);
        }
    }
    job
}

/// How long a board lasts, or with `None` the whole job, once these changes are made and no others.
pub fn interval_with(sizing: &Sizing, board: Option<usize>, changes: &[&PickChange]) -> Interval {
    let then = |id| changes.iter().find(|change| change.position == id).map(|change| change.then.years);
    sizing.interval_with(board, then)
}

/// The part that takes a board past its limit at least cost.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitStep {
    /// The change at the position that limits.
    pub change: PickChange,
    /// How long the board lasts now.
    pub now: Interval,
    /// How long it lasts then, and what limits it next.
    pub then: Interval,
    /// What it adds to the cost of the parts, currency of the job; negative when it saves. `None` without two prices that compare.
    pub extra: Option<f64>,
}

/// Why the limit of a board stays.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LimitStays {
    /// The years of no position are known.
    #[error("no position has known years")]
    Unknown,
    /// The board reaches the longest calendar life the policy believes.
    #[error("the board reaches the calendar life limit")]
    Reached,
    /// Another part limits: no capacitor changes that.
    #[error("another part limits")]
    OtherPart(OtherId),
    /// No part that may be taken lasts longer at the position that limits.
    #[error("no part that may be taken lasts longer there")]
    NoPart(PositionId),
}

/// The cheapest part that lasts longer than the present one at the position that limits a board once `made` are made: where parts do, one that
/// lasts until the next position limits or the calendar life limit, else the longest-lived. Parts that pass; marginal ones only with
/// `accept_marginal`. `job` has the picks of `made`, `sizing` is that of the job without them.
///
/// # Errors
/// [`LimitStays`].
pub fn limit_step(
    job: &Job,
    catalog_index: &CatalogIndex,
    sizing: &Sizing,
    (board, made): (usize, &[PickChange]),
    accept_marginal: bool,
) -> Result<LimitStep, LimitStays> {
    let catalog = catalog_index.catalog();
    let with = |more: Option<&PickChange>| {
        // What is changed last counts.
        let all: Vec<&PickChange> = more.into_iter().chain(made.iter().rev()).collect();
        interval_with(sizing, Some(board), &all)
    };
    let now = with(None);
    let (Some(years), Some(place)) = (now.years, now.limiting) else { return Err(LimitStays::Unknown) };
    let cap = job.policy.calendar_cap_years;
    if years >= cap {
        return Err(LimitStays::Reached);
    }
    let id = match place {
        Place::Position(id) => id,
        Place::Other(id) => return Err(LimitStays::OtherPart(id)),
    };
    let context = PositionContext::new(job, catalog, id).ok_or(LimitStays::Unknown)?;
    let next = now.shortest.get(1).map_or(cap, |(_, years)| years.min(cap));
    let worst = if accept_marginal { Outcome::Marginal } else { Outcome::Pass };
    let lasts = |part: &Ranked| part.evaluation.figures.calendar_years.unwrap_or_default();
    let longer = evaluate_all(&context, catalog, &catalog_index.admitted(&context));
    let longer = longer.into_iter().filter(|part| part.evaluation.verdict <= worst && lasts(part) > years);
    // What reaches the next limit first, then what costs least, unpriced last, then what lasts longest.
    let key = |part: &Ranked| ((next - lasts(part)).max(0.0), part.cost.unwrap_or(f64::INFINITY), -lasts(part));
    let order = |a: &(f64, f64, f64), b: &(f64, f64, f64)| {
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.total_cmp(&b.2))
    };
    let part = longer.min_by(|a, b| order(&key(a), &key(b))).ok_or(LimitStays::NoPart(id))?;
    let picks = [(id, catalog.part_number(part.id).to_owned())];
    let mut change = pick_changes(job, catalog_index, sizing, &picks).pop().ok_or(LimitStays::NoPart(id))?;
    if let Some(before) = made.iter().rev().find(|before| before.position == id) {
        (change.now, change.picked) = (before.then.clone(), before.picked);
    }
    let then = with(Some(&change));
    let extra = change.then.cost.zip(change.now.cost).map(|(then, now)| then - now);
    Ok(LimitStep { change, now, then, extra })
}

/// What takes one board past its limits.
#[derive(Debug, Clone, PartialEq)]
pub struct BoardLimits {
    /// Index of the board.
    pub board: usize,
    /// The steps, each from the limit the one before it leaves.
    pub steps: Vec<LimitStep>,
    /// Why there is no further one; `None` where the target is reached.
    pub stays: Option<LimitStays>,
}

/// Removes the limits of every board that has positions, step by step until the target of the job, or without one the calendar life limit; with
/// the changes to agree to, judged beside each other. `None` once it is cancelled.
pub fn remove_limits(
    job: &Job,
    catalog_index: &CatalogIndex,
    sizing: &Sizing,
    accept_marginal: bool,
    progress: &Progress,
) -> Option<(Vec<BoardLimits>, Vec<PickChange>)> {
    let (mut picked, mut boards, mut picks) = (job.clone(), Vec::new(), BTreeMap::new());
    for board in (0..job.boards.len()).filter(|&at| !job.boards[at].positions.is_empty()) {
        let mut made: Vec<PickChange> = Vec::new();
        let mut found = BoardLimits { board, steps: Vec::new(), stays: None };
        let reached = |interval: &Interval| interval.years >= job.interval_years.or(Some(f64::INFINITY));
        let mut now = interval_with(sizing, Some(board), &[]);
        while !reached(&now) && found.stays.is_none() {
            if progress.is_cancelled() {
                return None;
            }
            match limit_step(&picked, catalog_index, sizing, (board, &made), accept_marginal) {
                Err(stays) => found.stays = Some(stays),
                Ok(step) => {
                    let (id, pick) = (step.change.position, step.change.then.part_number.clone());
                    picks.extend(pick.clone().map(|pick| (id, pick)));
                    picked.position_mut(id)?.pick = pick;
                    made.push(step.change.clone());
                    now = step.then.clone();
                    found.steps.push(step);
                }
            }
        }
        boards.push(found);
        progress.set_share((board + 1) as f32 / job.boards.len() as f32);
    }
    let picks: Vec<(PositionId, String)> = picks.into_iter().collect();
    let changes = pick_changes(job, catalog_index, sizing, &picks);
    Some((boards, changes))
}
