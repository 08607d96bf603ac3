//! Frequency, in Hz.

use super::scan::{Join, only_quantities};
use super::unit::{Kind, Unit};
use super::{Column, Reading, ask, decide};

/// Reads a frequency in Hz. A bare number takes the column's unit; without one it is asked.
#[must_use]
pub fn read(text: &str, column: &Column) -> Reading<f64> {
    decide(text, column, |text, decimal| {
        let quantities = match only_quantities(text, decimal, Join::Blanks) {
            Ok(quantities) => quantities,
            Err(reading) => return reading,
        };
        let [quantity] = quantities.as_slice() else {
            return Reading::bad(format!("`{text}` holds more than a frequency"));
        };
        let in_unit = |unit: Unit| {
            unit.exponent().and_then(|exponent| quantity.number.shifted(exponent)).filter(|&hz| hz > 0.0 && hz <= 1e10)
        };
        let refuse = || Reading::bad(format!("`{text}` is not a frequency above zero and at most 10 GHz"));
        match quantity.unit.or(column.unit) {
            Some(unit) if unit.kind() == Kind::Frequency => in_unit(unit).map_or_else(refuse, Reading::Value),
            Some(_) if quantity.unit.is_some() => refuse(),
            _ => {
                let options: Vec<f64> = [Unit::Hertz, Unit::Kilohertz].into_iter().filter_map(in_unit).collect();
                if options.is_empty() { refuse() } else { ask("unit of a bare frequency", options) }
            }
        }
    })
}

/// `120 Hz`.
#[must_use]
pub fn print(hz: f64) -> String {
    format!("{hz} Hz")
}
