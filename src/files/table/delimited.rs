//! Comma, semicolon, tab and pipe separated text, through the csv crate.

use super::types::{Block, Layout, Limits, Note, Record, Separator, TableError};

/// A record that spans more lines than this comes from a quotation mark that was never closed.
const LINES_PER_RECORD: usize = 200;

fn byte(separator: Separator) -> u8 {
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

/// The text with bars in place of the exclamation marks that some programs put between cells (`C1 ! 1000.0 ! 2000.0 ! 90`, `C1!100uF!25V`);
/// `None` where they are no separators.
pub(super) fn with_bars(text: &str) -> Option<String> {
    let rows = text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#'));
    let (all, marked) = rows.fold((0, 0), |(all, marked), line| {
        (all + 1, marked + usize::from(line.matches('!').count() >= 3 || line.matches(" ! ").count() >= 2))
    });
    (marked > 0 && marked * 2 >= all && !text.contains('|')).then(|| text.replace('!', "|"))
}

pub(super) fn block(text: &str, separator: Separator, limits: &Limits) -> Result<Block, TableError> {
    let mut block = Block {
        records: Vec::new(),
        header: None,
        separator,
        layout: Layout::Delimited,
        above: Vec::new(),
        notes: Vec::new(),
    };
    match quoted(text, byte(separator), limits)? {
        Quoted::Records(records) => block.records = records,
        Quoted::Unclosed { line } => {
            let text_of_note =
                "a quotation mark is not closed: from the whole file, every line was read as a row of its own";
            block.notes.push(Note { line, text: text_of_note.to_string() });
            block.records = line_by_line(text, byte(separator), limits)?;
        }
    }
    Ok(block)
}

/// A place in a text in memory, whose length is a `usize`.
fn index(byte: u64) -> usize {
    usize::try_from(byte).unwrap_or(usize::MAX)
}

enum Quoted {
    Records(Vec<Record>),
    Unclosed { line: usize },
}

fn reader(text: &str, delimiter: u8, quoting: bool) -> csv::Reader<&[u8]> {
    csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .has_headers(false)
        .flexible(true)
        .quoting(quoting)
        .from_reader(text.as_bytes())
}

fn quoted(text: &str, delimiter: u8, limits: &Limits) -> Result<Quoted, TableError> {
    let odd_quotes = text.bytes().filter(|&byte| byte == b'"').count() % 2 == 1;
    let mut reader = reader(text, delimiter, true);
    let mut record = csv::StringRecord::new();
    let mut collector = Collector::new(limits);
    let (mut line, mut counted_to) = (1, 0);
    // The text is valid UTF-8 and records may differ in length, so reading cannot fail; an error would end the table.
    while reader.read_record(&mut record).unwrap_or(false) {
        // The crate skips blank lines before a record without moving the record's position over them.
        let start = record.position().map_or(counted_to, |position| index(position.byte())).min(text.len());
        let blanks = text.as_bytes()[start..].iter().take_while(|byte| matches!(byte, b'\n' | b'\r')).count();
        // The second half of a CR LF pair belongs to the record before.
        let own = start + usize::from(text[..start].ends_with('\r') && text[start..].starts_with('\n'));
        let gap = text.as_bytes()[own..start + blanks].contains(&b'\n');
        line += newlines(&text[counted_to..start + blanks]);
        counted_to = start + blanks;
        let end = index(reader.position().byte()).clamp(counted_to, text.len());
        let spanned = newlines(text[counted_to..end].trim_end_matches(['\r', '\n']));
        if spanned > LINES_PER_RECORD || (odd_quotes && spanned > 0) {
            return Ok(Quoted::Unclosed { line });
        }
        collector.take(line, gap, &record)?;
    }
    Ok(Quoted::Records(collector.records))
}

fn newlines(text: &str) -> usize {
    text.bytes().filter(|&byte| byte == b'\n').count()
}

/// Every line is a record; in a line with an odd number of quotation marks they are plain characters.
fn line_by_line(text: &str, delimiter: u8, limits: &Limits) -> Result<Vec<Record>, TableError> {
    let mut collector = Collector::new(limits);
    let mut gap = false;
    let mut record = csv::StringRecord::new();
    for (at, line) in text.lines().enumerate() {
        if line.trim().is_empty() {
            gap = true;
            continue;
        }
        let quoting = line.bytes().filter(|&byte| byte == b'"').count() % 2 == 0;
        if reader(line, delimiter, quoting).read_record(&mut record).unwrap_or(false) {
            collector.take(at + 1, gap, &record)?;
        }
        gap = false;
    }
    Ok(collector.records)
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
    match trimmed.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')) {
        Some(inner) if cell.starts_with([' ', '\t']) && !inner.contains('"') => inner.trim(),
        _ => trimmed,
    }
}
