//! Of `sizing/market.rs`, from within it: limits, missing data, odd cases.

use std::sync::Arc;

use super::*;
use crate::domain::{OfferBook, Part, ShelfStock};
use crate::sizing::testing::{can, catalog_index, part};

fn offer(supplier: &str, stock: Option<f64>, unit_price: Option<f64>, currency: &str) -> SupplierOffer {
    SupplierOffer {
        supplier: supplier.into(),
        currency: currency.into(),
        trade: Trade { stock, unit_price, ..Trade::default() },
        ..SupplierOffer::default()
    }
}

fn with(offers: Vec<SupplierOffer>, change: impl FnOnce(&mut Part), job: &Job) -> (Option<f64>, Option<f64>) {
    let mut own = Part { currency: "EUR".into(), supplier: "S".into(), ..part("A", Some(2.0), can()) };
    change(&mut own);
    let mut book = OfferBook::default();
    offers.into_iter().for_each(|offer| _ = book.add("A", offer));
    let catalog = catalog_index(&[own]).catalog().with_offers(Arc::new(book));
    let market = Market::of(job, &catalog);
    let cost = market.cost(&catalog, PartId(0), 10.0).map(|(cost, _)| cost);
    (market.stock(&catalog, PartId(0)), cost)
}

fn euro() -> Job {
    Job { currency: Some("EUR".into()), ..Job::default() }
}

#[test]
fn the_largest_stock_counts_and_one_that_is_not_known_leaves_it_unknown() {
    let at = |stock| with(vec![offer("T", stock, None, "EUR")], |own| own.trade.stock = Some(3.0), &euro()).0;
    assert_eq!([at(Some(40.0)), at(Some(1.0)), at(None)], [Some(40.0), Some(3.0), None]);
    // The list has a newer word on the same supplier than the row.
    let same = with(vec![offer("S", Some(1.0), None, "EUR")], |own| own.trade.stock = Some(3.0), &euro());
    assert_eq!(same.0, Some(1.0));
}

#[test]
fn the_shelf_adds_to_the_stock_and_costs_nothing() {
    let shelf = |qty| {
        let lot = ShelfStock { part_number: "A".into(), qty: Some(qty), ..ShelfStock::default() };
        with(Vec::new(), |own| own.trade.stock = Some(3.0), &Job { shelf: vec![lot], ..euro() })
    };
    assert_eq!(shelf(4.0), (Some(7.0), Some(12.0)));
    assert_eq!(shelf(10.0), (Some(13.0), Some(0.0)));
}

#[test]
fn the_cheapest_offer_with_a_rate_counts() {
    let cost = |offers| with(offers, |_| (), &euro()).1;
    assert_eq!(cost(Vec::new()), Some(20.0));
    assert_eq!(cost(vec![offer("T", None, Some(1.5), "EUR")]), Some(15.0));
    assert_eq!(cost(vec![offer("T", None, Some(0.1), "USD")]), Some(20.0), "no rate for USD");
    let minimum = with(Vec::new(), |own| own.trade.moq = Some(100.0), &euro());
    assert_eq!(minimum.1, Some(200.0), "a minimum of 100 is paid for 10 pieces too");
    // 100 JPY is more than 1 EUR by number only.
    let yen = Job { currency_rates: [("JPY".to_owned(), 0.006)].into(), ..euro() };
    assert_eq!(with(vec![offer("T", None, Some(100.0), "JPY")], |_| (), &yen).1, Some(6.0));
}

#[test]
fn price_and_stock_beside_a_cost_are_those_of_the_offer_that_gives_it() {
    let of = |unit_price, qty| {
        let own = Part { currency: "EUR".into(), supplier: "S".into(), ..part("A", Some(2.0), can()) };
        let mut book = OfferBook::default();
        book.add("A", offer("T", Some(550.0), Some(unit_price), "USD"));
        let catalog = catalog_index(&[own]).catalog().with_offers(Arc::new(book));
        let job = Job { currency_rates: [("USD".to_owned(), 0.5)].into(), ..euro() };
        let (cost, at) = Market::of(&job, &catalog).cost(&catalog, PartId(0), qty).unwrap();
        let terms = Terms::of(&catalog, PartId(0), at);
        (cost, terms.small_price, terms.currency.to_owned(), terms.trade.stock)
    };
    assert_eq!(of(1.0, 4.0), (2.0, Some(1.0), "USD".to_owned(), Some(550.0)));
    // Where the row of the catalogue is cheaper, or nothing is bought, its own stand there.
    assert_eq!(of(9.0, 4.0), (8.0, Some(2.0), "EUR".to_owned(), Some(1000.0)));
    assert_eq!(of(1.0, 0.0), (0.0, Some(2.0), "EUR".to_owned(), Some(1000.0)));
}

#[test]
fn the_supplier_the_buyer_chose_and_one_with_enough_in_stock_come_before_a_lower_price() {
    let offers = || vec![offer("T", Some(5.0), Some(0.982), "EUR"), offer("U", None, Some(6.115), "EUR")];
    assert_eq!(with(offers(), |_| (), &euro()).1, Some(20.0), "T has 5 of the 10");
    let chosen = |name: &str| Job { suppliers: [("A".to_owned(), name.to_owned())].into(), ..euro() };
    assert_eq!(with(offers(), |_| (), &chosen("U")).1, Some(10.0 * 6.115));
    assert_eq!(with(offers(), |_| (), &chosen("T ")).1, Some(10.0 * 0.982));
    assert_eq!(with(offers(), |_| (), &chosen("nobody")).1, Some(20.0), "who does not offer it is not chosen");
    assert_eq!(with(vec![offer("U", None, None, "EUR")], |_| (), &chosen("U")).1, None, "no price is no price");
}
