//! Frequency, in Hz.

use super::scan::{Join, only_quantities};
use super::unit::Unit;
use super::{Column, Reading, decide, in_units};

/// Reads a frequency in Hz. A bare number takes the column's unit; without one it is asked.
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
        let words = ["frequency", "above zero and at most 10 GHz"];
        in_units(quantity.unit, column, [Unit::Hertz, Unit::Kilohertz], in_unit, words)
    })
}

/// `120 Hz`.
pub fn print(hz: f64) -> String {
    format!("{hz} Hz")
}
