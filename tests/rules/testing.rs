//! A position and a part that passes every check there, for tests that then change one thing.

use std::sync::Arc;

#[path = "../support/mod.rs"]
#[allow(dead_code, reason = "shared with the integration tests, each uses a part of it")]
mod support;

use refarad::domain::{Board, Can, Catalog, Check, Job, Outcome, Part, PartId, Position, Status, Trade};
use refarad::sizing::{CatalogIndex, Evaluation, PositionContext, Ranked};
pub(super) use support::{HERE, IN_STOCK, can, phase, position};

/// A job of one board with these positions.
pub(super) fn job_of(positions: Vec<Position>) -> Job {
    Job {
        units: Some(4.0),
        spare_pct: Some(10.0),
        hours_per_year: Some(3000.0),
        interval_years: Some(10.0),
        boards: vec![Board { positions, ..Board::default() }],
        ..Job::default()
    }
}

/// A job of one position.
pub(super) fn job(position: Position) -> Job {
    job_of(vec![position])
}

/// [`can`] at [`position`], each changed first.
pub(super) fn evaluated(change_position: impl FnOnce(&mut Position), change_can: impl FnOnce(&mut Can)) -> Evaluation {
    evaluated_in(|job| change_position(&mut job.boards[0].positions[0]), change_can)
}

/// [`can`] at the only position of the job, each changed first.
pub(super) fn evaluated_in(change_job: impl FnOnce(&mut Job), change_can: impl FnOnce(&mut Can)) -> Evaluation {
    let mut job = job(position());
    change_job(&mut job);
    let mut can = can();
    change_can(&mut can);
    PositionContext::new(&job, &Catalog::default(), HERE).unwrap().evaluate(&can, IN_STOCK)
}

/// Outcome of one check of [`can`] at [`position`], each changed first.
pub(super) fn outcome(
    check: Check,
    change_position: impl FnOnce(&mut Position),
    change_can: impl FnOnce(&mut Can),
) -> Outcome {
    evaluated(change_position, change_can).outcome(check)
}

/// A part on sale.
pub(super) fn part(number: &str, unit_price: Option<f64>, can: Can) -> Part {
    Part {
        part_number: number.into(),
        can,
        status: Some(Status::Active),
        trade: Trade { unit_price, stock: Some(1000.0), ..Trade::default() },
        ..Part::default()
    }
}

/// A catalogue index of these parts.
pub(super) fn catalog_index(parts: &[Part]) -> CatalogIndex {
    CatalogIndex::new(Arc::new(support::catalog(parts)))
}

/// A ranked part with only what ranking looks at.
pub(super) fn ranked(id: u32, verdict: Outcome, price: Option<f64>, headroom: Option<f64>) -> Ranked {
    let mut evaluation = Evaluation { verdict, ..Evaluation::default() };
    evaluation.figures.headroom = headroom;
    Ranked { id: PartId(id), evaluation, price, cost: price, offer: None, excess: None }
}

/// The base case the other tests lean on.
#[test]
fn the_part_passes_every_check_at_the_position() {
    let evaluation = evaluated(|_| (), |_| ());
    assert_eq!(evaluation.outcomes, [Outcome::Pass; Check::ALL.len()]);
    assert!(evaluation.assumed.is_empty());
}
