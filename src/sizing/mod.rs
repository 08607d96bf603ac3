//! Where a job, a position and a part meet: checks, verdict, ranking, the board's interval.

mod checks;
mod compare;
mod evaluation;
mod interval;
mod market;
mod place;
mod rank;
mod size;
#[cfg(test)]
mod testing;
#[cfg(test)]
mod testing_jobs;

pub mod board_plan;
pub mod circuit;
mod circuit_kinds;
pub mod curves;
pub mod duty;
pub mod duty_from_log;
pub mod fitted;
pub mod free_spot;
pub mod heat_opinion;
pub mod interval_plan;
pub mod old_part;
pub mod parallel;
pub mod reasons;
pub mod series;
pub mod shelf;
pub mod spread;
pub mod stored_energy;
pub mod substitution;

pub use checks::Supply;
pub use evaluation::{Evaluation, Figures, FitFault};
pub use interval::Interval;
pub use market::Market;
pub use place::Place;
pub use rank::better;
pub use size::{
    BoardSizing, Choice, Counts, KEPT_PER_POSITION, PositionSizing, Ranked, Sizing, Source, evaluate_all,
    evaluate_part, size, size_position,
};
