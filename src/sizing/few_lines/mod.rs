//! Few order lines: one passing part per position so that the parts and the handling of their
//! order lines cost least together, over minimums, packs, price breaks and shelf stock.
//!
//! The cost minimised is, over the parts used, the total of the best offer for everything the part
//! serves (`quantities::best_offer`) plus `line_cost` for each part that has to be ordered, plus
//! the worth of a preferred maker where the line is of another one. A part that the shelf covers
//! has no order line and costs nothing.
//!
//! The search is exact. `model` turns the problem into cost tables, `reduce` removes parts that
//! cannot be needed, `plan` finds good choices, `bound` proves that none can cost less than some
//! amount (Lagrangian relaxation, M. L. Fisher, Management Science 27 (1981) 1-18, from memory),
//! `search` closes the gap by branch and bound over `domain`s. Same input, same answer, however many cores run,
//! unless the time limit or a cancel ends the search first.

mod bound;
mod domain;
mod model;
mod plan;
mod problem;
mod reduce;
mod search;

use std::sync::atomic::AtomicBool;

pub use model::price;
pub use problem::{
    Choice, ChosenLine, Demand, Ended, FewLinesError, Limits, Part, Position, Preference, Problem, Progress,
    SearchOutcome,
};

/// Finds the cheapest choice, or the best within the limits together with a proven lower bound.
///
/// `cancel` may be set from another thread and ends the search within a fraction of a second;
/// `progress` is called from the calling thread between rounds.
///
/// # Errors
/// See [`FewLinesError`].
pub fn solve(
    problem: &Problem,
    limits: Limits,
    cancel: &AtomicBool,
    progress: &mut dyn FnMut(Progress),
) -> Result<SearchOutcome, FewLinesError> {
    let built = model::build(problem)?;
    let reduced = reduce::reduce(&built);
    let found = search::search(&reduced, limits, cancel, progress)?;
    let choice = match found.best {
        Some(facility_of) => Some(price(problem, &reduced.picks(&facility_of))?),
        None => None,
    };
    let lower_bound = match (&choice, found.ended) {
        (Some(choice), Ended::Proven) => choice.objective(),
        _ => found.lower_bound,
    };
    Ok(SearchOutcome {
        choice,
        lower_bound,
        nodes: found.nodes,
        parts_considered: reduced.facilities.len(),
        ended: found.ended,
    })
}

#[cfg(test)]
#[path = "../../../tests/within/few_lines.rs"]
mod tests;
