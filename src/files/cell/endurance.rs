//! Endurance: hours at a temperature.
//!
//! `2000 Hrs @ 125°C`, `1000hr @ 85degC`, `10000hrs@105℃`, `5 000 h @ 105 °C`, `5 kh`.

use super::scan::{Join, only_quantities};
use super::unit::{Kind, Unit};
use super::{Column, Reading, ask, decide};

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
#[must_use]
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
                Some(hours) => ask("unit of a bare endurance", vec![hours]),
                None => Reading::bad("an endurance must be between 48 and a million hours"),
            },
        }
    })
}

/// `2000 h @ 125 °C`.
#[must_use]
pub fn print(endurance: &Endurance) -> String {
    match endurance.temp_c {
        Some(temp_c) => format!("{} h @ {temp_c} °C", endurance.hours),
        None => format!("{} h", endurance.hours),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Hand-made cases, spellings as met in public schematic fields.
    #[test]
    fn spellings_of_the_trade() {
        for (text, hours, temp_c) in [
            ("2000 Hrs @ 125°C", 2000.0, Some(125.0)),
            ("1000hr @ 85degC", 1000.0, Some(85.0)),
            ("10000hrs@105℃", 10_000.0, Some(105.0)),
            ("5000 h @ 105 °C", 5000.0, Some(105.0)),
            ("5 000 h @ 105 °C", 5000.0, Some(105.0)),
            ("2000 hours at 105 deg C", 2000.0, Some(105.0)),
            ("2000h (105C)", 2000.0, Some(105.0)),
            ("105°C 2000h", 2000.0, Some(105.0)),
            ("3000 h", 3000.0, None),
            ("8 kh", 8000.0, None),
        ] {
            assert_eq!(read(text, &Column::dot()), Reading::Value(Endurance { hours, temp_c }), "{text}");
        }
        let column = Column { temp_c: Some(105.0), ..Column::dot().with_unit(Unit::Hour) };
        assert_eq!(read("5000", &column), Reading::Value(Endurance { hours: 5000.0, temp_c: Some(105.0) }));
    }

    #[test]
    fn grouped_thousands_are_no_two_hours() {
        for text in ["2,000 h", "2.000 h", "2 000 h"] {
            assert_eq!(read(text, &Column::default()).value().map(|life| life.hours), Some(2000.0), "{text}");
        }
        assert!(matches!(read("100.000 h", &Column::default()), Reading::Ambiguous { .. }));
    }

    #[test]
    fn what_is_no_endurance_is_refused() {
        for text in ["0 h", "1000~2000h", "105°C", "2000 h @ 221°F", "15 years", "2000 V"] {
            assert!(
                matches!(read(text, &Column::default()), Reading::Bad { .. }),
                "{text}: {:?}",
                read(text, &Column::default())
            );
        }
    }
}
