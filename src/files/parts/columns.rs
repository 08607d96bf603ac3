//! The rows of a catalogue file, read column by column: a cell that has been seen in its column is known by its signs.

use std::ops::Range;

use super::row::{PartColumn, read_cell};
use crate::domain::{CatalogBuilder, Known, set_row};

/// A cell of a row.
#[derive(Clone, Copy)]
pub(super) struct Cell {
    /// Its signs and the one that ends it; 0 where these are too many.
    signs: [u64; 2],
    /// Where it begins and ends in its text.
    from: usize,
    to: usize,
}

impl Cell {
    const SIGNS: usize = size_of::<[u64; 2]>();

    /// One that stands in `text`, cut out already.
    pub(super) fn of(text: &str, Range { start: from, end: to }: Range<usize>) -> Self {
        let (mut signs, cell) = ([0; Self::SIGNS], &text.as_bytes()[from..to]);
        if cell.len() < Self::SIGNS {
            signs[..cell.len()].copy_from_slice(cell);
            signs[cell.len()] = b'\n';
        }
        Self { signs: halves(&signs), from, to }
    }

    /// The one that begins at `from` and goes on to a separator or the end of the line or of the text.
    #[inline]
    fn at(text: &[u8], from: usize, separator: u64) -> Self {
        let Some([low, high]) = text.get(from..from + Self::SIGNS).map(halves) else {
            return Self { signs: [0; 2], from, to: long_end(text, from, separator) };
        };
        let ends = first_end(low, separator);
        if ends != 0 {
            let bit = ends.trailing_zeros();
            return Self { signs: [low & (u64::MAX >> (63 - bit)), 0], from, to: from + bit as usize / 8 };
        }
        let ends = first_end(high, separator);
        if ends == 0 {
            return Self { signs: [0; 2], from, to: long_end(text, from, separator) };
        }
        let bit = ends.trailing_zeros();
        Self { signs: [low, high & (u64::MAX >> (63 - bit))], from, to: from + 8 + bit as usize / 8 }
    }

    /// What is in it; the end of a line may be two signs.
    pub(super) fn of_text(self, text: &str) -> &str {
        text[self.from..self.to].trim_end_matches('\r')
    }
}

/// Where a cell ends that begins at `from`, however long it is. It says the end and not the cell: what a call writes through a pointer
/// does not stay in registers, and each cell waits for its own signs.
#[inline(never)]
fn long_end(text: &[u8], from: usize, separator: u64) -> usize {
    let is_end = |&byte: &u8| u64::from(byte) == separator & 0xFF || byte == b'\n';
    text[from..].iter().position(is_end).map_or(text.len(), |length| from + length)
}

/// The same byte eight times.
const fn eight(byte: u8) -> u64 {
    u64::from_le_bytes([byte; 8])
}

/// Bit 7 of the first byte that is a separator or ends a line; bits above it mean nothing (S. E. Anderson, Bit Twiddling Hacks).
#[inline]
fn first_end(word: u64, separator: u64) -> u64 {
    let [separator, end] = [word ^ separator, word ^ eight(b'\n')];
    let zero = |word: u64| word.wrapping_sub(eight(1)) & !word;
    (zero(separator) | zero(end)) & eight(0x80)
}

#[inline]
fn halves(bytes: &[u8]) -> [u64; 2] {
    let (halves, _) = bytes.as_chunks::<8>();
    [u64::from_le_bytes(halves[0]), u64::from_le_bytes(halves[1])]
}

/// Whether the signs are the same; compared as an array they would go through memory.
#[inline]
fn same(a: [u64; 2], b: [u64; 2]) -> bool {
    (a[0] ^ b[0]) | (a[1] ^ b[1]) == 0
}

/// The cells of a text without quotation marks, row by row.
#[derive(Clone)]
pub(super) struct Cells<'t> {
    text: &'t [u8],
    /// Eight times.
    separator: u64,
    at: usize,
    /// All cells of the row were taken.
    ended: bool,
}

impl<'t> Cells<'t> {
    pub(super) fn of(text: &'t str, separator: u8) -> Self {
        Self { text: text.as_bytes(), separator: eight(separator), at: 0, ended: true }
    }

    /// Whether there is another row, of which all cells have to be taken.
    pub(super) fn next_row(&mut self) -> bool {
        self.ended = false;
        self.at < self.text.len()
    }

    /// How far it is, bytes.
    pub(super) fn byte(&self) -> usize {
        self.at
    }
}

impl Iterator for Cells<'_> {
    type Item = Cell;

    #[inline(always)]
    #[expect(clippy::inline_always, reason = "where a cell ends the next begins: a call at each takes a third longer")]
    fn next(&mut self) -> Option<Cell> {
        if self.ended {
            return None;
        }
        let cell = Cell::at(self.text, self.at, self.separator);
        self.ended = self.text.get(cell.to).is_none_or(|&end| end == b'\n');
        self.at = cell.to + 1;
        Some(cell)
    }
}

/// A column of a file while it is read.
pub(super) struct Column {
    pub(super) of: Option<PartColumn>,
    /// Cells by their signs, each with the place of its value; none of part numbers, which are all different.
    seen: Vec<([u64; 2], u32)>,
    /// Cells that were new since there is room for so many.
    new: usize,
    /// Which column of the catalogue it is.
    place: usize,
    /// The places of the values in its rows.
    pub(super) rows: Vec<u32>,
}

impl Column {
    /// No text has these signs.
    const NONE: ([u64; 2], u32) = ([u64::MAX; 2], 0);

    /// Room for `rows` costs nothing before they are filled.
    pub(super) fn of(of: Option<PartColumn>, rows: usize) -> Self {
        Self { of, seen: vec![Self::NONE; 1 << 6], new: 0, place: 0, rows: Vec::with_capacity(rows) }
    }

    /// Takes up the cell of a row; whether it can be used.
    #[inline]
    pub(super) fn take(&mut self, row: usize, text: &str, cell: Cell, builder: &mut CatalogBuilder) -> bool {
        match self.seen.get(self.place_of(cell.signs)) {
            Some((signs, code)) if same(*signs, cell.signs) => {
                set_row(&mut self.rows, row, *code);
                true
            }
            _ => self.take_new(row, text, cell, builder),
        }
    }

    #[inline]
    fn place_of(&self, [low, high]: [u64; 2]) -> usize {
        /// Odd and without a pattern: the highest bits of a product with it depend on every sign.
        const FACTOR: u64 = 0x9E37_79B9_7F4A_7C15;
        let mixed = ((low ^ high.rotate_left(29)).wrapping_mul(FACTOR) >> 32) as usize;
        mixed & (self.seen.len() - 1)
    }

    #[inline(never)]
    fn take_new(&mut self, row: usize, text: &str, cell: Cell, builder: &mut CatalogBuilder) -> bool {
        /// With more the tables of a usual list do not stay near a core.
        const SEEN_MAX: usize = 1 << 12;
        let Some(of) = self.of else { return true };
        let code = match read_cell(of, &text[cell.from..cell.to]) {
            Err(_) => return false,
            Ok(None) => 0,
            Ok(Some(Known::Text(0, part_number))) => {
                builder.push_number(part_number);
                return true;
            }
            Ok(Some(known)) => {
                let (place, code) = builder.place(known);
                self.place = place;
                code
            }
        };
        self.new += 1;
        if self.new > self.seen.len() && self.seen.len() < SEEN_MAX {
            (self.new, self.seen) = (0, vec![Self::NONE; self.seen.len() * 4]);
        }
        if cell.signs != [0; 2] {
            let at = self.place_of(cell.signs);
            self.seen[at] = (cell.signs, code);
        }
        set_row(&mut self.rows, row, code);
        true
    }

    /// Where it goes in the catalogue, and what is in it; `None` if nothing is.
    pub(super) fn filled(self) -> Option<(usize, Vec<u32>)> {
        (!self.rows.is_empty()).then_some((self.place, self.rows))
    }
}
