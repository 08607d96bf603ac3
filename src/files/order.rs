//! An order of few lines as tables: the part of each position, and the steps from the cheapest picks.

use std::io;

use super::columns::{Cell, Column, csv, text};
use crate::domain::{Catalog, Job, PartId, PositionId};
use crate::sizing::{CatalogIndex, Order, OrderPick, OrderStep};

/// A position, with its part or why it has none.
struct Row<'a> {
    job: &'a Job,
    catalog: &'a Catalog,
    position: PositionId,
    pick: Option<&'a OrderPick>,
    why: &'a str,
}

impl Row<'_> {
    fn number(&self, part: Option<PartId>) -> Cell {
        text(part.map_or("", |id| self.catalog.part_number(id)))
    }
}

/// Writes `order_picks.csv`: a row for each position, in the order or left out of it.
///
/// # Errors
/// When `out` cannot be written.
pub fn picks(out: impl io::Write, job: &Job, catalog_index: &CatalogIndex, order: &Order) -> csv::Result<()> {
    let columns: [Column<Row>; 8] = [
        ("board", |row| text(row.job.board_name(Some(row.position.board)))),
        ("ref", |row| text(row.job.name_of(row.position.into()))),
        ("part_number", |row| row.number(row.pick.map(|pick| pick.part))),
        ("maker", |row| text(row.pick.map_or("", |pick| row.catalog.maker(pick.part)))),
        ("calendar_years", |row| Cell::Computed(row.pick.and_then(|pick| pick.years))),
        ("cheapest_part_number", |row| row.number(row.pick.map(|pick| pick.cheapest))),
        ("cheapest_calendar_years", |row| Cell::Computed(row.pick.and_then(|pick| pick.cheapest_years))),
        ("note", |row| text(row.why)),
    ];
    let catalog = catalog_index.catalog();
    let ordered = order.picks.iter().map(|pick| (pick.position, Some(pick), ""));
    let left_out = order.left_out.iter().map(|(id, why)| (*id, None, why.word()));
    let row = |(position, pick, why)| Row { job, catalog, position, pick, why };
    csv(out, &columns, ordered.chain(left_out).map(row))
}

/// Writes `order_steps.csv`: from each position's cheapest part to the order, step by step.
///
/// # Errors
/// When `out` cannot be written.
pub fn steps(out: impl io::Write, job: &Job, catalog_index: &CatalogIndex, order: &Order) -> csv::Result<()> {
    type Step<'a> = (usize, &'a OrderStep, &'a Job, &'a Catalog, &'a str);
    let columns: [Column<Step>; 8] = [
        ("step", |(at, ..)| Cell::Number(Some(*at as f64))),
        ("refs", |(_, step, job, ..)| {
            text(step.positions.iter().map(|&id| job.name_of(id.into())).collect::<Vec<_>>().join(";"))
        }),
        ("part_number", |(_, step, _, catalog, _)| text(catalog.part_number(step.part))),
        ("cost", |(_, step, ..)| Cell::Computed(Some(step.cost))),
        ("currency", |(.., currency)| text(currency)),
        ("years_before", |(_, step, ..)| Cell::Computed(step.years.0)),
        ("years_after", |(_, step, ..)| Cell::Computed(step.years.1)),
        ("interval_years", |(_, step, ..)| Cell::Computed(step.interval_years)),
    ];
    let currency = order.currency.code.as_deref().unwrap_or_default();
    let catalog: &Catalog = catalog_index.catalog();
    csv(out, &columns, (1..).zip(&order.steps).map(|(at, step)| (at, step, job, catalog, currency)))
}
