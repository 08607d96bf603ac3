//! Prices and stock as suppliers list them become offers. All files are hand-made, makers and suppliers invented.

use std::path::Path;

use refarad::files::import::offers::offers;
use refarad::files::import::parts::PartsImport;
use refarad::files::import::{Answer, Source, Target};
use refarad::files::table::Options;
use refarad::files::{offers as canonical, parts_writer};

const QUOTE: &str = "Angebot 4711;;;;;;;\n\
    Mfr. Part #;Distributor;Stock;Price 1;Price 10;Currency;MOQ;Lead time\n\
    NOR-35-1000;Halden Parts;1.240;0,42;0,35;EUR;1;\n\
    NOR-35-1000;Werder;0;0,31;0,30;EUR;10;6 weeks\n\
    ULM-63-47;Halden Parts;12;;;EUR;5;\n\
    Total;;;1,90;;;;\n";

fn source(text: &str) -> Source {
    Source::from_bytes(Path::new("quote.csv"), text.as_bytes(), None, &Options::default()).unwrap()
}

fn read(source: &Source) -> PartsImport {
    offers(&source.table, &source.mapping, &source.path, &|_| true).unwrap()
}

#[test]
fn a_list_of_part_numbers_with_prices_and_no_figure_of_a_part_is_one_of_offers() {
    assert_eq!(source(QUOTE).mapping.target, Target::Offers);
    let described = "MPN,Description,Price\nA,Capacitor 470uF 35V radial,0.20\nB,Capacitor 100uF 35V radial,0.20\n";
    assert_eq!(source(described).mapping.target, Target::Parts);
    let board = "Ref,MPN,Price\nC1,A-470,0.20\nC2,B-100,0.20\n";
    assert_eq!(source(board).mapping.target, Target::Positions);
}

#[test]
fn each_row_of_a_supplier_is_kept_and_written_as_a_list_the_job_reads() {
    let import = read(&source(QUOTE));
    assert_eq!((import.report.kept, import.report.refused), (3, 0), "{:?}", import.report);
    let first = &import.parts[0].1;
    assert_eq!((first.trade.stock, first.trade.unit_price), (Some(1240.0), Some(0.42)));
    assert_eq!(import.parts[1].1.trade.lead_time_d, Some(42.0));
    assert_eq!(import.parts[2].1.trade.unit_price, None, "no price stays unknown");

    let mut bytes = Vec::new();
    parts_writer::write_offers(&mut bytes, import.parts.iter().map(|(_, offer)| offer)).unwrap();
    let again = canonical::from_bytes(&[("quote.offers.csv".into(), bytes)]).unwrap();
    assert_eq!((again.book.len(), again.rejected.len()), (2, 0), "two parts, one with two suppliers");
}

#[test]
fn whose_offers_they_are_is_asked_where_no_column_says_it() {
    let mut source = source("Part number,Price,In Stock\nNOR-35-1000,0.42,10\nULM-63-47,0.88,0\n");
    let import = read(&source);
    assert_eq!((import.report.kept, import.report.refused, import.report.questions.len()), (0, 2, 1));
    Answer::parse("every_row.supplier = \"Halden Parts\"").unwrap().apply(&mut source.mapping).unwrap();
    let import = read(&source);
    assert!(import.report.clean(), "{:?}", import.report);
    assert!(import.parts.iter().all(|(_, offer)| &*offer.supplier == "Halden Parts"));
}

#[test]
fn an_offer_under_the_suppliers_number_alone_is_refused() {
    let text = "Supplier,SKU,MPN,Price\nHalden Parts,H-1,NOR-35-1000,0.42\nHalden Parts,H-2,,0.88\n";
    let import = read(&source(text));
    assert_eq!((import.report.kept, import.report.refused), (1, 1), "{:?}", import.report);
}
