//! The buyer's tables: `purchase.csv`, and for each supplier the same list and one to upload.

use std::collections::BTreeMap;
use std::io;

use super::{neutral_text, number};
use crate::domain::Job;
use crate::sizing::{NextBreak, Purchase, PurchaseLine};

/// Columns of `purchase.csv`.
pub const COLUMNS: [&str; 18] = [
    "part_number",
    "maker",
    "supplier",
    "supplier_part_number",
    "order_qty",
    "need_qty",
    "unit_price",
    "line_total",
    "currency",
    "total_job",
    "refs",
    "boards",
    "moq",
    "pack",
    "lead_time_d",
    "stock",
    "status",
    "note",
];

/// A value of a line: text, or a number that may be unknown.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Cell {
    Text(String),
    Number(Option<f64>),
}

/// Money without the dust of binary fractions: twelve significant digits.
pub(super) fn clean(amount: f64) -> f64 {
    format!("{amount:.11e}").parse().unwrap_or(amount)
}

pub(super) fn cells(job: &Job, line: &PurchaseLine) -> [Cell; COLUMNS.len()] {
    use Cell::{Number, Text};
    let trade = line.offer.as_ref().map(|offer| offer.trade).unwrap_or_default();
    let count = |qty: Option<u64>| Number(qty.map(|qty| qty as f64));
    let mut boards: Vec<&str> = Vec::new();
    for place in &line.places {
        let board = job.board_name(place.board());
        if !boards.contains(&board) {
            boards.push(board);
        }
    }
    let status = line.status.map_or("", <&str>::from);
    [
        Text(line.part_number.clone()),
        Text(line.maker.clone()),
        Text(line.supplier().to_owned()),
        Text(line.offer.as_ref().map(|offer| offer.supplier_part_number.clone()).unwrap_or_default()),
        count(line.order_qty),
        count(line.need_qty),
        Number(line.unit_price),
        Number(line.line_total.map(clean)),
        Text(line.currency().to_owned()),
        Number(line.total_job.map(clean)),
        Text(job.references(&line.places, ";")),
        Text(boards.join(";")),
        Number(trade.moq),
        Number(trade.pack),
        Number(trade.lead_time_d),
        Number(trade.stock),
        Text(status.to_owned()),
        Text(note(line)),
    ]
}

fn note(line: &PurchaseLine) -> String {
    let mut notes = line.notes.clone();
    if let Some(next) = line.next_break {
        let NextBreak { from_qty, unit_price, line_total, .. } = next;
        notes.push(format!("from {from_qty} on {unit_price:.4} each, {line_total:.2} in all"));
    }
    if line.line_total.is_some_and(|total| !total.is_finite()) {
        notes.push("the total is beyond what a number can say".into());
    }
    notes.join("; ")
}

/// Writes `purchase.csv`: a row per part, also for parts the shelf covers and parts without a price.
///
/// # Errors
/// When `out` cannot be written.
pub fn csv(out: impl io::Write, job: &Job, purchase: &Purchase) -> csv::Result<()> {
    rows(csv::Writer::from_writer(out), job, purchase.lines.iter())
}

/// The same rows separated by tabs, as spreadsheets take them from the clipboard.
///
/// # Errors
/// None in practice: writing to memory.
pub fn tab_separated(job: &Job, purchase: &Purchase) -> csv::Result<String> {
    let mut content = Vec::new();
    let writer = csv::WriterBuilder::new().delimiter(b'\t').from_writer(&mut content);
    rows(writer, job, purchase.lines.iter())?;
    Ok(String::from_utf8_lossy(&content).into_owned())
}

fn rows<'a>(
    mut writer: csv::Writer<impl io::Write>,
    job: &Job,
    lines: impl Iterator<Item = &'a PurchaseLine>,
) -> csv::Result<()> {
    writer.write_record(COLUMNS)?;
    for line in lines {
        writer.write_record(cells(job, line).map(|cell| match cell {
            Cell::Text(text) => neutral_text(&text),
            Cell::Number(value) => number(value),
        }))?;
    }
    Ok(writer.flush()?)
}

/// Columns of the list a supplier's page takes: the supplier's number (the manufacturer's where it is not known), pieces, and the positions,
/// which come back on the delivery note.
pub const UPLOAD: [&str; 3] = ["part_number", "quantity", "customer_reference"];

/// The lists for each supplier: file name and content, only lines to order. `purchase_<supplier>.csv` has every column,
/// `upload_<supplier>.csv` those of [`UPLOAD`] for the lines whose quantity is known; the names have the letters and digits of the supplier's name,
/// `no_supplier` where there is none.
///
/// # Errors
/// None in practice: writing to memory.
pub fn per_supplier(job: &Job, purchase: &Purchase) -> csv::Result<Vec<(String, Vec<u8>)>> {
    let mut suppliers: BTreeMap<&str, Vec<&PurchaseLine>> = BTreeMap::new();
    for line in purchase.lines.iter().filter(|line| line.to_order()) {
        suppliers.entry(line.supplier()).or_default().push(line);
    }
    let mut files: Vec<(String, Vec<u8>)> = Vec::new();
    for (supplier, lines) in suppliers {
        let stem = unused_stem(supplier, &files);
        let mut full = Vec::new();
        rows(csv::Writer::from_writer(&mut full), job, lines.iter().copied())?;
        files.push((format!("{}{stem}.csv", LIST_PREFIXES[0]), full));
        if !supplier.is_empty() {
            files.push((format!("{}{stem}.csv", LIST_PREFIXES[1]), upload(job, &lines)?));
        }
    }
    Ok(files)
}

fn upload(job: &Job, lines: &[&PurchaseLine]) -> csv::Result<Vec<u8>> {
    let mut content = Vec::new();
    let mut writer = csv::Writer::from_writer(&mut content);
    writer.write_record(UPLOAD)?;
    for line in lines {
        let Some(qty) = line.order_qty else { continue };
        let theirs = line.offer.as_ref().map(|offer| offer.supplier_part_number.trim()).unwrap_or_default();
        let number = if theirs.is_empty() { line.part_number.as_str() } else { theirs };
        let positions = job.references(&line.places, " ");
        writer.write_record([neutral_text(number), qty.to_string(), neutral_text(&positions)])?;
    }
    writer.flush()?;
    drop(writer);
    Ok(content)
}

/// The part of a file name for a supplier that no other list of this export has.
fn unused_stem(supplier: &str, files: &[(String, Vec<u8>)]) -> String {
    let plain: String = supplier.chars().map(|c| if c.is_alphanumeric() { c } else { '_' }).take(60).collect();
    let stem = if plain.is_empty() { "no_supplier".to_owned() } else { plain };
    let list = |stem: &str| format!("{}{stem}.csv", LIST_PREFIXES[0]).to_lowercase();
    let taken = |stem: &String| files.iter().any(|(other, _)| other.to_lowercase() == list(stem));
    let numbered = (2..).map(|n| format!("{stem}_{n}"));
    std::iter::once(stem.clone()).chain(numbered).find(|stem| !taken(stem)).unwrap_or_default()
}

/// How the names of the lists for suppliers begin.
pub(super) const LIST_PREFIXES: [&str; 2] = ["purchase_", "upload_"];

#[cfg(test)]
#[path = "purchase_tests.rs"]
mod tests;
