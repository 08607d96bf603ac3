//! Category temperatures against the ambient.

use super::graded;
use crate::domain::{Can, Check, Outcome};
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::Evaluation;
use crate::sizing::place::Place;

/// Distance from the upper category temperature that passes, K.
const UPPER_MARGIN_K: f64 = 5.0;

/// Coldest and hottest ambient inside the category temperatures. An ambient below the lower one fails.
pub(super) fn check(place: &Place, can: &Can, evaluation: &mut Evaluation) {
    let cold = place
        .ambient_min_c
        .zip(can.temp_min_c)
        .map_or(Outcome::Unknown, |(ambient_c, min_c)| graded(at_least(ambient_c, min_c), false));
    let hot = place.ambient_max_c.zip(can.temp_max_c).map_or(Outcome::Unknown, |(ambient_c, max_c)| {
        graded(at_most(ambient_c, max_c - UPPER_MARGIN_K), at_most(ambient_c, max_c))
    });
    evaluation.set(Check::Temperature, cold.max(hot));
}
