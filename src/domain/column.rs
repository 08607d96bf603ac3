//! One number per row of a catalogue; a column nobody filled costs nothing.

use std::hash::{Hash, Hasher};

use super::interned::Interned;
use super::schema::{Bounds, Unit};

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
            pub(super) fn all_mut(&mut self) -> [&mut $crate::domain::column::NumberColumn; $numbers.len()] {
                [$(&mut self.$name),*]
            }

            /// The same numbers with row `order[n]` at row `n`.
            #[must_use]
            pub(super) fn reordered(self, order: &[usize]) -> Self {
                Self { $($name: self.$name.reordered(order),)* }
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

/// A number or a gap, the same where it is so to the bit.
#[derive(Debug, Clone, Copy, Default)]
struct Number(Option<f64>);

impl PartialEq for Number {
    fn eq(&self, other: &Self) -> bool {
        self.0.map(f64::to_bits) == other.0.map(f64::to_bits)
    }
}

impl Eq for Number {}

impl Hash for Number {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.0.unwrap_or(f64::NAN).to_bits().hash(state);
    }
}

/// A column of numbers with gaps. Lists repeat nearly all of them, so each is kept once.
#[derive(Debug, Clone, Default)]
pub struct NumberColumn(Interned<Number>);

impl NumberColumn {
    /// The value in `row`, `None` where it is unknown.
    pub fn get(&self, row: usize) -> Option<f64> {
        self.0.get(row).0
    }

    /// Which of the different values of the column stands in `row`; the same for rows that have the same.
    pub fn at(&self, row: usize) -> u32 {
        self.0.at(row)
    }

    /// Where a value is kept.
    pub(super) fn code(&mut self, value: f64) -> u32 {
        let number = Number(Some(value));
        self.0.code(&number, || number)
    }

    pub(super) fn rows_mut(&mut self) -> &mut Vec<u32> {
        self.0.rows_mut()
    }

    pub(super) fn reordered(self, order: &[usize]) -> Self {
        Self(self.0.reordered(order))
    }

    /// Puts another column behind this one, of which `rows` rows are there.
    pub(super) fn append(&mut self, rows: usize, other: &mut Self) {
        self.0.append(rows, std::mem::take(&mut other.0));
    }
}
