//! Offers of further suppliers: a list with the columns `part_number, supplier, supplier_part_number, stock, lead_time_d,
//! currency, moq, pack, unit_price, price_breaks`, of which the first two must be there.
//!
//! Encodings and separators as for a catalogue. A row without part number or supplier, or with a cell that cannot be read,
//! goes to the rejected list; of two rows of one supplier for one part the later is used, and that is listed too.

use std::collections::HashMap;
use std::path::{Path, PathBuf};

use csv::StringRecord;

use super::canonical::{Header, REJECTED_MAX, decode, find_header, plain_number, table};
use super::companions::Distinct;
use super::{Rejected, bounded, companions};
use crate::domain::{Bounds, Job, OfferBook, SupplierOffer, TRADE_NUMBERS};

const REQUIRED: [&str; 2] = ["part_number", "supplier"];

/// A list of offers could not be used at all.
#[derive(Debug, thiserror::Error)]
pub enum OffersError {
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a list of offers (*.csv)", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// No header row was found.
    #[error("{}: expected a header row with part_number and supplier among the first lines", path.display())]
    NoHeader {
        /// The file.
        path: PathBuf,
    },
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
    /// Far more cells cannot be used than a list of offers has.
    #[error(
        "{}: line {line}: more than {REJECTED_MAX} cells and rows up to here cannot be used; expected a list of offers",
        path.display()
    )]
    TooManyFaults {
        /// The file.
        path: PathBuf,
        /// The line at which reading stopped.
        line: u64,
    },
    /// A job from a stranger must not read files outside its own folder.
    #[error("{}: offers: {offers} is outside the folder of the job; copy it there if you trust it", job.display())]
    Outside {
        /// The job file.
        job: PathBuf,
        /// What it names.
        offers: String,
    },
}

/// Offers as read, and what has to be said about them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OffersRead {
    /// The offers that can be used.
    pub book: OfferBook,
    /// Cells and rows that were not used, in the order of the files.
    pub rejected: Vec<Rejected>,
    /// Remarks for the person, one sentence each.
    pub notes: Vec<String>,
}

/// Reads the lists a job names; their paths are relative to the job file.
///
/// # Errors
/// When a list lies outside the folder of the job, cannot be read or has no usable header row.
pub fn read_for_job(job: &Job, job_path: &Path) -> Result<OffersRead, OffersError> {
    let inside = |name: &String| {
        companions::inside(job_path, name)
            .ok_or_else(|| OffersError::Outside { job: job_path.to_owned(), offers: name.clone() })
    };
    let mut known = Distinct::default();
    let mut paths = job.offers.iter().map(inside).collect::<Result<Vec<_>, _>>()?;
    paths.retain(|path| !known.is_again(path));
    read_files(&paths)
}

/// Whether a file is a list of offers and not a catalogue: its header names part number and supplier, but no rating.
#[must_use]
pub fn is_list(start: &[u8]) -> bool {
    let text = decode(start);
    let rating = |cell: &str| ["capacitance_uf", "rated_v"].contains(&cell.trim().to_ascii_lowercase().as_str());
    find_header(&text, &REQUIRED).is_some_and(|header| !header.cells.iter().any(rating))
}

/// Reads lists of offers in their order; later rows win.
///
/// # Errors
/// When a file cannot be read or has no usable header row.
pub fn read_files(paths: &[PathBuf]) -> Result<OffersRead, OffersError> {
    let read = |path: &PathBuf| match bounded::read(path, bounded::TABLE_BYTES_MAX) {
        Ok(bytes) => Ok((path.clone(), bytes)),
        Err(source) => Err(OffersError::Unreadable { path: path.clone(), source }),
    };
    from_bytes(&paths.iter().map(read).collect::<Result<Vec<_>, _>>()?)
}

/// Reads lists of offers from memory; the paths are for messages.
///
/// # Errors
/// When a file has no usable header row.
pub fn from_bytes(files: &[(PathBuf, Vec<u8>)]) -> Result<OffersRead, OffersError> {
    let mut read = OffersRead::default();
    let mut seen = HashMap::new();
    for (path, bytes) in files {
        read_list(path, &decode(bytes), &mut read, &mut seen)?;
    }
    Ok(read)
}

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum OfferColumn {
    PartNumber,
    Supplier,
    SupplierPartNumber,
    Currency,
    PriceBreaks,
    Number(usize),
    Unused,
}

impl OfferColumn {
    fn of_header(header: &str) -> Self {
        let name = header.trim().to_ascii_lowercase();
        match name.as_str() {
            "part_number" => Self::PartNumber,
            "supplier" => Self::Supplier,
            "supplier_part_number" => Self::SupplierPartNumber,
            "currency" => Self::Currency,
            "price_breaks" => Self::PriceBreaks,
            _ => TRADE_NUMBERS.iter().position(|field| field.name == name).map_or(Self::Unused, Self::Number),
        }
    }
}

/// Where the offer of a supplier for a part was read first: part number and supplier to file and line.
type Seen = HashMap<(String, String), (PathBuf, u64)>;

fn read_list(path: &Path, text: &str, read: &mut OffersRead, seen: &mut Seen) -> Result<(), OffersError> {
    let head = find_header(text, &REQUIRED).ok_or_else(|| OffersError::NoHeader { path: path.to_owned() })?;
    let Header { line: header_line, cells: header, .. } = &head;
    let columns: Vec<OfferColumn> = header.iter().map(OfferColumn::of_header).collect();
    for (at, column) in columns.iter().enumerate() {
        if *column != OfferColumn::Unused && columns[..at].contains(column) {
            let column = header[at].trim().to_owned();
            return Err(OffersError::RepeatedColumn { path: path.to_owned(), line: *header_line, column });
        }
    }
    let unused: Vec<&str> = header
        .iter()
        .zip(&columns)
        .filter(|(name, column)| **column == OfferColumn::Unused && !name.trim().is_empty())
        .map(|(name, _)| name.trim())
        .collect();
    if !unused.is_empty() {
        read.notes.push(format!("{}: columns not used: {}.", path.display(), unused.join(", ")));
    }
    let mut rows = head.rows(text);
    let mut record = StringRecord::new();
    while let Some(line) = rows.next(&mut record) {
        if read.rejected.len() > REJECTED_MAX {
            return Err(OffersError::TooManyFaults { path: path.to_owned(), line });
        }
        let mut faults = Vec::new();
        let (part_number, offer) = read_row(&record, &columns, &mut faults);
        if faults.is_empty() {
            let key = (part_number.clone(), offer.supplier.clone());
            if read.book.add(&part_number, offer).is_some()
                && let Some((file, earlier)) = seen.get(&key)
            {
                let reason = format!("stands again in {} line {line}; the later row is used", path.display());
                let field = "part_number".into();
                read.rejected.push(Rejected {
                    file: file.clone(),
                    line: *earlier,
                    field,
                    value: key.0.clone(),
                    reason,
                });
            }
            seen.insert(key, (path.to_owned(), line));
        }
        read.rejected.extend(faults.into_iter().map(|(field, value, reason)| Rejected {
            file: path.to_owned(),
            line,
            field: field.to_owned(),
            value,
            reason: reason.to_owned(),
        }));
    }
    read.notes.extend(rows.note().map(|note| format!("{}: {note}.", path.display())));
    Ok(())
}

type Fault = (&'static str, String, &'static str);

fn read_row(record: &StringRecord, columns: &[OfferColumn], faults: &mut Vec<Fault>) -> (String, SupplierOffer) {
    let mut part_number = String::new();
    let mut offer = SupplierOffer::default();
    let mut numbers = [None; TRADE_NUMBERS.len()];
    for (cell, column) in record.iter().zip(columns) {
        let cell = cell.trim();
        if cell.is_empty() {
            continue;
        }
        match *column {
            OfferColumn::PartNumber => cell.clone_into(&mut part_number),
            OfferColumn::Supplier => cell.clone_into(&mut offer.supplier),
            OfferColumn::SupplierPartNumber => cell.clone_into(&mut offer.supplier_part_number),
            OfferColumn::Currency => cell.clone_into(&mut offer.currency),
            OfferColumn::PriceBreaks => match table(cell, Bounds::Positive, Bounds::NotNegative) {
                Ok(breaks) => offer.price_breaks = Some(breaks),
                Err(reason) => faults.push(("price_breaks", cell.to_owned(), reason)),
            },
            OfferColumn::Number(at) => match plain_number(cell, TRADE_NUMBERS[at].bounds) {
                Ok(value) => numbers[at] = Some(value),
                Err(reason) => faults.push((TRADE_NUMBERS[at].name, cell.to_owned(), reason)),
            },
            OfferColumn::Unused => {}
        }
    }
    for (field, value) in offer.trade.numbers_mut().into_iter().zip(numbers) {
        *field = value;
    }
    for (field, text) in REQUIRED.into_iter().zip([&part_number, &offer.supplier]) {
        if text.is_empty() {
            faults.push((field, String::new(), "empty; expected a value, the row cannot be used without it"));
        }
    }
    if let Some(extra) = record.iter().skip(columns.len()).find(|cell| !cell.trim().is_empty()) {
        let reason = "the row has more cells than the header row; expected one for each column";
        faults.push(("(row)", extra.to_owned(), reason));
    }
    (part_number, offer)
}
