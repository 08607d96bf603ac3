//! Terms of sale of one row: stock, price, minimum, pack, lead time.

use super::answer::Answer;
use super::columns::{Columns, Prepared};
use super::field::Field;
use super::figures::Reader;
use super::report::{Choice, Questions};
use super::settle::Trouble;
use crate::domain::{PairTable, Part};
use crate::files::cell::clean::is_nothing;
use crate::files::cell::words::list;
use crate::files::cell::{Column, Reading, count, price};
use crate::files::table::{Row, Table};

/// Days of a week, for lead times in weeks.
const WEEK_D: f64 = 7.0;

/// Reads the terms of sale; what cannot be read is listed and left unknown.
pub(super) fn read<'a>(reader: &Reader<'a>, cells: &'a [String], part: &mut Part, trouble: &mut Trouble) {
    let first = |cell: &str, column: &Column| count::first(cell, column);
    let in_stock =
        |cell: &str, column: &Column| if is_sold_out(cell) { Reading::Value(0.0) } else { first(cell, column) };
    part.trade.stock = reader.one(cells, trouble, Field::Stock, in_stock);
    part.trade.pack = reader.one(cells, trouble, Field::Pack, first).filter(|pack| *pack > 0.0);
    minimum(reader, cells, part, trouble);
    lead_time(reader, cells, part, trouble);
    prices(reader, cells, part, trouble);
    let mut steps = breaks(reader, cells, part, trouble);
    steps.sort_by(|a, b| a.0.total_cmp(&b.0));
    steps.dedup_by(|a, b| a.0 == b.0);
    if let Some(&(_, smallest)) = steps.first().filter(|_| part.trade.unit_price.is_none()) {
        part.trade.unit_price = Some(smallest);
    }
    part.price_breaks = if steps.is_empty() { None } else { PairTable::new(steps) };
}

/// How many pieces a list of parts says there are may be what lies on the shelf, or what somebody needs: asked once.
pub(super) fn ask_quantity(questions: &mut Questions, columns: &Columns, table: &Table) {
    let Some(column) = columns.of_field(Field::Quantity).next().filter(|_| !columns.has(Field::Stock)) else { return };
    let filled = |row: &&Row| row.cells.get(column.at).is_some_and(|cell| !is_nothing(cell));
    for row in table.rows.iter().filter(filled) {
        questions.ask(&column.header, "are these pieces in stock?", &row.cells[column.at], row.line, || {
            let name = &column.header;
            [("yes", Some(Field::Stock)), ("no, do not use them", None)]
                .map(|(label, field)| Choice::new(label, Answer::means(name, field)))
                .into()
        });
    }
}

/// The filled cells of a field with their columns.
fn cells_of<'a>(
    reader: &Reader<'a>,
    cells: &'a [String],
    field: Field,
) -> impl Iterator<Item = (&'a Prepared, &'a str)> {
    let columns = reader.columns;
    columns.of_field(field).filter_map(|column| Some((column, cells.get(column.at)?.as_str())))
}

fn left<T>(trouble: &mut Trouble, field: Field, cell: &str, reading: Reading<T>) -> Option<T> {
    match reading {
        Reading::Value(value) => Some(value),
        Reading::Nothing => None,
        Reading::Bad { reason } => {
            trouble.cells.push((field, cell.to_owned(), reason));
            None
        }
        Reading::Ambiguous { what, .. } => {
            trouble.leave(field, cell, &what.to_string());
            None
        }
    }
}

/// The smallest order; a second number in the same cell (`500 / 100`, `Min: 1 Mult: 1`) is the multiple it is sold in.
fn minimum<'a>(reader: &Reader<'a>, cells: &'a [String], part: &mut Part, trouble: &mut Trouble) {
    for (column, cell) in cells_of(reader, cells, Field::Moq) {
        let Some(counts) = left(trouble, Field::Moq, cell, count::read(cell, &column.column)) else { continue };
        if counts.len() > 2 {
            trouble.cells.push((Field::Moq, cell.to_owned(), "more than a minimum and a multiple".to_owned()));
            continue;
        }
        part.trade.moq = counts.first().copied().filter(|moq| *moq > 0.0);
        if part.trade.pack.is_none() {
            part.trade.pack = counts.get(1).copied().filter(|pack| *pack > 0.0);
        }
    }
}

/// Lead time in days; cell or header may say weeks. `8-12 weeks` is the longer of the two.
fn lead_time<'a>(reader: &Reader<'a>, cells: &'a [String], part: &mut Part, trouble: &mut Trouble) {
    for (column, cell) in cells_of(reader, cells, Field::LeadTime) {
        let text = cell.replace(['-', '–', '~'], " ");
        let Some(counts) = left(trouble, Field::LeadTime, cell, count::read(&text, &column.column)) else { continue };
        let longest = counts.into_iter().fold(0.0, f64::max);
        let said = format!("{} {}", cell, column.header).to_lowercase();
        let in_weeks = list("weeks").any(|word| said.contains(word));
        part.trade.lead_time_d = Some(if in_weeks { longest * WEEK_D } else { longest });
    }
}

/// How many pieces the prices of a row are for, where a column says it: a number, or a letter for hundred or thousand.
fn price_per<'a>(reader: &Reader<'a>, cells: &'a [String], trouble: &mut Trouble) -> Option<f64> {
    let (column, cell) = cells_of(reader, cells, Field::PricePer).find(|(_, cell)| !is_nothing(cell))?;
    match cell.trim().to_uppercase().as_str() {
        "E" | "EA" | "EACH" | "ST" | "STK" | "STÜCK" | "PC" | "PCS" => Some(1.0),
        "C" => Some(100.0),
        "M" => Some(1000.0),
        _ => left(trouble, Field::PricePer, cell, count::first(cell, &column.column)).filter(|pieces| *pieces >= 1.0),
    }
}

fn prices<'a>(reader: &Reader<'a>, cells: &'a [String], part: &mut Part, trouble: &mut Trouble) {
    let said = cells_of(reader, cells, Field::PricePer).any(|(_, cell)| !is_nothing(cell));
    let per = price_per(reader, cells, trouble);
    if said && per.is_none() {
        return;
    }
    for (column, cell) in cells_of(reader, cells, Field::Price).filter(|(column, _)| tiers(&column.header).is_empty()) {
        let Some(found) = left(trouble, Field::Price, cell, price::read(cell, &column.column)) else { continue };
        part.trade.unit_price = Some(found.amount / per.unwrap_or_else(|| pieces(&column.header)));
        take_currency(part, found.currency, &column.header);
    }
}

/// Prices of one cell for the quantities of its header: `0,60/0,45/0,30` under `Preis 1/10/100`.
fn listed<'a>(reader: &Reader<'a>, cells: &'a [String], part: &mut Part, trouble: &mut Trouble) -> Vec<(f64, f64)> {
    let mut steps = Vec::new();
    for (column, cell) in cells_of(reader, cells, Field::Price).filter(|(_, cell)| !is_nothing(cell)) {
        let from = tiers(&column.header);
        let prices: Vec<&str> = cell.split(['/', '|', ';']).map(str::trim).filter(|price| !price.is_empty()).collect();
        if from.is_empty() {
            continue;
        }
        if prices.len() != from.len() {
            let reason = format!("{} prices for the {} quantities of the header", prices.len(), from.len());
            trouble.cells.push((Field::Price, cell.to_owned(), reason));
            continue;
        }
        for (from, price) in from.into_iter().zip(prices) {
            let Some(found) = left(trouble, Field::Price, price, price::read(price, &column.column)) else { continue };
            steps.push((from, found.amount));
            take_currency(part, found.currency, &column.header);
        }
    }
    steps
}

/// The quantities of a header with a list of them, `Preis 1/10/100`; empty for any other.
fn tiers(header: &str) -> Vec<f64> {
    let is_list =
        |word: &&str| word.contains('/') && word.chars().all(|c| c.is_ascii_digit() || matches!(c, '/' | '+'));
    let Some(list) = header.split([' ', '(', ')', '[', ']']).find(is_list) else { return Vec::new() };
    let found: Option<Vec<f64>> = list.split('/').map(|run| run.trim_end_matches('+').parse().ok()).collect();
    let found = found.unwrap_or_default();
    let rises = found.windows(2).all(|pair| pair[0] < pair[1]) && found.first().is_some_and(|first| *first > 0.0);
    if found.len() >= 2 && rises { found } else { Vec::new() }
}

/// What the cell says goes before the header, and both behind a column of currencies.
fn take_currency(part: &mut Part, in_cell: Option<String>, header: &str) {
    if part.currency.is_empty()
        && let Some(currency) = in_cell.or_else(|| price::currency_of(header))
    {
        part.currency = currency;
    }
}

/// All breaks in a cell, or a column for each (`Price @10`, `100+`), as quantity and price.
fn breaks<'a>(reader: &Reader<'a>, cells: &'a [String], part: &mut Part, trouble: &mut Trouble) -> Vec<(f64, f64)> {
    let mut steps = pairs(reader, cells, part, trouble);
    steps.extend(listed(reader, cells, part, trouble));
    for (column, cell) in cells_of(reader, cells, Field::PriceBreaks) {
        if paired(&column.header).is_some() {
            continue;
        }
        if let Some(from) = quantity_of(&column.header) {
            let Some(found) = left(trouble, Field::PriceBreaks, cell, price::read(cell, &column.column)) else {
                continue;
            };
            steps.push((from, found.amount));
            take_currency(part, found.currency, &column.header);
            continue;
        }
        let found = left(trouble, Field::PriceBreaks, cell, price::read_breaks(cell, &column.column));
        steps.extend(found.unwrap_or_default().iter().map(|step| (step.from_qty as f64, step.unit_price)));
        take_currency(part, None, &column.header);
    }
    steps
}

/// Breaks in two columns each, one of quantities and one of prices, with the same number in their headers; a number of prices alone is the
/// quantity itself.
fn pairs<'a>(reader: &Reader<'a>, cells: &'a [String], part: &mut Part, trouble: &mut Trouble) -> Vec<(f64, f64)> {
    let (mut quantities, mut prices) = (Vec::new(), Vec::new());
    for (column, cell) in cells_of(reader, cells, Field::PriceBreaks) {
        match paired(&column.header) {
            Some((Half::Quantity, number)) => {
                let read = left(trouble, Field::PriceBreaks, cell, count::first(cell, &column.column));
                quantities.extend(read.filter(|from| *from > 0.0).map(|from| (number, from)));
            }
            Some((Half::Price, number)) => {
                let Some(found) = left(trouble, Field::PriceBreaks, cell, price::read(cell, &column.column)) else {
                    continue;
                };
                prices.push((number, found.amount));
                take_currency(part, found.currency, &column.header);
            }
            None => {}
        }
    }
    let counted = |number: u32| {
        reader.columns.of_field(Field::PriceBreaks).any(|of| paired(&of.header) == Some((Half::Quantity, number)))
    };
    let of_number = |number: u32| match quantities.iter().find(|(of, _)| *of == number) {
        Some((_, from)) => Some(*from),
        None => (number > 0 && !counted(number)).then_some(f64::from(number)),
    };
    prices.into_iter().filter_map(|(number, amount)| Some((of_number(number)?, amount))).collect()
}

/// Which half of a price break a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Half {
    Quantity,
    Price,
}

/// `Qty Break 1`, `Price Break 1`, `Break Qty 2`, `Quantity 3`, `Price 3`: the half and its number.
pub(super) fn paired(header: &str) -> Option<(Half, u32)> {
    let plain: String = header.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect();
    let name = plain.trim_end_matches(|c: char| c.is_ascii_digit());
    let number = plain[name.len()..].parse().ok()?;
    let half = match name {
        "qtybreak" | "quantitybreak" | "breakqty" | "breakquantity" | "pricebreakqty" | "pricebreakquantity"
        | "qty" | "quantity" | "menge" | "staffelmenge" => Half::Quantity,
        "pricebreak" | "breakprice" | "unitprice" | "price" | "preis" | "staffelpreis" => Half::Price,
        _ => return None,
    };
    // `Price 10+` says the quantity itself.
    (half == Half::Quantity || quantity_of(header).is_none()).then_some((half, number))
}

/// How many pieces a price in a column so headed buys: `€/100`, `Price per 1000`, `Preis je 100 Stk`.
fn pieces(header: &str) -> f64 {
    let lower = header.to_lowercase();
    let digits = lower.rsplit(|c: char| !c.is_ascii_digit()).find(|run| !run.is_empty());
    let Some((run, at)) = digits.and_then(|run| Some((run, lower.rfind(run)?))) else { return 1.0 };
    let before = lower[..at].trim_end();
    let per = before.ends_with('/') || [" per", " pro", " je", " pour", "%"].iter().any(|word| before.ends_with(word));
    run.parse().ok().filter(|pieces| per && *pieces >= 1.0).unwrap_or(1.0)
}

/// Words of a shop for an empty shelf; a part that is on order is no stock either, but how much comes nobody says.
fn is_sold_out(cell: &str) -> bool {
    let lower = cell.trim().to_lowercase();
    list("sold out").any(|words| lower.starts_with(words)) && !lower.chars().any(|c| c.is_ascii_digit())
}

/// The quantity from which the prices under a header hold: `Price @10`, `Preis ab 100`, `Price (25+)`, `1+`, `1000 pcs`.
pub(super) fn quantity_of(header: &str) -> Option<f64> {
    let lower = header.to_lowercase();
    let digits: Vec<&str> = lower.split(|c: char| !c.is_ascii_digit()).filter(|run| !run.is_empty()).collect();
    let [run] = digits.as_slice() else { return None };
    let at = lower.find(run)?;
    let (before, behind) = (lower[..at].trim_end(), lower[at + run.len()..].trim_start());
    let behind_says = ["+", "pcs", "pc", "stk", "stück", "st.", "up", "off", "个"];
    let marked = before.ends_with(['@', '≥', '>'])
        || before.ends_with("ab")
        || before.ends_with("qty")
        || before.ends_with("from")
        || behind_says.iter().any(|word| behind.starts_with(word));
    marked.then(|| run.parse().ok()).flatten().filter(|from| *from > 0.0)
}

#[cfg(test)]
#[path = "../../../tests/within/import_trade.rs"]
mod tests;
