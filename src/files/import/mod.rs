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
mod by_place;
mod columns;
pub mod content;
mod detect;
mod duplicates;
pub mod every_position;
mod every_row;
pub mod field;
mod figures;
mod fitted;
pub mod gather;
mod headings;
mod lines;
pub mod mapping;
mod matrix;
mod naming;
pub mod offers;
mod others;
mod pairs;
mod part_number;
pub mod parts;
pub mod placement;
pub mod positions;
pub mod propose;
mod rated_ripple;
pub mod report;
mod rows;
mod settle;
mod shape;
pub mod source;
pub mod synonyms;
mod trade;
mod words;

pub use answer::Answer;
pub use content::Content;
pub use field::{Field, Target};
pub use gather::{Gathered, Given};
pub use mapping::{ColumnMeaning, EveryRow, Mapping, MappingError};
pub use naming::Confidence;
pub(super) use others::kind as other_kind;
pub use propose::{Proposal, ProposedColumn};
pub use report::{Choice, Contradiction, Question, Report, SetAside};
pub use source::{Source, SourceError};
