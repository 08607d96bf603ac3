//! The candidate catalogue with canonical headers.
//!
//! UTF-8, UTF-16 with or without a byte order mark, else Windows-1252; comma, semicolon or tab; the header row anywhere in the first 20 lines. A row
//! without part number, capacitance or rated voltage, or with a cell that cannot be read, goes to the rejected list with
//! every such cell; nothing is dropped without a word.

mod columns;
mod error;
pub(super) mod row;
mod stretch;

use std::io::{Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering::Relaxed};

use memchr::{memchr, memrchr};
use rayon::prelude::*;

use super::canonical::{Header, ListError, REJECTED_MAX, decode, find_header, says_invented};
use super::csv_rows::{breaks, plain_text};
use super::import::{Mapping, Source, Target, source::Origin as MappingOrigin};
use super::{Rejected, bounded};
use crate::domain::style::counted;
use crate::domain::{Catalog, CatalogBuilder, CatalogSource};
use crate::progress::Progress;
use error::CATALOGUE;
pub use error::PartsError;
use row::PartColumn;
use stretch::{Origin, Stretch};

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
    let mut reading = Reading::of(paths.iter().map(|path| length(path)).sum(), progress);
    for path in paths {
        reading.on_disk(path, mappings, folder)?;
    }
    reading.finish()
}

/// Where a catalogue lies, and its bytes where they are at hand: then the path is for messages only.
pub type CatalogueFile = (PathBuf, Option<Arc<Vec<u8>>>);

/// Reads the catalogues of a job; one that cannot be used is left out with a note.
///
/// # Errors
/// When the reading was cancelled.
pub fn read_usable(
    files: Vec<CatalogueFile>,
    folder: Option<&Path>,
    progress: &Progress,
) -> Result<PartsRead, PartsError> {
    let bytes = |(path, held): &CatalogueFile| held.as_ref().map_or_else(|| length(path), |held| held.len() as u64);
    let mut reading = Reading::of(files.iter().map(bytes).sum(), progress);
    for (path, held) in files {
        let read = match held {
            Some(bytes) => reading.any_file(&path, &bytes, &[], folder),
            None => reading.on_disk(&path, &[], folder),
        };
        match read {
            Err(PartsError::Stopped) => return Err(PartsError::Stopped),
            Err(error) => reading.notes.push(left_out(error)),
            Ok(()) => {}
        }
    }
    reading.finish()
}

fn length(path: &Path) -> u64 {
    std::fs::metadata(path).map_or(0, |metadata| metadata.len())
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
    let mut reading = Reading::of(files.iter().map(|(_, bytes)| bytes.len() as u64).sum(), progress);
    for (path, bytes) in files {
        reading.file(&path, &bytes)?;
    }
    reading.finish()
}

/// Where the line after the one at byte `from` of a file begins; `None` where the file ends or the line is long.
fn line_after(path: &Path, from: u64) -> Option<u64> {
    const LONG: u64 = 1 << 16;
    let mut file = bounded::open(path, bounded::TABLE_BYTES_MAX).ok()?;
    file.seek(SeekFrom::Start(from)).ok()?;
    let mut bytes = Vec::new();
    file.take(LONG).read_to_end(&mut bytes).ok()?;
    Some(from + memchr(b'\n', &bytes)? as u64 + 1)
}

/// How many rows so many bytes have, a few more rather than fewer: by the first of `text`, with which they begin.
fn rows_about(text: &str, bytes: u64) -> usize {
    const LOOKED_AT: usize = 200;
    let count = |(lines, all), line: &str| (lines + 1, all + line.len() as u64 + 1);
    let (lines, looked_at) = text.lines().take(LOOKED_AT).fold((0, 0), count);
    let rows = if looked_at >= bytes { lines } else { bytes / looked_at.max(1) * lines * 21 / 20 };
    usize::try_from(rows).unwrap_or(0)
}

struct Reading<'p> {
    progress: &'p Progress,
    /// Less is read sooner by one thread.
    bytes_per_thread: usize,
    /// Bytes of all files.
    bytes: u64,
    /// Bytes read so far.
    read_bytes: AtomicU64,
    builder: CatalogBuilder,
    files: Vec<PathBuf>,
    origins: Vec<Origin>,
    rejected: Vec<Rejected>,
    notes: Vec<String>,
}

impl<'p> Reading<'p> {
    /// With files of so many bytes.
    fn of(bytes: u64, progress: &'p Progress) -> Self {
        Self {
            progress,
            bytes_per_thread: 4 << 20,
            bytes,
            read_bytes: AtomicU64::new(0),
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
        let more_bytes = more_bytes as u64;
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
        let file = self.files.len() - 1;
        for (line, part) in import.parts {
            let row = self.builder.next_row();
            self.builder.push(&part);
            Origin { row, file, line }.put_down(&mut self.origins);
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
            let (before, own) = (&body[..ends[0]], &body[ends[0]..ends[1]]);
            // The first takes up the others.
            let rows = rows_about(own, if before.is_empty() { body.len() } else { own.len() } as u64);
            let line = head.line + 1 + breaks(before) as u64;
            let mut stretch = Stretch::of((path, self.files.len() - 1, &source), columns, rows, line);
            stretch.read(own, head, &|more_bytes| self.goes_on(more_bytes))?;
            Ok(stretch.whole())
        };
        let read: Vec<Stretch> = starts.par_windows(2).map(read).collect::<Result<_, PartsError>>()?;
        self.take_up(read);
        match self.rejected.get(REJECTED_MAX) {
            Some(rejected) => {
                Err(ListError::TooManyFaults { path: path.to_owned(), line: rejected.line, list: &CATALOGUE }.into())
            }
            None => Ok(()),
        }
    }

    /// Puts what was read in stretches of a file behind what is there.
    fn take_up(&mut self, stretches: Vec<Stretch>) {
        for stretch in stretches {
            let rows = self.builder.next_row();
            self.builder.append(stretch.builder);
            self.origins.extend(stretch.origins.into_iter().map(|origin| Origin { row: rows + origin.row, ..origin }));
            self.rejected.extend(stretch.rejected);
            self.notes.extend(stretch.note.map(|note| format!("{}: {note}.", stretch.path.display())));
        }
    }

    /// Reads a file that is in no memory yet.
    fn on_disk(&mut self, path: &Path, mappings: &[Mapping], folder: Option<&Path>) -> Result<(), PartsError> {
        if self.streamed(path) {
            return Ok(());
        }
        match whole_file(path, self.progress) {
            Ok(bytes) => self.any_file(path, &bytes, mappings, folder),
            Err(_) if self.progress.is_cancelled() => Err(PartsError::Stopped),
            Err(source) => Err(ListError::Unreadable { path: path.to_owned(), list: &CATALOGUE, source }.into()),
        }
    }

    /// Reads a large file with canonical headers piece by piece, at several places of it at once; `false`, with nothing read, where it has to
    /// be looked at as a whole.
    fn streamed(&mut self, path: &Path) -> bool {
        let read_before = self.read_bytes.load(Relaxed);
        let Some((note, stretches)) = self.stretches(path) else {
            self.read_bytes.store(read_before, Relaxed);
            return false;
        };
        self.files.push(path.to_owned());
        self.notes.extend(note);
        self.take_up(stretches);
        true
    }

    /// What was read of a large file in UTF-8 without quotation marks, and the note on its header row.
    fn stretches<'f>(&self, path: &'f Path) -> Option<(Option<String>, Vec<Stretch<'f>>)> {
        let length = std::fs::metadata(path).ok()?.len();
        let threads = (length / self.bytes_per_thread as u64).min(rayon::current_num_threads() as u64);
        if threads == 0 {
            return None;
        }
        let start = bounded::beginning(path);
        let mark = if start.starts_with(b"\xEF\xBB\xBF") { 3 } else { 0 };
        let text = plain_text(&start[mark..=memrchr(b'\n', &start)?])?;
        let (head, columns, note) = Header::of_list(path, text, &CATALOGUE, PartColumn::of_header).ok()?;
        let (source, first) = (source_of(path, &text[..head.end]), (mark + head.end) as u64);
        let border = |n: u64| match n {
            0 => Some(first),
            n if n == threads => Some(length),
            n => line_after(path, first + (length - first) * n / threads),
        };
        let borders = (0..=threads).map(border).collect::<Option<Vec<u64>>>()?;
        let read = |ends: &[u64]| {
            // The first takes up the others.
            let to = if ends[0] == first { length } else { ends[1] };
            let rows = rows_about(&text[head.end..], to - ends[0]);
            let mut stretch = Stretch::of((path, self.files.len(), &source), &columns, rows, 0);
            stretch.read_streamed((ends[0], ends[1]), head.separator, &|more_bytes| self.goes_on(more_bytes))?;
            Some(stretch.whole())
        };
        let mut stretches: Vec<Stretch> = borders.par_windows(2).map(read).collect::<Option<_>>()?;
        stretches.iter_mut().fold(head.line + 1, |line, stretch| {
            stretch.shift(line);
            stretch.line
        });
        let faults: usize = stretches.iter().map(|stretch| stretch.rejected.len()).sum();
        (self.rejected.len() + faults <= REJECTED_MAX).then_some((note, stretches))
    }

    fn finish(mut self) -> Result<PartsRead, PartsError> {
        self.goes_on(0)?;
        let (catalog, duplicates) = self.builder.finish_watched(self.progress).ok_or(PartsError::Stopped)?;
        let file = |origin: Origin| self.files[origin.file].clone();
        let more = duplicates.len().saturating_sub(REJECTED_MAX);
        if let Some(first) = duplicates.get(REJECTED_MAX) {
            let origin = Origin::of(&self.origins, first.dropped);
            let reason = "rows from here on stand again too and are not listed; the later rows are used".to_owned();
            let value = format!("{more} rows");
            self.rejected.push(Rejected::new(&file(origin), origin.line, "part_number", &value, reason));
        }
        for duplicate in duplicates.into_iter().take(REJECTED_MAX) {
            let [dropped, kept] = [duplicate.dropped, duplicate.kept].map(|row| Origin::of(&self.origins, row));
            let reason = format!("stands again in {} line {}; the later row is used", file(kept).display(), kept.line);
            self.rejected.push(Rejected::new(
                &file(dropped),
                dropped.line,
                "part_number",
                &duplicate.part_number,
                reason,
            ));
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
        let path = Path::new("a.csv");
        let read_by = |text: &str, bytes_per_thread: usize| {
            let progress = Progress::default();
            let mut reading = Reading { bytes_per_thread, ..Reading::of(0, &progress) };
            reading.file(path, text.as_bytes()).unwrap();
            seen(reading)
        };
        let threads = rayon::ThreadPoolBuilder::new().num_threads(7).build().unwrap();
        let [whole, by_marks, in_parts] = threads.install(|| {
            [(&text, usize::MAX), (&quoted, usize::MAX), (&text, 100)].map(|(text, bytes)| read_by(text, bytes))
        });
        assert!(whole.0.len() > 100 && !whole.1.is_empty());
        assert_eq!(whole, by_marks);
        assert_eq!(whole, in_parts);
    }

    fn seen(reading: Reading) -> (Vec<crate::domain::Part>, Vec<Rejected>) {
        let read = reading.finish().unwrap();
        (read.catalog.ids().map(|id| read.catalog.part(id)).collect(), read.rejected)
    }

    #[test]
    fn a_large_file_read_piece_by_piece_is_read_the_same_or_as_a_whole() {
        let row = |at: u32| match at % 9 {
            0 => format!("A{at},bad,16,Talus\n"),
            1 => format!("A{},{at},16,Sérac\r\n", at / 2),
            _ => format!("A{at},{at},25,Skarn {}\n", at % 500),
        };
        let header = "\u{feff}# invented\npart_number,capacitance_uf,rated_v,maker\n";
        let text: String = std::iter::once(header.to_owned()).chain((0..40_000).map(row)).collect();
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.csv");
        let progress = Progress::default();
        let reading = || Reading { bytes_per_thread: 100_000, ..Reading::of(0, &progress) };
        for (text, is_plain) in [
            (text.clone(), true),
            (text.trim_end().to_owned(), true),
            (text.clone() + "\"Z\",1,16,Talus\n", false),
            (text.replacen("1,16,Sérac\r\n", "1,16,Sérac\r", 1), false),
        ] {
            std::fs::write(&path, &text).unwrap();
            let (mut whole, mut streamed) = (reading(), reading());
            assert_eq!(streamed.streamed(&path), is_plain);
            if is_plain {
                whole.file(&path, text.as_bytes()).unwrap();
                let (whole, streamed) = (seen(whole), seen(streamed));
                assert!(whole.0.len() > 30_000 && whole.1.len() > 4000);
                assert!(whole == streamed);
            }
        }
    }
}
