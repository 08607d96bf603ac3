//! Which of two parts to take.

use std::cmp::Ordering;

use super::evaluation::Evaluation;
use crate::domain::{Catalog, Outcome, PartId};

/// A part at a position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranked {
    /// Which part.
    pub id: PartId,
    /// How it fares.
    pub evaluation: Evaluation,
    /// Price of one piece when few are bought.
    pub price: Option<f64>,
    /// What the pieces this position needs cost in the currency of the job, over all offers, pieces on the shelf free; not looked
    /// up for a part that is unknown or fails.
    pub cost: Option<f64>,
    /// The offer that gives the cost, as [`PositionContext::offer_of_need`](super::PositionContext::offer_of_need) names it.
    pub offer: Option<usize>,
    /// How far it is beyond what rules parts out at a glance; `None` for a part that is not: see [`CatalogIndex::excluded`].
    ///
    /// [`CatalogIndex::excluded`]: super::CatalogIndex::excluded
    pub excess: Option<f32>,
}

/// What the order of parts goes by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RankKey {
    /// Which part.
    pub id: PartId,
    /// The verdict on it.
    pub verdict: Outcome,
    /// As in [`Ranked::excess`].
    pub excess: Option<f32>,
    /// What the pieces the position needs cost, currency of the job; of a part that cannot be used the price of one.
    pub cost: Option<f64>,
    /// Least known margin, as a share of its limit.
    pub headroom: Option<f64>,
}

impl From<&Ranked> for RankKey {
    fn from(ranked: &Ranked) -> Self {
        Self {
            id: ranked.id,
            verdict: ranked.evaluation.verdict,
            excess: ranked.excess,
            // Of a part that cannot be used the cost of the need is not looked up; the price breaks ties as well.
            cost: if ranked.evaluation.verdict.usable() { ranked.cost } else { ranked.price },
            headroom: ranked.evaluation.figures.headroom,
        }
    }
}

/// Better parts first: by verdict; passing parts by what the need of the position costs (unpriced last), then larger headroom;
/// other parts by larger headroom, then cost: how far a limit is exceeded matters more there. Parts ruled out at a glance come last, the least far beyond the bounds first. Ties by part number.
pub fn better(catalog: &Catalog, a: &Ranked, b: &Ranked) -> Ordering {
    by_rank_key(catalog, &a.into(), &b.into())
}

/// The order of [`better`], for those who keep no more of a part than its [`RankKey`].
pub fn by_rank_key(catalog: &Catalog, a: &RankKey, b: &RankKey) -> Ordering {
    let cost = |worth: &RankKey| worth.cost.unwrap_or(f64::INFINITY);
    let headroom = |worth: &RankKey| worth.headroom.unwrap_or(f64::NEG_INFINITY);
    let by_cost = || cost(a).total_cmp(&cost(b));
    let by_headroom = || headroom(b).total_cmp(&headroom(a));
    let by_worth = || match a.verdict {
        Outcome::Pass => by_cost().then_with(by_headroom),
        _ => by_headroom().then_with(by_cost),
    };
    (a.verdict.cmp(&b.verdict))
        .then_with(|| a.excess.partial_cmp(&b.excess).unwrap_or(Ordering::Equal))
        .then_with(|| if a.excess.is_some() { Ordering::Equal } else { by_worth() })
        .then_with(|| catalog.part_number(a.id).cmp(catalog.part_number(b.id)))
}

#[cfg(test)]
#[path = "../../tests/within/rank.rs"]
mod tests;
