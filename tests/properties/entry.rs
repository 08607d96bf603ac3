//! Of `files/entry.rs`: what a person types into a field of the schema: read into it, and printed so that it reads back.

use proptest::prelude::*;

use refarad::domain::schema::{BOARD, Field, JOB, Kind, PHASE, RIPPLE_LINE, SHELF};
use refarad::domain::{Bounds, Job, Position, Unit, schema};
use refarad::files::entry::{enter, print, read, show};

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
        (Unit::Number, "55 %", 0.55),
        (Unit::Watt, "1.2 kW", 1200.0),
        (Unit::Microhenry, "47 mH", 47_000.0),
        (Unit::Second, "20 ms", 0.02),
        (Unit::Ohm, "330 mohm", 0.33),
        (Unit::Ohm, "10 Mohm", 1e7),
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
        (Unit::Piece, Bounds::Count, "2.5", "2.5: expected a whole number from 1 to 1000000000"),
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
        job.shelf.push(refarad::domain::ShelfStock::default());
        fill(SHELF.iter(), &mut job.shelf[0], &typed);
        let mut board = refarad::domain::Board::default();
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
        let text = refarad::files::job::to_text(&job);
        let read = refarad::files::job::from_slice(text.as_bytes(), std::path::Path::new("a.json"));
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
