//! Catalogues with canonical headers, hand-made.

use std::path::Path;

use refarad::domain::Mounting;
use refarad::files::demo;
use refarad::files::parts::{PartsRead, from_bytes};

fn read(text: &[u8]) -> PartsRead {
    from_bytes(vec![("a.csv".into(), text.to_vec())]).unwrap()
}

#[test]
fn a_header_after_a_preamble_and_any_separator_is_found() {
    for separator in [",", ";", "\t"] {
        let text = ["Parts of May", "", "part_number|rated_v|Capacitance_uF|mounting", "A|25|470|radial"].join("\n");
        let read = read(text.replace('|', separator).as_bytes());
        let can = read.catalog.can(read.catalog.find("A").unwrap());
        assert_eq!((can.rated_v, can.capacitance_uf, can.mounting), (Some(25.0), Some(470.0), Some(Mounting::Radial)));
        assert!(read.rejected.is_empty(), "{:?}", read.rejected);
    }
}

#[test]
fn every_cell_that_cannot_be_read_is_listed_with_line_and_reason() {
    let read = read(b"part_number,capacitance_uf,rated_v,status\nA,470uF,-5,sold\n,1,2,\nB,1,,active\nC,1,2,\n");
    assert_eq!(read.catalog.len(), 1);
    let listed: Vec<(u64, &str, &str)> =
        read.rejected.iter().map(|r| (r.line, r.field.as_str(), r.value.as_str())).collect();
    let expected = [
        (2, "capacitance_uf", "470uF"),
        (2, "rated_v", "-5"),
        (2, "status", "sold"),
        (3, "part_number", ""),
        (4, "rated_v", ""),
    ];
    assert_eq!(listed, expected);
}

#[test]
fn line_numbers_count_quoted_line_breaks_and_blank_lines() {
    let read = read(b"part_number,capacitance_uf,rated_v,maker\n\nA,1,2,\"x\ny\"\nB,zero,2,\n");
    assert_eq!(read.rejected[0].line, 5);
}

#[test]
fn of_two_equal_part_numbers_the_later_is_used_and_the_earlier_listed() {
    let files = vec![
        ("a.csv".into(), b"part_number,capacitance_uf,rated_v\nA,1,2\n".to_vec()),
        ("b.csv".into(), b"part_number,capacitance_uf,rated_v\nA,3,2\n".to_vec()),
    ];
    let read = from_bytes(files).unwrap();
    let id = read.catalog.find("A").unwrap();
    assert_eq!(read.catalog.can(id).capacitance_uf, Some(3.0));
    assert_eq!(read.rejected[0].file, Path::new("a.csv"));
    assert!(read.rejected[0].reason.contains("b.csv line 2"));
}

#[test]
fn utf_16_and_windows_1252_are_read() {
    let text = "part_number,capacitance_uf,rated_v,maker\nA,1,2,Größe\n";
    let utf_16: Vec<u8> = [0xFF, 0xFE].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    let (latin, _, _) = encoding_rs::WINDOWS_1252.encode(text);
    for bytes in [utf_16, latin.into_owned(), text.as_bytes().to_vec()] {
        let read = read(&bytes);
        assert_eq!(read.catalog.maker(read.catalog.find("A").unwrap()), "Größe");
    }
}

#[test]
fn a_file_without_header_or_with_a_column_twice_is_refused() {
    let of = |text: &str| from_bytes(vec![("a.csv".into(), text.as_bytes().to_vec())]).unwrap_err().to_string();
    assert!(of("A,1,2\n").contains("expected a header row"));
    assert!(of("part_number,capacitance_uf,rated_v,rated_v\n").contains("rated_v is given twice"));
}

#[test]
fn a_row_with_more_cells_than_columns_is_refused() {
    let read = read(b"part_number,capacitance_uf,rated_v\nA,1,2,3\nB,1,2,,\n");
    assert_eq!((read.catalog.len(), read.rejected.len()), (1, 1));
}

#[test]
fn the_demo_is_read_without_loss() {
    let parts = demo::parts().unwrap();
    assert!(parts.rejected.is_empty() && parts.notes.is_empty() && parts.catalog.len() > 1000);
    let job = demo::job().unwrap();
    assert!(job.notes.is_empty(), "{:?}", job.notes);
}
