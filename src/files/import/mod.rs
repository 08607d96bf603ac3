//! Files of strangers: parts lists, parts lists of boards, placement files, with headers, units and notations of their own.
//!
//! A file becomes a [`Table`](super::table::Table); [`propose`](propose::propose) says what each column probably holds; a person may
//! correct the [`Mapping`]; [`parts`](parts::parts), [`positions`](positions::positions) and [`placement`](placement::place) read the rows
//! by it. Nothing is guessed silently: what two cells contradict or nothing decides is a [`Question`] or a [`Contradiction`] of the
//! [`Report`], and the figure stays unknown.

pub mod answer;
mod asking;
mod belonging;
mod blocks;
mod body;
mod columns;
mod duplicates;
pub mod every_position;
mod every_row;
pub mod field;
mod figures;
pub mod gather;
mod headings;
mod lines;
pub mod mapping;
mod matrix;
mod naming;
mod others;
mod pairs;
mod part_number;
pub mod parts;
pub mod placement;
pub mod positions;
pub mod propose;
mod rated_ripple;
pub mod report;
mod settle;
mod shape;
pub mod source;
pub mod synonyms;
mod trade;
mod words;

pub use field::{Field, Target};
pub use gather::{Gathered, Given};
pub use mapping::{ColumnMeaning, EveryRow, Mapping, MappingError};
pub(super) use others::kind as other_kind;
pub use propose::{Confidence, Proposal, ProposedColumn};
pub use report::{Choice, Contradiction, Question, Report, SetAside, Setting};
pub use source::{Content, Source, SourceError};

/// Header of the column of multipliers that another table of a data sheet gives; it is used once somebody says so.
pub const FROM_SHEET: &str = "Ripple multipliers by frequency, from another table of the sheet";
/// Begins the lines over a table that say what endurance a data sheet names: `Endurance in the sheet: 5000 h at 105 °C`.
pub const LIFE: &str = "Endurance in the sheet:";
