//! Numbers with units as a person types them: `58`, `58 °C`, `0,8A`, `66 kHz`, `55 %`; read as the cells of a parts list are.

use crate::files::cell::unit::Unit;
use crate::files::cell::{Column, Reading, number, quantity};

/// The value of `text` in `unit`; empty text is "not known". A multiple of the unit (`mA`, `kHz`) is understood, a percent sign is a
/// hundredth where the unit is a plain number, and a comma is a decimal sign; a number that can mean two things is refused.
///
/// # Errors
/// What was expected, when something else stands there.
pub(super) fn read(text: &str, unit: &str) -> Result<Option<f64>, String> {
    // In parts lists `MOHM` may be a milliohm; a person who types a capital M means mega.
    let text = &text.trim().replace("Mohm", "MΩ").replace("MOHM", "MΩ");
    // `V rms` is meant when somebody types `V`.
    let word = unit.split(' ').next().unwrap_or_default();
    // Powers of ten stand in no parts list.
    let power = text.contains(['e', 'E']).then(|| text.parse().ok()).flatten();
    let reading = match of_cells(word) {
        _ if power.is_some_and(f64::is_finite) => return Ok(power),
        Some(known) => match quantity::read(text, known) {
            // `66k` leaves the unit out.
            Reading::Bad { .. } if text.ends_with(['k', 'M', 'm', 'u', 'µ']) => {
                quantity::read(&format!("{text}{}", word.trim_start_matches(['m', 'µ'])), known)
            }
            reading => reading,
        },
        None => elsewhere(text, word),
    };
    match reading {
        Reading::Nothing => Ok(None),
        Reading::Value(value) => Ok(Some(value)),
        Reading::Ambiguous { options, .. } => {
            let options: Vec<String> = options.iter().map(f64::to_string).collect();
            Err(format!("\"{text}\": {}? Write it in full", options.join(" or ")))
        }
        Reading::Bad { .. } => {
            let example = if unit.is_empty() { "0.5 or 50 %".to_owned() } else { format!("12 {unit}") };
            Err(format!("\"{text}\": expected a number such as {example}"))
        }
    }
}

/// The units that stand in parts lists, too.
fn of_cells(unit: &str) -> Option<Unit> {
    match unit {
        "V" | "A" | "Hz" | "K" | "°C" | "µF" | "mm" => Unit::parse(unit),
        "Ω" => Some(Unit::Ohm),
        "mΩ" => Some(Unit::Milliohm),
        "years" => Some(Unit::Year),
        "h" => Some(Unit::Hour),
        _ => None,
    }
}

/// Shares, W and µH, which no parts list has: a bare number with the unit or a multiple of it taken off.
fn elsewhere(text: &str, unit: &str) -> Reading<f64> {
    let spellings: &[(&str, f64)] = match unit {
        "" => &[("%", 0.01)],
        "W" => &[("mW", 1e-3), ("kW", 1e3), ("W", 1.0), ("m", 1e-3), ("k", 1e3)],
        "µH" => {
            &[("µH", 1.0), ("μH", 1.0), ("uH", 1.0), ("mH", 1e3), ("nH", 1e-3), ("H", 1e6), ("u", 1.0), ("m", 1e3)]
        }
        _ => &[],
    };
    let found = spellings.iter().find_map(|&(word, factor)| Some((text.strip_suffix(word)?, factor)));
    let (bare, factor) = found.unwrap_or((text.strip_suffix(unit).unwrap_or(text), 1.0));
    number::read(bare.trim_end(), &Column::default()).map(|value| value * factor)
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn numbers_are_read_with_their_unit_a_multiple_of_it_or_none() {
        let close = |text: &str, unit: &str, value: f64| {
            let found = read(text, unit).unwrap().unwrap();
            assert!((found - value).abs() <= 1e-9 * value.abs(), "{text} in {unit}: {found}");
        };
        close("58", "°C", 58.0);
        close("58 °C", "°C", 58.0);
        close("-5C", "°C", -5.0);
        close("0,8 A", "A", 0.8);
        close("800mA", "A", 0.8);
        close("66k", "Hz", 66_000.0);
        close("66 kHz", "Hz", 66_000.0);
        close("1e5", "Hz", 1e5);
        close("55 %", "", 0.55);
        close("0.55", "", 0.55);
        close("0", "Ω", 0.0);
        close("47 mH", "µH", 47_000.0);
        close("47", "µH", 47.0);
        close("1.2 kW", "W", 1200.0);
        close("60 W", "W", 60.0);
        close("230 V", "V rms", 230.0);
        close("0.33 ohm", "Ω", 0.33);
        close("330 mohm", "Ω", 0.33);
        close("10 Mohm", "Ω", 1e7);
        close("20 years", "years", 20.0);
        close("3 K", "K", 3.0);
    }

    #[test]
    fn nothing_is_unknown_and_nonsense_is_refused_with_an_example() {
        assert_eq!(read("  ", "A"), Ok(None));
        assert!(read("warm", "°C").unwrap_err().contains("expected a number such as 12 °C"));
        assert!(read("12 V", "A").is_err());
        assert!(read("12 %", "A").is_err());
        assert!(read("1e999", "A").is_err());
    }

    #[test]
    fn a_number_that_can_mean_two_things_is_asked_about_and_not_guessed() {
        assert_eq!(read("1,500", "Hz").unwrap_err(), "\"1,500\": 1500 or 1.5? Write it in full");
    }
}
