//! Ripple current with the condition it is rated at.
//!
//! `1.35A @ 100kHz`, `110mA@120Hz`, `1.42 Arms (105 °C, 120 Hz)`. Unit and condition come from the cell or the column, or stay unknown:
//! a ripple current without its frequency is not completed here.

use super::rated::{conditions, rated};
use super::unit::{Kind, Unit};
use super::{Column, Reading, decide, in_units};

/// A ripple current as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ripple {
    /// Root mean square, in A.
    pub ripple_a: f64,
    /// Frequency it is rated at, in Hz; `None` when neither cell nor column says.
    pub hz: Option<f64>,
    /// Ambient temperature it is rated at, in °C; `None` when neither cell nor column says.
    pub temp_c: Option<f64>,
}

/// Largest ripple current read, in A.
const LARGEST_A: f64 = 1000.0;

/// Reads a ripple current.
pub fn read(text: &str, column: &Column) -> Reading<Ripple> {
    decide(text, column, |text, decimal| {
        let current = match rated(text, column, decimal, Kind::Current, "ripple current") {
            Ok(rated) => rated,
            Err(reading) => return reading,
        };
        let (hz, temp_c) = (current.hz, current.temp_c);
        let ripple = |unit: Unit| {
            let ripple_a = unit.exponent().and_then(|exponent| current.number.shifted(exponent))?;
            (ripple_a > 0.0 && ripple_a <= LARGEST_A).then_some(Ripple { ripple_a, hz, temp_c })
        };
        let words = ["ripple current", "above zero and at most 1000 A"];
        in_units(current.unit, column, [Unit::Milliampere, Unit::Ampere], ripple, words)
    })
}

/// `1.42 A`, `1.42 A @ 100000 Hz`, `1.42 A @ 120 Hz, 105 °C`.
pub fn print(ripple: &Ripple) -> String {
    format!("{} A{}", ripple.ripple_a, conditions(ripple.hz, ripple.temp_c))
}
