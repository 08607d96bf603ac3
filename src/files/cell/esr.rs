//! Equivalent series resistance, in mΩ, with the condition it holds at.

use super::rated::{conditions, rated};
use super::unit::{Kind, Unit};
use super::{Column, Reading, decide, in_units};

/// An equivalent series resistance (or impedance) as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Esr {
    /// Resistance, mΩ.
    pub esr_mohm: f64,
    /// Frequency it holds at, in Hz; `None` when neither cell nor column says.
    pub hz: Option<f64>,
    /// Temperature it holds at, in °C; `None` when neither cell nor column says.
    pub temp_c: Option<f64>,
}

/// Largest resistance read, in mΩ: 100 kΩ.
const LARGEST_MOHM: f64 = 1e8;

/// Reads a resistance. `MOHM` in capitals is read as mΩ; `MΩ` is refused as impossible.
pub fn read(text: &str, column: &Column) -> Reading<Esr> {
    decide(text, column, |text, decimal| {
        let resistance = match rated(text, column, decimal, Kind::Resistance, "resistance") {
            Ok(rated) => rated,
            Err(reading) => return reading,
        };
        let (hz, temp_c) = (resistance.hz, resistance.temp_c);
        let esr = |unit: Unit| {
            let esr_mohm = unit.exponent().and_then(|exponent| resistance.number.shifted(exponent + 3))?;
            (esr_mohm > 0.0 && esr_mohm <= LARGEST_MOHM).then_some(Esr { esr_mohm, hz, temp_c })
        };
        let words = ["resistance", "above zero and at most 100 kΩ"];
        in_units(resistance.unit, column, [Unit::Milliohm, Unit::Ohm], esr, words)
    })
}

/// `35 mΩ`, `35 mΩ @ 100000 Hz`, `35 mΩ @ 100000 Hz, 20 °C`.
pub fn print(esr: &Esr) -> String {
    format!("{} mΩ{}", esr.esr_mohm, conditions(esr.hz, esr.temp_c))
}
