//! Tables out of a maker's data sheet, a PDF file: what is printed on its pages becomes grids of texts, and those go the way of every list.
//!
//! `ink` finds what can be seen on a page (in a process of its own, see [`super::child`]), `words` puts glyphs together, `lattice` and
//! `gaps` find tables by ruling lines or by the gaps between words, `grid` tells header from rows, [`sheet`] joins what goes on over pages
//! and proposes what stands around the tables. Text that is not seen is never used, and no figure is made up: a cell holds what is
//! printed in its rectangle.

mod facts;
mod gaps;
mod grid;
mod ink;
mod lattice;
mod marks;
pub mod page;
pub mod sheet;
mod words;

pub use page::{Page, Rect, Ruling, Word};
pub use sheet::{Sheet, SheetTable};

/// Most bytes of a data sheet.
pub const BYTES_MAX: u64 = 64 << 20;
/// Most pages of a sheet that are read in one go.
pub const PAGES_MAX: usize = 100;
