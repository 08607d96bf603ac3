//! Lists of offers: what is read, what is listed as not used.

use std::path::Path;

use proptest::prelude::*;
use refarad::domain::Job;
use refarad::files::ListError;
use refarad::files::offers::{OffersError, OffersRead, from_bytes, is_list, read_for_job};

const HEADER: &str =
    "part_number,supplier,supplier_part_number,stock,lead_time_d,currency,moq,pack,unit_price,price_breaks\n";

fn read(text: &str) -> OffersRead {
    from_bytes(&[("o.csv".into(), text.as_bytes().to_vec())]).unwrap()
}

#[test]
fn an_offer_is_read_with_every_field_and_absent_ones_stay_unknown() {
    let read = read(&format!("{HEADER}A,S,S-1,100,7,USD,5,5,,1:0.5;10:0.4\nA,T,,,,,,,0.3,\n"));
    assert!(read.rejected.is_empty() && read.notes.is_empty(), "{read:?}");
    let [first, second] = read.book.of("A") else { panic!("{read:?}") };
    assert_eq!((first.trade.stock, first.trade.moq, first.currency.as_str()), (Some(100.0), Some(5.0), "USD"));
    assert_eq!(first.price_breaks.as_ref().unwrap().pairs(), [(1.0, 0.5), (10.0, 0.4)]);
    assert_eq!((second.trade.unit_price, second.trade.stock, second.currency.as_str()), (Some(0.3), None, ""));
}

#[test]
fn headers_may_be_written_with_blanks_and_capitals() {
    let list = "Part number,Supplier,Supplier Part Number,Unit price\nA,S,S-1,0.4\n";
    let read = read(list);
    assert!(read.rejected.is_empty() && read.notes.is_empty(), "{read:?}");
    let offer = &read.book.of("A")[0];
    assert_eq!((offer.supplier_part_number.as_str(), offer.trade.unit_price), ("S-1", Some(0.4)));
    assert!(is_list(list.as_bytes()) && !is_list(b"Part number,Supplier,Capacitance uF,Rated V\n"));
}

#[test]
fn what_cannot_be_read_is_listed_with_its_line_and_the_row_not_used() {
    let read = read(&format!("{HEADER}A,S,,many,,,0,,-1,1:2;1:3\n,S,,,,,,,,\nB,,,,,,,,,\n"));
    assert!(read.book.is_empty());
    let listed: Vec<(u64, &str)> = read.rejected.iter().map(|r| (r.line, r.field.as_str())).collect();
    let expected =
        [(2, "stock"), (2, "moq"), (2, "unit_price"), (2, "price_breaks"), (3, "part_number"), (4, "supplier")];
    assert_eq!(listed, expected);
}

#[test]
fn quantities_are_whole_pieces_and_texts_of_bounded_length() {
    let long = "x".repeat(501);
    for (cells, field) in [
        ("S,,1.5,,,,,,", "stock"),
        ("S,,,,,1.5,,,", "moq"),
        ("S,,,,,,1e7,,", "pack"),
        (&format!("S,{long},,,,,,,"), "supplier_part_number"),
    ] {
        let read = read(&format!("{HEADER}A,{cells}\n"));
        assert!(read.book.is_empty() && read.rejected.len() == 1 && read.rejected[0].field == field, "{read:?}");
    }
}

#[test]
fn of_two_rows_of_one_supplier_the_later_is_used_and_the_earlier_listed() {
    let read = read(&format!("{HEADER}A,S,,,,,,,1,\nA,S,,,,,,,2,\n"));
    assert_eq!(read.book.of("A").len(), 1);
    assert_eq!(read.book.of("A")[0].trade.unit_price, Some(2.0));
    assert_eq!((read.rejected[0].line, read.rejected.len()), (2, 1));
}

#[test]
fn a_list_without_header_and_a_path_outside_the_job_are_refused() {
    assert!(matches!(
        from_bytes(&[("o.csv".into(), b"A,S\n".to_vec())]),
        Err(OffersError::List(ListError::NoHeader { .. }))
    ));
    for name in ["../o.csv", "/etc/passwd"] {
        let job = Job { offers: vec![name.into()], ..Job::default() };
        assert!(matches!(read_for_job(&job, Path::new("x/job.json")), Err(OffersError::Outside { .. })), "{name}");
    }
}

proptest! {
    #[test]
    fn no_bytes_stop_the_reader_and_no_row_vanishes(body in prop::collection::vec(any::<u8>(), 0..400), rows in 0usize..5) {
        let mut bytes = HEADER.as_bytes().to_vec();
        (0..rows).for_each(|n| bytes.extend(format!("P{n},S,,,,,,,,\n").bytes()));
        bytes.extend(&body);
        let read = from_bytes(&[("o.csv".into(), bytes)]).unwrap();
        prop_assert!(read.book.len() + read.rejected.len() >= rows);
        let _ = from_bytes(&[("o.csv".into(), body)]);
    }
}
