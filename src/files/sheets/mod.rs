//! Sheets to print: the worksheet for the bench, the justification for the engineer, the inspection of incoming goods. Self-contained pages without
//! scripts; every text that comes from a file is escaped.

mod fitting;
mod html;
mod inspection;
mod justification;
mod kits;
mod other_parts;
mod position_page;
mod provenance;
mod true_size;
mod worksheet;

pub use fitting::{how_to_fit, polarity};
pub use inspection::inspection;
pub use justification::justification;
pub use kits::packing;
pub use provenance::{Provenance, SourceFile};
pub use worksheet::worksheet;
