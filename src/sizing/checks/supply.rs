//! Whether the part can be bought.

use crate::domain::{Catalog, Check, Outcome, PartId, Status};
use crate::sizing::evaluation::Evaluation;
use crate::sizing::position_context::PositionContext;

/// What the supply check goes by.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Supply {
    /// Where the part stands in its life on the market.
    pub status: Option<Status>,
    /// Pieces to be had: on the shop's shelf and at the supplier who has most.
    pub stock: Option<f64>,
}

impl Supply {
    /// What catalogue, offers and shelf say of the supply of a part.
    pub fn of(context: &PositionContext, catalog: &Catalog, id: PartId) -> Self {
        Self { status: catalog.status(id), stock: context.stock(catalog, id) }
    }
}

/// Obsolete fails; not recommended for new designs, or a known stock below the need of this position, is marginal; no
/// status is unknown, which the verdict takes as advice only.
pub(super) fn check(context: &PositionContext, supply: Supply, evaluation: &mut Evaluation) {
    let by_status = match supply.status {
        Some(Status::Obsolete) => Outcome::Fail,
        Some(Status::Nrnd) => Outcome::Marginal,
        Some(Status::Active) => Outcome::Pass,
        None => Outcome::Unknown,
    };
    let short = supply.stock.is_some_and(|stock| stock < context.need_qty);
    let outcome = match by_status {
        // A stock known to be short says more than a status that is missing.
        Outcome::Pass | Outcome::Unknown if short => Outcome::Marginal,
        other => other,
    };
    evaluation.set(Check::Supply, outcome);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Catalog;
    use crate::sizing::testing::{HERE, can, job, position};
    use Outcome::{Fail, Marginal, Pass, Unknown};

    /// The job needs four units and 10 % spares: 5 pieces.
    fn at(status: Option<Status>, stock: Option<f64>) -> (Outcome, Outcome) {
        let job = job(position());
        let context = PositionContext::new(&job, &Catalog::default(), HERE).unwrap();
        let evaluation = context.evaluate(&can(), Supply { status, stock });
        (evaluation.outcome(Check::Supply), evaluation.verdict)
    }

    #[test]
    fn status_decides_and_obsolete_fails() {
        assert_eq!(at(Some(Status::Active), None), (Pass, Pass));
        assert_eq!(at(Some(Status::Nrnd), None), (Marginal, Marginal));
        assert_eq!(at(Some(Status::Obsolete), Some(1e6)), (Fail, Fail));
    }

    #[test]
    fn a_known_stock_below_the_need_of_the_position_is_marginal() {
        assert_eq!(at(Some(Status::Active), Some(5.0)), (Pass, Pass));
        assert_eq!(at(Some(Status::Active), Some(4.0)), (Marginal, Marginal));
        assert_eq!(at(None, Some(0.0)), (Marginal, Marginal));
    }

    #[test]
    fn no_status_is_unknown_and_only_advice() {
        assert_eq!(at(None, None), (Unknown, Pass));
        assert_eq!(at(None, Some(1e6)), (Unknown, Pass));
    }
}
