//! Whether the part can be bought.

use super::Supply;
use crate::domain::{Check, Outcome, Status};
use crate::sizing::evaluation::Evaluation;
use crate::sizing::place::Place;

/// Obsolete fails; not recommended for new designs, or a known stock below the need of this position, is marginal; no
/// status is unknown, which the verdict takes as advice only.
pub(super) fn check(place: &Place, supply: Supply, evaluation: &mut Evaluation) {
    let by_status = match supply.status {
        Some(Status::Obsolete) => Outcome::Fail,
        Some(Status::Nrnd) => Outcome::Marginal,
        Some(Status::Active) => Outcome::Pass,
        None => Outcome::Unknown,
    };
    let short = supply.stock.is_some_and(|stock| stock < place.need_qty);
    let outcome = match by_status {
        // A stock known to be short says more than a status that is missing.
        Outcome::Pass | Outcome::Unknown if short => Outcome::Marginal,
        other => other,
    };
    evaluation.set(Check::Supply, outcome);
}
