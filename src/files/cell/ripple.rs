//! Ripple current with the condition it is rated at.
//!
//! `1.35A @ 100kHz`, `110mA@120Hz`, `1.42 Arms (105 °C, 120 Hz)`. Unit and condition come from the cell or the column, or stay unknown:
//! a ripple current without its frequency is not completed here.

use super::rated::{conditions, rated};
use super::unit::{Kind, Unit};
use super::{Column, Reading, ask, decide};

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
#[must_use]
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
        if let Some(unit) = current.unit.or(column.unit.filter(|unit| unit.kind() == Kind::Current)) {
            match ripple(unit) {
                Some(ripple) => Reading::Value(ripple),
                None => Reading::bad("a ripple current must be above zero and at most 1000 A"),
            }
        } else {
            let options: Vec<Ripple> = [Unit::Milliampere, Unit::Ampere].into_iter().filter_map(ripple).collect();
            if options.is_empty() {
                Reading::bad("a ripple current must be above zero")
            } else {
                ask("unit of a bare ripple current: mA or A", options)
            }
        }
    })
}

/// `1.42 A`, `1.42 A @ 100000 Hz`, `1.42 A @ 120 Hz, 105 °C`.
#[must_use]
pub fn print(ripple: &Ripple) -> String {
    format!("{} A{}", ripple.ripple_a, conditions(ripple.hz, ripple.temp_c))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rated(ripple_a: f64, hz: Option<f64>, temp_c: Option<f64>) -> Reading<Ripple> {
        Reading::Value(Ripple { ripple_a, hz, temp_c })
    }

    // Hand-made cases, spellings as met in public schematic fields.
    #[test]
    fn the_condition_is_kept() {
        let free = |text: &str| read(text, &Column::default());
        assert_eq!(free("1.35A @ 100kHz"), rated(1.35, Some(100_000.0), None));
        assert_eq!(free("67.5mA @ 120Hz"), rated(0.0675, Some(120.0), None));
        assert_eq!(free("110mA@120Hz"), rated(0.11, Some(120.0), None));
        assert_eq!(free("1,05 A @ 100 KHz"), rated(1.05, Some(100_000.0), None));
        assert_eq!(free("1.42 Arms (105 °C, 120 Hz)"), rated(1.42, Some(120.0), Some(105.0)));
        assert_eq!(free("450mArms/105℃,120Hz"), rated(0.45, Some(120.0), Some(105.0)));
        assert_eq!(free("2.18A"), rated(2.18, None, None));
    }

    #[test]
    fn unit_and_condition_come_from_the_column_when_the_cell_has_none() {
        let column = Column { unit: Some(Unit::Milliampere), hz: Some(120.0), temp_c: Some(105.0), ..Column::dot() };
        assert_eq!(read("45", &column), rated(0.045, Some(120.0), Some(105.0)));
        assert_eq!(read("1 760", &column), rated(1.76, Some(120.0), Some(105.0)));
        assert_eq!(read("1.2A @ 100kHz", &column), rated(1.2, Some(100_000.0), Some(105.0)));
    }

    #[test]
    fn a_bare_ripple_is_asked_not_defaulted() {
        assert!(
            matches!(read("45", &Column::default()), Reading::Ambiguous { options, .. } if options.len() == 2 && options[0].hz.is_none())
        );
    }

    #[test]
    fn what_is_no_ripple_is_refused() {
        for text in ["0", "0 mA", "45 V", "120Hz", "1A 2A", "n.b.", "1A @ 0Hz"] {
            assert!(matches!(read(text, &Column::default()), Reading::Bad { .. }), "{text}");
        }
    }
}
