//! Where a job, a position and a part meet: checks, verdict, ranking, the board's interval.

mod checks;
mod compare;
mod curves;
mod evaluation;
mod interval;
mod market;
mod place;
mod rank;
mod size;
mod standing;
mod stored;
#[cfg(test)]
mod testing;

pub mod reasons;

pub use checks::Supply;
pub use curves::{LifePoint, life_against_ambient};
pub use evaluation::{Evaluation, Figures, FitFault};
pub use interval::Interval;
pub use market::Market;
pub use place::Place;
pub use rank::better;
pub use size::{
    BoardSizing, Choice, Counts, KEPT_PER_POSITION, PositionSizing, Ranked, Sizing, Source, evaluate_all,
    evaluate_part, size, size_position,
};
pub use standing::{StandIn, stand_in};
pub use stored::{Stored, stored};
