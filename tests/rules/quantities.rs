//! Of `sizing/quantities.rs`: how many pieces to buy and what they cost: need, spares, shelf stock, minimum
//! order, packs, price breaks and the choice between the offers of several suppliers.

use proptest::prelude::*;

use refarad::sizing::quantities::{
    Offer, PriceBreak, QuantityError, Raise, Terms, best_offer, order_line, pieces_needed,
};

fn terms(breaks: &[(u64, f64)], moq: Option<u64>, pack: Option<u64>) -> Terms {
    let breaks = breaks.iter().map(|&(from_qty, unit_price)| PriceBreak { from_qty, unit_price }).collect();
    Terms::new(breaks, moq, pack).unwrap()
}

fn offer(breaks: &[(u64, f64)], rate: Option<f64>, stock: Option<u64>) -> Offer {
    Offer { terms: terms(breaks, None, None), rate_to_job: rate, stock_qty: stock, lead_time_d: None }
}

#[test]
fn spares_never_add_a_piece_by_floating_error() {
    // In floating point 100 * 1.1 is 110.00000000000001.
    assert_eq!((100.0_f64 * (1.0 + 10.0 / 100.0)).ceil(), 111.0);
    assert_eq!(pieces_needed(100, 10.0), Ok(110));
    assert_eq!(pieces_needed(10, 10.0), Ok(11));
    assert_eq!(pieces_needed(11, 10.0), Ok(13));
    assert_eq!(pieces_needed(40, 7.5), Ok(43));
    assert_eq!(pieces_needed(3, 0.0), Ok(3));
    assert_eq!(pieces_needed(0, 10.0), Ok(0));
    assert_eq!(pieces_needed(1, 0.01), Ok(2));
}

#[test]
fn spares_out_of_range_are_refused() {
    for spare in [-1.0, f64::NAN, f64::INFINITY, 10_001.0] {
        assert!(matches!(pieces_needed(5, spare), Err(QuantityError::Spare(_))));
    }
    assert_eq!(pieces_needed(u64::MAX, 10.0), Err(QuantityError::TooMany));
}

#[test]
fn the_order_is_raised_to_the_minimum_then_to_a_pack() {
    let line = order_line(7, 0, &terms(&[(1, 1.0)], Some(12), Some(5))).unwrap();
    assert_eq!(line.plain.qty, 15);
    assert_eq!(line.raised, [Raise::Minimum(12), Raise::Pack(5)]);
}

#[test]
fn the_price_is_the_highest_break_not_above_the_order() {
    let list = terms(&[(100, 0.31), (1, 0.52), (10, 0.40)], None, None);
    let at = |need| order_line(need, 0, &list).unwrap().plain.unit_price;
    assert_eq!([at(1), at(9), at(10), at(99), at(100)], [0.52, 0.52, 0.40, 0.40, 0.31]);
}

#[test]
fn the_next_break_is_proposed_only_when_it_costs_less_in_total() {
    let list = terms(&[(1, 0.52), (10, 0.40), (100, 0.31)], None, None);
    // 8 * 0.52 = 4.16 > 10 * 0.40 = 4.00; 7 * 0.52 = 3.64 < 4.00.
    let eight = order_line(8, 0, &list).unwrap();
    assert_eq!((eight.plain.qty, eight.proposed.qty), (8, 10));
    assert!((eight.proposed.total - 4.0).abs() < 1e-12);
    assert_eq!(eight.explain("EUR"), ["10 instead of 8: the price from 10 on saves 0.16 EUR in total"]);
    let seven = order_line(7, 0, &list).unwrap();
    assert_eq!(seven.plain, seven.proposed);
    assert!(seven.explain("EUR").is_empty());
    // 8 at 0.50 and 10 at 0.40 cost the same: no piece more is bought.
    assert_eq!(order_line(8, 0, &terms(&[(1, 0.5), (10, 0.4)], None, None)).unwrap().proposed.qty, 8);
}

#[test]
fn a_break_beyond_the_next_is_proposed_when_it_is_the_cheapest() {
    let list = terms(&[(1, 1.0), (50, 0.99), (60, 0.10)], None, None);
    let line = order_line(20, 0, &list).unwrap();
    assert_eq!(line.proposed.qty, 60);
}

#[test]
fn a_price_list_that_starts_above_the_order_raises_it_and_says_so() {
    let line = order_line(3, 0, &terms(&[(10, 0.5)], None, None)).unwrap();
    assert_eq!(line.plain.qty, 10);
    assert_eq!(line.raised, [Raise::LowestBreak(10)]);
}

#[test]
fn shelf_stock_is_used_before_anything_is_ordered() {
    let list = terms(&[(1, 2.0)], Some(10), None);
    let covered = order_line(8, 9, &list).unwrap();
    assert_eq!((covered.from_shelf_qty, covered.proposed.qty), (8, 0));
    assert_eq!(covered.proposed.total, 0.0);
    let partly = order_line(8, 3, &list).unwrap();
    assert_eq!((partly.from_shelf_qty, partly.proposed.qty), (3, 10));
}

#[test]
fn unusable_price_lists_are_refused_with_the_reason() {
    let make = |breaks: &[(u64, f64)], moq, pack| {
        let breaks = breaks.iter().map(|&(from_qty, unit_price)| PriceBreak { from_qty, unit_price }).collect();
        Terms::new(breaks, moq, pack)
    };
    assert_eq!(make(&[], None, None), Err(QuantityError::NoPrice));
    assert_eq!(make(&[(0, 1.0)], None, None), Err(QuantityError::BreakAtZero));
    assert_eq!(make(&[(5, 1.0), (5, 0.9)], None, None), Err(QuantityError::DuplicateBreak(5)));
    assert_eq!(make(&[(1, -1.0)], None, None), Err(QuantityError::Price(-1.0)));
    assert_eq!(make(&[(1, 1.0)], Some(0), None), Err(QuantityError::ZeroTerm));
}

#[test]
fn the_cheapest_offer_is_judged_in_the_currency_of_the_job() {
    let offers =
        [offer(&[(1, 1.00)], Some(1.0), None), offer(&[(1, 1.05)], Some(0.9), None), offer(&[(1, 0.01)], None, None)];
    let best = best_offer(10, 0, &offers).unwrap();
    assert_eq!(best.offer, 1);
    assert!((best.total_job - 9.45).abs() < 1e-12);
}

#[test]
fn an_offer_known_to_be_short_comes_last_but_is_not_lost() {
    let short = offer(&[(1, 0.5)], Some(1.0), Some(4));
    let full = offer(&[(1, 0.9)], Some(1.0), None);
    let best = best_offer(10, 0, &[short.clone(), full]).unwrap();
    assert_eq!((best.offer, best.stock_short), (1, false));
    let only = best_offer(10, 0, &[short]).unwrap();
    assert!(only.stock_short);
    assert_eq!(best_offer(10, 0, &[]), None);
}

proptest! {
    #[test]
    fn need_matches_exact_fractions(pieces in 0_u64..5000, tenths in 0_u64..1000) {
        let exact = (pieces * (1000 + tenths)).div_ceil(1000);
        prop_assert_eq!(pieces_needed(pieces, tenths as f64 / 10.0), Ok(exact));
    }

    #[test]
    fn the_proposed_order_is_the_cheapest_of_all_that_serve(
        need in 1_u64..60, shelf in 0_u64..20, moq in 1_u64..15, pack in 1_u64..7,
        steps in prop::collection::btree_map(1_u64..80, 1_u32..200, 1..4),
    ) {
        let breaks: Vec<(u64, f64)> = steps.iter().map(|(q, p)| (*q, f64::from(*p) / 100.0)).collect();
        let list = terms(&breaks, Some(moq), Some(pack));
        let line = order_line(need, shelf, &list).unwrap();
        let missing = need.saturating_sub(shelf);
        if missing == 0 {
            prop_assert_eq!(line.proposed.qty, 0);
        } else {
            let price = |q: u64| breaks.iter().rev().find(|b| b.0 <= q).map(|b| b.1);
            let least = (missing.max(moq)..400)
                .filter(|q| q % pack == 0)
                .filter_map(|q| price(q).map(|p| p * q as f64))
                .fold(f64::INFINITY, f64::min);
            prop_assert!((line.proposed.total - least).abs() < 1e-9);
            prop_assert!(line.proposed.qty >= missing && line.proposed.qty.is_multiple_of(pack));
        }
    }
}
