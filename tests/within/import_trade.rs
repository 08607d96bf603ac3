//! What headers of prices say.

use super::{Half, paired, pieces, quantity_of, tiers};

// Hand-made headers.
#[test]
fn a_break_in_two_columns_is_paired_by_its_number() {
    assert_eq!(paired("Qty Break 1"), Some((Half::Quantity, 1)));
    assert_eq!(paired("Price Break 12"), Some((Half::Price, 12)));
    assert_eq!(paired("Price_2"), Some((Half::Price, 2)));
    for header in ["Price", "Qty", "Price Break", "Price @10", "Price 10+", "Mouser 3"] {
        assert_eq!(paired(header), None, "{header}");
    }
}

#[test]
fn a_price_for_a_hundred_is_not_that_of_one() {
    for (header, expected) in
        [("€/100", 100.0), ("Price per 1000", 1000.0), ("Preis je 100 Stk", 100.0), ("Price", 1.0), ("Price 1", 1.0)]
    {
        assert!((pieces(header) - expected).abs() < 1e-9, "{header}");
    }
}

// Hand-made headers.
#[test]
fn a_header_lists_the_quantities_of_its_prices() {
    assert_eq!(tiers("Preis 1/10/100"), [1.0, 10.0, 100.0]);
    assert_eq!(tiers("Price EUR (1+/10+/100+)"), [1.0, 10.0, 100.0]);
    for header in ["Price", "€/100", "Price/100", "Price 100/1"] {
        assert!(tiers(header).is_empty(), "{header}");
    }
}

// Hand-made headers.
#[test]
fn a_header_of_a_price_break_says_its_quantity() {
    for (header, from) in [
        ("Price @10", Some(10.0)),
        ("Preis ab 100", Some(100.0)),
        ("Price (25+)", Some(25.0)),
        ("1+", Some(1.0)),
        ("1000 pcs", Some(1000.0)),
        ("Price 1", None),
        ("Price", None),
        ("Price Break 2", None),
    ] {
        assert_eq!(quantity_of(header), from, "{header}");
    }
}
