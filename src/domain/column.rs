//! One number per row of a catalogue, stored densely; a column nobody filled costs nothing.

use rayon::prelude::*;

use super::schema::{Bounds, Unit};
use crate::progress::Progress;

/// Name and allowed values of one numeric field, as it stands in files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NumberField {
    /// Field name in the job file and canonical header in the catalogue; carries the unit.
    pub name: &'static str,
    /// What it is measured in.
    pub unit: Unit,
    /// Values accepted by the readers.
    pub bounds: Bounds,
}

/// The numeric fields of a type: their list, their values in its order, and a column for each.
macro_rules! numbers {
    ($of:ident $numbers:ident $seen:vis $columns:ident; $($name:ident: $unit:ident $bounds:ident;)*) => {
        #[doc = concat!("The numeric fields of [`", stringify!($of), "`] in a fixed order.")]
        pub const $numbers: &[$crate::domain::column::NumberField] = &[$($crate::domain::column::NumberField {
            name: stringify!($name),
            unit: $crate::domain::Unit::$unit,
            bounds: $crate::domain::Bounds::$bounds,
        }),*];

        impl $of {
            #[doc = concat!("The numeric fields in the order of [`", stringify!($numbers), "`].")]
            pub fn numbers(&self) -> [Option<f64>; $numbers.len()] {
                [$(self.$name),*]
            }

            #[doc = concat!("The numeric fields in the order of [`", stringify!($numbers), "`], for writing.")]
            pub fn numbers_mut(&mut self) -> [&mut Option<f64>; $numbers.len()] {
                [$(&mut self.$name),*]
            }
        }

        #[doc = concat!("The numeric fields of many of [`", stringify!($of), "`], a column each.")]
        #[derive(Debug, Clone, Default)]
        $seen struct $columns {
            $(
                #[doc = concat!("Column of [`", stringify!($of), "::", stringify!($name), "`].")]
                pub $name: $crate::domain::column::NumberColumn,
            )*
        }

        impl $columns {
            pub(super) fn reserve(&mut self, rows: usize) {
                $(self.$name.reserve(rows);)*
            }

            pub(super) fn append(&mut self, rows: usize, other: Self) {
                $(self.$name.append(rows, other.$name);)*
            }

            /// The same numbers with row `order[n]` at row `n`; incomplete once it is cancelled.
            #[must_use]
            pub(super) fn reordered(self, order: &[usize], progress: &$crate::progress::Progress) -> Self {
                Self { $($name: self.$name.reordered(order, progress),)* }
            }

            /// Writes the numbers of one into `row`; rows must come in rising order.
            $seen fn set(&mut self, row: usize, of: &$of) {
                $(self.$name.set(row, of.$name);)*
            }

            /// The numbers of `row`; other fields are left empty.
            $seen fn get(&self, row: usize) -> $of {
                let mut of = $of::default();
                $(of.$name = self.$name.get(row);)*
                of
            }
        }
    };
}
pub(super) use numbers;

/// A column of numbers with gaps. Rows beyond the last set value are unknown.
#[derive(Debug, Clone, Default)]
pub struct NumberColumn(Vec<f64>);

impl NumberColumn {
    /// The value in `row`, `None` where it is unknown.
    pub fn get(&self, row: usize) -> Option<f64> {
        self.0.get(row).copied().filter(|value| !value.is_nan())
    }

    /// The same values with row `order[n]` at row `n`; nothing once it is cancelled.
    #[must_use]
    pub(super) fn reordered(self, order: &[usize], progress: &Progress) -> Self {
        if self.0.is_empty() || progress.is_cancelled() {
            return Self::default();
        }
        Self(order.par_iter().map(|&row| self.0.get(row).copied().unwrap_or(f64::NAN)).collect())
    }

    /// Room for so many rows; only what is filled takes memory.
    pub(super) fn reserve(&mut self, rows: usize) {
        self.0.reserve_exact(rows);
    }

    /// Puts another column behind this one, of which `rows` rows are there.
    pub(super) fn append(&mut self, rows: usize, mut other: Self) {
        if !other.0.is_empty() {
            self.0.resize(rows, f64::NAN);
            self.0.append(&mut other.0);
        }
    }

    /// Sets the value in `row`; rows must be filled in rising order.
    pub fn set(&mut self, row: usize, value: Option<f64>) {
        let Some(value) = value else { return };
        // NaN marks a gap inside the column only; it never leaves `get`.
        self.0.resize(row, f64::NAN);
        self.0.push(value);
    }
}
