//! What the columns of a file mean, written, remembered and answered.

use std::path::Path;

use refarad::domain::Technology;
use refarad::files::cell::unit::Unit;
use refarad::files::cell::{Decimal, Order};
use refarad::files::import::answer::Answer;
use refarad::files::import::mapping::{recall, remember};
use refarad::files::import::{ColumnMeaning, Field, Mapping, Source, Target};
use refarad::files::table::Options;

fn mapping() -> Mapping {
    let mut mapping = Mapping::empty(Target::Parts);
    *mapping.column_mut("Cap (µF)") =
        ColumnMeaning { field: Some(Field::Capacitance), unit: Some(Unit::Microfarad), ..ColumnMeaning::default() };
    *mapping.column_mut("Rated ripple") = ColumnMeaning {
        field: Some(Field::Ripple),
        unit: Some(Unit::Milliampere),
        hz: Some(120.0),
        temp_c: Some(105.0),
        decimal: Some(Decimal::Dot),
        repeats: Some(true),
        set_aside: Some(false),
    };
    mapping.every_row.numbers.insert("endurance_h".into(), 2000.0);
    mapping.every_row.technology = Some(Technology::Wet);
    mapping.decimal = Some(Decimal::Comma);
    mapping.size_order = Some(Order::HeightFirst);
    mapping
}

#[test]
fn a_written_mapping_reads_back() {
    let text = mapping().to_text();
    assert_eq!(Mapping::from_slice(text.as_bytes(), Path::new("m.json")).unwrap(), mapping());
    assert!(text.contains("\"unit\": \"mA\"") && text.contains("height_first"), "{text}");
}

#[test]
fn faults_name_file_and_field() {
    let of = |text: &str| Mapping::from_slice(text.as_bytes(), Path::new("m.json")).unwrap_err().to_string();
    assert!(of("{").starts_with("m.json: expected JSON"));
    assert!(of("{}").contains("format"));
    assert!(of("{\"as\":\"parts\",\"as\":\"positions\"}").contains("\"as\" stands twice"));
    let head = r#"{"format":"refarad-mapping","version":1,"as":"parts","#;
    assert!(of(&format!("{head}\"columns\":{{\"A\":{{\"unit\":\"furlong\"}}}}}}")).contains("furlong"));
    assert!(of(&format!("{head}\"every_row\":{{\"ripple_hz\":-1}}}}")).contains("ripple_hz"));
    assert!(of(&format!("{head}\"every_row\":{{\"colour\":1}}}}")).contains("colour"));
}

#[test]
fn a_mapping_is_remembered_by_its_header_set_in_any_order_and_spelling() {
    let folder = tempfile::tempdir().unwrap();
    let header = |names: &[&str]| names.iter().map(ToString::to_string).collect::<Vec<_>>();
    remember(folder.path(), &header(&["Cap (µF)", "Rated ripple"]), &mapping()).unwrap();
    // What the columns mean, and no figure of the file: frequency, temperature, endurance.
    let mut meaning = Mapping::empty(Target::Parts);
    for name in ["Cap (µF)", "Rated ripple"] {
        let ColumnMeaning { field, unit, .. } = mapping().columns[name];
        *meaning.column_mut(name) = ColumnMeaning { field, unit, ..ColumnMeaning::default() };
    }
    assert_eq!(recall(folder.path(), &header(&["rated_ripple", "CAP μF"]), Target::Parts), Some(meaning));
    assert_eq!(recall(folder.path(), &header(&["Rated ripple"]), Target::Parts), None);
    assert_eq!(recall(folder.path(), &header(&["Cap (µF)", "Rated ripple"]), Target::Positions), None);
}

/// A list of lines gets headings of the reader's own, a table without a header numbered ones: the next such list is another one.
#[test]
fn nothing_is_remembered_for_a_table_without_a_header() {
    let folder = tempfile::tempdir().unwrap();
    let lines = "C1 220uF 50V\nC2 47uF 25V\nC3 10uF 63V\n";
    let table = "designator,value\nC1,220uF 50V\nC2,47uF 25V\n";
    for (text, remembered) in [(lines, false), (table, true)] {
        let mut source =
            Source::from_bytes(Path::new("a.txt"), text.as_bytes(), Some(Target::Positions), &Options::default())
                .unwrap();
        let name = source.table.header[1].clone();
        let mut other = source.mapping.clone();
        other.column_mut(&name).field = Some(Field::Maker);
        remember(folder.path(), &source.table.header, &other).unwrap();
        source.map_by(&[], Some(folder.path()));
        assert_eq!(!source.remembered.is_empty(), remembered, "{text}{:?}", source.table.header);
    }
}

#[test]
fn repeated_names_stay_apart() {
    let mut mapping = Mapping::empty(Target::Parts);
    mapping.column_mut("MPN").field = Some(Field::PartNumber);
    assert_eq!(mapping.column("MPN (2)"), None);
    assert_eq!(mapping.column("mpn").and_then(|column| column.field), Some(Field::PartNumber));
}

#[test]
fn every_answer_as_it_is_printed_is_taken() {
    for answer in [
        Answer::unit("Rated ripple (=)", Unit::Milliampere),
        Answer::at(["columns", "I.ripple", "hz"], 120.0),
        Answer::every_row("endurance_h", 5000.0),
        Answer::at(["unsaid_are_electrolytic"], true),
        Answer::at(["part_number_codes"], false),
    ] {
        let (mut by_text, mut by_answer) = (Mapping::empty(Target::Parts), Mapping::empty(Target::Parts));
        Answer::parse(&answer.to_string()).unwrap().apply(&mut by_text).unwrap();
        answer.apply(&mut by_answer).unwrap();
        assert!(by_text == by_answer && by_text != Mapping::empty(Target::Parts), "{answer}");
    }
    let mut mapping = Mapping::empty(Target::Parts);
    Answer::parse("every_row.technology=wet").unwrap().apply(&mut mapping).unwrap();
    assert_eq!(mapping.every_row.technology, Some(Technology::Wet));
}

#[test]
fn what_a_mapping_cannot_say_is_refused_in_words() {
    assert!(Answer::parse("columns").is_err() && Answer::parse("=1").is_err());
    let mut mapping = Mapping::empty(Target::Parts);
    for text in ["columns.A.unit = furlong", "every_row.ripple_hz = -1", "colour = 1"] {
        assert!(Answer::parse(text).unwrap().apply(&mut mapping).is_err(), "{text}");
    }
}
