//! Of `sizing/purchase.rs`: the buyer's list: what to order for a sized job, from whom, how many, for how much,
//! and what is still open.

use proptest::prelude::*;
use std::sync::Arc;

use refarad::domain::{Board, CatalogBuilder, Job, OfferBook, Part, Position, ShelfStock, SupplierOffer, Trade};
use refarad::sizing;
use refarad::sizing::{CatalogIndex, NextBreak, Purchase, purchase};

fn part(number: &str, breaks: &str, trade: Trade, currency: &str) -> Part {
    Part {
        part_number: number.into(),
        maker: "M".into(),
        supplier: "S".into(),
        currency: currency.into(),
        trade,
        price_breaks: breaks.parse().ok(),
        ..Part::default()
    }
}

fn catalog_index(parts: &[Part]) -> CatalogIndex {
    let mut builder = CatalogBuilder::default();
    for part in parts {
        builder.push(part);
    }
    CatalogIndex::new(Arc::new(builder.finish().0))
}

/// A job with a board for each list of picks; `""` is a position without a pick.
fn job(boards: &[(f64, &[&str])]) -> Job {
    let board = |(at, (per_unit, picks)): (usize, &(f64, &[&str]))| Board {
        name: format!("B{at}"),
        per_unit: Some(*per_unit),
        positions: picks
            .iter()
            .enumerate()
            .map(|(n, pick)| Position {
                reference: format!("C{at}{n}"),
                pick: (!pick.is_empty()).then(|| (*pick).to_owned()),
                ..Position::default()
            })
            .collect(),
        ..Board::default()
    };
    Job {
        units: Some(4.0),
        spare_pct: Some(10.0),
        line_cost: Some(8.0),
        currency: Some("EUR".into()),
        boards: boards.iter().enumerate().map(board).collect(),
        ..Job::default()
    }
}

fn buy_all(job: &Job, catalog_index: &CatalogIndex, book: &OfferBook) -> Purchase {
    let sizing = sizing::size(job, catalog_index);
    let catalog_index = catalog_index.with_offers(Arc::new(book.clone()));
    purchase(job, &catalog_index, &sizing, "2026-11-25".parse().ok())
}

#[test]
fn spares_are_rounded_up_once_over_all_positions_of_a_part() {
    let catalog_index = catalog_index(&[part("A", "1:1;20:0.5", Trade::default(), "EUR")]);
    // 3 positions x 4 units + 1 position x 2 boards x 4 units = 20, with 10 % 22; rounded each alone it would be 24.
    let bought = buy_all(&job(&[(1.0, &["A", "A", "A"]), (2.0, &["A"])]), &catalog_index, &OfferBook::default());
    let line = &bought.lines[0];
    assert_eq!((line.pieces, line.need_qty, line.order_qty), (Some(20), Some(22), Some(22)));
    assert_eq!((line.unit_price, line.line_total), (Some(0.5), Some(11.0)));
    assert_eq!(line.places.len(), 4);
    assert_eq!(bought.totals.certain_job(), Some(19.0));
}

#[test]
fn unknown_prices_currencies_and_missing_parts_stay_visible_and_out_of_the_total() {
    let moq = Trade { moq: Some(10.0), pack: Some(6.0), ..Trade::default() };
    let one_price = Trade { unit_price: Some(2.0), ..Trade::default() };
    let catalog_index = catalog_index(&[
        part("A", "", moq, "EUR"),
        part("B", "1:2", Trade::default(), ""),
        part("C", "1:2", Trade::default(), "USD"),
        part("D", "", one_price, "EUR"),
    ]);
    let mut job = job(&[(1.0, &["A", "B", "C", "D", "", "Z"])]);
    let bought = buy_all(&job, &catalog_index, &OfferBook::default());
    let numbers: Vec<&str> = bought.lines.iter().map(|line| line.part_number.as_str()).collect();
    assert_eq!(numbers, ["A", "B", "C", "D", "Z"]);
    let [unpriced, no_currency, no_rate, priced, not_listed] = bought.lines.as_slice() else { panic!("{numbers:?}") };
    assert_eq!((unpriced.order_qty, unpriced.unit_price, unpriced.total_job), (Some(12), None, None));
    assert_eq!((no_currency.line_total, no_currency.total_job), (Some(10.0), None));
    assert_eq!((no_rate.line_total, no_rate.total_job), (Some(10.0), None));
    assert_eq!((priced.line_total, priced.total_job), (Some(10.0), Some(10.0)));
    assert_eq!((not_listed.part, not_listed.order_qty, not_listed.total_job), (None, Some(5), None));
    assert_eq!((bought.totals.unknown_lines, bought.totals.certain_job()), (4, None));
    assert_eq!(bought.totals.per_currency, [("EUR".to_owned(), 10.0), ("USD".to_owned(), 10.0)].into());
    assert_eq!(bought.without_part.len(), 1);
    job.currency_rates.insert("USD".into(), 0.9);
    let bought = buy_all(&job, &catalog_index, &OfferBook::default());
    assert_eq!((bought.lines[2].total_job, bought.totals.unknown_lines), (Some(9.0), 3));
    assert_eq!(bought.rates, [("EUR".to_owned(), 1.0), ("USD".to_owned(), 0.9)].into());
}

#[test]
fn the_cheapest_offer_by_the_entered_rate_is_taken_and_the_shelf_deducted() {
    let catalog_index = catalog_index(&[part("A", "1:1", Trade::default(), "EUR")]);
    let mut job = job(&[(1.0, &["A"])]);
    job.currency_rates.insert("USD".into(), 0.5);
    job.shelf = vec![ShelfStock { part_number: "A".into(), qty: Some(2.0), ..ShelfStock::default() }];
    let mut book = OfferBook::default();
    let offer = |supplier: &str, breaks: &str, currency: &str| SupplierOffer {
        supplier: supplier.into(),
        currency: currency.into(),
        price_breaks: breaks.parse().ok(),
        ..SupplierOffer::default()
    };
    book.add("A", offer("T", "1:1.5;10:0.1", "USD"));
    let line = buy_all(&job, &catalog_index, &book).lines.remove(0);
    assert_eq!((line.supplier(), line.need_qty, line.order_qty), ("T", Some(5), Some(10)));
    assert_eq!((line.line_total, line.total_job), (Some(1.0), Some(0.5)));
    assert!(line.notes.iter().any(|note| note.contains("10 instead of 3")), "{:?}", line.notes);
    // The list replaces the catalogue row of the same supplier.
    book.add("A", offer("S", "1:0.01", "EUR"));
    let line = buy_all(&job, &catalog_index, &book).lines.remove(0);
    assert_eq!((line.supplier(), line.unit_price), ("S", Some(0.01)));
    job.shelf[0].qty = Some(50.0);
    let bought = buy_all(&job, &catalog_index, &book);
    assert_eq!((bought.lines[0].order_qty, bought.lines[0].total_job), (Some(0), Some(0.0)));
    assert_eq!((bought.totals.lines, bought.totals.certain_job()), (0, Some(0.0)));
}

#[test]
fn the_next_price_step_is_named() {
    let catalog_index = catalog_index(&[part("A", "1:1;10:0.9", Trade::default(), "EUR")]);
    let line = buy_all(&job(&[(1.0, &["A"])]), &catalog_index, &OfferBook::default()).lines.remove(0);
    assert_eq!(line.order_qty, Some(5));
    assert_eq!(line.next_break, Some(NextBreak { from_qty: 10, unit_price: 0.9, qty: 10, line_total: 9.0 }));
}

#[test]
fn quantities_nobody_can_count_are_unknown_and_said() {
    let catalog_index = catalog_index(&[part("A", "1:1", Trade::default(), "EUR")]);
    let mut job = job(&[(1e15, &["A"])]);
    job.units = Some(1e15);
    let bought = buy_all(&job, &catalog_index, &OfferBook::default());
    assert_eq!((bought.lines[0].need_qty, bought.lines[0].order_qty), (None, None));
    assert_eq!((bought.totals.lines, bought.totals.unknown_lines), (1, 1));
    assert!(bought.lines[0].notes.iter().any(|note| note.contains("too large")));
}

proptest! {
    #[test]
    fn an_order_covers_the_need_in_whole_packs_and_its_total_is_quantity_times_price(
        per_unit in 1u32..40, units in 1u32..40, spare in 0u32..60, moq in prop::option::of(1u32..200),
        pack in prop::option::of(1u32..60), price in 0.0f64..50.0, step in 2u32..500, shelf in 0u32..100,
    ) {
        let trade = Trade {
            unit_price: Some(price), moq: moq.map(f64::from), pack: pack.map(f64::from), ..Trade::default()
        };
        let catalog_index = catalog_index(&[part("A", &format!("{step}:{}", price * 0.8), trade, "EUR")]);
        let mut job = job(&[(f64::from(per_unit), &["A", "A"])]);
        job.units = Some(f64::from(units));
        job.spare_pct = Some(f64::from(spare));
        job.shelf = vec![ShelfStock { part_number: "A".into(), qty: Some(f64::from(shelf)), ..ShelfStock::default() }];
        let line = buy_all(&job, &catalog_index, &OfferBook::default()).lines.remove(0);
        let (need, order) = (line.need_qty.unwrap(), line.order_qty.unwrap());
        let exact = u64::from(2 * per_unit * units) * u64::from(100 + spare);
        prop_assert_eq!(need, exact.div_ceil(100));
        prop_assert!(order + u64::from(shelf) >= need);
        prop_assert_eq!(order == 0, u64::from(shelf) >= need);
        prop_assert_eq!(order % u64::from(pack.unwrap_or(1)), 0);
        prop_assert!(order == 0 || order >= u64::from(moq.unwrap_or(1)));
        prop_assert_eq!(line.line_total.unwrap(), order as f64 * line.unit_price.unwrap());
    }
}

#[test]
fn the_supplier_the_buyer_chose_is_taken_though_another_is_cheaper_and_its_lack_is_said() {
    let catalog_index = catalog_index(&[part("A", "1:1", Trade::default(), "EUR")]);
    let mut book = OfferBook::default();
    let dear = SupplierOffer {
        supplier: "Dear".into(),
        currency: "EUR".into(),
        price_breaks: "1:3;10:2".parse().ok(),
        ..SupplierOffer::default()
    };
    book.add("A", dear);
    let mut job = job(&[(1.0, &["A"])]);
    let taken = |job: &Job| {
        let bought = buy_all(job, &catalog_index, &book);
        let line = bought.lines[0].clone();
        (line.supplier().to_owned(), line.line_total, line.chosen_by_buyer, line)
    };
    // 1 position in 4 units with 10 % spares: 5 pieces.
    let (supplier, total, chosen, line) = taken(&job);
    assert_eq!((supplier.as_str(), total, chosen), ("S", Some(5.0), false));
    let asked: Vec<_> = line
        .offers
        .iter()
        .map(|offer| (offer.supplier.supplier.as_str(), offer.order.map(|order| order.total)))
        .collect();
    assert_eq!(asked, [("S", Some(5.0)), ("Dear", Some(15.0))]);
    job.suppliers.insert("A".into(), "Dear".into());
    let (supplier, total, chosen, line) = taken(&job);
    assert_eq!((supplier.as_str(), total, chosen), ("Dear", Some(15.0), true));
    assert_eq!((line.price_from_qty, line.next_break.map(|next| next.from_qty)), (Some(1), Some(10)));
    job.suppliers.insert("A".into(), "Nobody".into());
    let (supplier, _, chosen, line) = taken(&job);
    assert_eq!((supplier.as_str(), chosen), ("S", false));
    assert!(
        line.notes.iter().any(|note| note.contains("Nobody, chosen for it, does not offer it")),
        "{:?}",
        line.notes
    );
}
