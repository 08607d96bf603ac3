//! Terms of sale in lists of parts. All files are hand-made.

use refarad::domain::Part;

use crate::{part, parts};

fn one(header: &str, cells: &str) -> Part {
    let import = parts(&format!("MPN,Capacitance,Voltage,Type,{header}\nA,100uF,25V,Elko,{cells}\n"));
    assert!(import.report.clean(), "{header}: {:?}", import.report);
    part(&import, "A").clone()
}

#[test]
fn the_currency_comes_from_the_header_where_the_cell_has_none() {
    for (header, cell, currency) in [
        ("Price (EUR)", "0.52", "EUR"),
        ("Unit Price(USD)", "0.52", "USD"),
        ("€", "0.52", "EUR"),
        ("Preis in EUR / Stück", "0.52", "EUR"),
        ("Price (EUR)", "$0.52", "$"),
        ("Price", "0.52", ""),
    ] {
        let part = one(header, cell);
        assert_eq!((part.trade.unit_price, part.currency.as_ref()), (Some(0.52), currency), "{header}");
    }
}

#[test]
fn minimum_multiple_stock_and_lead_time_are_read_as_shops_write_them() {
    let part = one("Min/Mult Order Qty,Stock,Lead Time (weeks)", "500 / 100,\"12,345 : In Stock\",8-12");
    let trade = &part.trade;
    assert_eq!((trade.moq, trade.pack), (Some(500.0), Some(100.0)));
    assert_eq!((trade.stock, trade.lead_time_d), (Some(12_345.0), Some(84.0)));
    let part = one("Mindestmenge,VPE,Lagerbestand,Lieferzeit", "10,50,2.500,14");
    let trade = &part.trade;
    assert_eq!(
        (trade.moq, trade.pack, trade.stock, trade.lead_time_d),
        (Some(10.0), Some(50.0), Some(2500.0), Some(14.0))
    );
    assert_eq!(one("Minimum/Multiple", "Min: 1 Mult: 5").trade.pack, Some(5.0));
}

#[test]
fn numbered_prices_alone_are_breaks_where_the_numbers_are_no_count() {
    let part = one("Price 1,Price 10,Price 100", "0.60,0.52,0.41");
    assert_eq!(part.price_breaks.as_ref().unwrap().pairs(), [(1.0, 0.60), (10.0, 0.52), (100.0, 0.41)]);
    let paired = one("Qty 1,Price 1,Qty 10,Price 10", "5,0.60,50,0.52");
    assert_eq!(paired.price_breaks.as_ref().unwrap().pairs(), [(5.0, 0.60), (50.0, 0.52)]);
    let import = parts("MPN,Capacitance,Voltage,Type,Price 1,Price 2\nA,100uF,25V,Elko,0.60,0.52\n");
    assert!(part_breaks(&import).is_none(), "a count of prices says no quantity");
}

fn part_breaks(import: &refarad::files::import::parts::PartsImport) -> Option<Vec<(f64, f64)>> {
    Some(part(import, "A").price_breaks.as_ref()?.pairs().to_vec())
}

#[test]
fn a_column_for_each_quantity_becomes_price_breaks() {
    let part = one("Price @100,Price @1,Price @10", "$0.41,$0.60,$0.52");
    let breaks: Vec<(f64, f64)> = part.price_breaks.as_ref().unwrap().pairs().to_vec();
    assert_eq!(breaks, [(1.0, 0.60), (10.0, 0.52), (100.0, 0.41)]);
    assert_eq!((part.trade.unit_price, part.currency.as_ref()), (Some(0.60), "$"));
}
