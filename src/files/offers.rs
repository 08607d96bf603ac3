//! Offers of further suppliers: a list with the columns `part_number, supplier, supplier_part_number, stock, lead_time_d,
//! currency, moq, pack, unit_price, price_breaks`, of which the first two must be there.
//!
//! Encodings and separators as for a catalogue. A row without part number or supplier, or with a cell that cannot be read,
//! goes to the rejected list; of two rows of one supplier for one part the later is used, and that is listed too.

use std::collections::HashMap;
use std::path::{Path, PathBuf};

use csv::StringRecord;

use super::canonical::{Header, List, ListError, REJECTED_MAX, decode, find_header, is_column};
use super::companions::Distinct;
use super::parts::row::{Fault, PartColumn, read_row};
use super::{Rejected, bounded, companions};
use crate::domain::{Job, OfferBook, TRADE_NUMBERS};

const OFFERS: List = List { name: "a list of offers", required: &["part_number", "supplier"] };

/// Columns of a catalogue that say something of an offer, beside the numbers of [`TRADE_NUMBERS`].
const TEXTS: [&str; 5] = ["part_number", "supplier", "supplier_part_number", "currency", "price_breaks"];

/// A list of offers could not be used at all.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum OffersError {
    /// Read as a list with canonical headers.
    #[error(transparent)]
    List(#[from] ListError),
    /// A job from a stranger must not read files outside its own folder.
    #[error("{}: offers: {offers} is outside the folder of the job; copy it there if you trust it", job.display())]
    Outside { job: PathBuf, offers: String },
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

/// Whether a file is a list of offers with canonical headers and not a catalogue: its header names part number and supplier, no rating, and
/// nothing in words of a supplier's own, which may be the price.
pub fn is_list(start: &[u8]) -> bool {
    let text = decode(start);
    let known = |cell: &str| cell.trim().is_empty() || column_of(cell).is_some();
    find_header(&text, OFFERS.required).is_some_and(|header| header.cells.iter().all(known))
}

/// Reads lists of offers in their order; later rows win.
///
/// # Errors
/// When a file cannot be read or has no usable header row.
pub fn read_files(paths: &[PathBuf]) -> Result<OffersRead, OffersError> {
    let read = |path: &PathBuf| match bounded::read(path, bounded::TABLE_BYTES_MAX) {
        Ok(bytes) => Ok((path.clone(), bytes)),
        Err(source) => Err(ListError::Unreadable { path: path.clone(), list: &OFFERS, source }),
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

/// What a column holds, where it says something of an offer.
fn column_of(header: &str) -> Option<PartColumn> {
    let is = |name: &str| is_column(name, header);
    let of_offer = TEXTS.into_iter().any(is) || TRADE_NUMBERS.iter().any(|field| is(field.name));
    of_offer.then(|| PartColumn::of_header(header)).flatten()
}

/// Where the offer of a supplier for a part was read first: part number and supplier to file and line.
type Seen = HashMap<(String, String), (PathBuf, u64)>;

fn read_list(path: &Path, text: &str, read: &mut OffersRead, seen: &mut Seen) -> Result<(), OffersError> {
    let (head, columns, note) = Header::of_list(path, text, &OFFERS, column_of)?;
    read.notes.extend(note);
    let mut rows = head.rows(text);
    let (mut record, mut faults) = (StringRecord::new(), Vec::new());
    while let Some(line) = rows.next(&mut record) {
        if read.rejected.len() > REJECTED_MAX {
            return Err(ListError::TooManyFaults { path: path.to_owned(), line, list: &OFFERS }.into());
        }
        let part = read_row(record.iter(), &columns, &OFFERS, &mut faults);
        if faults.is_empty() {
            let (value, supplier) = (part.part_number.to_owned(), part.supplier.to_owned());
            let again = read.book.add(&value, part.into()).is_some();
            let earlier = seen.insert((value.clone(), supplier), (path.to_owned(), line));
            if let Some((file, earlier)) = earlier.filter(|_| again) {
                let reason = format!("stands again in {} line {line}; the later row is used", path.display());
                read.rejected.push(Rejected::new(&file, earlier, "part_number", &value, reason));
            }
        }
        read.rejected.extend(faults.drain(..).map(|fault: Fault| fault.rejected(path, line)));
    }
    read.notes.extend(rows.note().map(|note| format!("{}: {note}.", path.display())));
    Ok(())
}
