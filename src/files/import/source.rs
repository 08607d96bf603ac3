//! A file ready for import: its table, what it probably is, and the mapping to read it by.

use std::path::{Path, PathBuf};

use super::blocks;
use super::field::Target;
use super::headings;
use super::lines;
use super::mapping::{Mapping, header_set, recall};
use super::matrix;
use super::parts::{PartsImport, parts};
use super::positions::{PositionsImport, positions};
use super::propose::{Proposal, detect, propose};
use super::report::Report;
use super::synonyms;
use crate::files::bounded;
use crate::files::table::{self, Options, Table, TableError};

/// A file could not be read as a table.
#[derive(Debug, thiserror::Error)]
pub enum SourceError {
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a text table", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// The bytes are no table.
    #[error("{}: {source}", path.display())]
    NoTable {
        /// The file.
        path: PathBuf,
        /// What was found.
        source: TableError,
    },
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
    /// The file; for messages only.
    pub path: PathBuf,
    /// Its table.
    pub table: Table,
    /// What each column probably holds, with reasons and samples.
    pub proposal: Proposal,
    /// What it is read by: the proposal until somebody changes it.
    pub mapping: Mapping,
    /// Where the mapping comes from.
    pub origin: Origin,
    /// Where its rows stand on the pages of a data sheet.
    #[cfg(feature = "pdf")]
    pub places: Option<std::sync::Arc<crate::files::datasheet::SheetTable>>,
}

/// What became of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RowOutcome {
    /// Became a part or positions, of this name.
    Kept(String),
    /// Set aside or refused, with the reason.
    Left(String),
}

impl Source {
    /// Reads a file from the disk: a source for each of its tables that can be used, mostly one.
    ///
    /// # Errors
    /// When the file cannot be read or holds no table.
    pub fn open(path: &Path, target: Option<Target>) -> Result<Vec<Self>, SourceError> {
        let bytes = bounded::read(path, bounded::TABLE_BYTES_MAX)
            .map_err(|source| SourceError::Unreadable { path: path.to_owned(), source })?;
        Self::all_from_bytes(path, &bytes, target, &Options::default())
    }

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
        Ok(Self::of_table(path, table, target))
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
            if !sources.is_empty() {
                // Tables of the page that cannot be used are no secret.
                return Ok(with_note(sources, tables_found));
            }
            return Ok(vec![Self::from_bytes(path, bytes, target, options)?]);
        }
        Ok(merged.into_iter().map(|table| Self::of_table(path, table, target)).collect())
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
        }
    }

    /// A table that was read already.
    #[must_use]
    pub fn of_table(path: &Path, table: Table, target: Option<Target>) -> Self {
        let table =
            if matches!(target, None | Some(Target::Positions)) { lines::split(lines::joined(table)) } else { table };
        let table =
            if matches!(target, None | Some(Target::Parts)) { blocks::spread(matrix::unfold(table)) } else { table };
        let target = target.unwrap_or_else(|| detect(&table));
        let proposal = propose(&table, target);
        let mapping = proposal.mapping.clone();
        Self {
            path: path.to_owned(),
            table,
            proposal,
            mapping,
            origin: Origin::Proposed,
            #[cfg(feature = "pdf")]
            places: None,
        }
    }

    /// Takes the first given mapping for the same target whose columns the file has, else one remembered in `folder`.
    pub fn map_by(&mut self, given: &[Mapping], folder: Option<&Path>) {
        let target = self.mapping.target;
        let fits = |mapping: &&Mapping| mapping.target == target && mapping.missing_in(&self.table.header).is_empty();
        if let Some(mapping) = given.iter().find(fits) {
            (self.mapping, self.origin) = (mapping.clone(), Origin::Given);
        } else if let Some(mapping) = folder.and_then(|folder| recall(folder, &self.table.header, target)) {
            (self.mapping, self.origin) = (mapping, Origin::Remembered);
        }
    }

    /// Reads the table as parts.
    #[must_use]
    pub fn parts(&self) -> PartsImport {
        parts(&self.table, &self.mapping, &self.path)
    }

    /// Reads the table as positions.
    #[must_use]
    pub fn positions(&self) -> PositionsImport {
        positions(&self.table, &self.mapping, &self.path)
    }

    /// The first `rows` rows with what would become of each: line, cells, outcome.
    #[must_use]
    pub fn preview(&self, rows: usize) -> Vec<(u64, Vec<String>, RowOutcome)> {
        let head = Table { rows: self.table.rows.iter().take(rows).cloned().collect(), ..self.table.clone() };
        let (kept, report): (Vec<(u64, String)>, Report) = match self.mapping.target {
            Target::Parts => {
                let import = parts(&head, &self.mapping, &self.path);
                (import.parts.into_iter().map(|(line, part)| (line, part.part_number)).collect(), import.report)
            }
            Target::Positions | Target::Placement => {
                let import = positions(&head, &self.mapping, &self.path);
                (
                    import.positions.into_iter().map(|(line, position)| (line, position.reference)).collect(),
                    import.report,
                )
            }
        };
        let outcome = |line: u64| {
            let names: Vec<&str> = kept.iter().filter(|(of, _)| *of == line).map(|(_, name)| name.as_str()).collect();
            if names.is_empty() {
                let reasons: Vec<&str> = report
                    .rejected
                    .iter()
                    .filter(|listed| listed.line == line)
                    .map(|listed| listed.reason.as_str())
                    .collect();
                RowOutcome::Left(reasons.join("; "))
            } else {
                RowOutcome::Kept(names.join(", "))
            }
        };
        head.rows.iter().map(|row| (row.line as u64, row.cells.clone(), outcome(row.line as u64))).collect()
    }
}

/// What most rows of a page's tables are.
fn main_target(tables: &[Table]) -> Option<Target> {
    let rows = |target: Target| {
        let of_target = tables.iter().filter(|table| detect(table) == target);
        of_target.map(|table| table.rows.len()).sum::<usize>()
    };
    Target::NAMES.iter().map(|&(target, _)| target).max_by_key(|&target| rows(target))
}

fn with_note(mut sources: Vec<Source>, found: usize) -> Vec<Source> {
    let used = sources.len();
    if let Some(first) = sources.first_mut().filter(|_| used < found) {
        let text = format!("{} more tables of this file have no columns that can be used", found - used);
        first.table.notes.push(table::Note { line: 1, text });
    }
    sources
}
