//! Work for other threads: opening files, reading them by their mapping.

use std::path::PathBuf;
use std::sync::Arc;

use super::state::{File, Into, Sheet, free_name, stem};
use crate::app::work::Progress;
use crate::domain::{Board, Job, Part};
use crate::files::import::gather::{FileGave, Gathered, Given, by_board, gather};
use crate::files::import::{Content, Mapping, Source, SourceError, Target};
use crate::files::{import::placement::board_placed, parts_writer};

/// Leading rows shown.
pub(super) const LEADING: usize = 40;

/// A file to be opened.
pub(crate) struct Open {
    pub(super) file: File,
    /// Folder where mappings are remembered.
    pub(super) memory: Option<PathBuf>,
}

/// A file that was opened.
pub(crate) struct Opened {
    pub(super) serial: u64,
    pub(super) content: Option<Arc<Content>>,
    pub(super) sheets: Result<Vec<Sheet>, Unread>,
}

/// Why there is nothing to show yet.
pub(super) enum Unread {
    /// The file cannot be read.
    Refused(String),
    /// Which of these sheets is meant has to be said.
    WhichSheet(Vec<String>),
}

impl From<SourceError> for Unread {
    fn from(error: SourceError) -> Self {
        match error {
            SourceError::WhichSheet { names, .. } => Self::WhichSheet(names),
            error => Self::Refused(error.to_string()),
        }
    }
}

impl Open {
    /// Opens it; a workbook is given up once `progress` is cancelled.
    pub(crate) fn open(self, progress: &Progress) -> Opened {
        let Self { file: File { serial, path, content, options, sheets_named, printed, target, .. }, memory } = self;
        let content = match content {
            Some(content) => Ok(content),
            None => Content::open(&path, progress).map(Arc::new),
        };
        let (content, unreadable) = match content {
            Ok(content) => (Some(content), None),
            Err(error) => (None, Some(error)),
        };
        let read = |content: &Arc<Content>| {
            let sources = content.sources(&path, target, &options, &sheets_named, &printed)?;
            // A list whose boards are remembered to be named in a column is a table for each of them.
            let mapped = |mut source: Source| {
                source.map_by(&[], memory.as_deref());
                source.boards()
            };
            let sheet = |source: Source| {
                let (mapping, origin) = (source.mapping.clone(), source.origin);
                Sheet { source: Arc::new(source), mapping, origin }
            };
            Ok(sources.into_iter().flat_map(mapped).map(sheet).collect())
        };
        let sheets = match (&content, unreadable) {
            (Some(content), _) => read(content).map_err(|error: SourceError| error.into()),
            (None, Some(error)) => Err(error.into()),
            (None, None) => Ok(Vec::new()),
        };
        Opened { serial, content, sheets }
    }
}

/// Tables to be read.
pub(crate) struct Gather {
    pub(super) revision: u64,
    pub(super) job: Arc<Job>,
    pub(super) into: Into,
    pub(super) board: Board,
    pub(super) sheets: Vec<(Arc<Source>, Mapping)>,
}

/// What came out.
pub(crate) struct ImportOutcome {
    /// What the person had said by then.
    pub revision: u64,
    /// The job it was worked out for.
    pub job: Arc<Job>,
    /// Where positions go.
    pub into: Into,
    /// Parts, board and reports.
    pub gathered: Gathered,
    /// Further boards, each of a list of its own or of one that names several.
    pub further: Vec<Board>,
    /// The boards of such lists as the lists call them.
    pub boards_read: Vec<String>,
    /// The parts of each list as a catalogue, with the name of its file.
    pub catalogues: Vec<(String, Arc<Vec<u8>>)>,
    /// The offers of each list, with the name of its file.
    pub offers: Vec<(String, Arc<Vec<u8>>)>,
    /// Names of the files.
    pub names: Vec<PathBuf>,
}

impl Gather {
    /// Which tables are about further boards, each with its own; all others are about the first one.
    fn further(&self, given: &[Given]) -> Vec<Vec<usize>> {
        match self.into {
            Into::One => Vec::new(),
            Into::New => by_board(given, true).into_iter().skip(1).collect(),
            Into::Board(_) => {
                let named = |at: &usize| given[*at].mapping.only_board.as_deref();
                let first = (0..given.len()).find_map(|at| named(&at));
                (0..given.len())
                    .filter(|at| named(at).is_some_and(|name| Some(name) != first))
                    .map(|at| vec![at])
                    .collect()
            }
        }
    }

    /// What the tables give, with the further boards; `None` when that is no longer wanted.
    fn boards(&self, told: &dyn Fn(f32) -> bool) -> Option<(Gathered, Vec<Board>)> {
        let given: Vec<Given> = self.sheets.iter().map(|(source, mapping)| Given::of(source, mapping)).collect();
        let of_further = self.further(&given);
        let is = |at: usize, target| given[at].mapping.target == target;
        // Of several boards a placement completes the one that its parts are on, which has to be known first.
        let several = self.into == Into::New && !of_further.is_empty();
        let several = several && (0..given.len()).any(|at| is(at, Target::Positions));
        let (places, here): (Vec<usize>, Vec<usize>) = (0..given.len())
            .filter(|at| !of_further.iter().flatten().any(|further| further == at))
            .partition(|&at| several && is(at, Target::Placement));
        let mut files: Vec<(usize, FileGave)> = Vec::new();
        let mut together = |tables: &[usize], board: Board| {
            let of_board: Vec<Given> = tables.iter().map(|&at| given[at]).collect();
            let mut gathered = gather(&of_board, board, LEADING, told)?;
            files.extend(tables.iter().copied().zip(std::mem::take(&mut gathered.files)));
            gathered.parts.iter_mut().for_each(|(at, _)| *at = tables[*at]);
            Some(gathered)
        };
        let mut gathered = together(&here, self.board.clone())?;
        let mut further = Vec::new();
        for tables in of_further {
            let taken = self.job.boards.iter().chain(&gathered.board).chain(&further);
            let name = free_name(given[tables[0]].title, taken);
            further.extend(together(&tables, Board { name, ..Board::default() })?.board);
        }
        for at in places {
            let mut boards: Vec<&mut Board> = gathered.board.iter_mut().chain(&mut further).collect();
            let best = board_placed(&[given[at].table], boards.iter().map(|board| &**board)).unwrap_or_default();
            let board = boards.swap_remove(best);
            *board = together(&[at], std::mem::take(board))?.board.unwrap_or_default();
        }
        // In the order of the tables again.
        files.sort_by_key(|(at, _)| *at);
        gathered.files = files.into_iter().map(|(_, gave)| gave).collect();
        Some((gathered, further))
    }

    /// A catalogue for each file of parts, or a list for each of offers; the tables of one file are one. Parts are invented where one of
    /// its tables is said to be.
    fn lists(&self, target: Target, read: &[(usize, Part)]) -> Option<Vec<(String, Arc<Vec<u8>>)>> {
        let of_parts = self.sheets.iter().filter(|(_, mapping)| mapping.target == target);
        let mut paths: Vec<&PathBuf> = of_parts.clone().map(|(source, _)| &source.path).collect();
        paths.dedup();
        let mut all = Vec::new();
        for path in paths {
            let here = read.iter().filter(|(at, _)| self.sheets[*at].0.path == *path);
            let invented = of_parts.clone().any(|(source, mapping)| source.path == *path && mapping.invented);
            let mut text = Vec::new();
            let any = here.clone().next().is_some();
            // Writing to memory does not fail.
            let here = here.map(|(_, part)| part);
            let written = match target {
                Target::Offers => parts_writer::write_offers(&mut text, here),
                _ => parts_writer::write(&mut text, here, invented),
            };
            written.ok()?;
            all.extend(any.then(|| (stem(path), Arc::new(text))));
        }
        Some(all)
    }

    /// Reads them; `None` when that is no longer wanted.
    pub(crate) fn read(self, progress: &Progress) -> Option<ImportOutcome> {
        let told = |share| {
            progress.set_share(share);
            !progress.is_cancelled()
        };
        let (gathered, further) = self.boards(&told)?;
        let catalogues = self.lists(Target::Parts, &gathered.parts)?;
        let offers = self.lists(Target::Offers, &gathered.offers)?;
        let names = self.sheets.iter().map(|(source, _)| source.path.clone()).collect();
        let boards_read = self.sheets.iter().filter_map(|(_, mapping)| mapping.only_board.clone()).collect();
        let Self { revision, job, into, .. } = self;
        Some(ImportOutcome { revision, job, into, gathered, further, boards_read, catalogues, offers, names })
    }
}
