//! Leakage current, in µA, with the time after which it holds.

use super::scan::{Join, only_quantities};
use super::unit::Unit;
use super::{Column, Reading, decide, in_units};

/// A leakage current as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leakage {
    /// Current, µA.
    pub leakage_ua: f64,
    /// Minutes at rated voltage after which it holds; `None` when the cell does not say.
    pub after_min: Option<f64>,
}

/// Reads a leakage current. A formula (`0.01CV or 3 µA`) is refused: it is no figure.
pub fn read(text: &str, column: &Column) -> Reading<Leakage> {
    decide(text, column, |text, decimal| {
        let lower = text.to_lowercase().replace(' ', "");
        if lower.contains("cv") || lower.contains("cxv") || lower.contains("√") {
            return Reading::bad(format!("`{text}` is a formula, not a figure"));
        }
        let plain: String = text.replace("after", " ");
        let quantities = match only_quantities(&plain, decimal, Join::Never) {
            Ok(quantities) => quantities,
            Err(reading) => return reading,
        };
        let (current, after_min) = match quantities.as_slice() {
            [current] => (current, None),
            [current, time] if time.unit == Some(Unit::Minute) => (current, time.number.value()),
            _ => return Reading::bad(format!("`{text}` holds more than a leakage current")),
        };
        let leakage = |unit: Unit| {
            let leakage_ua = unit.exponent().and_then(|exponent| current.number.shifted(exponent + 6))?;
            (leakage_ua > 0.0 && leakage_ua <= 1e9).then_some(Leakage { leakage_ua, after_min })
        };
        let words = ["leakage current", "above zero"];
        in_units(current.unit, column, [Unit::Microampere, Unit::Milliampere], leakage, words)
    })
}

/// `940 µA`, `940 µA after 2 min`.
pub fn print(leakage: &Leakage) -> String {
    match leakage.after_min {
        Some(minutes) => format!("{} µA after {minutes} min", leakage.leakage_ua),
        None => format!("{} µA", leakage.leakage_ua),
    }
}
