//! Of `sizing/rank.rs`, from within it: limits, missing data, odd cases.

use super::*;
use crate::domain::CatalogBuilder;
use crate::sizing::testing::{can, part, ranked};
use Outcome::{Fail, Marginal, Pass, Unknown};

/// Parts 0, 1, 2 ... are A, B, C ...
fn catalog() -> Catalog {
    let mut builder = CatalogBuilder::default();
    for number in ["A", "B"] {
        builder.push(&part(number, None, can()));
    }
    builder.finish().0
}

#[expect(clippy::large_types_passed_by_value, reason = "reads as a sentence where it is called")]
fn first(a: Ranked, b: Ranked) -> u32 {
    let order = better(&catalog(), &a, &b);
    assert_eq!(better(&catalog(), &b, &a), order.reverse());
    if order == Ordering::Less { a.id.0 } else { b.id.0 }
}

#[test]
fn the_verdict_comes_before_everything() {
    for (worse, better) in [(Marginal, Pass), (Unknown, Marginal), (Fail, Unknown)] {
        assert_eq!(first(ranked(0, worse, Some(0.1), Some(0.9)), ranked(1, better, None, None)), 1);
    }
}

#[test]
fn among_passing_parts_the_cheapest_wins_and_one_without_a_price_comes_last() {
    assert_eq!(first(ranked(0, Pass, Some(2.0), Some(0.9)), ranked(1, Pass, Some(1.0), Some(0.1))), 1);
    assert_eq!(first(ranked(0, Pass, None, Some(0.9)), ranked(1, Pass, Some(99.0), Some(0.1))), 1);
    assert_eq!(first(ranked(0, Pass, Some(1.0), Some(0.1)), ranked(1, Pass, Some(1.0), Some(0.2))), 1);
}

#[test]
fn among_other_parts_the_larger_headroom_wins() {
    for verdict in [Marginal, Unknown, Fail] {
        assert_eq!(first(ranked(0, verdict, Some(0.1), Some(-0.3)), ranked(1, verdict, None, Some(-0.2))), 1);
        assert_eq!(first(ranked(0, verdict, Some(0.1), None), ranked(1, verdict, None, Some(-9.0))), 1);
        assert_eq!(first(ranked(0, verdict, Some(2.0), None), ranked(1, verdict, Some(1.0), None)), 1);
    }
}

#[test]
fn ties_go_by_part_number() {
    assert_eq!(first(ranked(1, Pass, Some(1.0), Some(0.5)), ranked(0, Pass, Some(1.0), Some(0.5))), 0);
    assert_eq!(first(ranked(1, Pass, None, None), ranked(0, Pass, None, None)), 0);
}

#[test]
fn a_part_ruled_out_at_a_glance_comes_after_one_that_was_looked_at() {
    let ruled_out = |id, excess| Ranked { excess: Some(excess), ..ranked(id, Fail, Some(0.1), Some(0.9)) };
    assert_eq!(first(ruled_out(0, 1.2), ranked(1, Fail, None, Some(-5.0))), 1);
    assert_eq!(first(ruled_out(0, 1.3), ruled_out(1, 1.2)), 1);
}
