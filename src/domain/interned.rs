//! Columns of texts and of values that repeat, each kept once.

use std::collections::HashMap;

use super::part::PartId;
use super::table::PairTable;
use crate::progress::Progress;

/// Values that repeat over many parts, each kept once.
#[derive(Debug, Clone)]
pub(super) struct Interned<T> {
    pub(super) values: Vec<T>,
    pub(super) of_row: Vec<u32>,
}

impl<T: Default> Default for Interned<T> {
    fn default() -> Self {
        Self { values: vec![T::default()], of_row: Vec::new() }
    }
}

impl<T: Clone + PartialEq + Default> Interned<T> {
    pub(super) fn get(&self, row: usize) -> &T {
        &self.values[self.at(row)]
    }

    pub(super) fn at(&self, row: usize) -> usize {
        // Rows never set stand for the default, which is value 0.
        self.of_row.get(row).map_or(0, |&at| at as usize)
    }

    pub(super) fn reordered(self, order: &[usize]) -> Self {
        if self.of_row.is_empty() {
            return self;
        }
        let of_row = order.iter().map(|&row| self.of_row.get(row).copied().unwrap_or_default()).collect();
        Self { of_row, ..self }
    }

    /// Puts another column behind this one, of which `rows` rows are there; `id` is where this one keeps a value of the other.
    pub(super) fn append(&mut self, rows: usize, other: Self, mut id: impl FnMut(&mut Self, T) -> u32) {
        let ids: Vec<u32> = other.values.into_iter().map(|value| id(self, value)).collect();
        if !other.of_row.is_empty() {
            self.of_row.resize(rows, 0);
            self.of_row.extend(other.of_row.into_iter().map(|at| ids[at as usize]));
        }
    }

    pub(super) fn set(&mut self, row: usize, at: u32) {
        if at != 0 {
            self.of_row.resize(row, 0);
            self.of_row.push(at);
        }
    }
}

/// The different texts of a column in which texts repeat, so that a question can be asked once of each.
#[derive(Debug, Clone, Copy)]
pub struct Distinct<'a>(pub(super) &'a Interned<Box<str>>);

impl<'a> Distinct<'a> {
    /// Every text once; the first is empty and stands for unknown.
    pub fn texts(self) -> impl Iterator<Item = &'a str> {
        self.0.values.iter().map(|text| &**text)
    }

    /// Which of [`texts`](Self::texts) a part has.
    pub fn at(self, id: PartId) -> usize {
        self.0.at(id.row())
    }
}

/// Texts of many rows in one buffer.
#[derive(Debug, Clone, Default)]
pub(super) struct Texts {
    buffer: String,
    ends: Vec<usize>,
}

impl Texts {
    pub(super) fn reserve(&mut self, rows: usize) {
        /// Bytes of a long part number.
        const BYTES_OF_ONE: usize = 24;
        self.buffer.reserve_exact(rows * BYTES_OF_ONE);
        self.ends.reserve_exact(rows);
    }

    pub(super) fn append(&mut self, other: &Self) {
        let before = self.buffer.len();
        self.buffer.push_str(&other.buffer);
        self.ends.extend(other.ends.iter().map(|end| before + end));
    }

    pub(super) fn push(&mut self, text: &str) {
        self.buffer.push_str(text);
        self.ends.push(self.buffer.len());
    }

    /// Nothing once it is cancelled.
    pub(super) fn reordered(self, order: &[usize], progress: &Progress) -> Option<Self> {
        const ROWS_PER_LOOK: usize = 16384;
        let mut texts =
            Self { buffer: String::with_capacity(self.buffer.len()), ends: Vec::with_capacity(order.len()) };
        for rows in order.chunks(ROWS_PER_LOOK) {
            if progress.is_cancelled() {
                return None;
            }
            rows.iter().for_each(|&row| texts.push(self.get(row)));
        }
        Some(texts)
    }

    pub(super) fn get(&self, row: usize) -> &str {
        let start = if row == 0 { 0 } else { self.ends[row - 1] };
        &self.buffer[start..self.ends[row]]
    }
}

pub(super) fn intern_text(column: &mut Interned<Box<str>>, ids: &mut HashMap<Box<str>, u32>, text: &str) -> u32 {
    if text.is_empty() {
        return 0;
    }
    // Lists come sorted by maker and series: most rows repeat the text of the row before.
    if let Some(&before) = column.of_row.last()
        && &*column.values[before as usize] == text
    {
        return before;
    }
    if let Some(&at) = ids.get(text) {
        return at;
    }
    let at = next_id(&column.values);
    column.values.push(text.into());
    ids.insert(text.into(), at);
    at
}

/// For values of which there are few.
pub(super) fn intern<T: PartialEq + Clone>(column: &mut Interned<T>, value: &T) -> u32 {
    let at = column.values.iter().position(|known| known == value).unwrap_or_else(|| {
        column.values.push(value.clone());
        column.values.len() - 1
    });
    u32::try_from(at).unwrap_or_default()
}

pub(super) fn intern_table(
    column: &mut Interned<Option<PairTable>>,
    ids: &mut HashMap<String, u32>,
    table: Option<&PairTable>,
) -> u32 {
    let Some(table) = table else { return 0 };
    *ids.entry(table.to_string()).or_insert_with(|| {
        let at = next_id(&column.values);
        column.values.push(Some(table.clone()));
        at
    })
}

fn next_id<T>(values: &[T]) -> u32 {
    // More than 4e9 distinct texts cannot fit in memory before this matters.
    u32::try_from(values.len()).unwrap_or(0)
}
