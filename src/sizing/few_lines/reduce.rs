//! Parts that cannot be needed, and parts that can be treated as one.
//!
//! Prices with breaks, packs and minimums do not add up, so "cheaper at every quantity" is not
//! enough to drop a part: moving its positions to the cheaper part changes what that part's other
//! pieces cost, too. Both rules below compare increments instead. Write `g_k(n)` for the cost of
//! part k at weight n, with `g_k(0) = 0`, and let k be free to serve any of its positions together
//! (one family).
//!
//! **Dominated part.** j may be dropped if k serves every position j does and
//! `max over a of (g_k(a+b) - g_k(a)) <= g_j(b)` for every b that j can reach. Take any choice in
//! which j serves weight b and k weight a, on different positions of k, so a+b is within k's table.
//! Handing all of j's positions to k changes the cost by
//! `g_k(a+b) - g_k(a) - g_j(b) <= 0`. Every choice with j thus has one without j that costs no
//! more. a = 0 is included, where the increment holds k's whole line cost. (derived)
//!
//! **Parts as one.** Parts with the same positions may be replaced by one with the cost
//! `h(n) = min over them of g(n)` if `h(a+b) <= h(a) + h(b)` for all a, b. A choice using two of
//! them at weights a and b costs at least `h(a) + h(b) >= h(a+b)`, which the cheapest of them at
//! a+b attains alone; so some best choice uses at most one of them, at its cost h. (derived)
//!
//! A part that must be used is never dropped or joined; parts are dropped one after the other, each
//! against a part that is still there. All weights of the table are tested, reachable or not, which
//! can only keep a part too many.

use super::model::{Facility, Model, is_subset};

/// Beyond this weight the quadratic tests are not worth their time; the search is exact without.
const WEIGHT_MAX: usize = 2000;
/// Sums in the tests differ by rounding; costs are in units of currency.
const ROUNDING: f64 = 1e-9;

pub(super) fn reduce(model: &Model) -> Model {
    Model::new(model.weights.clone(), without_dominated(join_twins(&model.facilities)))
}

/// True if the facility may be joined or may take over another's positions.
fn flexible(facility: &Facility) -> bool {
    facility.families.len() == 1 && facility.cost.len() <= WEIGHT_MAX
}

fn join_twins(facilities: &[Facility]) -> Vec<Facility> {
    let mut joined: Vec<Facility> = Vec::new();
    for facility in facilities {
        let twin = joined.iter_mut().find_map(|kept| {
            let twins = flexible(facility)
                && flexible(kept)
                && !facility.must
                && !kept.must
                && facility.positions == kept.positions;
            if !twins {
                return None;
            }
            let least: Vec<f64> = kept.cost.iter().zip(&facility.cost).map(|(a, b)| a.min(*b)).collect();
            subadditive(&least).then_some((kept, least))
        });
        match twin {
            Some((kept, least)) => {
                kept.cost = least;
                kept.members.extend(facility.members.iter().cloned());
            }
            None => joined.push(facility.clone()),
        }
    }
    joined
}

fn subadditive(cost: &[f64]) -> bool {
    (1..cost.len()).all(|a| (a..cost.len() - a).all(|b| cost[a + b] <= cost[a] + cost[b] + ROUNDING))
}

/// The most that serving b more can cost, by b.
fn increments(cost: &[f64]) -> Vec<f64> {
    (0..cost.len()).map(|b| (0..cost.len() - b).map(|a| cost[a + b] - cost[a]).fold(0.0, f64::max)).collect()
}

fn without_dominated(facilities: Vec<Facility>) -> Vec<Facility> {
    let most_added: Vec<Option<Vec<f64>>> =
        facilities.iter().map(|f| flexible(f).then(|| increments(&f.cost))).collect();
    let mut alive = vec![true; facilities.len()];
    for j in 0..facilities.len() {
        let small = &facilities[j];
        let dominated = !small.must
            && (0..facilities.len()).any(|k| {
                k != j
                    && alive[k]
                    && is_subset(&small.positions, &facilities[k].positions)
                    && most_added[k]
                        .as_ref()
                        .is_some_and(|added| (1..small.cost.len()).all(|b| added[b] <= small.cost[b] + ROUNDING))
            });
        alive[j] = !dominated;
    }
    facilities.into_iter().zip(alive).filter_map(|(facility, alive)| alive.then_some(facility)).collect()
}
