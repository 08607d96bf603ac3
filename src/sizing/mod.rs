//! Where a job, a position and a part meet: checks, verdict, ranking, the board's interval.

pub mod ambient;
mod asked;
pub mod assumed;
mod board_map;
mod can_state;
mod catalog_index;
mod checks;
mod compare;
mod contexts;
mod default_values;
mod due;
mod evaluation;
mod footprint;
mod interval;
mod market;
mod neighbours;
pub mod order;
pub mod other_parts;
mod position_context;
mod purchase;
mod rank;
mod shelf;
mod size;
#[cfg(test)]
#[path = "../../tests/rules/testing.rs"]
#[allow(dead_code, reason = "shared with the integration tests, each uses a part of it")]
mod testing;
#[cfg(test)]
#[path = "../../tests/rules/testing_duty.rs"]
#[allow(dead_code, reason = "shared with the integration tests, each uses a part of it")]
mod testing_duty;

mod voltages;

pub mod bench;
pub mod board_plan;
pub mod changed;
pub mod circuit;
mod circuit_kinds;
pub mod curves;
pub mod duty;
pub mod duty_from_log;
pub mod few_lines;
pub mod fitted;
pub mod free_spot;
pub mod heat_opinion;
pub mod inrush;
pub mod inspection;
pub mod interval_plan;
pub mod kits;
pub mod needs;
pub mod old_part;
pub mod parallel;
pub mod pick_change;
pub mod quantities;
pub mod reasons;
pub mod ripple_origin;
pub mod series;
pub mod spread;
pub mod stored_energy;
pub mod substitution;
pub mod what_if;
pub mod why_not;
pub mod workings;

pub use asked::JobCurrency;
pub use board_map::{AtBench, BoardMap, CanOnMap, Gap, KeepoutViolation, Reserved};
pub use can_state::CanState;
pub use catalog_index::{CatalogIndex, PrefilterReason, RuledOut};
pub use checks::Supply;
pub use contexts::Contexts;
pub use default_values::{DefaultValue, default_value};
pub use due::Due;
pub use evaluation::{Evaluation, Figures, FitFault};
pub use footprint::{Footprint, Placed};
pub use interval::Interval;
pub use market::Terms;
pub use needs::Need;
pub use order::{LeftOut, Order, OrderError, OrderOptions, OrderPick, OrderStep, OrderedPart, order};
#[cfg(test)]
pub(crate) use position_context::MADE;
pub use position_context::{PositionContext, years_of};
pub use purchase::{NextBreak, OfferChoice, Purchase, PurchaseLine, Totals, purchase};
pub use rank::{RankKey, Ranked, better, by_rank_key};
pub use shelf::{Before, ShelfUse, before_use, lots_of, reforming_advice};
pub use size::{
    BoardSizing, Choice, Counts, KEPT_PER_POSITION, PositionSizing, Sizing, Source, best_at, evaluate_all,
    evaluate_excluded, evaluate_part, nearest_first, size, size_position, size_watched,
};
