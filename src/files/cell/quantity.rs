//! One figure of a known unit as a person types it into a field: `470u`, `1.2 A`, `-0.5 V`, `58 °C`, `35V`, `4u7`, `0`.
//!
//! Unlike the readers of catalogue cells it takes zero and signs: which values make sense is up to the field.

use super::digits::Number;
use super::scan::{Join, only_quantities};
use super::unit::{Kind, Unit};
use super::{Column, Reading, capacitance, decide, length};

/// Reads a figure in `unit`, which is also that of a number without one.
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
