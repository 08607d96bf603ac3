//! A figure together with the frequency and temperature it holds at.

use super::digits::Number;
use super::scan::{Join, only_quantities};
use super::unit::{Kind, Unit};
use super::{Column, Decimal, Reading};

/// A figure with its conditions.
pub(super) struct Rated {
    /// The figure.
    pub(super) number: Number,
    /// Its unit, from the cell.
    pub(super) unit: Option<Unit>,
    /// Frequency it holds at, in Hz; `None` when neither cell nor column says.
    pub(super) hz: Option<f64>,
    /// Temperature it holds at, in °C; `None` when neither cell nor column says.
    pub(super) temp_c: Option<f64>,
}

/// Takes a cell apart into the one figure of `kind` and its conditions. `name` is for messages: `resistance`.
pub(super) fn rated<T>(
    text: &str,
    column: &Column,
    decimal: Decimal,
    kind: Kind,
    name: &str,
) -> Result<Rated, Reading<T>> {
    let (mut figure, mut hz, mut temp_c) = (None, None, None);
    // `1 760` in a column of mA at 120 Hz is one figure; where the header gives no condition, the second could be one.
    let told = column.hz.is_some() && column.unit.is_some_and(|unit| unit.kind() == kind);
    let join = if told { Join::Blanks } else { Join::Never };
    for quantity in only_quantities(text, decimal, join)? {
        let slot = match quantity.unit.map(Unit::kind) {
            Some(Kind::Frequency) => &mut hz,
            Some(Kind::Temperature) => &mut temp_c,
            None => &mut figure,
            Some(own) if own == kind => &mut figure,
            Some(_) => return Err(Reading::bad(format!("`{text}` is not a {name}"))),
        };
        if slot.replace(quantity).is_some() {
            return Err(Reading::bad(format!("`{text}` holds more than one {name} or condition")));
        }
    }
    let Some(figure) = figure else { return Err(Reading::bad(format!("no {name} in `{text}`"))) };
    let hz = match hz {
        Some(hz) => match hz.unit.and_then(Unit::exponent).and_then(|exponent| hz.number.shifted(exponent)) {
            Some(hz) if hz > 0.0 => Some(hz),
            _ => return Err(Reading::bad(format!("no usable frequency in `{text}`"))),
        },
        None => column.hz,
    };
    let temp_c = match temp_c {
        Some(temp) if temp.unit == Some(Unit::Celsius) => temp.number.value(),
        Some(_) => return Err(Reading::bad(format!("the temperature in `{text}` is not in °C"))),
        None => column.temp_c,
    };
    Ok(Rated { number: figure.number, unit: figure.unit, hz, temp_c })
}

/// The conditions behind a printed figure: ` @ 100000 Hz, 20 °C`; nothing where none is known.
pub(super) fn conditions(hz: Option<f64>, temp_c: Option<f64>) -> String {
    let known: Vec<String> =
        [hz.map(|hz| format!("{hz} Hz")), temp_c.map(|temp_c| format!("{temp_c} °C"))].into_iter().flatten().collect();
    if known.is_empty() { String::new() } else { format!(" @ {}", known.join(", ")) }
}
