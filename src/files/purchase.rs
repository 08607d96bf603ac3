//! The buyer's files: `purchase.csv`, the same list for each supplier, and a workbook with real numbers.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

use rust_xlsxwriter::{Format, Workbook, Worksheet, XlsxError};

use super::{neutral_text, number};
use crate::domain::Job;
use crate::sizing::{Purchase, PurchaseLine};

/// Columns of `purchase.csv`.
pub const COLUMNS: [&str; 16] = [
    "part_number",
    "maker",
    "supplier",
    "supplier_part_number",
    "order_qty",
    "need_qty",
    "unit_price",
    "line_total",
    "currency",
    "refs",
    "boards",
    "moq",
    "pack",
    "lead_time_d",
    "status",
    "note",
];

/// A value of a line: text, or a number that may be unknown.
#[derive(Debug, Clone, PartialEq)]
enum Cell {
    Text(String),
    Number(Option<f64>),
}

/// Money without the dust of binary fractions: twelve significant digits.
fn clean(amount: f64) -> f64 {
    format!("{amount:.11e}").parse().unwrap_or(amount)
}

fn cells(job: &Job, line: &PurchaseLine) -> [Cell; COLUMNS.len()] {
    use Cell::{Number, Text};
    let trade = line.offer.as_ref().map(|offer| offer.trade).unwrap_or_default();
    let count = |qty: Option<u64>| Number(qty.map(|qty| qty as f64));
    let mut boards: Vec<&str> = Vec::new();
    for board in line.positions.iter().filter_map(|id| job.boards.get(id.board)) {
        if !boards.contains(&board.name.as_str()) {
            boards.push(&board.name);
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
        Text(job.references(&line.positions, ";")),
        Text(boards.join(";")),
        Number(trade.moq),
        Number(trade.pack),
        Number(trade.lead_time_d),
        Text(status.to_owned()),
        Text(note(line)),
    ]
}

fn note(line: &PurchaseLine) -> String {
    let mut notes = line.notes.clone();
    if let Some(next) = line.next_break {
        notes.push(format!("from {} on {} each, {} in all", next.from_qty, next.unit_price, clean(next.line_total)));
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

/// The lists for each supplier: file name and content, only lines to order. Names are `purchase_<supplier>.csv` with
/// letters and digits of the supplier's name; lines without a supplier are in `purchase_no_supplier.csv`.
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
        let mut content = Vec::new();
        rows(csv::Writer::from_writer(&mut content), job, lines.into_iter())?;
        let name = unused_name(supplier, &files);
        files.push((name, content));
    }
    Ok(files)
}

/// A file name for a supplier that no other file of this export has.
fn unused_name(supplier: &str, files: &[(String, Vec<u8>)]) -> String {
    let plain: String = supplier.chars().map(|c| if c.is_alphanumeric() { c } else { '_' }).take(60).collect();
    let stem = if plain.is_empty() { "no_supplier".to_owned() } else { plain };
    let taken = |name: &str| files.iter().any(|(other, _)| other.to_lowercase() == name.to_lowercase());
    let plain_name = format!("{PER_SUPPLIER_PREFIX}{stem}.csv");
    let numbered = (2..).map(|n| format!("{PER_SUPPLIER_PREFIX}{stem}_{n}.csv"));
    std::iter::once(plain_name).chain(numbered).find(|name| !taken(name)).unwrap_or_default()
}

const PER_SUPPLIER_PREFIX: &str = "purchase_";

/// Lists for suppliers in `folder` that are not among those `written`: of an earlier export, and sent by mistake they would order twice.
#[must_use]
pub fn stale_lists(folder: &Path, written: &[PathBuf]) -> Vec<PathBuf> {
    let is_list = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        name.starts_with(PER_SUPPLIER_PREFIX) && path.extension().is_some_and(|ending| ending == "csv")
    };
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
    let mut stale: Vec<PathBuf> = entries.filter(|path| is_list(path) && !written.contains(path)).collect();
    stale.sort();
    stale
}

/// The workbook: the list with totals, what is open, and what was counted by default.
///
/// A text longer than a workbook cell may be is cut with a mark; amounts beyond what a number can say stay empty.
///
/// # Errors
/// None in practice: writing to memory.
pub fn xlsx(job: &Job, purchase: &Purchase) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    list(workbook.add_worksheet(), job, purchase)?;
    open_questions(workbook.add_worksheet(), job, purchase)?;
    workbook.save_to_buffer()
}

/// A text as long as a workbook cell may be (32 767 UTF-16 units; ECMA-376 part 1, 18.18.93 ST_Xstring, as spreadsheets apply it).
fn cut(text: &str) -> Cow<'_, str> {
    const MOST: usize = 32_767;
    const MARK: &str = " [cut: longer than a cell may be]";
    if text.len() <= MOST || text.encode_utf16().count() <= MOST {
        return Cow::Borrowed(text);
    }
    let mut left = MOST - MARK.len();
    let fits = |c: &char| left.checked_sub(c.len_utf16()).map(|rest| left = rest).is_some();
    Cow::Owned(text.chars().take_while(fits).chain(MARK.chars()).collect())
}

fn list(sheet: &mut Worksheet, job: &Job, purchase: &Purchase) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold();
    let money = Format::new().set_num_format("#,##0.00##");
    let money_bold = Format::new().set_num_format("#,##0.00##").set_bold();
    sheet.set_name("Order")?.set_freeze_panes(1, 1)?;
    for (column, name) in (0u16..).zip(COLUMNS) {
        sheet.write_string_with_format(0, column, name, &bold)?;
    }
    let mut row = 1;
    for line in &purchase.lines {
        for ((column, name), cell) in (0u16..).zip(COLUMNS).zip(cells(job, line)) {
            match cell {
                Cell::Number(Some(value)) if !value.is_finite() => {}
                Cell::Number(Some(value)) if matches!(name, "unit_price" | "line_total") => {
                    sheet.write_number_with_format(row, column, value, &money)?;
                }
                Cell::Number(Some(value)) => {
                    sheet.write_number(row, column, value)?;
                }
                Cell::Text(text) if !text.is_empty() => {
                    sheet.write_string(row, column, cut(&text))?;
                }
                Cell::Number(None) | Cell::Text(_) => {}
            }
        }
        row += 1;
    }
    let at = |name: &str| (0u16..).zip(COLUMNS).find(|(_, column)| *column == name).map_or(0, |(at, _)| at);
    for (currency, total) in &purchase.totals.per_currency {
        sheet.write_string_with_format(row, 0, "Total", &bold)?;
        if total.is_finite() {
            sheet.write_number_with_format(row, at("line_total"), clean(*total), &money_bold)?;
        }
        sheet.write_string_with_format(row, at("currency"), cut(currency), &bold)?;
        let unknown = purchase.lines.iter().filter(|line| line.to_order() && line.line_total.is_none()).count();
        if unknown > 0 {
            sheet.write_string_with_format(
                row,
                at("note"),
                format!("{unknown} lines without a price are not in it"),
                &bold,
            )?;
        }
        row += 1;
    }
    sheet.autofit();
    Ok(())
}

fn open_questions(sheet: &mut Worksheet, job: &Job, purchase: &Purchase) -> Result<(), XlsxError> {
    sheet.set_name("Open")?;
    let without = purchase.without_part.iter().filter_map(|id| {
        Some(format!("{} {}: still without a part", job.boards.get(id.board)?.name, job.position(*id)?.reference))
    });
    let rates = purchase.rates.iter().filter(|(code, _)| purchase.currency.code.as_deref() != Some(code));
    let own = purchase.currency.code.as_deref().unwrap_or_default();
    let rates = rates.map(|(code, rate)| format!("1 {code} counts as {rate} {own} (entered by the buyer)"));
    let lines: Vec<String> = purchase.notes.iter().cloned().chain(rates).chain(without).collect();
    let lines = if lines.is_empty() { vec!["Nothing is open.".to_owned()] } else { lines };
    for (row, text) in (0u32..).zip(lines) {
        sheet.write_string(row, 0, cut(&text))?;
    }
    sheet.set_column_width(0, 90)?;
    Ok(())
}

#[cfg(test)]
#[path = "purchase_tests.rs"]
mod tests;
