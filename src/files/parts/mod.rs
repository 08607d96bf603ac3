//! The candidate catalogue with canonical headers.
//!
//! UTF-8, UTF-16 with or without a byte order mark, else Windows-1252; comma, semicolon or tab; the header row anywhere in the first 20 lines. A row
//! without part number, capacitance or rated voltage, or with a cell that cannot be read, goes to the rejected list with
//! every such cell; nothing is dropped without a word.

pub(super) mod row;

use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};

use csv::StringRecord;
use memchr::memchr;
use rayon::prelude::*;

use super::canonical::{Header, List, ListError, REJECTED_MAX, decode, find_header, says_invented};
use super::csv_rows::{CsvRows, breaks};
use super::import::{Mapping, Source, SourceError, Target, source::Origin as MappingOrigin};
use super::{Rejected, bounded};
use crate::domain::style::counted;
use crate::domain::{Catalog, CatalogBuilder, CatalogSource};
use crate::progress::Progress;
use row::{Fault, PartColumn, read_row};

const CATALOGUE: List = List { name: "a catalogue", required: &["part_number", "capacitance_uf", "rated_v"] };

/// A catalogue file could not be used at all.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum PartsError {
    /// Read as a file with canonical headers.
    #[error(transparent)]
    List(#[from] ListError),
    /// A file without canonical headers for which no mapping is known.
    #[error(
        "{}: the headers are not those of a catalogue (part_number, capacitance_uf, rated_v), and no mapping fits; \
         run `refarad read` on it first, or give its mapping by --map",
        path.display()
    )]
    NoMapping { path: PathBuf },
    /// Nobody waits for it any more.
    #[error("the reading of the catalogue was stopped")]
    Stopped,
    /// A file without canonical headers is no table at all.
    #[error(transparent)]
    NoTable(#[from] SourceError),
}

/// A catalogue as read, and what has to be said about it.
#[derive(Debug, Clone, Default)]
pub struct PartsRead {
    /// The parts that can be used.
    pub catalog: Catalog,
    /// Cells and rows that were not used, in the order of the files.
    pub rejected: Vec<Rejected>,
    /// Remarks for the person, one sentence each.
    pub notes: Vec<String>,
}

/// Reads catalogue files; later rows win over earlier ones with the same part number, and that is listed.
///
/// # Errors
/// When a file cannot be read or has no usable header row.
pub fn read_files(paths: &[PathBuf]) -> Result<PartsRead, PartsError> {
    read_files_mapped(paths, &[], None, &Progress::default())
}

/// Like [`read_files`]; a file without canonical headers is read by the first of `mappings` whose columns it has, else by one
/// remembered in `folder`.
///
/// # Errors
/// When a file cannot be read, or has neither canonical headers nor a mapping, or the reading was cancelled.
pub fn read_files_mapped(
    paths: &[PathBuf],
    mappings: &[Mapping],
    folder: Option<&Path>,
    progress: &Progress,
) -> Result<PartsRead, PartsError> {
    let read = |path: &PathBuf| match whole_file(path, progress) {
        Ok(bytes) => Ok((path.clone(), bytes)),
        Err(_) if progress.is_cancelled() => Err(PartsError::Stopped),
        Err(source) => Err(ListError::Unreadable { path: path.clone(), list: &CATALOGUE, source }.into()),
    };
    let files = paths.iter().map(read).collect::<Result<Vec<_>, _>>()?;
    let mut reading = Reading::of(&files, progress);
    for (path, bytes) in files {
        reading.any_file(&path, &bytes, mappings, folder)?;
    }
    reading.finish()
}

/// Reads catalogues from memory, the paths being for messages; one that cannot be used is left out with a note.
///
/// # Errors
/// When the reading was cancelled.
pub fn from_bytes_usable(
    files: Vec<(PathBuf, Vec<u8>)>,
    folder: Option<&Path>,
    progress: &Progress,
) -> Result<PartsRead, PartsError> {
    let mut reading = Reading::of(&files, progress);
    for (path, bytes) in files {
        match reading.any_file(&path, &bytes, &[], folder) {
            Err(PartsError::Stopped) => return Err(PartsError::Stopped),
            Err(error) => reading.notes.push(left_out(error)),
            Ok(()) => {}
        }
    }
    reading.finish()
}

/// The note on a catalogue that cannot be used.
pub(crate) fn left_out(why: impl std::fmt::Display) -> String {
    format!("{why}; the job goes on without this catalogue.")
}

/// The bytes of a catalogue file; an error as soon as nobody waits for them any more.
pub(super) fn whole_file(path: &Path, progress: &Progress) -> std::io::Result<Vec<u8>> {
    const BYTES_PER_LOOK: u64 = 4 << 20;
    let mut file = bounded::open(path, bounded::TABLE_BYTES_MAX)?;
    let mut bytes = Vec::with_capacity(usize::try_from(file.metadata()?.len()).unwrap_or(0));
    while (&mut file).take(BYTES_PER_LOOK).read_to_end(&mut bytes)? > 0 {
        if progress.is_cancelled() {
            return Err(std::io::ErrorKind::Interrupted.into());
        }
    }
    Ok(bytes)
}

/// Whether a file has the headers of a catalogue; its beginning is enough.
pub fn is_canonical(bytes: &[u8]) -> bool {
    // `Capacitance uF` is somebody's own heading, whose cells may carry units.
    let header = find_header(&decode(bytes), CATALOGUE.required);
    let exact = |header: &Header, name: &&str| header.cells.iter().any(|cell| cell.trim().eq_ignore_ascii_case(name));
    header.is_some_and(|header| CATALOGUE.required.iter().all(|name| exact(&header, name)))
}

/// What a catalogue file says of itself.
fn source_of(path: &Path, head: &str) -> CatalogSource {
    let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
    CatalogSource { name, invented: says_invented(head) }
}

/// Reads catalogues from memory; the paths are for messages.
///
/// # Errors
/// When a file has no usable header row.
pub fn from_bytes(files: Vec<(PathBuf, Vec<u8>)>) -> Result<PartsRead, PartsError> {
    from_bytes_watched(files, &Progress::default())
}

/// Like [`from_bytes`], for somebody who waits.
///
/// # Errors
/// When a file has no usable header row, or the reading was cancelled.
pub fn from_bytes_watched(files: Vec<(PathBuf, Vec<u8>)>, progress: &Progress) -> Result<PartsRead, PartsError> {
    let mut reading = Reading::of(&files, progress);
    for (path, bytes) in files {
        reading.file(&path, &bytes)?;
    }
    reading.finish()
}

/// How many rows a text has, a few more rather than fewer: by the length of the first.
fn rows_about(text: &str) -> usize {
    const LOOKED_AT: usize = 200;
    let looked_at: usize = text.lines().take(LOOKED_AT).map(|line| line.len() + 1).sum();
    if looked_at >= text.len() { text.lines().count() } else { text.len() / looked_at.max(1) * LOOKED_AT * 21 / 20 }
}

/// Where a row of the catalogue came from.
#[derive(Debug, Clone, Copy)]
struct Origin {
    file: u32,
    line: u32,
}

struct Reading<'p> {
    progress: &'p Progress,
    /// Less is read sooner by one thread.
    bytes_per_thread: usize,
    /// Bytes of all files.
    bytes: usize,
    /// Bytes read so far.
    read_bytes: AtomicUsize,
    builder: CatalogBuilder,
    files: Vec<PathBuf>,
    origins: Vec<Origin>,
    rejected: Vec<Rejected>,
    notes: Vec<String>,
}

/// Some of the rows of a file as read.
struct Stretch<'p> {
    path: &'p Path,
    /// Which of the files it is.
    file: usize,
    builder: CatalogBuilder,
    origins: Vec<Origin>,
    rejected: Vec<Rejected>,
    note: Option<String>,
}

impl<'p> Stretch<'p> {
    fn of(path: &'p Path, file: usize) -> Self {
        let (origins, rejected) = (Vec::new(), Vec::new());
        Self { path, file, builder: CatalogBuilder::default(), origins, rejected, note: None }
    }

    /// Reads `body`, whose first line is line `line` of its file; `goes_on` is told how many bytes more are read.
    fn read(
        &mut self,
        body: &str,
        (head, mut line): (&Header, u64),
        columns: &[Option<PartColumn>],
        goes_on: impl Fn(usize) -> Result<(), PartsError>,
    ) -> Result<(), PartsError> {
        const ROWS_PER_LOOK: usize = 4096;
        let (mut faults, mut row, mut looked_at) = (Vec::new(), 0_usize, 0);
        let mut look = |byte: usize| {
            row += 1;
            if (row - 1).is_multiple_of(ROWS_PER_LOOK) {
                goes_on(byte - looked_at)?;
                looked_at = byte;
            }
            Ok::<(), PartsError>(())
        };
        if memchr(b'"', body.as_bytes()).is_some() {
            let mut rows = CsvRows::new(body, head.separator, line, Some(head.cells.len()));
            let mut record = StringRecord::new();
            while let Some(line) = rows.next(&mut record) {
                look(rows.byte())?;
                self.row(record.iter(), line, columns, &mut faults)?;
            }
            self.note = rows.note();
            return Ok(());
        }
        let mut byte = 0;
        for whole in body.split_inclusive('\n') {
            look(byte)?;
            let row = whole.trim_end_matches(['\n', '\r']);
            self.row(cells(row, head.separator), line, columns, &mut faults)?;
            (byte, line) = (byte + whole.len(), line + 1);
        }
        Ok(())
    }

    fn row<'a>(
        &mut self,
        cells: impl Iterator<Item = &'a str> + Clone,
        line: u64,
        columns: &[Option<PartColumn>],
        faults: &mut Vec<Fault>,
    ) -> Result<(), PartsError> {
        if cells.clone().all(|cell| cell.trim().is_empty()) {
            return Ok(());
        }
        let part = read_row(cells, columns, &CATALOGUE, faults);
        if faults.is_empty() {
            self.builder.push(&part);
            let saturate = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
            self.origins.push(Origin { file: saturate(self.file as u64), line: saturate(line) });
        }
        self.rejected.extend(faults.drain(..).map(|fault: Fault| fault.rejected(self.path, line)));
        if self.rejected.len() > REJECTED_MAX {
            return Err(ListError::TooManyFaults { path: self.path.to_owned(), line, list: &CATALOGUE }.into());
        }
        Ok(())
    }
}

/// The cells of a row without quotation marks.
fn cells(row: &str, separator: u8) -> impl Iterator<Item = &str> + Clone {
    let mut rest = Some(row);
    std::iter::from_fn(move || {
        let whole = rest?;
        // Cells are short: a search of many bytes at a glance costs more than looking at each.
        let end = whole.bytes().position(|byte| byte == separator);
        rest = end.map(|end| &whole[end + 1..]);
        Some(end.map_or(whole, |end| &whole[..end]))
    })
}

impl<'p> Reading<'p> {
    fn of(files: &[(PathBuf, Vec<u8>)], progress: &'p Progress) -> Self {
        Self {
            progress,
            bytes_per_thread: 4 << 20,
            bytes: files.iter().map(|(_, bytes)| bytes.len()).sum(),
            read_bytes: AtomicUsize::new(0),
            builder: CatalogBuilder::default(),
            files: Vec::new(),
            origins: Vec::new(),
            rejected: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// Says how far the reading is when so many more bytes are read; whether anybody still waits for it.
    fn goes_on(&self, more_bytes: usize) -> Result<(), PartsError> {
        /// Share of the time that goes into rows; the rest is putting them in order.
        const ROWS: f32 = 0.8;
        let read_bytes = self.read_bytes.fetch_add(more_bytes, Relaxed) + more_bytes;
        self.progress.set_share(ROWS * read_bytes as f32 / self.bytes.max(1) as f32);
        if self.progress.is_cancelled() { Err(PartsError::Stopped) } else { Ok(()) }
    }

    /// A file with canonical headers or with headers of its own; one that cannot be used leaves nothing behind.
    fn any_file(
        &mut self,
        path: &Path,
        bytes: &[u8],
        mappings: &[Mapping],
        folder: Option<&Path>,
    ) -> Result<(), PartsError> {
        match self.file(path, bytes) {
            Err(PartsError::List(ListError::NoHeader { .. })) => self.foreign(path, bytes, mappings, folder),
            read => read,
        }
    }

    fn file(&mut self, path: &Path, bytes: &[u8]) -> Result<(), PartsError> {
        let text = decode(bytes);
        let (head, columns, note) = Header::of_list(path, &text, &CATALOGUE, PartColumn::of_header)?;
        self.notes.extend(note);
        self.files.push(path.to_owned());
        self.rows(path, &head, &text, &columns)
    }

    /// A file with headers of its own.
    fn foreign(
        &mut self,
        path: &Path,
        bytes: &[u8],
        mappings: &[Mapping],
        folder: Option<&Path>,
    ) -> Result<(), PartsError> {
        let mut source = Source::from_bytes(path, bytes, Some(Target::Parts), &super::table::Options::default())?;
        source.map_by(mappings, folder);
        if source.origin == MappingOrigin::Proposed {
            return Err(PartsError::NoMapping { path: path.to_owned() });
        }
        let import = source.parts();
        let report = import.report;
        self.files.push(path.to_owned());
        self.builder.set_source(source_of(path, &decode(bytes)));
        let file = u32::try_from(self.files.len() - 1).unwrap_or(u32::MAX);
        for (line, part) in import.parts {
            self.builder.push(&part);
            self.origins.push(Origin { file, line: u32::try_from(line).unwrap_or(u32::MAX) });
        }
        self.rejected.extend(report.rejected);
        let of_file = |text: String| format!("{}: {text}.", path.display());
        self.notes.extend(report.notes.into_iter().map(of_file));
        let asked = report
            .questions
            .iter()
            .map(|question| format!("open question ({}): {}", counted(question.rows, "row", "rows"), question.what));
        self.notes.extend(asked.map(of_file));
        Ok(())
    }

    /// The rows below a header: at several places of the file at once, each from the beginning of a line, where no quotation mark
    /// can hold the end of one.
    fn rows(
        &mut self,
        path: &Path,
        head: &Header,
        text: &str,
        columns: &[Option<PartColumn>],
    ) -> Result<(), PartsError> {
        let body = &text[head.end..];
        let most = if memchr(b'"', body.as_bytes()).is_some() { 1 } else { rayon::current_num_threads() };
        let threads = most.min(body.len() / self.bytes_per_thread).max(1);
        let next_line = |at: usize| memchr(b'\n', &body.as_bytes()[at..]).map(|end| at + end + 1);
        let starts: Vec<usize> = (0..=threads)
            .map(|n| if n == 0 { 0 } else { next_line(body.len() * n / threads).unwrap_or(body.len()) })
            .collect();
        let source = source_of(path, &text[..head.end]);
        let read = |ends: &[usize]| {
            let mut stretch = Stretch::of(path, self.files.len() - 1);
            stretch.builder.set_source(source.clone());
            // The first takes up the others.
            stretch.builder.reserve(rows_about(&body[ends[0]..if ends[0] == 0 { body.len() } else { ends[1] }]));
            let line = head.line + 1 + breaks(&body[..ends[0]]) as u64;
            stretch.read(&body[ends[0]..ends[1]], (head, line), columns, |more_bytes| self.goes_on(more_bytes))?;
            Ok(stretch)
        };
        let read: Vec<Stretch> = starts.par_windows(2).map(read).collect::<Result<_, PartsError>>()?;
        for stretch in read {
            self.builder.append(stretch.builder);
            self.origins.extend(stretch.origins);
            self.rejected.extend(stretch.rejected);
            self.notes.extend(stretch.note.map(|note| format!("{}: {note}.", path.display())));
        }
        match self.rejected.get(REJECTED_MAX) {
            Some(rejected) => {
                Err(ListError::TooManyFaults { path: path.to_owned(), line: rejected.line, list: &CATALOGUE }.into())
            }
            None => Ok(()),
        }
    }

    fn finish(mut self) -> Result<PartsRead, PartsError> {
        self.goes_on(0)?;
        let (catalog, duplicates) = self.builder.finish_watched(self.progress).ok_or(PartsError::Stopped)?;
        let file = |origin: Origin| self.files[origin.file as usize].clone();
        let more = duplicates.len().saturating_sub(REJECTED_MAX);
        if let Some(first) = duplicates.get(REJECTED_MAX) {
            let origin = self.origins[first.dropped];
            let reason = "rows from here on stand again too and are not listed; the later rows are used".to_owned();
            let value = format!("{more} rows");
            self.rejected.push(Rejected::new(&file(origin), origin.line.into(), "part_number", &value, reason));
        }
        for duplicate in duplicates.into_iter().take(REJECTED_MAX) {
            let (dropped, kept) = (self.origins[duplicate.dropped], self.origins[duplicate.kept]);
            let reason = format!("stands again in {} line {}; the later row is used", file(kept).display(), kept.line);
            let line = dropped.line.into();
            self.rejected.push(Rejected::new(&file(dropped), line, "part_number", &duplicate.part_number, reason));
        }
        Ok(PartsRead { catalog, rejected: self.rejected, notes: self.notes })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_read_at_several_places_at_once_is_read_the_same() {
        let rows: String = (0..200_u32)
            .map(|at| match at % 9 {
                0 => "\n".to_owned(),
                1 => format!("A{at},bad,16,Talus,,\n"),
                2 => format!("A{},{at},16,Serac,1:0.5;10:0.{at},3\r\n", at / 2),
                _ => format!("A{at},{at},25,Skarn {},,\n", at % 4),
            })
            .collect();
        let text = format!("part_number,capacitance_uf,rated_v,maker,price_breaks,stock\n{rows}");
        // Rows with and without quotation marks are taken apart by two ways.
        let quoted = text.replacen("A3,3,", "\"A3\",3,", 1);
        assert_ne!(quoted, text);
        let read_by = |text: &str, bytes_per_thread: usize| {
            let progress = Progress::default();
            let mut reading = Reading { bytes_per_thread, ..Reading::of(&[], &progress) };
            reading.file(Path::new("a.csv"), text.as_bytes()).unwrap();
            let read = reading.finish().unwrap();
            let parts: Vec<_> = read.catalog.ids().map(|id| read.catalog.part(id)).collect();
            (parts, read.rejected)
        };
        let threads = rayon::ThreadPoolBuilder::new().num_threads(7).build().unwrap();
        let [whole, by_marks, in_parts] = threads.install(|| {
            [(&text, usize::MAX), (&quoted, usize::MAX), (&text, 100)].map(|(text, bytes)| read_by(text, bytes))
        });
        assert!(whole.0.len() > 100 && !whole.1.is_empty());
        assert_eq!(whole, by_marks);
        assert_eq!(whole, in_parts);
    }
}
