//! Sheets to print: the worksheet for the bench and the justification for the engineer. Self-contained pages without
//! scripts; every text that comes from a file is escaped.

mod fitting;
mod html;
mod justification;
mod worksheet;

pub use justification::justification;
pub use worksheet::worksheet;

#[cfg(test)]
mod tests;
