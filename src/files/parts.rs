//! The candidate catalogue with canonical headers.
//!
//! UTF-8, UTF-16 with a byte order mark, else Windows-1252; comma, semicolon or tab; the header row anywhere in the first 20 lines. A row
//! without part number, capacitance or rated voltage, or with a cell that cannot be read, goes to the rejected list with
//! every such cell; nothing is dropped without a word.

use std::borrow::Cow;
use std::collections::HashSet;
use std::path::{Path, PathBuf};

use csv::StringRecord;

use super::Rejected;
use super::import::{Mapping, Source, SourceError, Target, source::Origin as MappingOrigin};
use crate::domain::{
    Bounds, CAN_NUMBERS, Catalog, CatalogBuilder, EnduranceBasis, Mounting, PairTable, Part, Status, TRADE_NUMBERS,
    Technology,
};

/// Lines among which the header row is looked for.
const HEADER_WITHIN_LINES: usize = 20;

/// Where the text of a column goes.
type TextField = for<'p, 't> fn(&'p mut Part<&'t str>) -> &'p mut &'t str;

const TEXT_COLUMNS: [(&str, TextField); 7] = [
    ("part_number", |part| &mut part.part_number),
    ("maker", |part| &mut part.maker),
    ("series", |part| &mut part.series),
    ("supplier", |part| &mut part.supplier),
    ("supplier_part_number", |part| &mut part.supplier_part_number),
    ("datasheet", |part| &mut part.datasheet),
    ("currency", |part| &mut part.currency),
];

const REQUIRED: [&str; 3] = ["part_number", "capacitance_uf", "rated_v"];

/// A catalogue file could not be used at all.
#[derive(Debug, thiserror::Error)]
pub enum PartsError {
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a catalogue (*.csv)", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// No header row was found.
    #[error(
        "{}: line 1 to {HEADER_WITHIN_LINES}: expected a header row with part_number, capacitance_uf and rated_v",
        path.display()
    )]
    NoHeader {
        /// The file.
        path: PathBuf,
    },
    /// A file without canonical headers for which no mapping is known.
    #[error(
        "{}: the headers are not those of a catalogue (part_number, capacitance_uf, rated_v), and no mapping fits; \
         run `refarad read` on it first, or give its mapping by --map",
        path.display()
    )]
    NoMapping {
        /// The file.
        path: PathBuf,
    },
    /// A file without canonical headers is no table at all.
    #[error(transparent)]
    NoTable(#[from] SourceError),
    /// A column stands in the header row twice.
    #[error("{}: line {line}: column {column} stands there twice; expected it once", path.display())]
    RepeatedColumn {
        /// The file.
        path: PathBuf,
        /// Line of the header row.
        line: u64,
        /// The column.
        column: String,
    },
}

/// A catalogue as read, and what has to be said about it.
#[derive(Debug, Clone, Default)]
pub struct PartsRead {
    /// The parts that can be used.
    pub catalog: Catalog,
    /// Cells and rows that were not used, in the order of the files.
    pub rejected: Vec<Rejected>,
    /// Remarks for the person, one sentence each.
    pub notes: Vec<String>,
}

/// Reads catalogue files; later rows win over earlier ones with the same part number, and that is listed.
///
/// # Errors
/// When a file cannot be read or has no usable header row.
pub fn read_files(paths: &[PathBuf]) -> Result<PartsRead, PartsError> {
    read_files_mapped(paths, &[], None)
}

/// Like [`read_files`]; a file without canonical headers is read by the first of `mappings` whose columns it has, else by one
/// remembered in `folder`.
///
/// # Errors
/// When a file cannot be read, or has neither canonical headers nor a mapping.
pub fn read_files_mapped(
    paths: &[PathBuf],
    mappings: &[Mapping],
    folder: Option<&Path>,
) -> Result<PartsRead, PartsError> {
    let read = |path: &PathBuf| match std::fs::read(path) {
        Ok(bytes) => Ok((path.clone(), bytes)),
        Err(source) => Err(PartsError::Unreadable { path: path.clone(), source }),
    };
    from_bytes_mapped(paths.iter().map(read).collect::<Result<_, _>>()?, mappings, folder)
}

/// Like [`read_files_mapped`], from memory; the paths are for messages.
///
/// # Errors
/// When a file has neither canonical headers nor a mapping.
pub fn from_bytes_mapped(
    files: Vec<(PathBuf, Vec<u8>)>,
    mappings: &[Mapping],
    folder: Option<&Path>,
) -> Result<PartsRead, PartsError> {
    let mut reading = Reading::default();
    for (path, bytes) in files {
        if is_canonical(&bytes) {
            reading.file(&path, &bytes)?;
        } else {
            reading.foreign(&path, &bytes, mappings, folder)?;
        }
    }
    Ok(reading.finish())
}

/// Whether a file has the headers of a catalogue; its beginning is enough.
#[must_use]
pub fn is_canonical(bytes: &[u8]) -> bool {
    find_header(&decode(bytes), &REQUIRED).is_some()
}

/// Reads catalogues from memory; the paths are for messages.
///
/// # Errors
/// When a file has no usable header row.
pub fn from_bytes(files: Vec<(PathBuf, Vec<u8>)>) -> Result<PartsRead, PartsError> {
    let mut reading = Reading::default();
    for (path, bytes) in files {
        reading.file(&path, &bytes)?;
    }
    Ok(reading.finish())
}

/// Where a row of the catalogue came from.
#[derive(Debug, Clone, Copy)]
struct Origin {
    file: u32,
    line: u32,
}

#[derive(Default)]
struct Reading {
    builder: CatalogBuilder,
    files: Vec<PathBuf>,
    origins: Vec<Origin>,
    rejected: Vec<Rejected>,
    notes: Vec<String>,
}

impl Reading {
    fn file(&mut self, path: &Path, bytes: &[u8]) -> Result<(), PartsError> {
        let text = decode(bytes);
        let Header { line: header_line, cells: header, separator, end } =
            find_header(&text, &REQUIRED).ok_or_else(|| PartsError::NoHeader { path: path.to_owned() })?;
        let columns: Vec<Column> = header.iter().map(Column::of_header).collect();
        let unused = |column: &Column| matches!(column, Column::Unused);
        let names = |wanted: bool| {
            let of_kind = header.iter().zip(&columns).filter(move |(_, column)| unused(column) != wanted);
            of_kind.map(|(name, _)| name.trim())
        };
        let mut seen = HashSet::new();
        if let Some(column) = names(true).map(str::to_ascii_lowercase).find(|name| !seen.insert(name.clone())) {
            return Err(PartsError::RepeatedColumn { path: path.to_owned(), line: header_line, column });
        }
        let unused: Vec<&str> = names(false).collect();
        if unused.iter().any(|name| !name.is_empty()) {
            self.notes.push(format!("{}: columns not used: {}.", path.display(), unused.join(", ")));
        }
        self.files.push(path.to_owned());
        self.rows(path, &text[end..], header_line, separator, &columns);
        Ok(())
    }

    /// A file with headers of its own.
    fn foreign(
        &mut self,
        path: &Path,
        bytes: &[u8],
        mappings: &[Mapping],
        folder: Option<&Path>,
    ) -> Result<(), PartsError> {
        let mut source = Source::from_bytes(path, bytes, Some(Target::Parts), &super::table::Options::default())?;
        source.map_by(mappings, folder);
        if source.origin == MappingOrigin::Proposed {
            return Err(PartsError::NoMapping { path: path.to_owned() });
        }
        let import = source.parts();
        let report = import.report;
        self.files.push(path.to_owned());
        let file = u32::try_from(self.files.len() - 1).unwrap_or(u32::MAX);
        for (line, part) in import.parts {
            self.builder.push(&part);
            self.origins.push(Origin { file, line: u32::try_from(line).unwrap_or(u32::MAX) });
        }
        self.rejected.extend(report.rejected);
        let of_file = |text: String| format!("{}: {text}.", path.display());
        self.notes.extend(report.notes.into_iter().map(of_file));
        let asked = report
            .questions
            .iter()
            .map(|question| format!("open question ({} rows): {}", question.rows, question.what));
        self.notes.extend(asked.map(of_file));
        Ok(())
    }

    fn rows(&mut self, path: &Path, text: &str, header_line: u64, separator: u8, columns: &[Column]) {
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(separator)
            .flexible(true)
            .has_headers(false)
            .from_reader(text.as_bytes());
        let mut record = StringRecord::new();
        let mut faults = Vec::new();
        // Flexible records of valid UTF-8 in memory cannot fail.
        while reader.read_record(&mut record).unwrap_or(false) {
            let line = header_line + record.position().map_or(0, csv::Position::line);
            if record.iter().all(|cell| cell.trim().is_empty()) {
                continue;
            }
            let part = read_row(&record, columns, &mut faults);
            if faults.is_empty() {
                self.builder.push(&part);
                let saturate = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
                self.origins.push(Origin { file: saturate(self.files.len() as u64 - 1), line: saturate(line) });
            }
            self.rejected.extend(faults.drain(..).map(|fault| Rejected {
                file: path.to_owned(),
                line,
                field: fault.field.into(),
                value: fault.value,
                reason: fault.reason.into(),
            }));
        }
    }

    fn finish(mut self) -> PartsRead {
        let (catalog, duplicates) = self.builder.finish();
        let file = |origin: Origin| self.files[origin.file as usize].clone();
        for duplicate in duplicates {
            let (dropped, kept) = (self.origins[duplicate.dropped], self.origins[duplicate.kept]);
            self.rejected.push(Rejected {
                file: file(dropped),
                line: dropped.line.into(),
                field: "part_number".into(),
                value: duplicate.part_number,
                reason: format!("stands again in {} line {}; the later row is used", file(kept).display(), kept.line),
            });
        }
        PartsRead { catalog, rejected: self.rejected, notes: self.notes }
    }
}

/// What a column holds.
#[derive(Debug, Clone, Copy)]
enum Column {
    Text(TextField),
    Technology,
    Mounting,
    EnduranceBasis,
    Status,
    TempFactors,
    PriceBreaks,
    Can(usize),
    Trade(usize),
    Unused,
}

impl Column {
    fn of_header(header: &str) -> Self {
        let header = header.trim();
        let is = |name: &&str| name.eq_ignore_ascii_case(header);
        let other = || match header.to_ascii_lowercase().as_str() {
            "technology" => Self::Technology,
            "mounting" => Self::Mounting,
            "endurance_basis" => Self::EnduranceBasis,
            "status" => Self::Status,
            "ripple_temp_factors" => Self::TempFactors,
            "price_breaks" => Self::PriceBreaks,
            _ => Self::Unused,
        };
        let text = TEXT_COLUMNS.iter().find(|(name, _)| is(name)).map(|&(_, field)| Self::Text(field));
        let can = || CAN_NUMBERS.iter().position(|field| is(&field.name)).map(Self::Can);
        let trade = || TRADE_NUMBERS.iter().position(|field| is(&field.name)).map(Self::Trade);
        text.or_else(can).or_else(trade).unwrap_or_else(other)
    }
}

struct Fault {
    field: &'static str,
    value: String,
    reason: &'static str,
}

/// The part in a row; what cannot be read or is missing goes to `faults`.
fn read_row<'a>(record: &'a StringRecord, columns: &[Column], faults: &mut Vec<Fault>) -> Part<&'a str> {
    let mut part = Part::<&str>::default();
    let mut can = [None; CAN_NUMBERS.len()];
    let mut trade = [None; TRADE_NUMBERS.len()];
    for (cell, column) in record.iter().zip(columns) {
        let cell = cell.trim();
        if cell.is_empty() {
            continue;
        }
        let mut fault = |field, reason| faults.push(Fault { field, value: cell.to_owned(), reason });
        match *column {
            Column::Text(field) => *field(&mut part) = cell,
            Column::Technology => match word(cell, &Technology::NAMES) {
                Some(known) => part.can.technology = Some(known),
                None => fault("technology", "expected wet, hybrid, polymer or nonpolar"),
            },
            Column::Mounting => match word(cell, &Mounting::NAMES) {
                Some(known) => part.can.mounting = Some(known),
                None => fault("mounting", "expected radial, snap_in, screw, axial or smd"),
            },
            Column::EnduranceBasis => match word(cell, &EnduranceBasis::NAMES) {
                Some(known) => part.can.endurance_basis = Some(known),
                None => fault("endurance_basis", "expected ripple or voltage"),
            },
            Column::Status => match word(cell, &Status::NAMES) {
                Some(known) => part.status = Some(known),
                None => fault("status", "expected active, nrnd or obsolete"),
            },
            Column::TempFactors => match table(cell, Bounds::Celsius, Bounds::NotNegative) {
                Ok(factors) => part.can.ripple_temp_factors = Some(factors),
                Err(reason) => fault("ripple_temp_factors", reason),
            },
            Column::PriceBreaks => match table(cell, Bounds::Positive, Bounds::NotNegative) {
                Ok(breaks) => part.price_breaks = Some(breaks),
                Err(reason) => fault("price_breaks", reason),
            },
            Column::Can(at) => match plain_number(cell, CAN_NUMBERS[at].bounds) {
                Ok(value) => can[at] = Some(value),
                Err(reason) => fault(CAN_NUMBERS[at].name, reason),
            },
            Column::Trade(at) => match plain_number(cell, TRADE_NUMBERS[at].bounds) {
                Ok(value) => trade[at] = Some(value),
                Err(reason) => fault(TRADE_NUMBERS[at].name, reason),
            },
            Column::Unused => {}
        }
    }
    for (field, value) in part.can.numbers_mut().into_iter().zip(can) {
        *field = value;
    }
    for (field, value) in part.trade.numbers_mut().into_iter().zip(trade) {
        *field = value;
    }
    check_whole(&part, record, columns.len(), faults);
    part
}

/// Lists required fields that are empty and cells beyond the last column.
fn check_whole(part: &Part<&str>, record: &StringRecord, columns: usize, faults: &mut Vec<Fault>) {
    let absent = [part.part_number.is_empty(), part.can.capacitance_uf.is_none(), part.can.rated_v.is_none()];
    for (field, _) in REQUIRED.into_iter().zip(absent).filter(|&(_, absent)| absent) {
        // A cell that could not be read has been listed with its own reason.
        if faults.iter().all(|fault| fault.field != field) {
            let reason = "empty; expected a value, the row cannot be used without it";
            faults.push(Fault { field, value: String::new(), reason });
        }
    }
    if let Some(extra) = record.iter().skip(columns).find(|cell| !cell.trim().is_empty()) {
        let reason = "the row has more cells than the header row; expected one for each column";
        faults.push(Fault { field: "(row)", value: extra.to_owned(), reason });
    }
}

fn word<T: Copy>(cell: &str, names: &[(T, &str)]) -> Option<T> {
    names.iter().find(|(_, name)| name.eq_ignore_ascii_case(cell)).map(|&(value, _)| value)
}

pub(super) fn plain_number(cell: &str, bounds: Bounds) -> Result<f64, &'static str> {
    let value: f64 = cell.parse().map_err(|_| "expected a plain number with a dot; the unit is in the header")?;
    bounds.complaint(value).map_or(Ok(value), Err)
}

pub(super) fn table(cell: &str, first: Bounds, second: Bounds) -> Result<PairTable, &'static str> {
    let table: PairTable = cell.parse()?;
    let complaint = table.pairs().iter().find_map(|pair| first.complaint(pair.0).or(second.complaint(pair.1)));
    complaint.map_or(Ok(table), Err)
}

/// The text of a file: UTF-8, UTF-16 with its mark, else Windows-1252, in which any byte is a letter.
pub(super) fn decode(bytes: &[u8]) -> Cow<'_, str> {
    let (encoding, mark) = encoding_rs::Encoding::for_bom(bytes).unwrap_or((encoding_rs::UTF_8, 0));
    let body = &bytes[mark..];
    encoding
        .decode_without_bom_handling_and_without_replacement(body)
        .unwrap_or_else(|| encoding_rs::WINDOWS_1252.decode_without_bom_handling(body).0)
}

/// The header row of a file.
pub(super) struct Header {
    pub(super) line: u64,
    pub(super) cells: StringRecord,
    pub(super) separator: u8,
    /// Where the row after it begins.
    pub(super) end: usize,
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
            let has = |name: &&str| cells.iter().any(|cell| cell.trim().eq_ignore_ascii_case(name));
            required.iter().all(has).then_some(Header { line: number, cells, separator, end })
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &[u8]) -> PartsRead {
        from_bytes(vec![("a.csv".into(), text.to_vec())]).unwrap()
    }

    #[test]
    fn a_header_after_a_preamble_and_any_separator_is_found() {
        for separator in [",", ";", "\t"] {
            let text =
                ["Parts of May", "", "part_number|rated_v|Capacitance_uF|mounting", "A|25|470|radial"].join("\n");
            let read = read(text.replace('|', separator).as_bytes());
            let can = read.catalog.can(read.catalog.find("A").unwrap());
            assert_eq!(
                (can.rated_v, can.capacitance_uf, can.mounting),
                (Some(25.0), Some(470.0), Some(Mounting::Radial))
            );
            assert!(read.rejected.is_empty(), "{:?}", read.rejected);
        }
    }

    #[test]
    fn every_cell_that_cannot_be_read_is_listed_with_line_and_reason() {
        let read = read(b"part_number,capacitance_uf,rated_v,status\nA,470uF,-5,sold\n,1,2,\nB,1,,active\nC,1,2,\n");
        assert_eq!(read.catalog.len(), 1);
        let listed: Vec<(u64, &str, &str)> =
            read.rejected.iter().map(|r| (r.line, r.field.as_str(), r.value.as_str())).collect();
        let expected = [
            (2, "capacitance_uf", "470uF"),
            (2, "rated_v", "-5"),
            (2, "status", "sold"),
            (3, "part_number", ""),
            (4, "rated_v", ""),
        ];
        assert_eq!(listed, expected);
    }

    #[test]
    fn line_numbers_count_quoted_line_breaks_and_blank_lines() {
        let read = read(b"part_number,capacitance_uf,rated_v,maker\n\nA,1,2,\"x\ny\"\nB,zero,2,\n");
        assert_eq!(read.rejected[0].line, 5);
    }

    #[test]
    fn of_two_equal_part_numbers_the_later_is_used_and_the_earlier_listed() {
        let files = vec![
            ("a.csv".into(), b"part_number,capacitance_uf,rated_v\nA,1,2\n".to_vec()),
            ("b.csv".into(), b"part_number,capacitance_uf,rated_v\nA,3,2\n".to_vec()),
        ];
        let read = from_bytes(files).unwrap();
        let id = read.catalog.find("A").unwrap();
        assert_eq!(read.catalog.can(id).capacitance_uf, Some(3.0));
        assert_eq!(read.rejected[0].file, Path::new("a.csv"));
        assert!(read.rejected[0].reason.contains("b.csv line 2"));
    }

    #[test]
    fn utf_16_and_windows_1252_are_read() {
        let text = "part_number,capacitance_uf,rated_v,maker\nA,1,2,Größe\n";
        let utf_16: Vec<u8> = [0xFF, 0xFE].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
        let (latin, _, _) = encoding_rs::WINDOWS_1252.encode(text);
        for bytes in [utf_16, latin.into_owned(), text.as_bytes().to_vec()] {
            let read = read(&bytes);
            assert_eq!(read.catalog.maker(read.catalog.find("A").unwrap()), "Größe");
        }
    }

    #[test]
    fn a_file_without_header_or_with_a_column_twice_is_refused() {
        let of = |text: &str| from_bytes(vec![("a.csv".into(), text.as_bytes().to_vec())]).unwrap_err().to_string();
        assert!(of("A,1,2\n").contains("expected a header row"));
        assert!(of("part_number,capacitance_uf,rated_v,rated_v\n").contains("rated_v stands there twice"));
    }

    #[test]
    fn a_row_with_more_cells_than_columns_is_refused() {
        let read = read(b"part_number,capacitance_uf,rated_v\nA,1,2,3\nB,1,2,,\n");
        assert_eq!((read.catalog.len(), read.rejected.len()), (1, 1));
    }

    #[test]
    fn the_demo_is_read_without_loss() {
        let parts = super::super::demo::parts().unwrap();
        assert!(parts.rejected.is_empty() && parts.notes.is_empty() && parts.catalog.len() > 1000);
        let job = super::super::demo::job().unwrap();
        assert!(job.notes.is_empty(), "{:?}", job.notes);
    }
}
