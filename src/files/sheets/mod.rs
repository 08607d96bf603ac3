//! Sheets to print: the worksheet for the bench and the justification for the engineer. Self-contained pages without
//! scripts; every text that comes from a file is escaped.

mod fitting;
mod html;
mod justification;
mod position_page;
mod provenance;
mod worksheet;

pub use justification::justification;
pub use provenance::{Provenance, SourceFile};
pub use worksheet::worksheet;

#[cfg(test)]
mod recomputing_tests;
#[cfg(test)]
mod tests;
