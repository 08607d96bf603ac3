//! A file ready for import: its table, what it probably is, and the mapping to read it by.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use strum::VariantArray;

use super::blocks;
use super::detect::detect;
use super::field::Target;
use super::headings;
use super::lines;
use super::mapping::{Mapping, header_set, recall};
use super::matrix;
use super::parts::{PartsImport, parts};
use super::positions::{PositionsImport, positions};
use super::propose::{Proposal, propose};
use super::synonyms;
use crate::files::canonical;
use crate::files::child::ChildError;
use crate::files::datasheet::PrintedTable;
use crate::files::table::{self, Options, Table, TableError};

/// A file could not be read as a table.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum SourceError {
    /// The workbook could not be read.
    #[error("{0}")]
    Workbook(#[from] ChildError),
    /// The workbook has no such sheet.
    #[error("{}: there is no sheet {sheet}; expected one of {}", path.display(), names.join(", "))]
    NoSuchSheet { path: PathBuf, sheet: String, names: Vec<String> },
    /// Several sheets can be read, or one that the workbook hides, and none was named.
    #[error("{}: it is not sure which sheets are meant, {}; name one by --sheet, or several", path.display(), names.join(", "))]
    WhichSheet { path: PathBuf, names: Vec<String> },
    /// The data sheet has no list of parts that can be read.
    #[error("{}: no list of parts was found in this data sheet: {why}", path.display())]
    NoList { path: PathBuf, why: String },
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a text table", path.display())]
    Unreadable { path: PathBuf, source: std::io::Error },
    /// The bytes are no table.
    #[error("{}: {source}", path.display())]
    NoTable { path: PathBuf, source: TableError },
}

/// Where the mapping of a source comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Proposed from headers and cells.
    Proposed,
    /// Remembered from an earlier file with the same headers.
    Remembered,
    /// Given by a person.
    Given,
}

/// A file ready for import.
#[derive(Debug, Clone)]
pub struct Source {
    /// The file, with the sheet where its workbook has several; for messages only.
    pub path: PathBuf,
    /// A name for what is made of it: that of the file without ending, of several sheets that of the sheet.
    pub title: String,
    /// Its table.
    pub table: Table,
    /// What each column probably holds, with reasons and samples.
    pub proposal: Proposal,
    /// What it is read by: the proposal until somebody changes it.
    pub mapping: Mapping,
    /// Where the mapping comes from.
    pub origin: Origin,
    /// What was remembered from an earlier file and differs from the proposal, in words.
    pub remembered: Vec<String>,
    /// Where its rows stand on the pages of a data sheet.
    pub places: Option<Arc<PrintedTable>>,
}

impl Source {
    /// Reads a file from memory, or a pasted text as bytes; `options` overrule what would be detected.
    ///
    /// # Errors
    /// When the bytes hold no table.
    pub fn from_bytes(
        path: &Path,
        bytes: &[u8],
        target: Option<Target>,
        options: &Options,
    ) -> Result<Self, SourceError> {
        let table = table::read(bytes, synonyms::known(), options)
            .map_err(|source| SourceError::NoTable { path: path.to_owned(), source })?;
        Ok(Self::of_table(path, table, target).said_by(bytes))
    }

    /// What the file says of itself above its header row.
    fn said_by(mut self, bytes: &[u8]) -> Self {
        self.mapping.invented = canonical::says_invented(&String::from_utf8_lossy(bytes));
        self.proposal.mapping.invented = self.mapping.invented;
        self
    }

    /// Every table of a file that can be used, those with the same headers as one: Markdown and wiki pages hold several.
    ///
    /// # Errors
    /// When the bytes hold no table.
    pub fn all_from_bytes(
        path: &Path,
        bytes: &[u8],
        target: Option<Target>,
        options: &Options,
    ) -> Result<Vec<Self>, SourceError> {
        let no_table = |source| SourceError::NoTable { path: path.to_owned(), source };
        let mut tables = table::read_all(bytes, synonyms::known(), options).map_err(no_table)?;
        headings::spread(&mut tables);
        let mut merged: Vec<Table> = Vec::new();
        for table in tables {
            match merged.iter_mut().find(|earlier| header_set(&earlier.header) == header_set(&table.header)) {
                // The same names in the same order, or the cells would change places.
                Some(earlier) if earlier.header == table.header => {
                    earlier.rows.extend(table.rows);
                    earlier.notes.extend(table.notes);
                }
                _ => merged.push(table),
            }
        }
        let tables_found = merged.len();
        if tables_found > 1 {
            let target = target.or_else(|| main_target(&merged));
            let sources: Vec<Self> =
                merged.into_iter().map(|table| Self::of_table(path, table, target)).filter(Self::is_usable).collect();
            let sources: Vec<Self> = sources.into_iter().map(|source| source.said_by(bytes)).collect();
            if !sources.is_empty() {
                // Tables of the page that cannot be used are no secret.
                return Ok(with_note(sources, tables_found));
            }
            return Ok(vec![Self::from_bytes(path, bytes, target, options)?]);
        }
        Ok(merged.into_iter().map(|table| Self::of_table(path, table, target).said_by(bytes)).collect())
    }

    /// Whether the proposal finds what a target cannot do without.
    pub(crate) fn is_usable(&self) -> bool {
        use super::field::Field;
        let has = |field| self.mapping.has(field);
        let value = has(Field::Capacitance) || has(Field::Value);
        match self.mapping.target {
            Target::Parts => value && (has(Field::RatedV) || has(Field::PartNumber) || has(Field::Description)),
            Target::Positions => has(Field::Designator) && (value || has(Field::Description)),
            Target::Placement => has(Field::Designator) && has(Field::X) && has(Field::Y),
            Target::Offers => has(Field::PartNumber) && Field::OF_OFFERS.into_iter().any(has),
        }
    }

    /// A table that was read already.
    pub fn of_table(path: &Path, table: Table, target: Option<Target>) -> Self {
        let table = blocks::with_units(blocks::below_each_other(table));
        let table = if matches!(target, None | Some(Target::Positions)) {
            headings::boards(blocks::ditto(lines::split(table)))
        } else {
            blocks::ditto(table)
        };
        let table = if matches!(target, None | Some(Target::Parts)) {
            blocks::spread(matrix::unfolded(&table).unwrap_or(table))
        } else {
            table
        };
        let proposal = target.map_or_else(|| detect(&table), |target| propose(&table, target));
        let mapping = proposal.mapping.clone();
        let title = path.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
        Self {
            path: path.to_owned(),
            title,
            table,
            proposal,
            mapping,
            origin: Origin::Proposed,
            remembered: Vec::new(),
            places: None,
        }
    }

    /// A source for each of the boards that the column of boards names; itself where none does, or where one board was chosen.
    pub fn boards(self) -> Vec<Self> {
        let named = self.mapping.boards.as_deref().filter(|_| self.mapping.only_board.is_none());
        let at =
            named.and_then(|name| self.table.header.iter().position(|header| self.mapping.same_column(header, name)));
        let Some(at) = at else { return vec![self] };
        let mut boards: Vec<String> = Vec::new();
        for board in self.table.rows.iter().filter_map(|row| row.cells.get(at)).map(|cell| cell.trim()) {
            if !board.is_empty() && !boards.iter().any(|known| known == board) {
                boards.push(board.to_owned());
            }
        }
        if boards.is_empty() {
            return vec![self];
        }
        let of_board = |board: String| {
            let mut source = self.clone();
            source.mapping.only_board = Some(board.clone());
            source.title = board;
            source
        };
        boards.into_iter().map(of_board).collect()
    }

    /// Takes the first given mapping for the same target whose columns the file has, else one remembered in `folder`. Columns that
    /// were only numbered, or named by the reader, say nothing of another file: for a table without a header nothing is remembered.
    pub fn map_by(&mut self, given: &[Mapping], folder: Option<&Path>) {
        let target = self.mapping.target;
        let fits = |mapping: &&Mapping| mapping.target == target && mapping.missing_in(&self.table.header).is_empty();
        if let Some(mapping) = given.iter().find(fits) {
            let invented = mapping.invented || self.mapping.invented;
            (self.mapping, self.origin) = (Mapping { invented, ..mapping.clone() }, Origin::Given);
        } else if let Some(mapping) = folder
            .filter(|_| self.table.found.header_line.is_some())
            .and_then(|folder| recall(folder, &self.table.header, target))
        {
            self.remembered = self.mapping.take_over(&mapping);
            if !self.remembered.is_empty() {
                self.origin = Origin::Remembered;
            }
        }
    }

    /// Reads the table as parts.
    pub fn parts(&self) -> PartsImport {
        parts(&self.table, &self.mapping, &self.path, &|_| true).unwrap_or_default()
    }

    /// Reads the table as positions.
    pub fn positions(&self) -> PositionsImport {
        positions(&self.table, &self.mapping, &self.path, &|_| true).unwrap_or_default()
    }
}

/// What most rows of a page's tables are.
fn main_target(tables: &[Table]) -> Option<Target> {
    let rows = |target: Target| {
        let of_target = tables.iter().filter(|table| detect(table).mapping.target == target);
        of_target.map(|table| table.rows.len()).sum::<usize>()
    };
    Target::VARIANTS.iter().copied().max_by_key(|&target| rows(target))
}

fn with_note(mut sources: Vec<Source>, found: usize) -> Vec<Source> {
    let used = sources.len();
    if let Some(first) = sources.first_mut().filter(|_| used < found) {
        let text = format!("{} more tables of this file have no columns that can be used", found - used);
        first.table.notes.push(table::Note { line: 1, text });
    }
    sources
}
