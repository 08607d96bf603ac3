//! One figure of a known unit as a person types it into a field: `470u`, `1.2 A`, `-0.5 V`, `58 °C`, `35V`, `4u7`, `0`.
//!
//! Unlike the readers of catalogue cells it takes zero and signs: which values make sense is up to the field.

use super::number::Number;
use super::scan::{Join, only_quantities};
use super::unit::{Kind, Unit};
use super::{Column, Reading, capacitance, decide, length};

/// Reads a figure in `unit`, which is also that of a number without one.
#[must_use]
pub fn read(text: &str, unit: Unit) -> Reading<f64> {
    if unit.kind() == Kind::Capacitance {
        return capacitance::read(text, &Column::default().with_unit(unit));
    }
    decide(text, &Column::default(), |text, decimal| {
        let quantities = match only_quantities(text, decimal, Join::Blanks) {
            Ok(quantities) => quantities,
            Err(reading) => return reading,
        };
        let [quantity] = quantities.as_slice() else {
            return Reading::bad(format!("`{text}` holds more than one figure"));
        };
        let written = quantity.unit.unwrap_or(unit);
        match converted(&quantity.number, written, unit) {
            Some(value) => Reading::Value(value),
            None => Reading::bad(format!("`{text}` is not what belongs here")),
        }
    })
}

fn converted(number: &Number, from: Unit, to: Unit) -> Option<f64> {
    if from == to {
        return number.value();
    }
    match (from.kind(), to) {
        (Kind::Length, Unit::Millimetre) => length::millimetres(number, from),
        (kind, _) if kind == to.kind() => number.shifted(from.exponent()? - to.exponent()?),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Hand-made cases.
    #[test]
    fn figures_are_read_with_and_without_their_unit() {
        for (text, unit, value) in [
            ("470u", Unit::Microfarad, 470.0),
            ("4u7", Unit::Microfarad, 4.7),
            ("2.2 mF", Unit::Microfarad, 2200.0),
            ("35V", Unit::Volt, 35.0),
            ("-0.5", Unit::Volt, -0.5),
            ("0", Unit::Volt, 0.0),
            ("1.2 A", Unit::Ampere, 1.2),
            ("850mA", Unit::Ampere, 0.85),
            ("58 °C", Unit::Celsius, 58.0),
            ("-25", Unit::Celsius, -25.0),
            ("100 kHz", Unit::Hertz, 100_000.0),
            ("0.08 ohm", Unit::Milliohm, 80.0),
            ("0.5\"", Unit::Millimetre, 12.7),
            ("6,3", Unit::Volt, 6.3),
            ("5 K", Unit::Kelvin, 5.0),
        ] {
            assert_eq!(read(text, unit), Reading::Value(value), "{text}");
        }
    }

    #[test]
    fn other_quantities_and_open_questions_are_refused() {
        for (text, unit) in
            [("35V", Unit::Ampere), ("high", Unit::Volt), ("5 K", Unit::Celsius), ("136 °F", Unit::Celsius)]
        {
            assert!(matches!(read(text, unit), Reading::Bad { .. }), "{text}");
        }
        assert!(matches!(read("4,700", Unit::Volt), Reading::Ambiguous { .. }));
        assert_eq!(read("", Unit::Volt), Reading::Nothing);
    }
}
