//! Workbooks (.xlsx, .xls, .ods): each sheet as rows of cells in words, for the reader of tables.
//!
//! A number stands as it was typed, with the unit, the percent sign or the leading zeros its format shows; a date in ISO form. Hidden
//! rows and columns are read like the others and said. [`Workbook`] runs apart, in a process with limits; [`read_bytes`] is what it does there.

mod ods;
mod shown;
mod xls;
mod xlsx;

use std::io::Cursor;

use serde::{Deserialize, Serialize};
use zip::ZipArchive;

use super::child::Apart;

/// Most bytes of the unpacked parts of a workbook, as its directory states them.
const UNPACKED_BYTES_MAX: u64 = 256 << 20;
/// Most columns of a sheet.
const COLUMNS_MAX: usize = 1000;
/// Most cells of a workbook, counting the empty ones left of the last filled one of each row.
const CELLS_MAX: usize = 3_000_000;

/// A workbook as it was read.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Book {
    /// Its sheets in order, those with cells only.
    pub sheets: Vec<Sheet>,
    /// Names of the sheets without any cell.
    pub empty: Vec<String>,
}

/// A sheet of a workbook.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Sheet {
    /// As on its tab.
    pub name: String,
    /// Whether the workbook hides it.
    pub hidden: bool,
    /// Rows with a cell, by row number from 1; cells trimmed, none behind the last filled one.
    pub rows: Vec<(usize, Vec<String>)>,
    /// Merged cells.
    pub merged: Vec<Merged>,
    /// Hidden rows that hold something, by row number from 1.
    pub hidden_rows: Vec<usize>,
    /// Hidden columns, by number from 1.
    pub hidden_columns: Vec<usize>,
    /// Cells whose formula has no stored value.
    pub without_value: Vec<(usize, usize)>,
    /// What else a person should know.
    pub notes: Vec<String>,
}

/// Cells that are one: first and last row and column, from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Merged {
    /// First and last row.
    pub rows: (usize, usize),
    /// First and last column.
    pub columns: (usize, usize),
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
#[must_use]
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

fn damaged(error: impl std::fmt::Display) -> String {
    format!("the workbook is damaged: {error}")
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

/// Takes the cells of a workbook, in the order of their rows, within the limits.
#[derive(Default)]
struct Taker {
    cells: usize,
}

impl Taker {
    /// Takes a cell of `sheet`; row and column from 1.
    fn take(&mut self, sheet: &mut Sheet, row: usize, column: usize, text: &str) -> Result<(), String> {
        let text = text.trim();
        if text.is_empty() {
            return Ok(());
        }
        if column > COLUMNS_MAX {
            return Err(format!(
                "sheet {}: a cell stands in row {row}, column {column}; at most {COLUMNS_MAX} columns are read",
                sheet.name
            ));
        }
        if sheet.rows.last().is_none_or(|(last, _)| *last < row) {
            sheet.rows.push((row, Vec::new()));
        }
        // Cells come by rows but for some makers' disorder.
        let at = sheet.rows.partition_point(|(of, _)| *of < row);
        if sheet.rows.get(at).is_none_or(|(of, _)| *of != row) {
            sheet.rows.insert(at, (row, Vec::new()));
        }
        let cells = &mut sheet.rows[at].1;
        if cells.len() < column {
            self.cells += column - cells.len();
            if self.cells > CELLS_MAX {
                return Err(format!("sheet {}: more than {CELLS_MAX} cells, which is more than is read", sheet.name));
            }
            cells.resize(column, String::new());
        }
        text.clone_into(&mut cells[column - 1]);
        Ok(())
    }
}

impl Sheet {
    /// Leaves what is hidden but empty unmentioned.
    fn tidy(&mut self) {
        let filled = |row: &usize| self.rows.binary_search_by_key(row, |(of, _)| *of).is_ok();
        self.hidden_rows.retain(filled);
        let width = self.rows.iter().map(|(_, cells)| cells.len()).max().unwrap_or(0);
        let used = |column: &usize| {
            *column <= width
                && self.rows.iter().any(|(_, cells)| cells.get(column - 1).is_some_and(|cell| !cell.is_empty()))
        };
        self.hidden_columns.retain(used);
    }
}

/// The letters of a column on the sheet: 1 is A, 27 is AA.
#[must_use]
pub fn letters(mut column: usize) -> String {
    let mut letters = Vec::new();
    while column > 0 {
        let digit = u8::try_from((column - 1) % 26).unwrap_or(0);
        letters.push(char::from(b'A' + digit));
        column = (column - 1) / 26;
    }
    letters.iter().rev().collect()
}

/// The column and row of a cell's name, `AB12`, from 1.
fn place(name: &str) -> Option<(usize, usize)> {
    let digits = name.find(|c: char| c.is_ascii_digit())?;
    let (letters, row) = name.split_at(digits);
    let mut column: usize = 0;
    for letter in letters.bytes() {
        let digit = letter.is_ascii_alphabetic().then(|| letter.to_ascii_uppercase() - b'A' + 1)?;
        column = column.checked_mul(26)?.checked_add(usize::from(digit))?;
    }
    (column > 0).then_some((column, row.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_named_as_on_a_sheet() {
        for (column, name) in [(1, "A"), (26, "Z"), (27, "AA"), (702, "ZZ"), (703, "AAA"), (16384, "XFD")] {
            assert_eq!(letters(column), name);
            assert_eq!(place(&format!("{name}7")), Some((column, 7)));
        }
        assert_eq!(place("7"), None);
        assert_eq!(place("É7"), None);
    }

    #[test]
    fn rows_out_of_order_come_into_order() {
        let (mut sheet, mut taker) = (Sheet::default(), Taker::default());
        for (row, column, text) in [(2, 1, "a"), (1, 2, " b "), (2, 3, "c"), (5, 1, " ")] {
            taker.take(&mut sheet, row, column, text).unwrap();
        }
        assert_eq!(
            sheet.rows,
            [(1, vec![String::new(), "b".into()]), (2, vec!["a".into(), String::new(), "c".into()])]
        );
        assert!(taker.take(&mut sheet, 1, COLUMNS_MAX + 1, "x").is_err());
    }
}
