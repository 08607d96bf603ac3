//! From records to a table: header names, ragged rows, repeated headers, metadata at the end.

use std::collections::HashMap;

use super::decode::Decoded;
use super::header::Known;
use super::types::{
    Block, Detection, Encoding, Layout, Note, Options, Record, Row, STRUCK, Separator, Table, TableError,
};
use super::{header, two_lines};
use crate::domain::style::counted;

/// Note on a header whose names stand in two lines.
const TWO_LINES: &str = "the header has two lines and is read as one";

/// The same for names, conditions and units.
const THREE_LINES: &str = "the header has three lines and is read as one";
/// Most lines of a header: names, conditions, units.
const HEADER_LINES_MOST: usize = 3;

pub(super) fn table(block: Block, decoded: &Decoded, known: &Known, options: &Options) -> Result<Table, TableError> {
    let Block { mut records, header: said, separator, layout, above, notes: block_notes, unread } = block;
    let at = match options.header_line {
        Some(0) => None,
        Some(line) => {
            Some(records.iter().position(|record| record.line == line).ok_or(TableError::NoSuchHeader { line })?)
        }
        // Words in a row are a header only where some of them are known.
        None => said.or_else(|| {
            let names = |at: &usize| layout != Layout::FixedWidth || header::hits(&records[*at].cells, known) > 0;
            header::find(&records, known).map(|(at, _)| at).filter(names)
        }),
    };
    let mut notes = decoded.notes.clone();
    notes.extend(block_notes);
    let mut body = records.split_off(at.map_or(0, |at| at + 1));
    let head = at.and_then(|_| records.pop());
    if at.is_none() && options.header_line.is_none() {
        // A table without header may have a title.
        let titles = body.iter().take_while(|record| record.cells.len() == 1).count();
        if body.get(titles).is_some_and(|record| record.cells.len() > 1) {
            records.extend(body.drain(..titles));
        }
    }
    let preamble: Vec<Note> = above
        .into_iter()
        .chain(records.iter().map(|record| Note { line: record.line, text: joined(record) }))
        .collect();
    let mut raw = head.as_ref().map(|head| names(&head.cells)).unwrap_or_default();
    if head.is_none() {
        let line = body.first().map_or(1, |record| record.line);
        notes.push(Note { line, text: "no header row: the columns are numbered".to_string() });
    }
    // Commas inside brackets that nobody quoted: `(mA rms, 105 °C)`.
    let widest = body.iter().map(|record| record.cells.len()).max().unwrap_or(0);
    let whole = two_lines::in_brackets(&raw);
    if raw.len() > widest && whole.len() == widest {
        raw = whole;
    }
    let single = raw.clone();
    if let Some(head) = &head {
        raw = of_all_lines(raw, records.last(), &mut body, head.line, known, &mut notes);
    }
    drop_repeated_header(&mut body, &single, &mut notes);
    drop_struck(&mut body, &mut notes);
    let mut body = with_continued(body, &mut notes);
    // Behind a header that is a comment, every line with the mark is one.
    let commented = head.as_ref().and_then(|head| head.cells.first()).is_some_and(|cell| cell.starts_with('#'));
    let trailing = split_trailing(&mut body, commented);
    let width = body.iter().map(|record| record.cells.len()).max().unwrap_or(0).max(raw.len());
    // Cells left of the last filled one, over all rows; headers without any cell stay.
    if body.len().saturating_mul(width) > options.limits.cells {
        let line = body.last().map_or(1, |record| record.line);
        return Err(TableError::TooManyCells { line, limit: options.limits.cells });
    }
    if let Some(head) = &head {
        note_ragged(&body, raw.len(), head.line, &mut notes);
    }
    let header = numbered(&raw, width, head.as_ref().map_or(1, |head| head.line), &mut notes);
    let rows = body
        .into_iter()
        .map(|mut record| {
            record.cells.resize(width, String::new());
            Row { line: record.line, cells: record.cells }
        })
        .collect();
    let found = Detection {
        encoding: decoded.encoding,
        encoding_doubt: decoded.doubt.clone(),
        byte_order_mark: decoded.byte_order_mark,
        separator,
        layout,
        preamble_lines: preamble.len(),
        header_line: head.map(|head| head.line),
    };
    Ok(Table { header, rows, found, preamble, trailing, notes, unread })
}

impl Table {
    /// A table that was printed: names over columns and rows as wide as they are.
    pub fn of_sheet(header: &[String], rows: Vec<Row>, preamble: Vec<Note>, mut notes: Vec<Note>) -> Self {
        let header = numbered(header, header.len(), 1, &mut notes);
        let found = Detection {
            encoding: Encoding::Utf8,
            encoding_doubt: None,
            byte_order_mark: false,
            separator: Separator::Markup,
            layout: Layout::Printed,
            preamble_lines: preamble.len(),
            header_line: Some(1),
        };
        Self { header, rows, found, preamble, trailing: Vec::new(), notes, unread: Vec::new() }
    }
}

fn joined(record: &Record) -> String {
    record.cells.iter().filter(|cell| !cell.is_empty()).map(String::as_str).collect::<Vec<_>>().join(" ")
}

/// Header cells without comment marks and line breaks.
fn names(cells: &[String]) -> Vec<String> {
    cells
        .iter()
        .enumerate()
        .map(|(at, cell)| {
            let cell = if at == 0 { cell.trim_start_matches(['#', '\u{FEFF}']) } else { cell };
            cell.split_whitespace().collect::<Vec<_>>().join(" ")
        })
        .collect()
}

/// One name for every column: empty ones by position, repeated ones numbered.
fn numbered(raw: &[String], width: usize, line: usize, notes: &mut Vec<Note>) -> Vec<String> {
    let mut times: HashMap<String, usize> = HashMap::new();
    let mut taken: std::collections::HashSet<String> = raw.iter().cloned().collect();
    let mut header = Vec::with_capacity(width);
    let mut repeated: Vec<String> = Vec::new();
    for at in 0..width {
        let name = raw.get(at).filter(|name| !name.is_empty()).cloned();
        let Some(name) = name else {
            let mut name = format!("column {}", at + 1);
            while !taken.insert(name.clone()) {
                name.push('_');
            }
            header.push(name);
            continue;
        };
        let count = times.entry(name.clone()).or_insert(0);
        *count += 1;
        if *count == 1 {
            header.push(name);
            continue;
        }
        if *count == 2 {
            repeated.push(name.clone());
        }
        let mut unique = format!("{name} ({count})");
        while !taken.insert(unique.clone()) {
            unique.push('_');
        }
        header.push(unique);
    }
    if !repeated.is_empty() {
        notes.push(Note { line, text: format!("repeated header names are numbered: {}", repeated.join(", ")) });
    }
    header
}

/// The names of a header with those of the lines above and below that belong to it.
fn of_all_lines(
    mut raw: Vec<String>,
    above: Option<&Record>,
    body: &mut Vec<Record>,
    line: usize,
    known: &Known,
    notes: &mut Vec<Note>,
) -> Vec<String> {
    if let Some(above) = above {
        let axis = two_lines::apart(&above.cells, &raw).unwrap_or_else(|| above.cells.clone());
        if two_lines::spans(&axis, &raw) {
            notes.push(Note { line: above.line, text: TWO_LINES.to_string() });
            return two_lines::under(&names(&axis), &raw);
        }
    }
    let mut lines = 1;
    if let Some(above) = above.filter(|above| two_lines::completes(&above.cells, &raw, known)) {
        // A title over several columns is no name of the first of them.
        let over = names(&above.cells);
        raw.resize(raw.len().max(over.len()), String::new());
        raw.iter_mut().zip(over).filter(|(name, _)| name.is_empty()).for_each(|(name, over)| *name = over);
        lines = 2;
    }
    while lines < HEADER_LINES_MOST
        && let Some(below) = body.first().filter(|below| two_lines::continues(&raw, &below.cells, known))
    {
        raw = two_lines::joined(&raw, &names(&below.cells));
        body.remove(0);
        lines += 1;
    }
    if lines > 1 {
        let text = if lines == 2 { TWO_LINES } else { THREE_LINES };
        notes.push(Note { line, text: text.to_string() });
    }
    raw
}

/// Rows whose first cell is struck out are none, and that is said.
fn drop_struck(body: &mut Vec<Record>, notes: &mut Vec<Note>) {
    body.retain(|record| {
        let struck = |cell: &&String| cell.len() > STRUCK.len() && cell.starts_with(STRUCK) && cell.ends_with(STRUCK);
        let first = record.cells.iter().find(|cell| !cell.is_empty()).filter(struck);
        notes.extend(first.map(|cell| Note { line: record.line, text: format!("struck out and left out: {cell}") }));
        first.is_none()
    });
}

/// Page breaks repeat the header; such rows are no data.
fn drop_repeated_header(body: &mut Vec<Record>, raw: &[String], notes: &mut Vec<Note>) {
    let filled = raw.iter().filter(|name| !name.is_empty()).count();
    if filled < 2 {
        return;
    }
    let mut first = None;
    let before = body.len();
    body.retain(|record| {
        let same = record.cells.len() == raw.len() && names(&record.cells) == raw;
        if same {
            first.get_or_insert(record.line);
        }
        !same
    });
    if let Some(line) = first {
        notes.push(Note { line, text: format!("the header is repeated {} times among the rows", before - body.len()) });
    }
}

/// A row of nothing but one text belongs to the one above it, where that text ends with a comma.
fn with_continued(body: Vec<Record>, notes: &mut Vec<Note>) -> Vec<Record> {
    let (line, rows) = (body.first().map_or(1, |record| record.line), body.len());
    let mut joined: Vec<Record> = Vec::with_capacity(body.len());
    for record in body {
        let rest = record.cells.iter().enumerate().find(|(_, cell)| !cell.is_empty());
        let rest = rest.filter(|(_, text)| filled(&record) == 1 && text.contains(char::is_alphabetic));
        let above = joined.last_mut().filter(|above| !record.after_gap && filled(above) > 1);
        let above = above.zip(rest).and_then(|(above, (at, rest))| Some((above.cells.get_mut(at)?, rest)));
        match above.filter(|(above, _)| above.ends_with(',')) {
            Some((above, rest)) => {
                above.push(' ');
                above.push_str(rest);
            }
            None => joined.push(record),
        }
    }
    if joined.len() < rows {
        let rows = counted(rows - joined.len(), "row of one cell belongs", "rows of one cell belong");
        notes.push(Note { line, text: format!("{rows} to the row above, whose text ends in a comma") });
    }
    joined
}

fn filled(record: &Record) -> usize {
    record.cells.iter().filter(|cell| !cell.is_empty()).count()
}

/// Takes metadata off the end: comment lines (with more than one cell only where the header is one, `commented`), and thin rows behind a blank line or with a single cell.
fn split_trailing(body: &mut Vec<Record>, commented: bool) -> Vec<Note> {
    let mut sizes: Vec<usize> = body.iter().map(filled).collect();
    sizes.sort_unstable();
    let typical = sizes.get(sizes.len() / 2).copied().unwrap_or(0);
    let comment = |record: &Record| {
        record.cells.first().is_some_and(|cell| cell.starts_with('#')) && (commented || filled(record) <= 1)
    };
    let mut from = body.len();
    if typical >= 3 {
        // A block of thin rows behind the last blank line.
        if let Some(gap) = body.iter().rposition(|record| record.after_gap).filter(|&gap| gap > 0)
            && body[gap..].iter().all(|record| filled(record) <= (typical / 2).max(1))
        {
            from = gap;
        }
        while from > 1 && filled(&body[from - 1]) == 1 {
            from -= 1;
        }
    }
    while from > 0 && comment(&body[from - 1]) {
        from -= 1;
    }
    let mut trailing: Vec<Note> = Vec::new();
    trailing.extend(body.drain(from..).map(|record| Note { line: record.line, text: joined(&record) }));
    // Comments between the rows.
    body.retain(|record| {
        let is_comment = comment(record);
        if is_comment {
            trailing.push(Note { line: record.line, text: joined(record) });
        }
        !is_comment
    });
    trailing.sort_by_key(|note| note.line);
    trailing
}

fn note_ragged(body: &[Record], names: usize, header_line: usize, notes: &mut Vec<Note>) {
    let longer: Vec<usize> =
        body.iter().filter(|record| record.cells.len() > names).map(|record| record.line).collect();
    if let Some(&line) = longer.first() {
        let text = format!(
            "{} more cells than the header of line {header_line} has names; the columns were numbered",
            counted(longer.len(), "row has", "rows have")
        );
        notes.push(Note { line, text });
    }
    let widest = body.iter().map(|record| record.cells.len()).max().unwrap_or(0);
    if widest < names && !body.is_empty() {
        notes.push(Note {
            line: header_line,
            text: format!("the last {} columns of the header are empty in every row", names - widest),
        });
    }
}
