//! What a file holds (text, a workbook, a data sheet), and the tables in it that can be meant, each ready for import.

use std::collections::HashSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::field::Target;
use super::source::{Source, SourceError};
use super::synonyms;
use crate::domain::style::counted;
use crate::files::bounded;
use crate::files::child;
use crate::files::datasheet::{self, Datasheet, Pages, Printed};
use crate::files::table::{self, Note, Options, TableError};
use crate::files::workbook::{self, Book, Sheet, Workbook};
use crate::progress::Progress;

/// What a file holds, once it is in memory.
#[derive(Debug, Clone, PartialEq)]
pub enum Content {
    /// Text of some encoding.
    Text(Vec<u8>),
    /// A workbook.
    Book(Book),
    /// The pages of a data sheet.
    Pages(Pages),
}

impl Content {
    /// Reads a file from the disk; a workbook, and each page of a data sheet, in a process of its own.
    ///
    /// # Errors
    /// When the file cannot be read, or is a workbook or a data sheet that cannot be read.
    pub fn open(path: &Path, progress: &Progress) -> Result<Self, SourceError> {
        Self::open_page(path, None, progress)
    }

    /// [`Content::open`]; `page` is the only page of a data sheet to read.
    ///
    /// # Errors
    /// As [`Content::open`].
    pub fn open_page(path: &Path, page: Option<usize>, progress: &Progress) -> Result<Self, SourceError> {
        let beginning = bounded::beginning(path);
        if workbook::is_workbook(&beginning) {
            return Ok(Self::Book(child::read::<Workbook>(path, progress)?));
        }
        if datasheet::is_pdf(&beginning) {
            return Ok(Self::Pages(datasheet::open(path, page, progress)?));
        }
        let bytes = bounded::read(path, bounded::TABLE_BYTES_MAX)
            .map_err(|source| SourceError::Unreadable { path: path.to_owned(), source })?;
        Ok(Self::Text(bytes))
    }

    /// Names of the sheets with cells; none of a text.
    pub fn sheets(&self) -> Vec<&str> {
        match self {
            Self::Text(_) | Self::Pages(_) => Vec::new(),
            Self::Book(book) => book.sheets.iter().map(|sheet| sheet.name.as_str()).collect(),
        }
    }

    /// A source for each table that can be used, mostly one: of a workbook those in the `sheets` named; where none is named, in the one
    /// sheet that can be meant. `options` overrule what would be detected, `printed` says the same of a data sheet.
    ///
    /// # Errors
    /// When there is no table, no sheet of that name, or more than one sheet that can be meant.
    pub fn sources(
        &self,
        path: &Path,
        target: Option<Target>,
        options: &Options,
        sheets: &[String],
        printed: &Printed,
    ) -> Result<Vec<Source>, SourceError> {
        match self {
            Self::Pages(pages) => of_pages(pages, path, printed)
                .map_err(|why| SourceError::NoList { path: path.to_owned(), why: why.join("; ") }),
            Self::Text(bytes) => Source::all_from_bytes(path, bytes, target, options),
            Self::Book(book) => of_book(book, path, target, options, sheets),
        }
    }
}

/// The sheets named, else the one that can be meant.
fn of_book(
    book: &Book,
    path: &Path,
    target: Option<Target>,
    options: &Options,
    named: &[String],
) -> Result<Vec<Source>, SourceError> {
    let no_table = |source| SourceError::NoTable { path: path.to_owned(), source };
    let names = |sheets: &[&Sheet]| sheets.iter().map(|sheet| sheet.name.clone()).collect::<Vec<String>>();
    let all: Vec<&Sheet> = book.sheets.iter().collect();
    let missing = named.iter().find(|name| !book.sheets.iter().any(|sheet| sheet.name == **name));
    if let Some(sheet) = missing {
        return Err(SourceError::NoSuchSheet { path: path.to_owned(), sheet: sheet.clone(), names: names(&all) });
    }
    let read = |sheet: &&Sheet| {
        let table = table::read_sheet(sheet, synonyms::known(), options)?;
        Ok(Source::of_table(path, table, target))
    };
    let mut chosen: Vec<&Sheet> = all.iter().copied().filter(|sheet| named.contains(&sheet.name)).collect();
    if named.is_empty() {
        let visible: Vec<&Sheet> = all.iter().copied().filter(|sheet| !sheet.hidden).collect();
        let usable = |sheet: &&&Sheet| read(sheet).is_ok_and(|source: Source| source.is_usable());
        // A hidden sheet with a list is meant, too, unless it only repeats the rows of a visible one.
        let seen: HashSet<&Vec<String>> =
            visible.iter().flat_map(|sheet| &sheet.rows).map(|(_, cells)| cells).collect();
        let repeats = |sheet: &Sheet| sheet.rows.iter().all(|(_, cells)| seen.contains(cells));
        let meant = |sheet: &&&Sheet| usable(sheet) && !(sheet.hidden && repeats(sheet));
        chosen = all.iter().filter(meant).copied().collect();
        if chosen.is_empty() && visible.len() == 1 {
            chosen.clone_from(&visible);
        }
        if chosen.len() != 1 || chosen[0].hidden {
            let of = if chosen.is_empty() { if visible.is_empty() { all } else { visible } } else { chosen };
            if of.is_empty() {
                return Err(no_table(TableError::Empty));
            }
            return Err(SourceError::WhichSheet { path: path.to_owned(), names: names(&of) });
        }
    }
    let mut sources = Vec::new();
    for sheet in &chosen {
        let mut source = read(sheet).map_err(no_table)?;
        if book.sheets.len() > 1 {
            source.path = PathBuf::from(format!("{}, sheet {}", path.display(), sheet.name));
        }
        if chosen.len() > 1 {
            source.title.clone_from(&sheet.name);
        }
        sources.push(source);
    }
    let unread = book.sheets.iter().filter(|sheet| !chosen.iter().any(|read| read.name == sheet.name));
    let unread: Vec<String> =
        unread.map(|sheet| format!("{}{}", sheet.name, if sheet.hidden { " (hidden)" } else { "" })).collect();
    if let Some(first) = sources.first_mut().filter(|_| !unread.is_empty()) {
        let text = format!("sheets of the workbook that are not read: {}", unread.join(", "));
        first.table.notes.push(Note { line: 1, text });
    }
    Ok(sources)
}

/// The lists of parts on the pages of a data sheet; what else is on them is said in the notes of the first, or is the error where
/// there is none.
fn of_pages(pages: &Pages, path: &Path, printed: &Printed) -> Result<Vec<Source>, Vec<String>> {
    let sheet = Datasheet::of_pages(&pages.read, &printed.letters, &printed.areas);
    let mut told: Vec<String> = pages.failed.iter().chain(&sheet.notes).cloned().collect();
    let bare = |table: &&datasheet::PrintedTable| {
        table.header.is_empty() && printed.table.is_none_or(|only| only == table.number)
    };
    told.extend(
        sheet.tables.iter().filter(bare).map(|table| format!("{}: no header was found over it", table.place())),
    );
    let mut sources = Vec::new();
    for (list, table) in sheet.lists(path, printed.table) {
        let mut source = Source::of_table(path, list, Some(Target::Parts));
        source.table.notes.extend(table.signs.iter().map(|(page, sign, text)| {
            let what = format!("page {page}: the file does not say what letter a sign in “{text}” is");
            Note { line: 1, text: format!("{what}; say it: --sign {}=LETTER", sign.key) }
        }));
        if source.is_usable() {
            source.places = Some(Arc::new(table));
            sources.push(source);
        } else {
            let names: String = source.table.header.join(" | ").chars().take(120).collect();
            told.push(format!("{}: its columns do not give capacitance and voltage ({names})", table.place()));
        }
    }
    match sources.first_mut() {
        Some(first) => first.table.notes.extend(told.into_iter().map(|text| Note { line: 1, text })),
        None if told.is_empty() => {
            let why = match sheet.tables_left {
                0 => "no table was found on its pages".to_owned(),
                left => format!(
                    "{} on its pages, and none is a list of parts: no row of figures stands under a header",
                    counted(left, "table is", "tables are")
                ),
            };
            return Err(vec![why]);
        }
        None => return Err(told),
    }
    Ok(sources)
}
