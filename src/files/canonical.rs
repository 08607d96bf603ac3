//! What every CSV file with canonical headers shares: its header row, its rows, its plain cells.

use csv::StringRecord;

use super::csv_rows::CsvRows;
pub(super) use super::csv_rows::decode;
use crate::domain::{Bounds, PairTable};

/// Lines among which the header row is looked for.
pub(super) const HEADER_WITHIN_LINES: usize = 20;

/// A number with a dot inside `bounds`.
pub(super) fn plain_number(cell: &str, bounds: Bounds) -> Result<f64, &'static str> {
    let value: f64 = cell.parse().map_err(|_| "expected a plain number with a dot; the unit is in the header")?;
    bounds.complaint(value).map_or(Ok(value), Err)
}

/// Pairs such as `85:1.7;65:2.1`, inside their bounds.
pub(super) fn table(cell: &str, first: Bounds, second: Bounds) -> Result<PairTable, &'static str> {
    let table: PairTable = cell.parse()?;
    let complaint = table.pairs().iter().find_map(|pair| first.complaint(pair.0).or(second.complaint(pair.1)));
    complaint.map_or(Ok(table), Err)
}

/// The header row of a file.
pub(super) struct Header {
    pub(super) line: u64,
    pub(super) cells: StringRecord,
    pub(super) separator: u8,
    /// Where the row after it begins.
    pub(super) end: usize,
}

impl Header {
    /// The rows below it in the text it was found in.
    pub(super) fn rows<'t>(&self, text: &'t str) -> CsvRows<'t> {
        CsvRows::new(&text[self.end..], self.separator, self.line + 1, Some(self.cells.len()))
    }
}

/// Cells and rows that may be unusable before a list is taken for something else.
pub(super) const REJECTED_MAX: usize = 500_000;

/// The first line among the leading ones that names every column of `required`.
pub(super) fn find_header(text: &str, required: &[&str]) -> Option<Header> {
    let mut end = 0;
    text.split_inclusive('\n').take(HEADER_WITHIN_LINES).zip(1u64..).find_map(|(whole_line, number)| {
        end += whole_line.len();
        let line = whole_line.trim_end();
        b",;\t".iter().find_map(|&separator| {
            let mut reader =
                csv::ReaderBuilder::new().delimiter(separator).has_headers(false).from_reader(line.as_bytes());
            let mut cells = StringRecord::new();
            reader.read_record(&mut cells).ok()?;
            let has = |name: &&str| cells.iter().any(|cell| cell.trim().eq_ignore_ascii_case(name));
            required.iter().all(has).then_some(Header { line: number, cells, separator, end })
        })
    })
}

/// Whether a catalogue says that its parts are invented: in a comment (`# ...`) above its header row.
pub(crate) fn says_invented(text: &str) -> bool {
    let comments = text.lines().take_while(|line| line.trim_start().starts_with('#'));
    comments.into_iter().any(|line| line.to_lowercase().contains("invented"))
}
