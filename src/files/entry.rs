//! What a person types into a field of the schema: read into it, and printed so that it reads back.

use super::cell::{Column, Reading, number, quantity, unit::Unit as CellUnit};
use crate::domain::schema::{Access, Field, Kind, Text};
use crate::domain::{Bounds, Unit};

/// One foot is 0.3048 m (exact, international foot).
const M_PER_S_OF_FT_PER_MIN: f64 = 0.3048 / 60.0;

/// The unit as cells of tables know it; `None` for figures that stand in no table.
fn of_cells(unit: Unit) -> Option<CellUnit> {
    Some(match unit {
        Unit::Microfarad => CellUnit::Microfarad,
        Unit::Volt => CellUnit::Volt,
        Unit::Ampere => CellUnit::Ampere,
        Unit::Microampere => CellUnit::Microampere,
        Unit::Milliohm => CellUnit::Milliohm,
        Unit::Kilohm => CellUnit::Kilohm,
        Unit::Ohm => CellUnit::Ohm,
        Unit::Hertz => CellUnit::Hertz,
        Unit::Hour => CellUnit::Hour,
        Unit::Year => CellUnit::Year,
        Unit::Celsius => CellUnit::Celsius,
        Unit::Kelvin => CellUnit::Kelvin,
        Unit::Millimetre => CellUnit::Millimetre,
        Unit::Percent => CellUnit::Percent,
        Unit::Number | Unit::Day | Unit::Degree | Unit::Share | Unit::AirSpeed | Unit::Piece | Unit::Money => {
            return None;
        }
    })
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

/// Reads a figure as a person types it: `None` for nothing or a mark for "not known". Multiples of the unit are understood.
///
/// # Errors
/// In words, when it is not one figure in this unit or not in `bounds`.
pub fn read(unit: Unit, bounds: Bounds, text: &str) -> Result<Option<f64>, String> {
    let text = &text.trim().replace('−', "-");
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
        (_, None) => bare(text, &[unit.symbol()]).0,
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
#[must_use]
pub fn print(unit: Unit, value: f64) -> String {
    match unit {
        Unit::Share => format!("{} %", plain(shifted(value, 2))),
        Unit::AirSpeed => format!("{} m/s", plain(rounded(value * M_PER_S_OF_FT_PER_MIN, 6))),
        Unit::Hertz if value.abs() >= 1000.0 && value % 10.0 == 0.0 => format!("{} kHz", plain(shifted(value, -3))),
        Unit::Degree => format!("{}°", plain(value)),
        _ if unit.symbol().is_empty() => plain(value),
        _ => format!("{} {}", plain(value), unit.symbol()),
    }
}

/// What stands in a field, as a person would type it; `None` where nothing does.
#[must_use]
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
#[must_use]
pub fn one_of(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::schema::{self, BOARD, JOB, PHASE, RIPPLE_LINE, SHELF};
    use crate::domain::{Job, Position};
    use proptest::prelude::*;

    #[test]
    fn figures_are_read_in_their_unit_a_multiple_of_it_or_none() {
        for (unit, text, value) in [
            (Unit::Volt, "35 V", 35.0),
            (Unit::Volt, "−0.5", -0.5),
            (Unit::Hertz, "66k", 66_000.0),
            (Unit::Hertz, "1e5", 1e5),
            (Unit::Share, "80 %", 0.8),
            (Unit::Share, "80", 0.8),
            (Unit::Share, "0.8", 0.8),
            (Unit::Share, "55.1%", 0.551),
            (Unit::AirSpeed, "0.508 m/s", 100.0),
            (Unit::AirSpeed, "0.508", 100.0),
            (Unit::AirSpeed, "200 ft/min", 200.0),
            (Unit::Kilohm, "47k", 47.0),
            (Unit::Millimetre, "0.5\"", 12.7),
            (Unit::Number, "0,8", 0.8),
            (Unit::Volt, "1.1750 V", 1.175),
        ] {
            assert_eq!(read(unit, Bounds::Signed, text), Ok(Some(value)), "{text}");
        }
        assert_eq!(read(Unit::Volt, Bounds::Volts, " "), Ok(None));
    }

    #[test]
    fn a_refusal_says_what_stands_there_and_what_was_expected() {
        let refusal = read(Unit::Volt, Bounds::Positive, "35 A").unwrap_err();
        assert!(refusal.contains("`35 A`") && refusal.contains("in V"), "{refusal}");
        for (unit, bounds, text, expected) in [
            (Unit::Share, Bounds::Share, "120 %", "120 %: expected a share above 0 % and up to 100 %"),
            (Unit::Volt, Bounds::PeakVolts, "-200", "-200 V: expected a voltage from 0 to 10 kV"),
            (Unit::Hour, Bounds::HoursOfYear, "9999", "9999 h: expected hours above 0 and up to 8784, a leap year"),
            (Unit::Piece, Bounds::Count, "2.5", "2.5: expected a whole number of 1 or more"),
            (Unit::Hertz, Bounds::Signed, "1,500", "1.5 kHz or 1.5 Hz? Write it in full."),
        ] {
            let refusal = read(unit, bounds, text).unwrap_err();
            assert!(refusal.contains(expected), "{refusal}");
        }
    }

    #[test]
    fn words_and_texts_are_checked_where_they_are_typed() {
        let field = |path: &str| schema::of_position().find(|field| field.path == path).unwrap();
        let mut position = Position::default();
        enter(field("original.mounting"), &mut position, "Snap-in").unwrap();
        enter(field("measured.date"), &mut position, "2026-10-02").unwrap();
        assert_eq!(show(field("original.mounting"), &position).as_deref(), Some("snap_in"));
        for (path, bad) in [
            ("original.mounting", "glued"),
            ("measured.date", "yesterday"),
            ("original.ripple_temp_factors", "85:1.7;900:2"),
            ("parallel_group", &"x".repeat(501)),
            ("note", &"x".repeat(10_001)),
        ] {
            assert!(enter(field(path), &mut position, bad).is_err(), "{path}");
        }
        enter(field("measured.date"), &mut position, "").unwrap();
        assert_eq!(position.measured, None);
    }

    /// Something a person might type into any field.
    fn typed() -> impl Strategy<Value = String> {
        prop_oneof![
            (-20_000.0f64..20_000.0).prop_map(|value| value.to_string()),
            (0u32..3000).prop_map(|value| value.to_string()),
            (0.0f64..1.5).prop_map(|value| format!("{value} %")),
            "[a-z_;:0-9., µ%-]{0,12}",
            Just("2026-10-02".to_owned()),
            Just("85:1.7;65:2.1".to_owned()),
            prop::sample::select(&["radial", "wet", "timing", "voltage", "bottom", "yes"][..]).prop_map(str::to_owned),
        ]
    }

    /// Types into every field of a `T` and gives back what was accepted, shown.
    fn fill<T: 'static>(fields: impl Iterator<Item = &'static Field<T>>, of: &mut T, typed: &[String]) {
        for (field, text) in fields.zip(typed.iter().cycle()) {
            let before = show(field, of);
            if enter(field, of, text).is_ok() {
                // What is shown is what was accepted: typed again it changes nothing.
                if let Some(shown) = show(field, of) {
                    enter(field, of, &shown).unwrap();
                    assert_eq!(show(field, of), Some(shown), "{}", field.path);
                }
            } else {
                assert_eq!(show(field, of), before, "{}", field.path);
            }
        }
    }

    proptest! {
        #[test]
        fn whatever_an_entry_accepts_is_saved_and_loaded_unchanged(typed in prop::collection::vec(typed(), 1..97)) {
            let mut job = Job::default();
            fill(JOB.iter(), &mut job, &typed);
            job.shelf.push(crate::domain::ShelfStock::default());
            fill(SHELF.iter(), &mut job.shelf[0], &typed);
            let mut board = crate::domain::Board::default();
            fill(BOARD.iter(), &mut board, &typed);
            let mut position = Position::default();
            fill(schema::of_position(), &mut position, &typed);
            let (mut line, mut phase) = Default::default();
            fill(RIPPLE_LINE.iter(), &mut line, &typed);
            fill(PHASE.iter(), &mut phase, &typed);
            position.stress.ripple = Some(vec![line]);
            position.stress.phases = Some(vec![phase]);
            board.positions.push(position);
            job.boards.push(board);
            let text = crate::files::job::to_text(&job);
            let read = crate::files::job::from_slice(text.as_bytes(), std::path::Path::new("a.json"));
            prop_assert_eq!(read.map(|read| read.job).map_err(|error| error.to_string()), Ok(job));
        }

        #[test]
        fn a_printed_figure_reads_back(value in 0.001f64..900.0, at in 0usize..100) {
            let fields: Vec<_> = schema::of_position().collect();
            if let Kind::Number(unit, _) = fields[at % fields.len()].kind
                && unit != Unit::AirSpeed
            {
                prop_assert_eq!(read(unit, Bounds::Signed, &print(unit, value)), Ok(Some(value)));
            }
        }
    }
}
