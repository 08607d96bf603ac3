//! What every CSV file with canonical headers shares: its header row, its rows, its plain cells.

use std::collections::HashSet;
use std::io;
use std::path::{Path, PathBuf};

use csv::StringRecord;

use super::csv_rows::CsvRows;
pub(super) use super::csv_rows::decode;
use crate::domain::{Bounds, PairTable};

/// Lines among which the header row is looked for.
pub(super) const HEADER_WITHIN_LINES: usize = 20;

/// A kind of list with canonical headers.
#[derive(Debug)]
pub struct List {
    /// What a person calls it, with its article.
    pub(super) name: &'static str,
    /// The columns it cannot do without.
    pub(super) required: &'static [&'static str],
}

impl List {
    /// `a, b and c`
    fn required_words(&self) -> String {
        let (last, before) = self.required.split_last().unwrap_or((&"", &[]));
        format!("{} and {last}", before.join(", "))
    }
}

/// A list with canonical headers could not be used at all.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum ListError {
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected {} (*.csv)", path.display(), list.name)]
    Unreadable { path: PathBuf, list: &'static List, source: io::Error },
    /// No header row was found.
    #[error(
        "{}: line 1 to {HEADER_WITHIN_LINES}: expected a header row with {}",
        path.display(), list.required_words()
    )]
    NoHeader { path: PathBuf, list: &'static List },
    /// A column stands in the header row twice.
    #[error("{}: line {line}: column {column} is given twice; expected it once", path.display())]
    RepeatedColumn { path: PathBuf, line: u64, column: String },
    /// Far more cells cannot be used than such a list has.
    #[error(
        "{}: line {line}: more than {REJECTED_MAX} cells and rows up to here cannot be used; expected {}",
        path.display(), list.name
    )]
    TooManyFaults { path: PathBuf, line: u64, list: &'static List },
}

/// A number with a dot inside `bounds`.
pub(super) fn plain_number(cell: &str, bounds: Bounds) -> Result<f64, &'static str> {
    let wrong = |_| "expected a plain number with a dot; the unit is in the header";
    let value: f64 = short_number(cell).map_or_else(|| cell.parse().map_err(wrong), Ok)?;
    bounds.complaint(value).map_or(Ok(value), Err)
}

/// A number of at most 15 digits: they and the power of ten they are divided by are exact, so the quotient is the nearest number there
/// is (W. D. Clinger, How to read floating point numbers accurately, 1990), sooner than by `parse`; `None` where it is written otherwise.
fn short_number(cell: &str) -> Option<f64> {
    const TENS: [f64; 16] = [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];
    let (sign, figures) = cell.strip_prefix('-').map_or((1.0, cell), |figures| (-1.0, figures));
    let (mut digits, mut count, mut before_dot) = (0_u64, 0, None);
    for byte in figures.bytes() {
        match byte {
            b'0'..=b'9' => (digits, count) = (digits.wrapping_mul(10).wrapping_add(u64::from(byte - b'0')), count + 1),
            b'.' if before_dot.is_none() => before_dot = Some(count),
            _ => return None,
        }
    }
    let decimals = before_dot.map_or(0, |before| count - before);
    (1..TENS.len()).contains(&count).then(|| sign * digits as f64 / TENS[decimals])
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

/// A header row, what each of its columns holds, and a note on those that hold nothing known.
type Head<Column> = (Header, Vec<Option<Column>>, Option<String>);

impl Header {
    /// That of a `list` in the file `path`, each column read by `of_header`.
    pub(super) fn of_list<Column>(
        path: &Path,
        text: &str,
        list: &'static List,
        of_header: impl Fn(&str) -> Option<Column>,
    ) -> Result<Head<Column>, ListError> {
        let no_header = || ListError::NoHeader { path: path.to_owned(), list };
        let header = find_header(text, list.required).ok_or_else(no_header)?;
        let columns: Vec<Option<Column>> = header.cells.iter().map(of_header).collect();
        let (used, unused): (Vec<_>, Vec<_>) =
            header.cells.iter().zip(&columns).partition(|(_, column)| column.is_some());
        let mut seen = HashSet::new();
        let mut used = used.iter().map(|(name, _)| name.trim().to_ascii_lowercase().replace(' ', "_"));
        if let Some(column) = used.find(|name| !seen.insert(name.clone())) {
            return Err(ListError::RepeatedColumn { path: path.to_owned(), line: header.line, column });
        }
        let unused: Vec<&str> = unused.iter().map(|(name, _)| name.trim()).filter(|name| !name.is_empty()).collect();
        let note = format!("{}: columns not used: {}.", path.display(), unused.join(", "));
        let note = (!unused.is_empty()).then_some(note);
        Ok((header, columns, note))
    }

    /// The rows below it in the text it was found in.
    pub(super) fn rows<'t>(&self, text: &'t str) -> CsvRows<'t> {
        CsvRows::new(&text[self.end..], self.separator, self.line + 1, Some(self.cells.len()))
    }
}

/// Cells and rows that may be unusable before a list is taken for something else.
pub(super) const REJECTED_MAX: usize = 500_000;

/// Whether a header is that of the column `name`: `Part number` is `part_number`.
pub(super) fn is_column(name: &str, header: &str) -> bool {
    let one = |c: u8| if c == b' ' { b'_' } else { c.to_ascii_lowercase() };
    name.bytes().eq(header.trim().bytes().map(one))
}

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
            let has = |name: &&str| cells.iter().any(|cell| is_column(name, cell));
            required.iter().all(has).then_some(Header { line: number, cells, separator, end })
        })
    })
}

/// Whether a catalogue says that its parts are invented: in a comment (`# ...`) above its header row.
pub(crate) fn says_invented(text: &str) -> bool {
    let comments = text.lines().take_while(|line| line.trim_start().starts_with('#'));
    comments.into_iter().any(|line| line.to_lowercase().contains("invented"))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::short_number;

    proptest! {
        #[test]
        fn a_short_number_is_the_one_the_standard_library_reads(cell in "-?[0-9]{0,16}[.]?[0-9]{0,16}") {
            if let Some(short) = short_number(&cell) {
                prop_assert_eq!(Ok(short.to_bits()), cell.parse::<f64>().map(f64::to_bits));
            }
        }
    }

    #[test]
    fn what_is_no_short_number_is_left_to_the_standard_library() {
        for cell in ["", ".", "-", "--1", "1e3", "+1", "1,5", "1.2.3", "1234567890123456", "inf", "٣"] {
            assert_eq!(short_number(cell), None, "{cell}");
        }
        assert_eq!(short_number("-0").map(f64::to_bits), Some((-0.0_f64).to_bits()));
        assert_eq!((short_number("100000"), short_number(".5")), (Some(1e5), Some(0.5)));
    }
}
