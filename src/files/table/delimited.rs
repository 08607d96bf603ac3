//! Comma, semicolon, tab and pipe separated text, through the csv crate.

use super::types::{Block, Layout, Limits, Note, Record, Separator, TableError};
use crate::files::csv_rows::{CsvRows, breaks};

pub(super) fn byte(separator: Separator) -> u8 {
    match separator {
        Separator::Semicolon => b';',
        Separator::Tab => b'\t',
        Separator::Pipe => b'|',
        _ => b',',
    }
}

/// The separator that a first line `sep=;` declares, as spreadsheets write it.
pub(super) fn declared(text: &str) -> Option<Separator> {
    match text.lines().next()?.trim().trim_matches('"') {
        "sep=," => Some(Separator::Comma),
        "sep=;" => Some(Separator::Semicolon),
        "sep=\t" | "sep=" => Some(Separator::Tab),
        "sep=|" => Some(Separator::Pipe),
        _ => None,
    }
}

/// The text with bars in place of the exclamation marks or tildes that some programs put between cells (`C1 ! 1000.0 ! 2000.0 ! 90`, `C1~100uF~25V`);
/// `None` where they are no separators.
pub(super) fn with_bars(text: &str) -> Option<String> {
    let rows = || text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#'));
    let separates = |mark: &char| {
        let spaced = format!(" {mark} ");
        let is_marked = |line: &&str| line.matches(*mark).count() >= 3 || line.matches(&spaced).count() >= 2;
        let marked = rows().filter(is_marked).count();
        marked > 0 && marked * 2 >= rows().count() && !text.contains('|')
    };
    ['!', '~'].iter().find(|mark| separates(mark)).map(|mark| text.replace(*mark, "|"))
}

pub(super) fn block(text: &str, separator: Separator, limits: &Limits) -> Result<Block, TableError> {
    let mut rows = CsvRows::new(text, byte(separator), 1, None);
    let mut record = csv::StringRecord::new();
    let mut collector = Collector::new(limits);
    let mut end = 0;
    while let Some(line) = rows.next(&mut record) {
        let line = usize::try_from(line).unwrap_or(usize::MAX);
        collector.take(line, line > end + 1, &record)?;
        end = line + record.iter().map(breaks).sum::<usize>();
    }
    let note = rows.stray_line().zip(rows.note()).map(|(line, text)| Note { line, text });
    let block = Block::of(collector.records, separator, Layout::Delimited);
    Ok(Block { notes: note.into_iter().collect(), ..block })
}

/// Takes records within the limits.
pub(super) struct Collector<'a> {
    pub records: Vec<Record>,
    limits: &'a Limits,
    cells: usize,
    gap: bool,
}

impl<'a> Collector<'a> {
    pub(super) fn new(limits: &'a Limits) -> Self {
        Collector { records: Vec::new(), limits, cells: 0, gap: false }
    }

    pub(super) fn take<'r>(
        &mut self,
        line: usize,
        after_gap: bool,
        cells: impl IntoIterator<Item = &'r str>,
    ) -> Result<(), TableError> {
        let limits = self.limits;
        let mut row = Vec::new();
        for (at, cell) in cells.into_iter().enumerate() {
            if cell.len() > limits.cell_bytes {
                return Err(TableError::CellTooLong { line, column: at + 1, limit: limits.cell_bytes });
            }
            row.push(cell);
        }
        // Empty cells at the end are no columns yet: the header says how many there are.
        let columns = row.iter().rposition(|cell| !cell.trim().is_empty()).map_or(0, |last| last + 1);
        if columns == 0 {
            self.gap = true;
            return Ok(());
        }
        if columns > limits.columns {
            return Err(TableError::TooManyColumns { line, columns, limit: limits.columns });
        }
        if self.records.len() >= limits.rows {
            return Err(TableError::TooManyRows { line, limit: limits.rows });
        }
        self.cells += columns;
        if self.cells > limits.cells {
            return Err(TableError::TooManyCells { line, limit: limits.cells });
        }
        let cells = row[..columns].iter().map(|cell| unquoted(cell).to_string()).collect();
        self.records.push(Record { line, after_gap: after_gap || self.gap, cells });
        self.gap = false;
        Ok(())
    }
}

/// The cell without outer blanks, and without quotation marks that were kept because a blank stood before them.
fn unquoted(cell: &str) -> &str {
    let trimmed = cell.trim();
    // `="0805"`: a text that a spreadsheet is to leave alone.
    if let Some(text) = trimmed.strip_prefix("=\"").and_then(|rest| rest.strip_suffix('"')) {
        return text;
    }
    match trimmed.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')) {
        Some(inner) if cell.starts_with([' ', '\t']) && !inner.contains('"') => inner.trim(),
        _ => trimmed,
    }
}
