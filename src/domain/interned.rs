//! Columns of values that repeat, each kept once, and of texts that do not.

use std::borrow::Borrow;
use std::hash::{BuildHasher, Hash};

use hashbrown::hash_table::Entry;
use hashbrown::{DefaultHashBuilder, HashTable};
use memchr::memmem::Finder;
use rayon::prelude::*;

use crate::progress::Progress;

/// Values that repeat over many parts, each kept once.
#[derive(Debug, Clone)]
pub(super) struct Interned<T> {
    /// The first is the default: rows never set stand for it.
    values: Vec<T>,
    of_row: Vec<u32>,
    /// Where each of the values but the first is.
    places: HashTable<u32>,
    hasher: DefaultHashBuilder,
}

impl<T: Default> Default for Interned<T> {
    fn default() -> Self {
        Self { values: vec![T::default()], of_row: Vec::new(), places: HashTable::new(), hasher: <_>::default() }
    }
}

impl<T: Clone + Default + Eq + Hash> Interned<T> {
    pub(super) fn get(&self, row: usize) -> &T {
        &self.values[self.at(row) as usize]
    }

    pub(super) fn at(&self, row: usize) -> u32 {
        self.of_row.get(row).copied().unwrap_or(0)
    }

    /// Where a value is kept; `own` makes the one to keep where it is new.
    pub(super) fn code<Q: Eq + Hash + ?Sized>(&mut self, value: &Q, own: impl FnOnce() -> T) -> u32
    where
        T: Borrow<Q>,
    {
        let Self { values, places, hasher, .. } = self;
        let hash = |value: &Q| hasher.hash_one(value);
        if values[0].borrow() == value {
            return 0;
        }
        let known = |&at: &u32| values[at as usize].borrow() == value;
        match places.entry(hash(value), known, |&at| hash(values[at as usize].borrow())) {
            Entry::Occupied(place) => *place.get(),
            Entry::Vacant(place) => {
                // More than 4e9 different values cannot fit in memory before this matters.
                let at = u32::try_from(values.len()).unwrap_or(0);
                values.push(own());
                place.insert(at);
                at
            }
        }
    }

    /// Which value each row has.
    pub(super) fn rows_mut(&mut self) -> &mut Vec<u32> {
        &mut self.of_row
    }

    /// Every value once.
    pub(super) fn values(&self) -> &[T] {
        &self.values
    }

    pub(super) fn reordered(self, order: &[usize]) -> Self {
        if self.of_row.is_empty() {
            return self;
        }
        let of_row = order.iter().map(|&row| self.of_row.get(row).copied().unwrap_or_default()).collect();
        Self { of_row, ..self }
    }

    /// Puts another column behind this one, of which `rows` rows are there.
    pub(super) fn append(&mut self, rows: usize, other: Self) {
        if other.of_row.is_empty() {
            return;
        }
        let own = |value: &T| self.code(value, || value.clone());
        let places: Vec<u32> = other.values.iter().map(own).collect();
        self.of_row.resize(rows, 0);
        self.of_row.extend(other.of_row.into_iter().map(|at| places[at as usize]));
    }
}

/// Texts of many rows in one buffer.
#[derive(Debug, Clone, Default)]
pub(super) struct Texts {
    buffer: String,
    ends: Vec<usize>,
}

impl Texts {
    pub(super) fn len(&self) -> usize {
        self.ends.len()
    }

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

    pub(super) fn truncate(&mut self, rows: usize) {
        self.ends.truncate(rows);
        self.buffer.truncate(self.ends.last().copied().unwrap_or_default());
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
        &self.buffer[self.start(row)..self.ends[row]]
    }

    fn start(&self, row: usize) -> usize {
        if row == 0 { 0 } else { self.ends[row - 1] }
    }

    /// Which rows contain `needle`, which is in lower case and not empty, in whatever case they are written. Those not looked at
    /// when `goes_on` said that nobody waits any more do not.
    pub(super) fn containing(&self, needle: &str, goes_on: &(dyn Fn() -> bool + Sync)) -> Vec<bool> {
        const ROWS_AT_ONCE: usize = 4096;
        let finder = Finder::new(needle);
        let mut found = vec![false; self.len()];
        found.par_chunks_mut(ROWS_AT_ONCE).enumerate().filter(|_| goes_on()).for_each(|(chunk, found)| {
            let first = chunk * ROWS_AT_ONCE;
            let (start, ends) = (self.start(first), &self.ends[first..first + found.len()]);
            let texts = &self.buffer[start..ends[ends.len() - 1]];
            if !texts.is_ascii() {
                found
                    .iter_mut()
                    .zip(first..)
                    .for_each(|(found, row)| *found = self.get(row).to_lowercase().contains(needle));
                return;
            }
            let texts = texts.to_ascii_lowercase();
            let (mut from, mut row) = (0, 0);
            while let Some(at) = finder.find(&texts.as_bytes()[from..]) {
                let at = from + at;
                row += ends[row..].iter().take_while(|end| *end - start <= at).count();
                let end = ends[row] - start;
                // Not from the end of one text into the next.
                found[row] = at + needle.len() <= end;
                from = if found[row] { end } else { at + 1 };
            }
        });
        found
    }
}

/// Where each of many texts stands.
#[derive(Debug, Clone, Default)]
pub(super) struct Found {
    /// Rows by the hash of their text; the first bits of the hash say which table.
    tables: Vec<HashTable<u32>>,
    hasher: DefaultHashBuilder,
}

impl Found {
    /// A table fits into the caches nearest to a core, and there are some for each.
    const TABLES: usize = 8;

    fn table(hash: u64) -> usize {
        // The last bits choose a place in a table, the first seven go into it.
        (hash >> 32) as usize % Self::TABLES
    }

    /// Where each text stands last, and every row whose text stands again in a later one, with the next of them; without meaning once
    /// it is cancelled.
    pub(super) fn of(texts: &Texts, progress: &Progress) -> (Self, Vec<(u32, u32)>) {
        const ROWS_PER_LOOK: u32 = 16384;
        let hasher = DefaultHashBuilder::default();
        let rows = u32::try_from(texts.len()).unwrap_or(u32::MAX);
        let hashes: Vec<u64> = (0..rows).into_par_iter().map(|row| hasher.hash_one(texts.get(row as usize))).collect();
        let table = |number: usize| {
            let (mut again, mut table) = (Vec::new(), HashTable::with_capacity(texts.len() / Self::TABLES));
            for (row, &hash) in (0..rows).zip(&hashes).filter(|(_, hash)| Self::table(**hash) == number) {
                if row.is_multiple_of(ROWS_PER_LOOK) && progress.is_cancelled() {
                    break;
                }
                let same = |&other: &u32| {
                    hashes[other as usize] == hash && texts.get(other as usize) == texts.get(row as usize)
                };
                match table.entry(hash, same, |&row| hashes[row as usize]) {
                    Entry::Occupied(mut place) => again.push((std::mem::replace(place.get_mut(), row), row)),
                    Entry::Vacant(place) => _ = place.insert(row),
                }
            }
            (table, again)
        };
        let (tables, again): (_, Vec<_>) = (0..Self::TABLES).into_par_iter().map(table).unzip();
        (Self { tables, hasher }, again.concat())
    }

    /// The row with this text, one of `texts`.
    pub(super) fn row(&self, texts: &Texts, text: &str) -> Option<u32> {
        let hash = self.hasher.hash_one(text);
        self.tables.get(Self::table(hash))?.find(hash, |&row| texts.get(row as usize) == text).copied()
    }
}
