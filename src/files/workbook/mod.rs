//! Workbooks (.xlsx, .xls, .ods): each sheet as rows of cells in words, for the reader of tables.
//!
//! A number stands as it was typed, with the unit, the percent sign or the leading zeros its format shows; a date in ISO form. Hidden
//! rows and columns are read like the others and said. [`Workbook`] runs apart, in a process with limits; [`read_bytes`] is what it does there.

mod ods;
mod sheet;
mod shown;
mod xls;
mod xlsx;

use std::io::Cursor;

use serde::{Deserialize, Serialize};
use zip::ZipArchive;

pub use sheet::{Merged, Sheet, letters};

use super::child::Apart;
use sheet::damaged;

/// Most bytes of the unpacked parts of a workbook, as its directory states them.
const UNPACKED_BYTES_MAX: u64 = 256 << 20;
/// A workbook as it was read.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Book {
    /// Its sheets in order, those with cells only.
    pub sheets: Vec<Sheet>,
    /// Names of the sheets without any cell.
    pub empty: Vec<String>,
}

/// The reader that runs apart.
#[derive(Debug)]
pub struct Workbook;

impl Apart for Workbook {
    const NAME: &'static str = "workbook";
    const SECONDS_MAX: u64 = 10;
    type Answer = Book;

    fn read(bytes: &[u8], _: &str) -> Result<Book, String> {
        read_bytes(bytes)
    }
}

/// Whether a file that begins so is a workbook or another file of the same make.
pub fn is_workbook(beginning: &[u8]) -> bool {
    beginning.starts_with(b"PK\x03\x04") || beginning.starts_with(b"\xD0\xCF\x11\xE0")
}

/// Reads a workbook. Hostile bytes may take much memory or time here: outside of tests it is called apart.
///
/// # Errors
/// Why the bytes are no workbook that can be read, as the end of a sentence that begins with the file's name.
pub fn read_bytes(bytes: &[u8]) -> Result<Book, String> {
    if !bytes.starts_with(b"PK\x03\x04") {
        return xls::read(bytes).map(Into::into);
    }
    let mut zip = ZipArchive::new(Cursor::new(bytes)).map_err(damaged)?;
    unpacked(&mut zip)?;
    let has = |name: &str| zip.index_for_name(name).is_some();
    if has("content.xml") {
        return ods::read(&mut zip).map(Into::into);
    }
    if has("xl/workbook.bin") {
        return Err("this is a binary workbook (.xlsb); save it as .xlsx first".into());
    }
    if has("word/document.xml") {
        return Err("this is a text document, not a workbook".into());
    }
    if !has("[Content_Types].xml") {
        return Err("this is an archive, not a workbook; unpack it first".into());
    }
    xlsx::read(bytes, &mut zip).map(Into::into)
}

/// The directory of an archive is asked before anything is unpacked. Where it lies, the limits on memory and time hold.
fn unpacked(zip: &mut ZipArchive<Cursor<&[u8]>>) -> Result<(), String> {
    let mut all: u64 = 0;
    for at in 0..zip.len() {
        all = all.saturating_add(zip.by_index_raw(at).map_err(damaged)?.size());
    }
    if all > UNPACKED_BYTES_MAX {
        return Err(format!("unpacks to {} MB; at most {} MB are read", all >> 20, UNPACKED_BYTES_MAX >> 20));
    }
    Ok(())
}

impl From<Vec<Sheet>> for Book {
    fn from(sheets: Vec<Sheet>) -> Self {
        let (filled, empty): (Vec<Sheet>, Vec<Sheet>) = sheets.into_iter().partition(|sheet| !sheet.rows.is_empty());
        Self { sheets: filled, empty: empty.into_iter().map(|sheet| sheet.name).collect() }
    }
}
