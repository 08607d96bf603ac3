//! The record of the units: only added to, read back as written, completed from a list.

use std::path::Path;
use std::sync::Arc;

use proptest::prelude::*;

use refarad::domain::{Date, Extra};
use refarad::files::demo;
use refarad::files::unit_record::{Reading, RecordsRead, UnitRecord, append, due_dates, from_slice, path_beside, read};
use refarad::files::unit_table::{complete, export};
use refarad::sizing::{self, CatalogIndex};

fn planned(serial: &str, date: &str) -> UnitRecord {
    let job = demo::job().unwrap().job;
    let catalog_index = CatalogIndex::new(Arc::new(demo::parts().unwrap().catalog));
    let sizing = sizing::size(&job, &catalog_index);
    UnitRecord::planned(
        &job,
        catalog_index.catalog(),
        &sizing,
        &job.unit_types_or_one()[0],
        serial,
        date.parse().unwrap(),
    )
}

#[test]
fn a_planned_record_has_every_position_of_every_board_and_the_due_date_of_the_interval() {
    let record = planned("D1", "2026-11-25");
    // Supply 12, Servo 12 twice, Encoder 8; with other parts and test points 8, 5 twice, 1, and the fan.
    let cans = record.positions.iter().filter(|position| position.kind.is_empty()).count();
    assert_eq!((cans, record.positions.len()), (12 + 24 + 8, 44 + 8 + 10 + 1 + 1));
    assert_eq!(record.unit_type, "dome of 1996");
    assert_eq!(record.next_due, "2036-11-25".parse().ok());
    let servo = record.positions.iter().filter(|p| p.reference == "C101").map(|p| p.board.as_str());
    assert_eq!(servo.collect::<Vec<_>>(), ["Servo 1", "Servo 2"]);
}

#[test]
fn records_are_only_added_and_read_back_as_written() {
    let folder = tempfile::tempdir().unwrap();
    let path = path_beside(&folder.path().join("dome.json"));
    assert_eq!(path.file_name().unwrap(), "dome.units.jsonl");
    assert_eq!(read(&path).unwrap(), RecordsRead::default());
    let (first, second) = (planned("D1", "2026-11-25"), planned("D2", "2026-12-01"));
    append(&path, &first, true, None).unwrap();
    let before = std::fs::read(&path).unwrap();
    append(&path, &second, true, None).unwrap();
    assert!(std::fs::read(&path).unwrap().starts_with(&before));
    assert_eq!(read(&path).unwrap().records, [first, second]);
}

#[test]
fn a_line_an_interrupted_write_left_behind_is_listed_and_the_next_record_still_whole() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.units.jsonl");
    let record = planned("D1", "2026-11-25");
    append(&path, &record, true, None).unwrap();
    let whole = std::fs::read(&path).unwrap();
    for cut in [1, 20, whole.len() - 1] {
        std::fs::write(&path, &whole[..cut]).unwrap();
        append(&path, &record, true, None).unwrap();
        let read = read(&path).unwrap();
        let complete = cut == whole.len() - 1;
        assert_eq!((read.records.len(), read.rejected.len()), if complete { (2, 0) } else { (1, 1) }, "{cut}");
        assert_eq!(read.records.last(), Some(&record));
    }
}

#[test]
fn the_unit_due_soonest_comes_first_and_its_latest_rebuild_counts() {
    let mut unknown = planned("D3", "2026-01-01");
    unknown.next_due = None;
    let records = [planned("D2", "2026-03-01"), planned("D1", "2015-01-01"), planned("D1", "2026-02-01"), unknown];
    let due = due_dates(&records, "2036-02-15".parse().ok());
    let order: Vec<(&str, Option<String>)> =
        due.iter().map(|unit| (unit.serial.as_str(), unit.due.map(|date| date.to_string()))).collect();
    assert_eq!(order, [("D3", None), ("D1", Some("2036-02-01".into())), ("D2", Some("2036-03-01".into()))]);
    assert!(due[1].years_left.unwrap() < 0.0 && due[2].years_left.unwrap() > 0.0);
}

#[test]
fn an_export_completes_a_record_with_the_same_values() {
    let mut record = planned("D1", "2026-11-25");
    record.positions[0].lot = "=2+2".into();
    record.positions[0].after =
        Reading { capacitance_uf: Some(219.5), esr_mohm: Some(0.1), esr_hz: Some(1e5), ..Reading::default() };
    record.positions[13].before.esr_mohm = Some(4000.0);
    let mut exported = Vec::new();
    export(&mut exported, std::slice::from_ref(&record)).unwrap();
    assert!(String::from_utf8_lossy(&exported).contains("'=2+2"));
    let mut again = planned("D1", "2026-11-25");
    assert_eq!(complete(&mut again, &exported, Path::new("a.csv")).unwrap().0, []);
    assert_eq!(again, record);
}

#[test]
fn another_part_than_planned_has_no_predicted_life_and_faults_are_listed() {
    let mut record = planned("D1", "2026-11-25");
    let list = b"board;ref;part_number;after_esr_hz\nSupply;C1;OTHER;0\nServo;C101;;\n";
    let (rejected, note) = complete(&mut record, list, Path::new("a.csv")).unwrap();
    assert_eq!((record.positions[0].part_number.as_str(), record.positions[0].life_h), ("OTHER", None));
    let listed: Vec<(u64, &str)> = rejected.iter().map(|r| (r.line, r.field.as_str())).collect();
    assert_eq!(listed, [(2, "after_esr_hz"), (3, "ref")]);
    assert_eq!(note, None);
    // Of two rows nobody knows which holds, and a column nobody knows is named.
    let list = b"board,ref,lot,lott\nSupply,C1,L1,\nSupply,C1,L2,\n";
    let (rejected, note) = complete(&mut record, list, Path::new("a.csv")).unwrap();
    assert!(rejected.len() == 1 && rejected[0].line == 3 && note.is_some_and(|note| note.contains("lott")));
    assert!(complete(&mut record, b"nothing\n", Path::new("a.csv")).is_err());
}

#[test]
fn a_record_without_serial_number_or_with_an_impossible_figure_is_not_added() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.units.jsonl");
    let mut record = planned(" ", "2026-11-25");
    assert!(append(&path, &record, true, None).is_err());
    record.serial = "D1".into();
    record.positions[0].before.esr_mohm = Some(f64::NAN);
    assert!(append(&path, &record, true, None).is_err());
    record.positions[0].before.esr_mohm = None;
    for text in ["two\nlines", "\u{202e}turned", "\u{1b}[31m", &"x".repeat(501)] {
        record.technician = text.into();
        assert!(append(&path, &record, true, None).unwrap_err().to_string().contains("technician"), "{text:?}");
        record.technician = String::new();
        record.positions[0].lot = text.into();
        assert!(append(&path, &record, true, None).unwrap_err().to_string().contains("lot"), "{text:?}");
        record.positions[0].lot = String::new();
    }
    assert!(!path.exists());
}

proptest! {
    #[test]
    fn no_bytes_stop_the_reader_and_no_line_vanishes(body in prop::collection::vec(any::<u8>(), 0..300)) {
        let read = from_slice(&body, Path::new("a"));
        let lines = body.split(|&b| b == b'\n').filter(|line| !line.trim_ascii().is_empty()).count();
        prop_assert_eq!(read.records.len() + read.rejected.len(), lines);
        let mut record = UnitRecord {
            serial: "D".into(), date: "2026-01-01".parse().unwrap(), technician: String::new(), next_due: None,
            hours_per_year: None, unit_type: String::new(), note: String::new(), positions: Vec::new(), extra: Extra::new(),
        };
        let mut list = b"board,ref\n".to_vec();
        list.extend(&body);
        let _ = complete(&mut record, &list, Path::new("a"));
    }
}

#[test]
fn a_second_rebuild_on_one_day_is_asked_about_and_a_day_that_lies_ahead_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.units.jsonl");
    let today: Option<Date> = "2026-11-28".parse().ok();
    let record = planned("D1", "2026-11-28");
    append(&path, &record, false, today).unwrap();
    let again = append(&path, &UnitRecord { serial: " D1 ".into(), ..record.clone() }, false, today).unwrap_err();
    assert!(again.to_string().contains("is recorded already"), "{again}");
    let ahead = append(&path, &planned("D2", "2026-11-29"), true, today).unwrap_err();
    assert!(ahead.to_string().contains("is after today, 2026-11-28"), "{ahead}");
    assert_eq!(read(&path).unwrap().records.len(), 1);
    append(&path, &record, true, today).unwrap();
    append(&path, &planned("D1", "2026-11-27"), false, today).unwrap();
    // A clock that is off keeps nobody from recording.
    append(&path, &planned("D2", "2026-11-29"), false, None).unwrap();
    assert_eq!(read(&path).unwrap().records.len(), 4);
}
