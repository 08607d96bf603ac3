//! Nominal capacitance and tolerance.

use super::graded;
use crate::domain::{Can, Check, Outcome, Role};
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::Evaluation;
use crate::sizing::place::Place;

/// Multiples of the original's capacitance that pass and that are marginal (common practice, no source).
pub(in crate::sizing) struct Window {
    pass: (f64, f64),
    pub marginal: (f64, f64),
    /// Whether the tolerance may not be wider than the original's.
    tolerance_counts: bool,
}

pub(in crate::sizing) fn window(role: Role) -> Window {
    match role {
        Role::Reservoir | Role::DcLink | Role::InputFilter | Role::OutputFilter | Role::Decoupling => {
            Window { pass: (1.0, 2.0), marginal: (0.8, 3.0), tolerance_counts: false }
        }
        Role::Startup => Window { pass: (1.0, 1.5), marginal: (0.8, 2.0), tolerance_counts: false },
        Role::Timing | Role::Coupling => Window { pass: (0.98, 1.02), marginal: (0.9, 1.1), tolerance_counts: true },
    }
}

/// Inside the limits given, else within the window of the role around the original's nominal capacitance.
pub(super) fn check(place: &Place, can: &Can, evaluation: &mut Evaluation) {
    evaluation.set(Check::Capacitance, outcome(place, can).unwrap_or(Outcome::Unknown));
}

fn outcome(place: &Place, can: &Can) -> Option<Outcome> {
    let capacitance_uf = can.capacitance_uf?;
    let needs = &place.position.needs;
    if needs.capacitance_min_uf.is_some() || needs.capacitance_max_uf.is_some() {
        let enough = needs.capacitance_min_uf.is_none_or(|min_uf| at_least(capacitance_uf, min_uf));
        let not_too_much = needs.capacitance_max_uf.is_none_or(|max_uf| at_most(capacitance_uf, max_uf));
        return Some(graded(enough && not_too_much, false));
    }
    let original = &place.position.original.can;
    let original_uf = original.capacitance_uf?;
    let window = window(place.position.role?);
    let inside = |(low, high): (f64, f64)| {
        at_least(capacitance_uf, low * original_uf) && at_most(capacitance_uf, high * original_uf)
    };
    let nominal = graded(inside(window.pass), inside(window.marginal));
    if !window.tolerance_counts || nominal == Outcome::Fail {
        return Some(nominal);
    }
    let tolerance = can
        .tolerance_pct
        .zip(original.tolerance_pct)
        .map_or(Outcome::Unknown, |(own, original)| graded(at_most(own, original), true));
    Some(nominal.max(tolerance))
}
