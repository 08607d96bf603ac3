//! Refarad chooses replacement electrolytic capacitors for boards nobody makes any more, and proves that they hold.
//!
//! The house, from the ground up; a floor knows only the floors below it:
//!
//! | module | holds |
//! |---|---|
//! | [`domain`] | what things are: job, board, position, can, part, catalogue, outcome |
//! | [`physics`] | the phenomena, one file each: pure functions of numbers |
//! | [`sizing`] | a job, a position and a part together: checks, verdict, ranking, the board's interval |
//! | [`files`] | readers and writers: job file, catalogue, exports, the built-in demo |
//! | [`progress`] | how far long work is, and whether anybody still wants it |
//! | [`app`] | the window: reads what the others found out and never computes on its own |
//!
//! # Example
//!
//! The built-in demo (all of it invented), sized as the window and the command line do it:
//!
//! ```
//! use std::sync::Arc;
//! use refarad::{files::demo, sizing::{self, Market}};
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let job = demo::job()?.job;
//! let market = Market::new(Arc::new(demo::parts()?.catalog));
//! let sizing = sizing::size(&job, &market);
//!
//! let first = &sizing.positions[0];
//! let part = first.choice.part.ok_or("no part holds")?;
//! assert_eq!(market.catalog().part_number(part.id), "SKARN-400-220U");
//! assert!(first.choice.verdict.usable());
//! # Ok(())
//! # }
//! ```

pub mod app;
pub mod domain;
pub mod files;
pub mod physics;
pub mod progress;
pub mod sizing;
