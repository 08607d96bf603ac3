//! What is wanted of an order, and what one consists of.

use std::collections::{BTreeMap, HashMap, HashSet};

use super::others::OtherOrder;
use crate::domain::{Job, Outcome, PartId, Place, PositionId};
use crate::sizing::asked::JobCurrency;
use crate::sizing::catalog_index::CatalogIndex;
use crate::sizing::few_lines::{Ended, Limits};
use crate::sizing::interval::Interval;
use crate::sizing::pick_change::{PickChange, pick_changes, picked};
use crate::sizing::size::{Choice, Sizing, Source, size};

/// What the buyer wants of the search, beside the constraints in the job.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct OrderOptions {
    /// Positions with a pick may get another part; otherwise they keep it.
    pub replace_picks: bool,
    /// Parts with the verdict marginal may be used too.
    pub accept_marginal: bool,
    /// When to stop before the proof is complete; the time is for the whole search.
    pub limits: Limits,
}

impl OrderOptions {
    /// The worst verdict a part may have: a pick that is kept is a person's word for a marginal part.
    pub(super) fn worst(&self, kept: bool) -> Outcome {
        if self.accept_marginal || kept { Outcome::Marginal } else { Outcome::Pass }
    }
}

/// Why a position has no part in the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeftOut {
    /// No part passes there.
    NothingPasses,
    /// Parts pass, but none may be used and has a price in a currency with a rate.
    NothingPriced,
    /// The pick is not in the catalogue, or fails.
    PickKept,
    /// How many pieces it takes cannot be counted.
    Quantity,
}

impl LeftOut {
    /// The reason in words.
    pub fn word(self) -> &'static str {
        match self {
            Self::NothingPasses => "no part passes",
            Self::NothingPriced => "no part that passes may be used and has a comparable price",
            Self::PickKept => "its pick is kept, though it is not in the catalogue or fails",
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
    /// Least known calendar years over all positions of the order and the other parts after the step.
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
    /// The other parts, where a person gave alternatives.
    pub others: Option<OtherOrder>,
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
    /// How long the job lasts by its positions and the other parts, with the cheapest picks and with these.
    pub intervals: (Interval, Interval),
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
    /// What the parts named above are called: an order is read also when the catalogue is another one by then.
    pub names: HashMap<PartId, String>,
}

impl Order {
    /// Lines that have to be ordered.
    pub fn ordered_lines(&self) -> usize {
        self.lines.iter().filter(|line| line.order_qty > 0).count()
    }

    /// The positions that are not part of it, by the reason in words.
    pub fn left_out_by_reason(&self) -> BTreeMap<&'static str, Vec<Place>> {
        let mut reasons = BTreeMap::<_, Vec<Place>>::new();
        self.left_out.iter().for_each(|(id, why)| reasons.entry(why.word()).or_default().push((*id).into()));
        reasons
    }

    /// What a part of the order is called.
    pub fn name(&self, part: PartId) -> &str {
        self.names.get(&part).map_or("", String::as_str)
    }

    /// What changes at each position that gets another part, for a person to agree to.
    pub fn changes(&self, job: &Job, catalog_index: &CatalogIndex, sizing: &Sizing) -> Vec<PickChange> {
        let picks: Vec<(PositionId, String)> =
            self.picks.iter().map(|pick| (pick.position, self.name(pick.part).to_owned())).collect();
        pick_changes(job, catalog_index, sizing, &picks)
    }

    /// The job with the parts of the order as picks.
    pub fn applied(&self, job: &Job, catalog_index: &CatalogIndex) -> Job {
        let job = with_picks(job, catalog_index, self.picks.iter().map(|pick| (pick.position, pick.part)));
        self.others.as_ref().map(|others| others.applied(&job)).unwrap_or(job)
    }

    /// The job with these parts, sized, for the list to buy from: a position that is not in the order has its pick, if any, but no
    /// proposal, so that nothing is bought that the order does not name.
    pub fn sized(&self, applied: &Job, catalog_index: &CatalogIndex) -> Sizing {
        let mut sizing = size(applied, catalog_index);
        let left_out: HashSet<PositionId> = self.left_out.iter().map(|(id, _)| *id).collect();
        for sized in sizing.positions.iter_mut().filter(|sized| left_out.contains(&sized.id)) {
            if sized.choice.source == Source::Proposed {
                sized.choice = Choice { source: Source::None, part: None, verdict: sized.choice.verdict };
            }
        }
        sizing
    }
}

/// Why there is no order.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum OrderError {
    /// No position can be part of it.
    #[error("no position has a part that passes and a price that can be compared; add prices, currency and rates")]
    Nothing,
    /// A part that must be used is in no catalogue.
    #[error("{0} is required (must_use) but not in the catalogue")]
    UnknownPart(String),
    /// A part is both required and excluded.
    #[error("{0} is both required and excluded: take it off one of the two lists")]
    Contradiction(String),
    /// The search found none in time.
    #[error("no choice was found in time; give it more")]
    Time,
    /// The demands cannot be met.
    #[error("{0}")]
    Demands(String),
}

pub(super) fn with_picks(
    job: &Job,
    catalog_index: &CatalogIndex,
    picks: impl Iterator<Item = (PositionId, PartId)>,
) -> Job {
    picked(job, picks.map(|(id, part)| (id, catalog_index.catalog().part_number(part).to_owned())))
}
