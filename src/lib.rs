//! Refarad chooses replacement electrolytic capacitors for boards nobody makes any more, and proves that they hold.
//!
//! The house, from the ground up; a floor knows only the floors below it:
//!
//! | module | holds |
//! |---|---|
//! | [`progress`] | how far long work is, and whether anybody still wants it |
//! | [`domain`] | what things are: job, board, position, can, part, catalogue, outcome |
//! | [`physics`] | the phenomena, one file each: pure functions of numbers |
//! | [`sizing`] | a job, a position and a part together: checks, verdict, ranking, the board's interval |
//! | [`files`] | readers and writers: job file, catalogue, exports, the built-in demo |
//! | `app` | the window, a feature that is on by default: reads what the others found out and never computes on its own |
//! | [`cli`] | the command line: calls, exit statuses, the table in the terminal |
//!
//! What every figure means and where it comes from is told in `src/app/views/help/GUIDE.md`, which is also the help of the window.
//!
//! # Example
//!
//! The built-in demo (all of it invented), sized as the window and the command line do it:
//!
//! ```
//! use std::sync::Arc;
//! use refarad::{files::demo, sizing::{self, CatalogIndex}};
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let job = demo::job()?.job;
//! let catalog_index = CatalogIndex::new(Arc::new(demo::parts()?.catalog));
//! let sizing = sizing::size(&job, &catalog_index);
//!
//! let first = &sizing.positions[0];
//! let part = first.choice.part.ok_or("no suitable part")?;
//! assert_eq!(catalog_index.catalog().part_number(part.id), "SKARN-400-220U");
//! assert!(first.choice.verdict.usable());
//!
//! // Why, in figures: 334 V peak on 400 V rated; the life before the cap of 15 years.
//! let figures = part.evaluation.figures;
//! assert_eq!(figures.voltage_usage, Some(334.0 / 400.0));
//! assert!(figures.life_uncapped_h.is_some_and(|hours| hours > 131_400.0));
//! # Ok(())
//! # }
//! ```

// The fixtures the unit tests share with the integration tests name the crate.
#[cfg(test)]
extern crate self as refarad;

#[cfg(feature = "window")]
pub mod app;
pub mod cli;
pub mod domain;
pub mod files;
pub mod physics;
pub mod progress;
pub mod sizing;
