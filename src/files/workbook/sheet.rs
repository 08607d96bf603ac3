//! A sheet of a workbook, and how its cells are taken within limits.

use serde::{Deserialize, Serialize};

/// Most columns of a sheet.
pub(super) const COLUMNS_MAX: usize = 1000;
/// Most cells of a workbook, counting the empty ones left of the last filled one of each row.
pub(super) const CELLS_MAX: usize = 3_000_000;

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

impl Merged {
    /// From rows and columns counted from 0.
    pub(super) fn from_calamine(start: (u32, u32), end: (u32, u32)) -> Self {
        let one = |at: u32| at as usize + 1;
        Self { rows: (one(start.0), one(end.0)), columns: (one(start.1), one(end.1)) }
    }
}

pub(super) fn damaged(error: impl std::fmt::Display) -> String {
    format!("the workbook is damaged: {error}")
}

/// Takes the cells of a workbook, in the order of their rows, within the limits.
#[derive(Default)]
pub(super) struct Taker {
    cells: usize,
}

impl Taker {
    /// Takes a cell of `sheet`; row and column from 1.
    pub(super) fn take(&mut self, sheet: &mut Sheet, row: usize, column: usize, text: &str) -> Result<(), String> {
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
    pub(super) fn tidy(&mut self) {
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
pub(super) fn place(name: &str) -> Option<(usize, usize)> {
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
#[path = "../../../tests/within/workbook_sheet.rs"]
mod tests;
