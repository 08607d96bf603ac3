//! Which of two parts to take.

use std::cmp::Ordering;

use super::size::Ranked;
use crate::domain::{Catalog, Outcome};

/// Better parts first: by verdict; passing parts by price (without a price last), then larger headroom; other parts by
/// larger headroom, then price: how far a limit is exceeded matters more there. Ties by part number.
///
/// Prices compare as numbers; parts in another currency than their neighbours are the buyer's to judge.
#[must_use]
pub fn better(catalog: &Catalog, a: &Ranked, b: &Ranked) -> Ordering {
    let verdict = a.evaluation.verdict;
    let by_price = || price(a).total_cmp(&price(b));
    let by_headroom = || headroom(b).total_cmp(&headroom(a));
    let by_worth = || match verdict {
        Outcome::Pass => by_price().then_with(by_headroom),
        _ => by_headroom().then_with(by_price),
    };
    (verdict.cmp(&b.evaluation.verdict))
        .then(a.ruled_out.cmp(&b.ruled_out))
        .then_with(|| if a.ruled_out { Ordering::Equal } else { by_worth() })
        .then_with(|| catalog.part_number(a.id).cmp(catalog.part_number(b.id)))
}

fn price(ranked: &Ranked) -> f64 {
    ranked.price.unwrap_or(f64::INFINITY)
}

fn headroom(ranked: &Ranked) -> f64 {
    ranked.evaluation.figures.headroom.unwrap_or(f64::NEG_INFINITY)
}
