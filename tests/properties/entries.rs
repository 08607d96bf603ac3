//! Whatever the loader of a job accepts, an entry shows, and takes back as it is shown.

use std::path::Path;

use proptest::prelude::*;
use refarad::domain::schema::{
    self, About, BOARD, Field, JOB, Kind, OTHER_PART, PHASE, POSITION_RECORD, RIPPLE_LINE, SHELF, TEST_POINT, Text,
    UNIT, UNIT_TYPE, VARIANT,
};
use refarad::domain::{Bounds, Unit};
use refarad::files::{entry, job};
use serde_json::{Value, json};

use super::scenes::{Dice, dice};

/// A number inside the bounds: its ends, whole ones, ones with every digit.
fn number(bounds: Bounds, dice: &mut Dice) -> f64 {
    let (least, most) = bounds.range();
    let (low, high) = (least.max(-1000.0), most.min(1000.0));
    let any = dice.between(low, high);
    let some = [any, any.round(), (any * 10.0).round() / 10.0, any * 1e-3, least, most, most.min(1e7), 1.175, 66_000.0];
    Some(dice.pick(&some)).filter(|&value| bounds.complaint(value).is_none()).unwrap_or_else(|| most.min(2000.0))
}

/// Something that the field may hold; `None` for lists and drawings.
fn value(about: &About, dice: &mut Dice) -> Option<Value> {
    Some(match about.kind {
        #[expect(clippy::cast_possible_truncation, reason = "bounds of whole fields are far below 2^53")]
        Kind::Number(_, bounds) if bounds.whole() => json!(number(bounds, dice) as i64),
        Kind::Number(_, bounds) => json!(number(bounds, dice)),
        Kind::Word(words) => json!(dice.pick(words)),
        Kind::Flag => json!(dice.chance(0.5)),
        Kind::Text(Text::Date) => json!(dice.pick(&["2026-10-02", "1999-12-31", "2024-02-29"])),
        Kind::Text(Text::File) => json!(dice.pick(&["a.csv", "photos/front side.jpg", "été.png"])),
        Kind::Text(Text::Pairs(first, second)) => {
            let first = [number(first, dice), first.range().1.min(1e5)];
            let of_second = [number(second, dice), number(second, dice)];
            let rising = format!("{}:{};{}:{}", first[0], of_second[0], first[1], of_second[1]);
            json!(if first[0] < first[1] { rising } else { format!("{}:{}", first[1], of_second[0]) })
        }
        Kind::Text(_) => json!(dice.pick(&[
            "C1",
            "unknown",
            "35 V",
            "-",
            "0",
            "yes",
            "null",
            "電解 470 µF 🔧",
            "a \"quoted\"; text, with marks",
            "\u{202e}turned\u{202c}",
            "two  blanks",
            "1,500"
        ])),
        _ => return None,
    })
}

/// Puts something into most fields of an object; their paths begin with `before` there.
fn fill<T: 'static>(
    fields: impl Iterator<Item = &'static Field<T>>,
    before: &str,
    object: &mut Value,
    dice: &mut Dice,
) {
    for field in fields {
        let path = field.path.strip_prefix(before).unwrap_or(field.path);
        if let Some(value) = value(field, dice).filter(|_| dice.chance(0.8)) {
            let mut at = &mut *object;
            for name in path.split('.') {
                at = &mut at[name];
            }
            *at = value;
        }
    }
}

/// Whether an entry takes back what it shows of each field, and what the document has is shown. How many were compared.
fn compare<T: Clone + PartialEq + std::fmt::Debug + 'static>(
    fields: impl Iterator<Item = &'static Field<T>>,
    before: &str,
    document: &Value,
    of: &T,
) -> usize {
    let mut compared = 0;
    for field in fields {
        let path = field.path.strip_prefix(before).unwrap_or(field.path);
        let written = path.split('.').try_fold(document, |at, name| at.get(name));
        let says = written.is_some_and(|value| *value != json!(false));
        let Some(shown) = entry::show(field, of) else {
            assert!(!says || matches!(field.access, schema::Access::Special), "{path}: {written:?} is not shown");
            continue;
        };
        let mut again = of.clone();
        entry::enter(field, &mut again, &shown).unwrap_or_else(|error| panic!("{path}: {shown}: {error}"));
        match (field.kind, field.figure(of), field.figure(&again)) {
            // Shown in another unit than in files, to as many digits as anybody measures.
            (Kind::Number(Unit::AirSpeed | Unit::Share, _), Some(a), Some(b)) => {
                assert!((a - b).abs() <= 1e-6 * a.abs(), "{path}: {shown}: {a} {b}");
            }
            // Entered by a person it is no longer assumed, which is another field.
            _ if path == "role" => assert_eq!(entry::show(field, &again), Some(shown)),
            _ => assert_eq!(again, *of, "{path}: {shown}"),
        }
        compared += usize::from(written.is_some());
    }
    compared
}

proptest! {
    #[test]
    fn whatever_the_loader_accepts_an_entry_shows_and_takes_back(mut dice in dice()) {
        let dice = &mut dice;
        let mut document = json!({ "format": "refarad-job", "version": 1 });
        let [mut board, mut position, mut line, mut phase, mut shelf, mut variant, mut unit, mut record, mut other,
            mut point, mut unit_type] = std::array::from_fn(|_| json!({}));
        fill(JOB.iter(), "job.", &mut document, dice);
        fill(BOARD.iter(), "board.", &mut board, dice);
        fill(schema::of_position(), "", &mut position, dice);
        fill(RIPPLE_LINE.iter(), "stress.ripple.", &mut line, dice);
        fill(PHASE.iter(), "stress.phases.", &mut phase, dice);
        fill(SHELF.iter(), "shelf.", &mut shelf, dice);
        fill(VARIANT.iter(), "variants.", &mut variant, dice);
        fill(UNIT.iter(), "bench.", &mut unit, dice);
        fill(POSITION_RECORD.iter(), "bench.positions.", &mut record, dice);
        fill(OTHER_PART.iter(), "other_parts.", &mut other, dice);
        fill(TEST_POINT.iter(), "test_points.", &mut point, dice);
        fill(UNIT_TYPE.iter(), "unit_types.", &mut unit_type, dice);
        position["stress"]["ripple"] = json!([line]);
        position["stress"]["phases"] = json!([phase]);
        board["positions"] = json!([position]);
        board["other_parts"] = json!([other]);
        unit["positions"] = json!([record]);
        for (name, row) in [("boards", &board), ("shelf", &shelf), ("variants", &variant), ("bench", &unit),
            ("test_points", &point), ("unit_types", &unit_type)]
        {
            document[name] = json!([row]);
        }
        let read = job::from_slice(document.to_string().as_bytes(), Path::new("a.json"));
        let job = read.map_err(|error| TestCaseError::fail(error.to_string()))?.job;
        let (of_board, of_unit) = (&job.boards[0], &job.bench[0]);
        let of_position = &of_board.positions[0];
        let compared = compare(JOB.iter(), "job.", &document, &job)
            + compare(BOARD.iter(), "board.", &board, of_board)
            + compare(schema::of_position(), "", &position, of_position)
            + compare(RIPPLE_LINE.iter(), "stress.ripple.", &line, &of_position.stress.ripple.as_ref().unwrap()[0])
            + compare(PHASE.iter(), "stress.phases.", &phase, &of_position.stress.phases.as_ref().unwrap()[0])
            + compare(SHELF.iter(), "shelf.", &shelf, &job.shelf[0])
            + compare(VARIANT.iter(), "variants.", &variant, &job.variants[0])
            + compare(UNIT.iter(), "bench.", &unit, of_unit)
            + compare(POSITION_RECORD.iter(), "bench.positions.", &record, &of_unit.positions[0])
            + compare(OTHER_PART.iter(), "other_parts.", &other, &of_board.other_parts[0])
            + compare(TEST_POINT.iter(), "test_points.", &point, &job.test_points[0])
            + compare(UNIT_TYPE.iter(), "unit_types.", &unit_type, &job.unit_types[0]);
        prop_assert!(compared > 50, "{compared}");
    }
}
