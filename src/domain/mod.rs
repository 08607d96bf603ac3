//! What things are: a job, its boards and positions, the cans in them, the catalogue, the outcomes.
//!
//! Plain data with serde. No files, no mathematics beyond accessors. Unknown is `None`, never zero.

mod board;
mod can;
mod catalog;
mod column;
mod conditions;
mod date;
mod interned;
mod job;
mod names;
mod offer;
mod other_part;
mod outcome;
mod part;
mod place;
mod policy;
mod position;
pub mod safety;
pub mod schema;
mod shelf;
pub mod style;
mod table;
mod uncertainty;
mod unit;
mod variant;
mod written;

pub use board::{Board, UnitType};
pub use can::{CAN_NUMBERS, Can, CanColumns, EnduranceBasis, LifeBasis, Mounting, Technology};
pub use catalog::{Catalog, CatalogBuilder, CatalogSource, Distinct, Duplicate, INVENTED, set_row};
pub use column::NumberField;
pub use conditions::Conditions;
pub use date::Date;
pub use job::{BoardOfUnit, Job, boards_of_unit, others_of_unit};
pub use names::Names;
pub use offer::{OfferBook, SupplierOffer};
pub use other_part::{OtherKind, OtherOriginal, OtherPart, Replacement, TestPoint, WhyReplaced};
pub use outcome::{Assumed, Check, Outcome};
pub use part::{Known, PART_TEXTS, Part, PartId, Status, TRADE_NUMBERS, Trade};
pub use place::{OtherId, Place, PositionId};
pub use policy::Policy;
pub use position::{Measured, Needs, Original, Phase, Position, RippleLine, RippleOrigin, Role, Side, Space, Stress};
pub use schema::{Bounds, Unit};
pub use shelf::ShelfStock;
pub use table::PairTable;
pub use uncertainty::Uncertainty;
pub use unit::{PositionRecord, Reading, UnitAtBench};
pub use variant::Variant;
pub(crate) use written::words;

/// JSON fields this version does not know; kept so that a load and save loses nothing.
pub type Extra = serde_json::Map<String, serde_json::Value>;
