//! The files that are open, what was found in them and what the person says about them.

mod background;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::{memory::Comparison, memory::Listed, page::PageView, reading::ImportOutcome, reading::Opened};
use crate::app::state::Session;
use crate::app::widgets::drafts::Drafts;
use crate::app::work::{AnyWorker, Progress, Worker};
use crate::domain::{Board, Job, OtherKind, PositionId};
use crate::files::import::{Content, Report, Source, Target, mapping};
use crate::files::{
    Rejected, datasheet::Printed, datasheet::Rect, import::gather::Given, import::gather::by_board,
    import::mapping::Mapping, import::placement::board_placed, import::source::Origin, table::Options,
};

/// A table of a file with what the person says about it.
#[derive(Debug, Clone)]
pub(crate) struct Sheet {
    /// As it was read.
    pub source: Arc<Source>,
    /// What it is read by.
    pub mapping: Mapping,
    /// Where that comes from.
    pub origin: Origin,
}

/// What is known of a file.
#[derive(Debug, Clone)]
pub(super) enum Known {
    /// It is being read.
    Nothing,
    /// It cannot be read.
    Refused(String),
    /// A workbook; which of these sheets is meant has to be said.
    WhichSheet(Vec<String>),
    /// Its tables.
    Sheets(Vec<Sheet>),
}

/// A file at hand.
#[derive(Debug, Clone)]
pub(super) struct File {
    pub path: PathBuf,
    /// Its content once it was read, or as it was pasted.
    pub content: Option<Arc<Content>>,
    /// The sheets of a workbook that the person names; none where the one that can be meant is read.
    pub sheets_named: Vec<String>,
    /// What the person says about a data sheet.
    pub printed: Printed,
    /// What the person says about its layout.
    pub options: Options,
    /// What the person says its rows are.
    pub target: Option<Target>,
    pub known: Known,
    /// Tells requests apart: a newer one makes an older answer void.
    pub serial: u64,
}

impl File {
    pub(super) fn name(&self) -> String {
        self.path.file_name().unwrap_or(self.path.as_os_str()).to_string_lossy().into_owned()
    }

    /// Its tables; none while they are not known.
    pub(super) fn sheets(&self) -> &[Sheet] {
        if let Known::Sheets(sheets) = &self.known { sheets } else { &[] }
    }
}

/// Where positions go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Into {
    /// Onto a board of their own; of several lists each onto one.
    New,
    /// All of several lists onto one new board.
    One,
    /// Onto a board of the job.
    Board(usize),
}

/// What was taken in last.
#[derive(Debug, Clone)]
pub(crate) struct Done {
    /// In words.
    pub summary: Vec<String>,
    /// What was left although it could be taken in, and how; in words.
    pub left: Option<String>,
    /// What was not used.
    pub rejected: Vec<Rejected>,
    /// The board that was made or changed, with the positions that are new on it.
    pub board: Option<(usize, Vec<PositionId>)>,
}

/// What the place remembers.
#[derive(Default)]
pub(crate) struct ImportState {
    pub(super) files: Vec<File>,
    /// File and table shown.
    pub(super) shown: (usize, usize),
    pub(super) into: Option<Into>,
    pub(super) new_name: Option<String>,
    /// What came out last.
    pub(super) outcome: Option<Arc<ImportOutcome>>,
    /// What is listed below.
    pub(super) listed: Listed,
    /// Texts typed for every row that are no figures yet.
    pub(super) drafts: Drafts,
    pub(super) every_open: bool,
    /// What was taken in last.
    pub(crate) done: Option<Done>,
    /// Folder where mappings are remembered.
    pub(crate) memory: Option<PathBuf>,
    /// The page of a data sheet beside its table.
    pub(super) page: PageView,
    /// Rows of data sheets beside what is printed.
    pub(super) comparison: Comparison,
    /// Once everything is read the next open question gets the keyboard, without one what comes next.
    pub(super) keyboard: bool,
    /// The lists are to be imported: asked for by a key from anywhere.
    pub(super) import_asked: bool,
    /// The files as they were before each answer, to take it back.
    pub(super) before_answers: Vec<Vec<File>>,
    serial: u64,
    /// Counts what the person changes.
    revision: u64,
    opening: Vec<u64>,
    gathering: Option<(u64, Arc<Job>)>,
    /// Lists that are being opened.
    opener: Worker<Vec<Opened>>,
    /// Lists that are being read.
    reader: Worker<Option<ImportOutcome>>,
}

impl ImportState {
    /// The work on other threads.
    pub(crate) fn work(&self) -> [&dyn AnyWorker; 3] {
        [&self.opener, &self.reader, self.page.worker()]
    }

    /// Work in progress.
    pub(crate) fn busy(&self) -> Option<Arc<Progress>> {
        self.opener.busy().or_else(|| self.reader.busy())
    }

    /// Stops opening and reading.
    pub(crate) fn stop(&mut self) {
        self.opener.cancel();
        self.reader.cancel();
        self.stopped();
    }

    /// Takes what was opened and read, and asks for what is missing.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        match self.opener.take() {
            Some(Ok(opened)) => self.take_opened(opened),
            Some(Err(error)) => {
                self.stopped();
                session.say(error);
            }
            None => {}
        }
        if let Some(Some(outcome)) = session.arrived(self.reader.take()) {
            self.outcome = Some(Arc::new(outcome));
        }
        if let Some(wanted) = self.next_opening() {
            let what = match wanted.as_slice() {
                [one] => format!("Opening {}", one.file.name()),
                all => format!("Opening {} files", all.len()),
            };
            self.opener.request(what, move |progress| wanted.into_iter().map(|file| file.open(progress)).collect());
        }
        if let Some(wanted) = self.next_gathering(session.job()) {
            self.reader.request("Reading the rows", move |progress| wanted.read(progress));
        }
    }

    /// Name of a file; of two with the same name with the folder each lies in.
    pub(super) fn name(&self, at: usize) -> String {
        let own = self.files[at].name();
        let alike = self.files.iter().filter(|file| file.name() == own).count() > 1;
        let folder = self.files[at].path.parent().and_then(Path::file_name).filter(|_| alike);
        match folder {
            Some(folder) => format!("{own} in {}", folder.to_string_lossy()),
            None if alike => format!("{own}, {}", self.files[..=at].iter().filter(|file| file.name() == own).count()),
            None => own,
        }
    }

    /// Keys that work anywhere in Import: to import, and to take back an answer before anything of the job is undone.
    pub(crate) fn take_keys(&mut self, ctx: &egui::Context) {
        let pressed = |key| ctx.input_mut(|input| input.consume_key(egui::Modifiers::COMMAND, key));
        self.import_asked |= pressed(egui::Key::Enter);
        if !ctx.text_edit_focused() && !self.before_answers.is_empty() && pressed(egui::Key::Z) {
            self.files = self.before_answers.pop().unwrap_or_default();
            (self.shown, self.keyboard) = ((0, 0), true);
            self.changed();
        }
    }

    /// Nothing is open.
    pub(crate) fn is_empty(&self) -> bool {
        self.files.is_empty()
    }

    /// Opens a file.
    pub(crate) fn open(&mut self, path: PathBuf) {
        self.push(path, None);
    }

    /// Shows a place on a page of a data sheet.
    pub(crate) fn show_place(&mut self, path: PathBuf, page: usize, place: Option<Rect>) {
        match self.files.iter().position(|file| file.path == path) {
            Some(at) => self.shown = (at, 0),
            None => self.open(path),
        }
        self.page.turn_to(page, place);
    }

    /// The open file of this name.
    pub(crate) fn path_of(&self, name: &str) -> Option<PathBuf> {
        let paths = self.files.iter().map(|file| &file.path);
        paths.into_iter().find(|path| path.file_name().is_some_and(|of| of == name)).cloned()
    }

    /// Opens a pasted table.
    pub(crate) fn open_text(&mut self, text: &str) {
        let number = self.files.iter().filter(|file| file.name().starts_with("pasted table")).count();
        let name = if number == 0 { "pasted table".to_owned() } else { format!("pasted table {}", number + 1) };
        self.push(PathBuf::from(name), Some(Arc::new(Content::Text(text.as_bytes().to_vec()))));
        if let Some(file) = self.files.last_mut() {
            file.options.encoding = Some(crate::files::table::Encoding::Utf8);
        }
    }

    fn push(&mut self, path: PathBuf, content: Option<Arc<Content>>) {
        let serial = self.next_serial();
        let known = Known::Nothing;
        let (options, sheets_named, printed) = (Options::default(), Vec::new(), Printed::default());
        self.files.push(File { path, content, sheets_named, printed, options, target: None, known, serial });
        self.shown = (self.files.len() - 1, 0);
        (self.done, self.keyboard) = (None, true);
        self.changed();
    }

    fn next_serial(&mut self) -> u64 {
        self.serial += 1;
        self.serial
    }

    /// Something that decides the outcome was changed.
    pub(super) fn changed(&mut self) {
        self.revision += 1;
    }

    /// Reads the file shown anew, after `change`.
    pub(super) fn reread(&mut self, change: impl FnOnce(&mut File)) {
        let serial = self.next_serial();
        if let Some(file) = self.files.get_mut(self.shown.0) {
            change(file);
            file.serial = serial;
            file.known = Known::Nothing;
            self.shown.1 = 0;
            self.drafts.clear();
            self.changed();
        }
    }

    /// Closes a table; the file with its last one.
    pub(super) fn close(&mut self, file: usize, sheet: usize) {
        let Some(of) = self.files.get_mut(file) else { return };
        match &mut of.known {
            Known::Sheets(sheets) if sheets.len() > 1 => _ = sheets.remove(sheet),
            _ => _ = self.files.remove(file),
        }
        let last = self.files.len().saturating_sub(1);
        self.shown = (self.shown.0.min(last), 0);
        self.drafts.clear();
        if self.files.is_empty() {
            self.into = None;
            self.new_name = None;
            self.outcome = None;
        }
        self.changed();
    }

    /// Why the file shown cannot be read.
    pub(super) fn refused(&self) -> Option<String> {
        match &self.files.get(self.shown.0)?.known {
            Known::Refused(reason) => Some(reason.clone()),
            _ => None,
        }
    }

    /// The sheets of the file shown that may be meant, where that has to be said.
    pub(super) fn which_sheet(&self) -> Option<Vec<String>> {
        match &self.files.get(self.shown.0)?.known {
            Known::WhichSheet(names) => Some(names.clone()),
            _ => None,
        }
    }

    /// The table shown.
    pub(crate) fn sheet(&self) -> Option<&Sheet> {
        self.files.get(self.shown.0)?.sheets().get(self.shown.1)
    }

    /// Changes the mapping of the table shown.
    pub(super) fn change_mapping(&mut self, change: impl FnOnce(&mut Mapping)) {
        let (file, at) = self.shown;
        if let Some(File { known: Known::Sheets(sheets), .. }) = self.files.get_mut(file)
            && let Some(sheet) = sheets.get_mut(at)
        {
            let before = sheet.mapping.clone();
            change(&mut sheet.mapping);
            if before != sheet.mapping {
                sheet.origin = Origin::Given;
                // A list of several boards becomes a table for each of them.
                let whole = Source { mapping: sheet.mapping.clone(), ..Source::clone(&sheet.source) };
                let apart = whole.boards().into_iter().map(|source| {
                    let (mapping, origin) = (source.mapping.clone(), Origin::Given);
                    Sheet { source: Arc::new(source), mapping, origin }
                });
                sheets.splice(at..=at, apart);
                self.changed();
            }
        }
    }

    /// The table shown is read by the proposal again.
    pub(super) fn propose_again(&mut self) {
        let Some(proposed) = self.sheet().map(|sheet| sheet.source.proposal.mapping.clone()) else { return };
        self.change_mapping(|mapping| *mapping = proposed);
        let (file, at) = self.shown;
        if let Some(File { known: Known::Sheets(sheets), .. }) = self.files.get_mut(file) {
            sheets.iter_mut().skip(at).take(1).for_each(|sheet| sheet.origin = Origin::Proposed);
        }
        self.drafts.clear();
    }

    /// Every table with its file, in order.
    pub(super) fn sheets(&self) -> impl Iterator<Item = ((usize, usize), &Sheet)> {
        self.files
            .iter()
            .enumerate()
            .flat_map(|(file, of)| of.sheets().iter().enumerate().map(move |(at, sheet)| ((file, at), sheet)))
    }

    /// What the table shown gave, as far as it is known.
    pub(super) fn gave(&self) -> Option<&crate::files::import::gather::FileGave> {
        let at = self.sheets().position(|(at, _)| at == self.shown)?;
        self.outcome.as_ref()?.gathered.files.get(at)
    }

    /// Questions that are open about a table.
    pub(super) fn open_questions(&self, table: (usize, usize)) -> usize {
        self.questions().find(|(at, _)| *at == table).map_or(0, |(_, open)| open)
    }

    /// Every table with the number of its open questions.
    pub(super) fn questions(&self) -> impl Iterator<Item = ((usize, usize), usize)> {
        let reports = self.reports().map(|report| report.questions.len());
        self.sheets().map(|(at, _)| at).zip(reports)
    }

    /// The reports on all tables.
    pub(super) fn reports(&self) -> impl Iterator<Item = &Report> {
        self.outcome.iter().flat_map(|outcome| outcome.gathered.files.iter().map(|gave| &gave.report))
    }

    /// Whether what came out is what is asked for now.
    pub(super) fn is_current(&self, job: &Arc<Job>) -> bool {
        let current =
            |outcome: &Arc<ImportOutcome>| outcome.revision == self.revision && Arc::ptr_eq(&outcome.job, job);
        self.outcome.as_ref().is_some_and(current)
    }

    /// What came out, if it is what is asked for now.
    pub(crate) fn current(&self, job: &Arc<Job>) -> Option<Arc<ImportOutcome>> {
        self.outcome.clone().filter(|_| self.is_current(job))
    }

    /// Where positions go: where the person says, else a parts list onto a board of its own and a placement where its parts are.
    pub(super) fn target_board(&self, job: &Job) -> Into {
        let exists = |into: &Into| match into {
            Into::New => true,
            Into::One => self.makes_several(),
            Into::Board(at) => *at < job.boards.len(),
        };
        if let Some(into) = self.into.filter(exists) {
            return into;
        }
        let of = |target: Target| self.sheets().filter(move |(_, sheet)| sheet.mapping.target == target);
        if of(Target::Positions).next().is_some() {
            return Into::New;
        }
        let tables: Vec<_> = of(Target::Placement).map(|(_, sheet)| &sheet.source.table).collect();
        board_placed(&tables, &job.boards).map_or(Into::New, Into::Board)
    }

    /// Whether the lists make several new boards unless one is chosen for them.
    pub(super) fn makes_several(&self) -> bool {
        let given: Vec<_> = self.sheets().map(|(_, sheet)| Given::of(&sheet.source, &sheet.mapping)).collect();
        by_board(&given, true).len() > 1
    }

    /// Each table with the kinds of other parts that are not ticked, and their rows.
    pub(super) fn others_left(&self) -> impl Iterator<Item = ((usize, usize), Vec<(OtherKind, usize)>)> {
        self.sheets().zip(self.reports()).map(|((at, sheet), report)| {
            let left = report.others.iter().filter(|(kind, _)| !sheet.mapping.other_parts.contains(kind));
            (at, left.map(|(kind, rows)| (*kind, *rows)).collect())
        })
    }

    /// Name of a board of their own.
    pub(super) fn board_name(&self, job: &Job) -> String {
        let wanted = self.new_name.clone().filter(|name| !name.trim().is_empty()).unwrap_or_else(|| {
            let of =
                |target| self.sheets().find(|(_, s)| s.mapping.target == target).map(|(_, s)| s.source.title.clone());
            of(Target::Positions).or_else(|| of(Target::Placement)).unwrap_or_else(|| "Board".to_owned())
        });
        free_name(&wanted, &job.boards)
    }

    /// Everything was taken in: the mappings are remembered, the files are closed.
    pub(crate) fn finish(&mut self, done: Done) -> Vec<String> {
        let mut trouble = Vec::new();
        for (_, sheet) in self.sheets().filter(|(_, sheet)| sheet.origin != Origin::Proposed) {
            let Some(folder) = &self.memory else { continue };
            if let Err(error) = mapping::remember(folder, &sheet.source.table.header, &sheet.mapping) {
                trouble.push(format!("The mapping was used but could not be remembered: {error}."));
            }
        }
        self.close_all();
        (self.done, self.keyboard) = (Some(done), true);
        trouble
    }

    /// Closes every file, unread as it may be.
    pub(crate) fn close_all(&mut self) {
        let memory = self.memory.take();
        let (serial, revision) = (self.serial, self.revision + 1);
        *self = Self { memory, serial, revision, ..Self::default() };
    }

    /// The mapping of the table shown as a file.
    pub(crate) fn mapping_text(&self) -> Option<String> {
        self.sheet().map(|sheet| sheet.mapping.to_text())
    }

    /// Takes a mapping that was read from a file.
    ///
    /// # Errors
    /// In words, when the table shown lacks columns of it.
    pub(crate) fn take_mapping(&mut self, mapping: Mapping) -> Result<(), String> {
        let Some(sheet) = self.sheet() else {
            return Err("Open the list first, then its mapping.".into());
        };
        let missing = mapping.missing_in(&sheet.source.table.header).join(", ");
        if !missing.is_empty() {
            return Err(format!("The mapping does not fit this file: there is no column {missing}."));
        }
        // What the file says of itself stays said.
        let invented = mapping.invented || sheet.source.proposal.mapping.invented;
        self.change_mapping(|own| *own = Mapping { invented, ..mapping });
        self.drafts.clear();
        Ok(())
    }

    /// Everything of all tables that is not used.
    pub(crate) fn rejected(&self) -> Vec<Rejected> {
        match &self.done {
            Some(done) if self.is_empty() => done.rejected.clone(),
            _ => self.reports().flat_map(|report| report.rejected.clone()).collect(),
        }
    }
}

/// The name, or a number behind it where one of the boards has it already.
pub(super) fn free_name<'a>(wanted: &str, boards: impl IntoIterator<Item = &'a Board>) -> String {
    let known: Vec<&str> = boards.into_iter().map(|board| board.name.as_str()).collect();
    let taken = |name: &str| known.contains(&name);
    let names = std::iter::once(wanted.to_owned()).chain((2..).map(|number| format!("{wanted} ({number})")));
    names.into_iter().find(|name| !taken(name)).unwrap_or_default()
}

/// Name of a file without folder and ending.
pub(super) fn stem(path: &Path) -> String {
    path.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned())
}
