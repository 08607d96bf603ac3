//! An order of few lines for a job: which part to take where so that parts and order lines cost least together, and what
//! each step away from the part that is cheapest by itself costs and gives.

mod found;
mod instance;
mod others;
mod problem;

use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use super::catalog_index::CatalogIndex;
use super::few_lines::{self, Limits, Progress, SearchOutcome};
use crate::domain::Job;
use instance::Instance;

pub use others::{OtherOrder, OtherPick};

pub use found::{LeftOut, Order, OrderError, OrderOptions, OrderPick, OrderStep, OrderedPart};

/// How often a part that turns out to hit a neighbour's new part is given up and the search repeated.
const REPAIR_ROUNDS: usize = 12;

/// Finds the cheapest order with a part that passes at every position that has one; where none has, the other parts alone are its order.
///
/// Fit to neighbours is judged with their current parts, then again with the parts of the order; a part that would hit its
/// new neighbour is given up there and the search repeated, which the notes say. `cancel` may be set from another thread.
///
/// # Errors
/// See [`OrderError`].
pub fn order(
    job: &Job,
    catalog_index: &CatalogIndex,
    constraints: &OrderOptions,
    cancel: &AtomicBool,
    progress: &mut dyn FnMut(Progress),
) -> Result<Order, OrderError> {
    let mut instance = Instance::new(job, catalog_index, constraints)?;
    let started = Instant::now();
    let mut given_up = 0;
    let buys_others = job.all_other_parts().any(|(_, part)| part.part_number().is_some());
    loop {
        let left = constraints.limits.time.saturating_sub(started.elapsed()).max(Duration::from_millis(50));
        let limits = Limits { time: left, ..constraints.limits };
        let outcome = match instance.positions.is_empty() {
            true if !buys_others => return Err(OrderError::Nothing),
            true => SearchOutcome::of_nothing(),
            false => few_lines::solve(&instance.problem, limits, cancel, progress)
                .map_err(|error| instance.in_words(&error))?,
        };
        let gap = outcome.gap().unwrap_or_default();
        let choice = outcome.choice.ok_or(OrderError::Time)?;
        let clashes = instance.clashes(&choice.picks);
        let clash = clashes.first().copied();
        if let Some(at) = clash.filter(|_| given_up < REPAIR_ROUNDS) {
            given_up += 1;
            instance.give_up(at, choice.picks[at]);
            continue;
        }
        let others = others::others(job, catalog_index.catalog(), &instance.currency, constraints.limits, cancel);
        let mut found = instance.report(&choice, others);
        (found.lower_bound, found.gap, found.ended) = (outcome.lower_bound, gap, outcome.ended);
        if given_up > 0 {
            found.notes.push(format!(
                "{given_up} times a part was given up at a position because it would hit a neighbour's new part; the proof holds for the parts left."
            ));
        }
        for at in clashes {
            let reference = job.position(instance.positions[at]).map_or("", |p| &p.reference);
            found.notes.push(format!("{reference}: the part fails beside its neighbours' new parts; check the fit."));
        }
        return Ok(found);
    }
}
