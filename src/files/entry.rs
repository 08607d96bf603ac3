//! What a person types into a field of the schema: read into it, and printed so that it reads back.

use super::cell::{Column, Reading, number, quantity, unit::Unit as CellUnit};
use crate::domain::schema::{Access, Field, Kind, Text};
use crate::domain::{Bounds, Unit};

/// One foot is 0.3048 m (exact, international foot).
const M_PER_S_OF_FT_PER_MIN: f64 = 0.3048 / 60.0;

/// The unit as cells of tables know it; `None` for figures that stand in no table.
fn of_cells(unit: Unit) -> Option<CellUnit> {
    match unit {
        // Their signs mean something else in a table.
        Unit::Share | Unit::Degree => None,
        known => CellUnit::parse(known.symbol()),
    }
}

/// The number times ten to the `places`, exactly as a person would move the point.
fn shifted(value: f64, places: i32) -> f64 {
    format!("{value}e{places}").parse().unwrap_or(value)
}

/// The value rounded to so many digits.
fn rounded(value: f64, digits: usize) -> f64 {
    format!("{value:.digits$e}").parse().unwrap_or(value)
}

/// A bare number behind which a spelling of the unit may stand, and which of them did.
fn bare<'a>(text: &str, spellings: &[&'a str]) -> (Reading<f64>, Option<&'a str>) {
    let found = spellings.iter().find_map(|word| Some((*word, text.strip_suffix(word)?)));
    let (word, rest) = found.map_or((None, text), |(word, rest)| (Some(word), rest.trim_end()));
    (number::read(rest, &Column::default()), word)
}

/// Multiples of what stands in no table, as powers of ten.
fn multiples(unit: Unit) -> &'static [(&'static str, i32)] {
    match unit {
        Unit::Number => &[("%", -2)],
        Unit::Watt => &[("mW", -3), ("kW", 3), ("W", 0), ("m", -3), ("k", 3)],
        Unit::Microhenry => {
            &[("µH", 0), ("μH", 0), ("uH", 0), ("mH", 3), ("nH", -3), ("H", 6), ("µ", 0), ("u", 0), ("m", 3)]
        }
        Unit::Second => &[("ms", -3), ("µs", -6), ("μs", -6), ("us", -6), ("ns", -9), ("s", 0)],
        _ => &[],
    }
}

/// Reads a figure as a person types it: `None` for nothing or a mark for "not known". Multiples of the unit are understood.
///
/// # Errors
/// In words, when it is not one figure in this unit or not in `bounds`.
pub fn read(unit: Unit, bounds: Bounds, text: &str) -> Result<Option<f64>, String> {
    // In parts lists `MOHM` may be a milliohm; a person who types a capital M means mega.
    let text = &text.trim().replace('−', "-").replace("Mohm", "MΩ").replace("MOHM", "MΩ");
    if text.eq_ignore_ascii_case("unknown") {
        return Ok(None);
    }
    // Powers of ten stand in no parts list; of a file or a calculator they do.
    let power = text.contains(['e', 'E']).then(|| text.parse::<f64>().ok()).flatten().filter(|value| value.is_finite());
    let reading = match (unit, of_cells(unit)) {
        _ if power.is_some() => power.map_or(Reading::Nothing, Reading::Value),
        (_, Some(known)) => match quantity::read(text, known) {
            // `66k` leaves the unit out.
            Reading::Bad { .. } if text.ends_with(['k', 'M', 'm', 'u', 'µ']) => {
                let base = unit.symbol().trim_start_matches(['m', 'µ', 'k']);
                quantity::read(&format!("{text}{base}"), known)
            }
            reading => reading,
        },
        (Unit::Share, None) => match bare(text, &["%"]) {
            // A bare number above 1 is percent: no share is.
            (Reading::Value(value), word) if word.is_some() || value > 1.0 => Reading::Value(shifted(value, -2)),
            (reading, _) => reading,
        }
        // As many digits as come back from percent unchanged.
        .map(|share| rounded(share, 14)),
        (Unit::AirSpeed, None) => match bare(text, &["m/s", "ft/min", "lfm"]) {
            (reading, Some("ft/min" | "lfm")) => reading,
            (reading, _) => reading.map(|speed| rounded(speed / M_PER_S_OF_FT_PER_MIN, 8)),
        },
        (_, None) => {
            let power = |(word, power): &(&str, i32)| Some((text.strip_suffix(word)?.trim_end(), *power));
            let (text, power) = multiples(unit).iter().find_map(power).unwrap_or((text, 0));
            bare(text, &[unit.symbol()]).0.map(|value| shifted(value, power))
        }
    };
    // What no parts list would mean, such as 0 µF, may stand in a file: only the bounds say whether it may stand here.
    let reading = match (reading, bare(text, &[unit.symbol()]).0) {
        (Reading::Bad { .. }, plain @ Reading::Value(_)) => plain,
        (reading, _) => reading,
    };
    match reading {
        Reading::Nothing => Ok(None),
        Reading::Value(value) => match bounds.complaint(value) {
            Some(expected) => Err(format!("{}: {expected}", print(unit, value))),
            None => Ok(Some(value)),
        },
        Reading::Ambiguous { what, options } => {
            let options: Vec<String> = options.iter().map(|value| print(unit, *value)).collect();
            Err(format!("{what}: {}? Write it in full.", options.join(" or ")))
        }
        Reading::Bad { reason } if unit.symbol().is_empty() => Err(format!("{reason}; expected a number")),
        Reading::Bad { reason } => Err(format!("{reason}; expected a figure in {}", unit.symbol())),
    }
}

/// Every digit of a number, so that it reads back: `1.175` could be thousands, `1.1750` cannot.
fn plain(value: f64) -> String {
    let text = value.to_string();
    let groups = text.trim_start_matches('-').split_once('.');
    let open = groups.is_some_and(|(whole, rest)| rest.len() == 3 && whole.len() <= 3 && !whole.starts_with('0'));
    if open { text + "0" } else { text }
}

/// The figure with its unit, every digit of it; [`read`] gives it back.
pub fn print(unit: Unit, value: f64) -> String {
    match unit {
        Unit::Share => format!("{} %", plain(shifted(value, 2))),
        Unit::AirSpeed => format!("{} m/s", plain(rounded(value * M_PER_S_OF_FT_PER_MIN, 6))),
        Unit::Hertz if (1e3..1e9).contains(&value.abs()) && value % 10.0 == 0.0 => {
            format!("{} kHz", plain(shifted(value, -3)))
        }
        Unit::Degree => format!("{}°", plain(value)),
        _ if unit.symbol().is_empty() => plain(value),
        _ => format!("{} {}", plain(value), unit.symbol()),
    }
}

/// What stands in a field, as a person would type it; `None` where nothing does.
pub fn show<T>(field: &Field<T>, of: &T) -> Option<String> {
    match (field.access, field.kind) {
        (Access::Number(get, _), Kind::Number(unit, _)) => get(of).map(|value| print(unit, value)),
        (Access::Word(get, _), _) => get(of).map(str::to_owned),
        (Access::Text(get, _), _) => get(of).filter(|text| !text.is_empty()),
        (Access::Flag(get, _), _) => get(of).then(|| "yes".to_owned()),
        _ => None,
    }
}

/// Puts what a person typed into a field; nothing typed is "not known", or the default where the field always has a value.
///
/// # Errors
/// In words, why it cannot stand there.
pub fn enter<T>(field: &Field<T>, of: &mut T, typed: &str) -> Result<(), String> {
    let text = Some(typed.trim()).filter(|text| !text.is_empty());
    match (field.access, field.kind) {
        (Access::Number(_, set), Kind::Number(unit, bounds)) => set(of, read(unit, bounds, typed)?),
        (Access::Word(_, set), Kind::Word(words)) => set(of, text.map(|text| word(text, words)).transpose()?),
        (Access::Text(_, set), Kind::Text(shape)) => {
            // A note keeps its blanks and lines.
            let text = if shape == Text::Note { text.map(|_| typed) } else { text };
            if let Some(expected) = text.and_then(|text| shape.complaint(text)) {
                return Err(expected.to_owned());
            }
            set(of, text);
        }
        (Access::Flag(_, set), _) => match text.map(str::to_lowercase).as_deref() {
            Some("yes" | "true" | "1") => set(of, true),
            None | Some("no" | "false" | "0") => set(of, false),
            Some(_) => return Err("expected yes or no".to_owned()),
        },
        _ => return Err("expected a list; it cannot be entered as one text".to_owned()),
    }
    Ok(())
}

/// The word of a choice that is meant; case, blanks and marks do not matter.
///
/// # Errors
/// Naming the words, when it is none of them.
pub fn word(text: &str, words: &[&'static str]) -> Result<&'static str, String> {
    let plain = |text: &str| text.to_lowercase().replace([' ', '-', '_'], "");
    // Files have the words as they are, a million times.
    let as_is = words.iter().find(|known| **known == text);
    let found = as_is.or_else(|| words.iter().find(|known| plain(known) == plain(text)));
    found.copied().ok_or_else(|| format!("{text}: expected {}", one_of(words)))
}

/// `wet, hybrid or polymer`.
pub fn one_of(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
