//! The buyer's tables: `purchase.csv`, and for each supplier the same list and one to upload.

use std::collections::BTreeMap;
use std::io;

use super::columns::{self, Cell, Column, separated, text};
use crate::domain::Job;
use crate::domain::style::{money, price};
use crate::sizing::{NextBreak, Purchase, PurchaseLine};

/// Money without the dust of binary fractions: twelve significant digits.
pub(super) fn clean(amount: f64) -> f64 {
    format!("{amount:.11e}").parse().unwrap_or(amount)
}

/// A line of the order of a job.
pub(super) type Line<'a> = (&'a Job, &'a PurchaseLine);

/// Columns of `purchase.csv` and of the workbook.
pub(super) fn columns<'a>() -> [Column<Line<'a>>; 18] {
    use Cell::Number;
    [
        ("part_number", |(_, line)| text(&line.part_number)),
        ("maker", |(_, line)| text(&line.maker)),
        ("supplier", |(_, line)| text(line.supplier())),
        ("supplier_part_number", |(_, line)| text(line.supplier_part_number())),
        ("order_qty", |(_, line)| count(line.order_qty)),
        ("need_qty", |(_, line)| count(line.need_qty)),
        ("unit_price", |(_, line)| Number(line.unit_price)),
        ("line_total", |(_, line)| Number(line.line_total.map(clean))),
        ("currency", |(_, line)| text(line.currency())),
        ("total_job", |(_, line)| Number(line.total_job.map(clean))),
        ("refs", |(job, line)| text(job.references(&line.places, ";"))),
        ("boards", |(job, line)| text(boards(job, line))),
        ("moq", |(_, line)| Number(line.trade().moq)),
        ("pack", |(_, line)| Number(line.trade().pack)),
        ("lead_time_d", |(_, line)| Number(line.trade().lead_time_d)),
        ("stock", |(_, line)| Number(line.trade().stock)),
        ("status", |(_, line)| text(line.status.map_or("", <&str>::from))),
        ("note", |(_, line)| text(note(line))),
    ]
}

/// The names of the columns of `purchase.csv`.
pub fn column_names() -> [&'static str; 18] {
    columns().map(|(name, _)| name)
}

fn count(qty: Option<u64>) -> Cell {
    Cell::Number(qty.map(|qty| qty as f64))
}

fn boards(job: &Job, line: &PurchaseLine) -> String {
    let mut boards: Vec<&str> = Vec::new();
    for place in &line.places {
        let board = job.board_name(place.board());
        if !boards.contains(&board) {
            boards.push(board);
        }
    }
    boards.join(";")
}

fn note(line: &PurchaseLine) -> String {
    let mut notes = line.notes.clone();
    if let Some(next) = line.next_break {
        let NextBreak { from_qty, unit_price, line_total, .. } = next;
        notes.push(format!("from {from_qty} on {} each, {} in all", price(unit_price), money(line_total)));
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
    csv_of(out, job, &purchase.lines)
}

/// The same rows separated by tabs, as spreadsheets take them from the clipboard.
///
/// # Errors
/// None in practice: writing to memory.
pub fn tab_separated(job: &Job, purchase: &Purchase) -> csv::Result<String> {
    let mut content = Vec::new();
    let writer = csv::WriterBuilder::new().delimiter(b'\t').from_writer(&mut content);
    separated(writer, &columns(), purchase.lines.iter().map(|line| (job, line)))?;
    Ok(String::from_utf8_lossy(&content).into_owned())
}

fn csv_of<'a>(out: impl io::Write, job: &'a Job, lines: impl IntoIterator<Item = &'a PurchaseLine>) -> csv::Result<()> {
    columns::csv(out, &columns(), lines.into_iter().map(|line| (job, line)))
}

/// Columns of the lists a supplier's page takes: the supplier's number (the manufacturer's where it is not known), pieces; where the page takes
/// a third column, the positions, which come back on the delivery note.
fn upload_columns<'a>() -> [Column<Line<'a>>; 3] {
    [
        ("part_number", |(_, line)| {
            let theirs = line.supplier_part_number().trim();
            text(if theirs.is_empty() { line.part_number.as_str() } else { theirs })
        }),
        ("quantity", |(_, line)| count(line.order_qty)),
        ("customer_reference", |(_, line)| text(&line.names)),
    ]
}

/// How the names of the lists for suppliers begin, and the columns of those to upload.
const UPLOADS: [(&str, usize); 2] = [("upload_", 2), ("references_", 3)];

/// The first line of each list to upload.
pub(super) fn upload_heads() -> [String; 2] {
    UPLOADS.map(|(_, columns)| upload_columns().map(|(name, _)| name)[..columns].join(","))
}

/// The lists for each supplier: file name and content, only lines to order. `purchase_<supplier>.csv` has every column,
/// `upload_<supplier>.csv` number and quantity for the lines whose quantity is known, `references_<supplier>.csv` the positions beside them; the names have the letters and digits of the supplier's name,
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
        csv_of(&mut full, job, lines.iter().copied())?;
        files.push((format!("{}{stem}.csv", LIST_PREFIXES[0]), full));
        if !supplier.is_empty() {
            for (prefix, taken) in UPLOADS {
                let mut upload = Vec::new();
                let known = lines.iter().filter(|line| line.order_qty.is_some()).map(|&line| (job, line));
                columns::csv(&mut upload, &upload_columns()[..taken], known)?;
                files.push((format!("{prefix}{stem}.csv"), upload));
            }
        }
    }
    Ok(files)
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
pub(super) const LIST_PREFIXES: [&str; 3] = ["purchase_", UPLOADS[0].0, UPLOADS[1].0];
