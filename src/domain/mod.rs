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
mod offer;
mod other_part;
mod outcome;
mod part;
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

pub use board::Board;
pub use can::{CAN_NUMBERS, Can, CanColumns, EnduranceBasis, LifeBasis, Mounting, Technology};
pub use catalog::{Catalog, CatalogBuilder, CatalogSource, Duplicate, INVENTED, PartId};
pub use column::NumberField;
pub use conditions::Conditions;
pub use date::Date;
pub use interned::Distinct;
pub use job::{Job, PositionId};
pub use offer::{OfferBook, SupplierOffer};
pub use other_part::{
    OtherId, OtherKind, OtherOriginal, OtherPart, Place, Replacement, TestPoint, UnitType, WhyReplaced,
};
pub use outcome::{Assumed, Check, Outcome};
pub use part::{Part, Status, TRADE_NUMBERS, Trade};
pub use policy::Policy;
pub use position::{Measured, Needs, Original, Phase, Position, RippleLine, RippleOrigin, Role, Side, Space, Stress};
pub use schema::{Bounds, Unit};
pub use shelf::ShelfStock;
pub use table::PairTable;
pub use uncertainty::Uncertainty;
pub use unit::{BoardOfUnit, PositionRecord, Reading, UnitAtBench, boards_of_unit, others_of_unit};
pub use variant::Variant;

/// JSON fields this version does not know; kept so that a load and save loses nothing.
pub type Extra = serde_json::Map<String, serde_json::Value>;
