//! Quantities as people write them in parts lists, one file per kind of quantity.
//!
//! Every reader has the shape `read(text, &Column) -> Reading<T>`: the cell's text, what the column around it is known to mean, and
//! one of four outcomes. A reader never chooses between two possible meanings: it returns [`Reading::Ambiguous`] with both, unless the
//! [`Column`] carries the evidence. A meaning that is physically impossible (a can 11800 mm high, a tolerance of 2000 %) is not one of
//! the possible meanings. Every kind of quantity has a `print` whose text its reader reads back to the same value.

pub mod body;
pub mod capacitance;
pub mod clean;
pub mod count;
mod digits;
mod doubt;
pub mod endurance;
pub mod esr;
pub mod family;
pub mod footprint;
pub mod frequency;
pub mod header;
pub mod leakage;
pub mod length;
pub mod number;
pub mod order;
pub mod percent;
pub mod price;
pub mod quantity;
mod rated;
pub mod ripple;
mod scan;
pub mod size;
pub mod temperature;
pub mod text;
pub mod tolerance;
pub mod unit;
pub mod voltage;
pub(crate) mod words;

#[cfg(test)]
#[path = "../../../tests/within/cell_properties.rs"]
mod properties;

use unit::Unit;

pub use doubt::Doubt;

/// What a cell turned out to hold.
#[derive(Debug, Clone, Default, PartialEq)]
pub enum Reading<T> {
    /// Exactly one meaning.
    Value(T),
    /// Several meanings are possible and nothing in the cell or the column decides; a person has to. `what` names the open question.
    Ambiguous {
        /// The open question.
        what: Doubt,
        /// The possible values.
        options: Vec<T>,
    },
    /// Empty, or one of the marks people write for "nothing here". Never a zero.
    #[default]
    Nothing,
    /// Something stands here that is not such a quantity; `reason` is for the rejected list.
    Bad {
        /// Why, in words.
        reason: String,
    },
}

impl<T> Reading<T> {
    /// The value if there is exactly one meaning.
    pub fn value(self) -> Option<T> {
        match self {
            Reading::Value(value) => Some(value),
            _ => None,
        }
    }

    /// The same outcome with every possible value converted.
    pub fn map<U>(self, mut convert: impl FnMut(T) -> U) -> Reading<U> {
        match self {
            Reading::Value(value) => Reading::Value(convert(value)),
            Reading::Ambiguous { what, options } => {
                Reading::Ambiguous { what, options: options.into_iter().map(convert).collect() }
            }
            Reading::Nothing => Reading::Nothing,
            Reading::Bad { reason } => Reading::Bad { reason },
        }
    }

    pub(crate) fn bad(reason: impl Into<String>) -> Self {
        Reading::Bad { reason: reason.into() }
    }

    pub(crate) fn possible(self) -> Vec<T> {
        match self {
            Reading::Value(value) => vec![value],
            Reading::Ambiguous { options, .. } => options,
            _ => Vec::new(),
        }
    }
}

/// The decimal mark of a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Decimal {
    /// `4.7` is four point seven, `4,700` is four thousand seven hundred.
    Dot,
    /// `4,7` is four point seven, `4.700` is four thousand seven hundred.
    Comma,
    /// Not known: a number that means different things under the two rules is ambiguous, and asked where it matters.
    #[default]
    #[serde(skip)]
    Unknown,
}

impl Decimal {
    /// The mark, where it is known.
    pub(in crate::files) fn mark(self) -> Option<char> {
        match self {
            Self::Dot => Some('.'),
            Self::Comma => Some(','),
            Self::Unknown => None,
        }
    }
}

/// Which of two bare body dimensions is written first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Order {
    /// `10x20` is 10 mm wide.
    DiameterFirst,
    /// `20x10` is 10 mm wide.
    HeightFirst,
    /// Not known: asked.
    #[default]
    #[serde(skip)]
    Unknown,
}

/// What is known about the column a cell stands in. `Column::default()` knows nothing. What the cell itself says goes before this.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Column {
    /// Decimal mark, see [`number::column_decimal`].
    pub decimal: Decimal,
    /// Unit of numbers without one, see [`header::hints`].
    pub unit: Option<Unit>,
    /// Frequency the column's values hold at, in Hz.
    pub hz: Option<f64>,
    /// Temperature the column's values hold at, in °C.
    pub temp_c: Option<f64>,
    /// Order of two bare body dimensions, see [`order::column_order`].
    pub order: Order,
    /// Whether `mF` may be the microfarad of old lists: nothing in the file says that it is not.
    pub milli_open: bool,
}

impl Column {
    /// A column with dot decimals, as this program writes them itself.
    pub fn dot() -> Self {
        Column { decimal: Decimal::Dot, ..Column::default() }
    }

    /// The same column with a unit for bare numbers.
    #[must_use]
    pub fn with_unit(self, unit: Unit) -> Self {
        Column { unit: Some(unit), ..self }
    }
}

/// Cleans the cell, answers "nothing" marks, and runs `read` under each decimal mark that the column leaves open.
fn decide<T: PartialEq>(text: &str, column: &Column, read: impl Fn(&str, Decimal) -> Reading<T>) -> Reading<T> {
    if clean::is_nothing(text) {
        return Reading::Nothing;
    }
    let cleaned = match clean::clean(text) {
        Ok(cleaned) => cleaned,
        Err(reason) => return Reading::Bad { reason },
    };
    match column.decimal {
        Decimal::Unknown if cleaned.contains(['.', ',']) => {
            merge(read(&cleaned, Decimal::Dot), read(&cleaned, Decimal::Comma))
        }
        // Without a mark both rules read the same.
        Decimal::Unknown => read(&cleaned, Decimal::Dot),
        known => read(&cleaned, known),
    }
}

/// One outcome from the readings under the two decimal marks: a reading that is impossible is no option.
fn merge<T: PartialEq>(dot: Reading<T>, comma: Reading<T>) -> Reading<T> {
    if dot == comma {
        return dot;
    }
    match (dot, comma) {
        (Reading::Bad { .. } | Reading::Nothing, other) | (other, Reading::Bad { .. } | Reading::Nothing) => other,
        (dot, comma) => {
            let mut options = dot.possible();
            options.extend(comma.possible());
            choose(Doubt::DecimalMark, options)
        }
    }
}

/// One value if all options are the same, else the open question.
fn choose<T: PartialEq>(what: impl Into<Doubt>, options: Vec<T>) -> Reading<T> {
    let what = what.into();
    let mut distinct: Vec<T> = Vec::new();
    for option in options {
        if !distinct.contains(&option) {
            distinct.push(option);
        }
    }
    match distinct.len() {
        0 => Reading::bad(format!("no possible value ({what})")),
        1 => distinct.pop().map_or(Reading::Nothing, Reading::Value),
        _ => Reading::Ambiguous { what, options: distinct },
    }
}

/// A figure in its own unit, else in that of the column; without either the `offered` units are asked. `make` says what the figure is in a
/// unit, `name` what it is, `bounds` within what it must be.
fn in_units<T>(
    own: Option<Unit>,
    column: &Column,
    offered: [Unit; 2],
    make: impl Fn(Unit) -> Option<T>,
    [name, bounds]: [&str; 2],
) -> Reading<T> {
    let refuse = || Reading::bad(format!("a {name} must be {bounds}"));
    let kind = offered[0].kind();
    match own.or(column.unit.filter(|unit| unit.kind() == kind)) {
        Some(unit) if unit.kind() == kind => make(unit).map_or_else(refuse, Reading::Value),
        Some(_) => Reading::bad(format!("this is not a {name}")),
        None => {
            let options: Vec<T> = offered.into_iter().filter_map(make).collect();
            if options.is_empty() {
                refuse()
            } else {
                let [one, other] = offered.map(Unit::symbol);
                ask(Doubt::unit_of(&format!("{name}: {one} or {other}")), options)
            }
        }
    }
}

/// A question with its options, also when there is only one: the person has to confirm it.
fn ask<T>(what: impl Into<Doubt>, options: Vec<T>) -> Reading<T> {
    Reading::Ambiguous { what: what.into(), options }
}
