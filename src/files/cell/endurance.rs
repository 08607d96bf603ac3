//! Endurance: hours at a temperature.
//!
//! `2000 Hrs @ 125°C`, `1000hr @ 85degC`, `10000hrs@105℃`, `5 000 h @ 105 °C`, `5 kh`.

use super::scan::{Join, only_quantities};
use super::unit::{Kind, Unit};
use super::{Column, Doubt, Reading, ask, decide};

/// A life test as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Endurance {
    /// Length of the test, h.
    pub hours: f64,
    /// Temperature of the test, in °C; `None` when neither cell nor column says.
    pub temp_c: Option<f64>,
}

/// Endurances that exist, in hours: no life test of a capacitor is shorter than two days (common practice, no source), and a million
/// hours are over a century. `2,000 hours` is therefore not two hours.
const POSSIBLE_H: std::ops::RangeInclusive<f64> = 48.0..=1e6;

/// Reads an endurance. A bare number takes the column's unit; without one it is asked.
pub fn read(text: &str, column: &Column) -> Reading<Endurance> {
    // `2k hrs`: thousand hours in two words.
    let joined = ["k hours", "k hrs", "k hr", "k h"].iter().find(|of| text.contains(**of));
    let text = joined.map_or_else(|| text.to_owned(), |of| text.replace(of, "kh"));
    let at = [" a ", " à ", " bei ", " bij ", " przy ", " při ", " при "].iter().find(|of| text.contains(**of));
    let text = at.map_or_else(|| text.clone(), |of| text.replace(of, " @ "));
    decide(&text, column, |text, decimal| {
        let quantities = match only_quantities(text, decimal, Join::Blanks) {
            Ok(quantities) => quantities,
            Err(reading) => return reading,
        };
        let (time, temperature) = match quantities.as_slice() {
            [time] => (time, None),
            [a, b] if a.unit == Some(Unit::Celsius) => (b, Some(a)),
            [time, temperature] => (time, Some(temperature)),
            _ => return Reading::bad(format!("`{text}` holds more than an endurance")),
        };
        let temp_c = match temperature {
            None => column.temp_c,
            Some(temperature) if matches!(temperature.unit, Some(Unit::Celsius)) => temperature.number.value(),
            Some(other) if other.unit.is_some_and(|unit| unit.kind() == Kind::Temperature) => {
                return Reading::bad(format!("the temperature in `{text}` is not in °C"));
            }
            Some(_) => return Reading::bad(format!("`{text}` holds more than an endurance")),
        };
        let endurance = |unit: Unit| {
            let hours = unit.exponent().and_then(|exponent| time.number.shifted(exponent))?;
            POSSIBLE_H.contains(&hours).then_some(Endurance { hours, temp_c })
        };
        match time.unit.or(column.unit.filter(|unit| unit.kind() == Kind::Time)) {
            Some(unit @ (Unit::Hour | Unit::KiloHour)) => endurance(unit)
                .map_or_else(|| Reading::bad("an endurance must be between 48 and a million hours"), Reading::Value),
            Some(_) => Reading::bad(format!("`{text}` is not an endurance in hours")),
            None => match endurance(Unit::Hour) {
                Some(hours) => ask(Doubt::unit_of("endurance"), vec![hours]),
                None => Reading::bad("an endurance must be between 48 and a million hours"),
            },
        }
    })
}

/// `2000 h @ 125 °C`.
pub fn print(endurance: &Endurance) -> String {
    match endurance.temp_c {
        Some(temp_c) => format!("{} h @ {temp_c} °C", endurance.hours),
        None => format!("{} h", endurance.hours),
    }
}
