//! An order of few lines as tables: the part of each position, and the steps from the cheapest picks.

use std::io;

use super::neutral_text;
use super::notation::computed;
use crate::domain::{Job, PositionId};
use crate::sizing::{CatalogIndex, Order};

/// Writes `order_picks.csv`: a row for each position, in the order or left out of it.
///
/// # Errors
/// When `out` cannot be written.
pub fn picks(out: impl io::Write, job: &Job, catalog_index: &CatalogIndex, order: &Order) -> csv::Result<()> {
    let catalog = catalog_index.catalog();
    let mut writer = csv::Writer::from_writer(out);
    let columns = [
        "board",
        "ref",
        "part_number",
        "maker",
        "calendar_years",
        "cheapest_part_number",
        "cheapest_calendar_years",
        "note",
    ];
    writer.write_record(columns)?;
    for pick in &order.picks {
        let [board, reference] = place(job, pick.position);
        let part = neutral_text(catalog.part_number(pick.part));
        let maker = neutral_text(catalog.maker(pick.part));
        let cheapest = neutral_text(catalog.part_number(pick.cheapest));
        let (years, cheapest_years) = (computed(pick.years), computed(pick.cheapest_years));
        writer.write_record([board, reference, part, maker, years, cheapest, cheapest_years, String::new()])?;
    }
    for (id, why) in &order.left_out {
        let [board, reference] = place(job, *id);
        writer.write_record([&board, &reference, "", "", "", "", "", why.word()])?;
    }
    Ok(writer.flush()?)
}

/// Writes `order_steps.csv`: from each position's cheapest part to the order, step by step.
///
/// # Errors
/// When `out` cannot be written.
pub fn steps(out: impl io::Write, job: &Job, catalog_index: &CatalogIndex, order: &Order) -> csv::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    writer.write_record([
        "step",
        "refs",
        "part_number",
        "cost",
        "currency",
        "years_before",
        "years_after",
        "interval_years",
    ])?;
    let currency = neutral_text(order.currency.code.as_deref().unwrap_or_default());
    for (at, step) in (1..).zip(&order.steps) {
        let refs: Vec<String> = step.positions.iter().map(|id| place(job, *id)[1].clone()).collect();
        writer.write_record([
            at.to_string(),
            refs.join(";"),
            neutral_text(catalog_index.catalog().part_number(step.part)),
            computed(Some(step.cost)),
            currency.clone(),
            computed(step.years.0),
            computed(step.years.1),
            computed(step.interval_years),
        ])?;
    }
    Ok(writer.flush()?)
}

fn place(job: &Job, id: PositionId) -> [String; 2] {
    let board = job.boards.get(id.board).map_or("", |board| &board.name);
    let reference = job.position(id).map_or("", |position| &position.reference);
    [neutral_text(board), neutral_text(reference)]
}
