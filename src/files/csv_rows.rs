//! The one reader of comma, semicolon and tab separated text with a known header: catalogues, offers, values, logs.
//!
//! A quotation mark that opens a cell and is never closed as one would swallow the rows behind it. The line it stands in is
//! read with its marks as plain characters, and the rows behind it as they are.

use std::borrow::Cow;
use std::iter::Peekable;
use std::vec::IntoIter;

use csv::StringRecord;
use memchr::{memchr, memchr_iter};

/// A cell over more lines than this comes from a mark that was never closed.
const LINES_PER_CELL: usize = 200;
/// The same for its bytes.
const BYTES_PER_CELL: usize = 1 << 20;
/// From so many lines on that are rows of their own, a cell over them comes from two marks that belong to nothing.
const LINES_LIKE_ROWS: usize = 3;

/// The byte order of UTF-16 without a mark, which shows by its zero bytes: `true` = low byte first; `None` for any other text.
pub(super) fn unmarked_utf16(bytes: &[u8]) -> Option<bool> {
    let sample = &bytes[..bytes.len().min(8192)];
    let zeros = |from: usize| sample.iter().skip(from).step_by(2).filter(|&&byte| byte == 0).count();
    let (even, odd, half) = (zeros(0), zeros(1), sample.len() / 2);
    let (most, few) = (|count: usize| count * 10 > half * 6, |count: usize| count * 10 < half);
    match (most(odd) && few(even), most(even) && few(odd)) {
        _ if half < 2 => None,
        (true, _) => Some(true),
        (_, true) => Some(false),
        _ => None,
    }
}

/// The text of a file: UTF-8, UTF-16 with its mark or told by its zero bytes, else Windows-1252, in which any byte is a letter; lines end with a line feed,
/// also where the file ends them with a carriage return alone.
pub(super) fn decode(bytes: &[u8]) -> Cow<'_, str> {
    let (encoding, mark) = encoding_rs::Encoding::for_bom(bytes).unwrap_or_else(|| match unmarked_utf16(bytes) {
        Some(true) => (encoding_rs::UTF_16LE, 0),
        Some(false) => (encoding_rs::UTF_16BE, 0),
        None => (encoding_rs::UTF_8, 0),
    });
    let body = &bytes[mark..];
    let text = encoding
        .decode_without_bom_handling_and_without_replacement(body)
        .unwrap_or_else(|| encoding_rs::WINDOWS_1252.decode_without_bom_handling(body).0);
    if has_lone_return(&text) { Cow::Owned(text.replace("\r\n", "\n").replace('\r', "\n")) } else { text }
}

/// The text of whole lines that [`decode`] would leave as they are wherever in a file they stood; `None` for others.
pub(super) fn plain_text(lines: &[u8]) -> Option<&str> {
    match encoding_rs::UTF_8.decode_without_bom_handling_and_without_replacement(lines)? {
        Cow::Borrowed(text) if !has_lone_return(text) && unmarked_utf16(lines).is_none() => Some(text),
        _ => None,
    }
}

fn has_lone_return(text: &str) -> bool {
    let bytes = text.as_bytes();
    memchr_iter(b'\r', bytes).any(|at| bytes.get(at + 1) != Some(&b'\n'))
}

/// A stretch of text that is read in one way.
struct Stretch {
    start: usize,
    end: usize,
    /// Line of its start, from 1.
    line: u64,
    /// Marks in it are plain characters.
    plain: bool,
}

/// The rows of a text, one by one.
pub(super) struct CsvRows<'t> {
    text: &'t str,
    separator: u8,
    stretches: Peekable<IntoIter<Stretch>>,
    reader: Option<(csv::Reader<&'t [u8]>, Stretch)>,
    /// Lines whose marks were taken as plain characters.
    strays: Vec<u64>,
}

impl<'t> CsvRows<'t> {
    /// The rows of `text`, whose first line is line `first_line` of its file; `columns` says how many cells a whole row has.
    pub(super) fn new(text: &'t str, separator: u8, first_line: u64, columns: Option<usize>) -> Self {
        let plain = stray_lines(text, separator, columns);
        let (mut stretches, mut strays) = (Vec::new(), Vec::new());
        let (mut start, mut line) = (0, first_line);
        for (from, to) in plain {
            stretches.push(Stretch { start, end: from, line, plain: false });
            line += breaks(&text[start..from]) as u64;
            strays.push(line);
            stretches.push(Stretch { start: from, end: to, line, plain: true });
            line += breaks(&text[from..to]) as u64;
            start = to;
        }
        stretches.push(Stretch { start, end: text.len(), line, plain: false });
        Self { text, separator, stretches: stretches.into_iter().peekable(), reader: None, strays }
    }

    /// Reads the next row and returns its line; `None` at the end.
    pub(super) fn next(&mut self, row: &mut StringRecord) -> Option<u64> {
        loop {
            if let Some((reader, stretch)) = &mut self.reader {
                // Rows of any length in valid UTF-8 in memory cannot fail.
                if reader.read_record(row).unwrap_or(false) {
                    let at = row.position().map_or(0, csv::Position::byte);
                    let counted = row.position().map_or(0, csv::Position::line);
                    return Some(stretch.line + counted - 1 + blank_lines(&self.text[stretch.start..stretch.end], at));
                }
            }
            let stretch = self.stretches.next()?;
            let reader = csv::ReaderBuilder::new()
                .delimiter(self.separator)
                .flexible(true)
                .has_headers(false)
                .quoting(!stretch.plain)
                .from_reader(&self.text.as_bytes()[stretch.start..stretch.end]);
            self.reader = Some((reader, stretch));
        }
    }

    /// How far the reading is, bytes.
    pub(super) fn byte(&self) -> usize {
        let read = |(reader, stretch): &(csv::Reader<&[u8]>, Stretch)| {
            stretch.start + usize::try_from(reader.position().byte()).unwrap_or(usize::MAX)
        };
        self.reader.as_ref().map_or(0, read)
    }

    /// The first line with a mark that belongs to nothing.
    pub(super) fn stray_line(&self) -> Option<usize> {
        usize::try_from(*self.strays.first()?).ok()
    }

    /// What has to be said of marks that belong to nothing.
    pub(super) fn note(&self) -> Option<String> {
        let first = self.strays.first()?;
        let more = match self.strays.len() - 1 {
            0 => String::new(),
            more => format!(" and {more} more"),
        };
        Some(format!(
            "line {first}{more}: a quotation mark is not closed; such a line was read with it as a plain sign"
        ))
    }
}

/// Blank lines before the record at `byte`: the csv crate passes over them without moving its place.
fn blank_lines(text: &str, byte: u64) -> u64 {
    let rest = usize::try_from(byte).ok().and_then(|byte| text.as_bytes().get(byte..)).unwrap_or_default();
    rest.iter().take_while(|byte| matches!(byte, b'\n' | b'\r')).filter(|&&byte| byte == b'\n').count() as u64
}

/// How many lines end in a text.
pub(super) fn breaks(text: &str) -> usize {
    memchr_iter(b'\n', text.as_bytes()).count()
}

/// The lines in which a mark opens a cell that is never closed as one: where each begins and where the next does.
fn stray_lines(text: &str, separator: u8, columns: Option<usize>) -> Vec<(usize, usize)> {
    let bytes = text.as_bytes();
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(open) = memchr(b'"', &bytes[at..]).map(|found| at + found) {
        let opens = open == 0 || matches!(bytes[open - 1], b'\n' | b'\r') || bytes[open - 1] == separator;
        at = open + 1;
        if !opens {
            continue;
        }
        if let Some(after) = closing(text, open, separator, columns) {
            at = after;
        } else {
            let start = text[..open].rfind('\n').map_or(0, |end| end + 1);
            at = text[open..].find('\n').map_or(text.len(), |end| open + end + 1);
            found.push((start, at));
        }
    }
    found
}

/// Where the text goes on behind the cell that the mark at `open` opens; `None` where it closes no cell.
fn closing(text: &str, open: usize, separator: u8, columns: Option<usize>) -> Option<usize> {
    let bytes = text.as_bytes();
    let (mut from, mut lines) = (open + 1, 0);
    loop {
        let close = text[from..].find('"').map_or(text.len(), |found| from + found);
        let seen = &bytes[from..close.min(from + BYTES_PER_CELL)];
        lines += seen.split(|&byte| byte == b'\n').count() - 1;
        if close == text.len() {
            return (lines == 0).then_some(close);
        }
        if lines > 0 && (lines > LINES_PER_CELL || close - open > BYTES_PER_CELL) {
            return None;
        }
        if bytes.get(close + 1) == Some(&b'"') {
            from = close + 2;
            continue;
        }
        let proper = bytes.get(close + 1).is_none_or(|&next| next == separator || matches!(next, b'\n' | b'\r'));
        // In a line of its own even an odd cell does no harm to others.
        let sound =
            lines == 0 || (proper && !columns.is_some_and(|n| are_rows(text, open, close, lines, separator, n)));
        return sound.then_some(close + 1);
    }
}

/// Whether each of the lines from `open` to `close` has all cells of a row.
fn are_rows(text: &str, open: usize, close: usize, lines: usize, separator: u8, columns: usize) -> bool {
    let start = text[..open].rfind('\n').map_or(0, |end| end + 1);
    let end = text[close..].find('\n').map_or(text.len(), |end| close + end);
    let whole = |line: &str| line.bytes().filter(|&byte| byte == separator).count() + 1 == columns;
    columns > 1 && lines + 1 >= LINES_LIKE_ROWS && text[start..end].lines().all(whole)
}

#[cfg(test)]
#[path = "../../tests/within/csv_rows.rs"]
mod tests;
