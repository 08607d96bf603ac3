//! A sheet of a workbook as a table.

use std::collections::BTreeMap;

use super::assemble;
use super::decode::Decoded;
use super::delimited::Collector;
use super::header::{self, Known};
use super::types::{Block, Encoding, Layout, Note, Options, Separator, Table, TableError};
use crate::files::workbook::{Sheet, letters};

/// Ranges named in a note.
const NAMED_MOST: usize = 8;

/// Reads a sheet of a workbook; lines are its row numbers.
///
/// # Errors
/// When the sheet is empty or holds more than the limits allow.
pub fn read_sheet(sheet: &Sheet, known: &Known, options: &Options) -> Result<Table, TableError> {
    let mut collector = Collector::new(&options.limits);
    let mut before = 0;
    for (row, cells) in &sheet.rows {
        collector.take(*row, before > 0 && *row > before + 1, cells.iter().map(String::as_str))?;
        before = *row;
    }
    let mut records = collector.records;
    if records.is_empty() {
        return Err(TableError::Empty);
    }
    let found = || header::find(&records, known).and_then(|(at, _)| Some(records.get(at)?.line));
    let header_line = options.header_line.or_else(found);
    let mut notes = notes(sheet);
    // A value merged over rows holds in each of them; a title merged over columns is a title.
    let below = header_line.unwrap_or(0);
    let mut filled: Vec<(usize, String)> = Vec::new();
    let at_row: BTreeMap<usize, usize> = records.iter().enumerate().map(|(at, record)| (record.line, at)).collect();
    for merged in sheet.merged.iter().filter(|merged| merged.rows.0 > below && merged.rows.1 > merged.rows.0) {
        let (first, last) = merged.rows;
        let column = merged.columns.0.saturating_sub(1);
        let value = at_row.get(&first).and_then(|&at| records[at].cells.get(column)).cloned().unwrap_or_default();
        if value.is_empty() || last < first {
            continue;
        }
        for (_, &at) in at_row.range(first + 1..=last) {
            let cells = &mut records[at].cells;
            if cells.len() <= column {
                cells.resize(column + 1, String::new());
            }
            if cells[column].is_empty() {
                cells[column].clone_from(&value);
            }
        }
        filled.push((first, format!("{}{first} to {last}", letters(column + 1))));
    }
    if let Some((line, _)) = filled.first() {
        let text =
            format!("cells merged over several rows hold for each of them: {}", named(filled.iter().map(|f| &f.1)));
        notes.push(Note { line: *line, text });
    }
    let block = Block { notes, ..Block::of(records, Separator::Tab, Layout::Sheet) };
    let decoded = Decoded {
        text: String::new(),
        encoding: Encoding::Utf8,
        byte_order_mark: false,
        notes: Vec::new(),
        doubt: None,
    };
    assemble::table(block, &decoded, known, &Options { header_line, ..*options })
}

/// What a person who sees the sheet does not see, or sees otherwise.
fn notes(sheet: &Sheet) -> Vec<Note> {
    let mut notes: Vec<Note> = sheet.notes.iter().map(|text| Note { line: 1, text: text.clone() }).collect();
    if let Some(&line) = sheet.hidden_rows.first() {
        let text = format!(
            "rows {} are hidden in the workbook and read like the others",
            ranges(&sheet.hidden_rows, &|row| row.to_string())
        );
        notes.push(Note { line, text });
    }
    if !sheet.hidden_columns.is_empty() {
        let text = format!(
            "columns {} are hidden in the workbook and read like the others",
            ranges(&sheet.hidden_columns, &letters)
        );
        notes.push(Note { line: 1, text });
    }
    if let Some(&(line, column)) = sheet.without_value.first() {
        let text = format!(
            "{} formulas have no stored value and are read as empty cells, the first in {}{line}: open the workbook in a spreadsheet program and save it there",
            sheet.without_value.len(),
            letters(column)
        );
        notes.push(Note { line, text });
    }
    notes
}

/// `3, 5 to 9`
fn ranges(numbers: &[usize], name: &dyn Fn(usize) -> String) -> String {
    let runs = numbers.chunk_by(|a, b| a + 1 == *b).map(|run| match run {
        [first, .., last] => format!("{} to {}", name(*first), name(*last)),
        [one] => name(*one),
        [] => String::new(),
    });
    named(runs)
}

fn named(all: impl Iterator<Item = impl AsRef<str>>) -> String {
    let all: Vec<_> = all.collect();
    let mut text = all.iter().take(NAMED_MOST).map(AsRef::as_ref).collect::<Vec<&str>>().join(", ");
    if all.len() > NAMED_MOST {
        text.push_str(&format!(" and {} more", all.len() - NAMED_MOST));
    }
    text
}
