//! Nominal capacitance and tolerance.

use super::limits::window;
use crate::domain::{Can, Check, Outcome};
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::{Evaluation, graded};
use crate::sizing::position_context::PositionContext;

/// Inside the limits given; a side that is not given goes by the window of the role around the original's nominal capacitance,
/// and is open where that is not known.
pub(super) fn check(context: &PositionContext, can: &Can, evaluation: &mut Evaluation) {
    evaluation.set(Check::Capacitance, outcome(context, can).unwrap_or(Outcome::Unknown));
}

fn outcome(context: &PositionContext, can: &Can) -> Option<Outcome> {
    let capacitance_uf = can.capacitance_uf?;
    let needs = &context.position.needs;
    let original = &context.position.original.can;
    let window = context.position.role.map(window).zip(original.capacitance_uf);
    let (min_uf, max_uf) = (needs.capacitance_min_uf, needs.capacitance_max_uf);
    let given = min_uf.is_none_or(|min_uf| at_least(capacitance_uf, min_uf))
        && max_uf.is_none_or(|max_uf| at_most(capacitance_uf, max_uf));
    if min_uf.is_some() && max_uf.is_some() || (min_uf.is_some() || max_uf.is_some()) && window.is_none() {
        return Some(graded(given, false));
    }
    let (window, original_uf) = window?;
    let inside = |(low, high): (f64, f64)| {
        (min_uf.is_some() || at_least(capacitance_uf, low * original_uf))
            && (max_uf.is_some() || at_most(capacitance_uf, high * original_uf))
    };
    let nominal = graded(given, false).max(graded(inside(window.pass), inside(window.marginal)));
    if !window.tolerance_counts {
        return Some(nominal);
    }
    let tolerance = can
        .tolerance_pct
        .zip(original.tolerance_pct)
        .map_or(Outcome::Unknown, |(own, original)| graded(at_most(own, original), true));
    Some(nominal.max(tolerance))
}
