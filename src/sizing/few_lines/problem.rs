//! A problem of few lines, and what a choice and a search consist of.

use std::time::Duration;

use thiserror::Error;

use crate::sizing::quantities::{BestOffer, Offer, QuantityError, best_offer};

/// A position to be filled.
#[derive(Debug, Clone, PartialEq)]
pub struct Position {
    /// Pieces it takes over the whole job without spares: `per_unit * units`, at least 1.
    pub pieces: u64,
    /// Parts that pass there: indices into [`Problem::parts`].
    pub passing: Vec<usize>,
}

/// What the buyer demands of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Demand {
    /// Used where it helps.
    #[default]
    Free,
    /// Used at one position at least.
    Must,
    /// Not used, not even as a second source.
    Never,
}

/// A part that could be bought.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its maker; `None` = not known: it then neither has nor is a proven second source.
    pub maker: Option<String>,
    /// What the suppliers ask. Without a usable price a part is neither chosen nor a second source.
    pub offers: Vec<Offer>,
    /// Pieces already in the shop.
    pub shelf_qty: u64,
    /// Must it be used, or must it not.
    pub demand: Demand,
}

impl Part {
    /// Whether it may be used and has a price that can be compared.
    pub fn usable(&self) -> bool {
        self.demand != Demand::Never && best_offer(1, 0, &self.offers).is_some()
    }
}

/// Makers the buyer prefers, and what that is worth.
#[derive(Debug, Clone, PartialEq)]
pub struct Preference {
    /// The preferred makers.
    pub makers: Vec<String>,
    /// Every order line of another maker counts as this much dearer (currency of the job). The
    /// money is not spent: [`Choice::preference_cost`] keeps it apart.
    pub worth_per_line: f64,
}

/// The whole problem.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Problem {
    /// Positions to fill.
    pub positions: Vec<Position>,
    /// Parts to fill them with.
    pub parts: Vec<Part>,
    /// Spares, percent of the pieces.
    pub spare_pct: f64,
    /// What one order line costs in handling, currency of the job.
    pub line_cost: f64,
    /// Every part used must have another part, of another known maker, that passes at every
    /// position where it is used.
    pub second_source: bool,
    /// Preferred makers, if any.
    pub preference: Option<Preference>,
}

/// When to stop before the proof is complete.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Wall-clock time.
    pub time: Duration,
    /// Branches examined.
    pub nodes: u64,
}

impl Default for Limits {
    /// Ten seconds; as many branches as memory stands (each waiting one takes a few kilobytes).
    fn default() -> Self {
        Self { time: Duration::from_secs(10), nodes: 200_000 }
    }
}

/// How far the search is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Cost of the best choice so far; `None` until there is one.
    pub best: Option<f64>,
    /// No choice can cost less than this.
    pub lower_bound: f64,
    /// Branches examined.
    pub nodes: u64,
    /// Branches waiting.
    pub waiting: usize,
}

/// One part of the choice.
#[derive(Debug, Clone, PartialEq)]
pub struct ChosenLine {
    /// The part (index into [`Problem::parts`]).
    pub part: usize,
    /// The positions it serves.
    pub positions: Vec<usize>,
    /// Offer and quantities; an order of 0 pieces where the shelf covers the need.
    pub best: BestOffer,
    /// A part of another maker that passes at all its positions (first in the order given);
    /// `None` where there is none (never so with `second_source`).
    pub alternative: Option<usize>,
}

/// A choice with its price.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Choice {
    /// The part taken at each position.
    pub picks: Vec<usize>,
    /// One entry per distinct part, in order of part.
    pub lines: Vec<ChosenLine>,
    /// Sum of the line totals.
    pub parts_cost: f64,
    /// `line_cost` times the parts that have to be ordered.
    pub lines_cost: f64,
    /// What the preference for makers added in the comparison; not spent.
    pub preference_cost: f64,
}

impl Choice {
    /// What was minimised.
    pub fn objective(&self) -> f64 {
        self.spent() + self.preference_cost
    }

    /// Parts and lines.
    pub fn spent(&self) -> f64 {
        self.parts_cost + self.lines_cost
    }
}

/// Why the search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// The choice is proven to cost least: no choice is cheaper by more than 0.0001 of the currency
    /// (none at all where all costs are multiples of 0.001 or more).
    Proven,
    /// Out of time.
    Time,
    /// Out of branches.
    Nodes,
    /// Cancelled.
    Cancelled,
}

/// What the search found.
#[derive(Debug, Clone, PartialEq)]
pub struct SearchOutcome {
    /// The best choice found; `None` if the search ended before it found any.
    pub choice: Option<Choice>,
    /// No choice costs less than this (currency of the job).
    pub lower_bound: f64,
    /// Branches examined.
    pub nodes: u64,
    /// Parts the search had to consider after reduction.
    pub parts_considered: usize,
    /// Why it ended.
    pub ended: Ended,
}

impl SearchOutcome {
    /// What comes out where there is nothing to fill.
    pub fn of_nothing() -> Self {
        let choice = Some(Choice::default());
        Self { choice, lower_bound: 0.0, nodes: 0, parts_considered: 0, ended: Ended::Proven }
    }

    /// How much cheaper a choice could at most be, as a fraction of the one found (0 = proven).
    pub fn gap(&self) -> Option<f64> {
        let best = self.choice.as_ref()?.objective();
        let open = (best - self.lower_bound).max(0.0);
        Some(if open == 0.0 { 0.0 } else { open / best })
    }
}

/// Why no choice can be made.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FewLinesError {
    /// There is nothing to fill.
    #[error("there are no positions")]
    NoPositions,
    /// A position takes no pieces.
    #[error("position {0} takes no pieces")]
    NoPieces(usize),
    /// A position names a part that does not exist.
    #[error("position {position} names part {part}, which does not exist")]
    UnknownPart {
        /// Index of the position.
        position: usize,
        /// The index it names.
        part: usize,
    },
    /// These positions have no part that passes, has a usable price and may be used.
    #[error("{} position(s) have no part that passes, has a price and may be used", .0.len())]
    NoPart(Vec<usize>),
    /// This part must be used but fits nowhere, or has no usable price.
    #[error("part {0} is required but passes nowhere or has no usable price")]
    MustUse(usize),
    /// No choice meets all demands together.
    #[error("no choice meets must-use and second source together")]
    Impossible,
    /// Line cost and worth of a maker must be finite and not negative.
    #[error("{0} is not a cost")]
    Cost(f64),
    /// A quantity cannot be computed.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}
