//! Tables out of a maker's data sheet, a PDF file: what is printed on its pages becomes grids of texts, and those go the way of every list.
//!
//! `ink` finds what can be seen on a page, in a process of its own (see [`super::child`]), and `words` puts glyphs together; `lattice` and
//! `gaps` find tables by ruling lines or by the gaps between words, `grid` tells header from rows, [`sheet`] joins what goes on over pages,
//! `facts` finds what stands around the tables and holds for their parts, and `list` makes each list of parts ready for the import. Text
//! that is not seen is never used, and no figure is made up: a cell holds what is printed in its rectangle.

mod around;
mod facts;
mod gaps;
mod grid;
#[cfg(feature = "pdf")]
mod ink;
mod lattice;
mod list;
mod marks;
pub mod page;
mod rows;
#[cfg(feature = "pdf")]
mod seen;
pub mod sheet;
mod text;
#[cfg(feature = "pdf")]
mod words;

use std::collections::BTreeMap;
use std::path::Path;

use serde::{Deserialize, Serialize};

pub use list::{BY_ROW, FROM_SHEET, LIFE, place_of};
pub use page::{Page, Rect, Ruling, Sign, Word};
pub use sheet::{Area, Datasheet, PrintedRow, PrintedTable};

use super::child::{self, Apart, ChildError};
use crate::progress::Progress;

/// Most pages of a sheet that are read in one go.
pub const PAGES_MAX: usize = 100;

/// The pages of a data sheet as they were read.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Pages {
    /// Those that could be read.
    pub read: Vec<Page>,
    /// Why others could not.
    pub failed: Vec<String>,
}

/// What a person says about a data sheet.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Printed {
    /// The only table to use, by its number.
    pub table: Option<usize>,
    /// Letters of signs whose letter the file does not say, by the name of their shape.
    pub letters: BTreeMap<String, String>,
    /// Where tables are; pages without any are looked through.
    pub areas: Vec<Area>,
}

/// Reads one page apart; which, says its number.
#[derive(Debug)]
pub struct PageReader;

impl Apart for PageReader {
    const NAME: &'static str = "sheet-page";
    const SECONDS_MAX: u64 = 10;
    type Answer = Page;

    #[cfg(feature = "pdf")]
    fn read(bytes: &[u8], asked: &str) -> Result<Page, String> {
        ink::read(bytes, asked.parse().unwrap_or(1))
    }

    #[cfg(not(feature = "pdf"))]
    fn read(_: &[u8], _: &str) -> Result<Page, String> {
        Err("this build of the program reads no PDF files".to_owned())
    }
}

/// The picture of a page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Picture {
    /// As PNG.
    pub png: Vec<u8>,
}

/// Draws one page apart; which and how fine, say its number and the pixels per inch behind it.
#[derive(Debug)]
pub struct PictureReader;

impl Apart for PictureReader {
    const NAME: &'static str = "sheet-picture";
    const SECONDS_MAX: u64 = 10;
    type Answer = Picture;

    #[cfg(feature = "pdf")]
    fn read(bytes: &[u8], asked: &str) -> Result<Picture, String> {
        let (page, dpi) = asked.split_once(' ').unwrap_or((asked, "100"));
        let png = ink::picture(bytes, page.parse().unwrap_or(1), dpi.parse().unwrap_or(100.0))?;
        Ok(Picture { png })
    }

    #[cfg(not(feature = "pdf"))]
    fn read(_: &[u8], _: &str) -> Result<Picture, String> {
        Err("this build of the program reads no PDF files".to_owned())
    }
}

/// Whether a file that begins so is a PDF file.
pub fn is_pdf(beginning: &[u8]) -> bool {
    // Some makers' servers put a few bytes before the mark.
    beginning.get(..beginning.len().min(1024)).is_some_and(|head| head.windows(5).any(|five| five == b"%PDF-"))
}

/// Reads the pages of a sheet, or only one of them. A page that cannot be read is said and the others are read, up to the second such page.
///
/// # Errors
/// When the first page cannot be read.
pub fn open(path: &Path, only: Option<usize>, progress: &Progress) -> Result<Pages, ChildError> {
    let page = |number: usize| {
        let page = child::read_asked::<PageReader>(path, &number.to_string(), progress)?;
        let refused = |why| ChildError::Refused { path: path.to_owned(), why };
        page.check().map_err(refused)?;
        if page.number == number { Ok(page) } else { Err(ChildError::Failed { path: path.to_owned() }) }
    };
    let first = page(only.unwrap_or(1))?;
    let all = first.pages;
    let mut pages = Pages { read: vec![first], failed: Vec::new() };
    let last = if only.is_some() { 1 } else { all.min(PAGES_MAX) };
    for number in 2..=last {
        match page(number) {
            Ok(page) => pages.read.push(page),
            Err(ChildError::Cancelled { path }) => return Err(ChildError::Cancelled { path }),
            Err(error) => {
                pages.failed.push(format!("page {number}: {error}"));
                if pages.failed.len() > 1 {
                    pages.failed.push(format!("pages {} to {all} are not read", number + 1));
                    break;
                }
            }
        }
    }
    if last < all && only.is_none() {
        pages.failed.push(format!("the file has {all} pages; the first {PAGES_MAX} are read, others one by one"));
    }
    Ok(pages)
}
