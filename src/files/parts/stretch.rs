//! Some of the rows of a catalogue file, read beside others, each row with the line it came from.

use std::io::{Read, Seek, SeekFrom};
use std::path::Path;

use csv::StringRecord;
use memchr::{memchr, memrchr};

use super::columns::{Cell, Cells, Column};
use super::error::{CATALOGUE, PartsError};
use super::row::{Fault, PartColumn, read_row};
use crate::domain::{CAN_NUMBERS, CatalogBuilder, CatalogSource};
use crate::files::canonical::{Header, ListError, REJECTED_MAX};
use crate::files::csv_rows::{CsvRows, plain_text};
use crate::files::{Rejected, bounded};

/// Where a row of the catalogue came from, and with it those after it that came from the lines after its line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Origin {
    pub(super) row: usize,
    pub(super) file: usize,
    pub(super) line: u64,
}

impl Origin {
    /// That of `row`.
    pub(super) fn of(origins: &[Self], row: usize) -> Self {
        let next = origins.partition_point(|origin| origin.row <= row);
        // Before every row one was put down.
        let known = origins[next.saturating_sub(1)];
        Self { row, line: known.line + (row - known.row) as u64, ..known }
    }

    /// Puts down that of the next row.
    pub(super) fn put_down(self, origins: &mut Vec<Self>) {
        let follows = |last: &Self| self.file == last.file && self.line == last.line + (self.row - last.row) as u64;
        if !origins.last().is_some_and(follows) {
            origins.push(self);
        }
    }
}

/// Some of the rows of a file as read.
pub(super) struct Stretch<'p> {
    pub(super) path: &'p Path,
    /// Which of the files it is.
    file: usize,
    /// Line of the next row.
    pub(super) line: u64,
    pub(super) builder: CatalogBuilder,
    columns: Vec<Column>,
    /// Which of the columns no row can do without, beside its number.
    required: Vec<usize>,
    pub(super) origins: Vec<Origin>,
    pub(super) rejected: Vec<Rejected>,
    pub(super) note: Option<String>,
}

impl<'p> Stretch<'p> {
    /// With room for so many rows of a file, the next of them in line `line`.
    pub(super) fn of(
        (path, file, source): (&'p Path, usize, &CatalogSource),
        columns: &[Option<PartColumn>],
        rows: usize,
        line: u64,
    ) -> Self {
        let mut builder = CatalogBuilder::default();
        builder.reserve(rows);
        builder.set_source(source.clone());
        let is_required = |&at: &usize| matches!(columns[at], Some(PartColumn::Can(of)) if CATALOGUE.required.contains(&CAN_NUMBERS[of].name));
        let required = (0..columns.len()).filter(is_required).collect();
        let columns = columns.iter().map(|&of| Column::of(of, rows)).collect();
        let (origins, rejected) = (Vec::new(), Vec::new());
        Self { path, file, line, builder, columns, required, origins, rejected, note: None }
    }

    /// Reads `body`; `goes_on` is told how many bytes more are read.
    pub(super) fn read(
        &mut self,
        body: &str,
        head: &Header,
        goes_on: &impl Fn(usize) -> Result<(), PartsError>,
    ) -> Result<(), PartsError> {
        if memchr(b'"', body.as_bytes()).is_none() {
            return self.read_plain(body, head.separator, goes_on);
        }
        let mut rows = CsvRows::new(body, head.separator, self.line, Some(head.cells.len()));
        let (mut record, mut look) = (StringRecord::new(), Look::default());
        while let Some(line) = rows.next(&mut record) {
            look.at(rows.byte(), goes_on)?;
            let cells = (0..record.len()).filter_map(|at| Some(Cell::of(record.as_slice(), record.range(at)?)));
            self.line = line;
            self.row(record.as_slice(), &mut { cells })?;
        }
        self.note = rows.note();
        Ok(())
    }

    /// The same where no row has a quotation mark: each is a line.
    fn read_plain(
        &mut self,
        body: &str,
        separator: u8,
        goes_on: &impl Fn(usize) -> Result<(), PartsError>,
    ) -> Result<(), PartsError> {
        let (mut cells, mut look) = (Cells::of(body, separator), Look::default());
        while cells.next_row() {
            look.at(cells.byte(), goes_on)?;
            self.row(body, &mut cells)?;
            self.line += 1;
        }
        Ok(())
    }

    /// Reads the bytes `from` to `to` of its file, whole lines, without having them all in memory; `None` where they have to be read
    /// otherwise or nobody waits for them any more.
    pub(super) fn read_streamed(
        &mut self,
        (from, to): (u64, u64),
        separator: u8,
        goes_on: &impl Fn(usize) -> Result<(), PartsError>,
    ) -> Option<()> {
        /// Stays near a core.
        const BLOCK_BYTES: u64 = 256 << 10;
        let mut file = bounded::open(self.path, bounded::TABLE_BYTES_MAX).ok()?;
        file.seek(SeekFrom::Start(from)).ok()?;
        let (mut rest, mut block) = (file.take(to - from), Vec::new());
        loop {
            let before = block.len();
            let read = (&mut rest).take(BLOCK_BYTES).read_to_end(&mut block).ok()?;
            let whole = match memrchr(b'\n', &block[before..]) {
                _ if read == 0 => block.len(),
                Some(end) => before + end + 1,
                None => 0,
            };
            let text = plain_text(&block[..whole]).filter(|text| memchr(b'"', text.as_bytes()).is_none())?;
            goes_on(read).and_then(|()| self.read_plain(text, separator, &|_| Ok(()))).ok()?;
            block.drain(..whole);
            if read == 0 {
                return Some(());
            }
        }
    }

    /// Says that it begins so many lines later.
    pub(super) fn shift(&mut self, lines: u64) {
        self.line += lines;
        self.origins.iter_mut().for_each(|origin| origin.line += lines);
        self.rejected.iter_mut().for_each(|rejected| rejected.line += lines);
    }

    /// Reads a row, whose cells are in `text`.
    fn row(&mut self, text: &str, cells: &mut (impl Iterator<Item = Cell> + Clone)) -> Result<(), PartsError> {
        let (row, line, all) = (self.builder.next_row(), self.line, cells.clone());
        let (columns, builder) = (&mut self.columns, &mut self.builder);
        let mut readable = true;
        for column in &mut *columns {
            let Some(cell) = cells.next() else { break };
            readable = column.take(row, text, cell, builder);
            if !readable {
                break;
            }
        }
        let mut extra = cells.map(|cell| cell.of_text(text));
        if readable
            && builder.next_row() > row
            && self.required.iter().all(|&at| columns[at].rows.len() > row)
            && extra.all(|cell| cell.trim().is_empty())
        {
            Origin { row, file: self.file, line }.put_down(&mut self.origins);
            return Ok(());
        }
        extra.for_each(drop);
        builder.truncate_numbers(row);
        columns.iter_mut().for_each(|column| column.rows.truncate(row));
        let cells = all.map(|cell| cell.of_text(text));
        if cells.clone().all(|cell| cell.trim().is_empty()) {
            return Ok(());
        }
        let (mut faults, columns) = (Vec::new(), columns.iter().map(|column| column.of).collect::<Vec<_>>());
        read_row(cells, &columns, &CATALOGUE, &mut faults);
        self.rejected.extend(faults.into_iter().map(|fault: Fault| fault.rejected(self.path, line)));
        if self.rejected.len() > REJECTED_MAX {
            return Err(ListError::TooManyFaults { path: self.path.to_owned(), line, list: &CATALOGUE }.into());
        }
        Ok(())
    }

    /// Everything that was read, the columns put into the builder.
    pub(super) fn whole(mut self) -> Self {
        self.builder.fill(self.columns.drain(..).filter_map(Column::filled));
        self
    }
}

/// Looks up from the rows now and then.
#[derive(Default)]
struct Look {
    rows: usize,
    /// How far the text was read then.
    byte: usize,
}

impl Look {
    fn at(&mut self, byte: usize, goes_on: &impl Fn(usize) -> Result<(), PartsError>) -> Result<(), PartsError> {
        const ROWS_PER_LOOK: usize = 4096;
        if self.rows.is_multiple_of(ROWS_PER_LOOK) {
            goes_on(byte - self.byte)?;
            self.byte = byte;
        }
        self.rows += 1;
        Ok(())
    }
}
