//! Lists somebody else made: opened, read on other threads, taken in as one change of the job.

use std::path::{Path, PathBuf};

use crate::app::Window;
use crate::app::actions::dialogs::{FilePurpose, Question};
use crate::app::state::edit::Edit;
use crate::app::state::selection::View;
use crate::app::storage::catalog_sources;
use crate::app::views::editor;
use crate::app::views::import::{ImportAction, taken_job};
use crate::files::import::Mapping;
use crate::files::{bounded, export, parts, save};

/// Whether a file has the headers of a catalogue.
pub(crate) fn is_catalogue(path: &Path) -> bool {
    parts::is_canonical(&bounded::beginning(path))
}

/// Whether a file says what the columns of a list mean.
pub(crate) fn is_mapping(path: &Path) -> bool {
    String::from_utf8_lossy(&bounded::beginning(path)).contains("\"refarad-mapping\"")
}

impl Window {
    /// Opens a list in the import place; one with the headers of a catalogue is added as it is.
    pub(crate) fn open_list(&mut self, path: PathBuf) {
        if is_catalogue(&path) {
            return self.add_catalogue(path);
        }
        self.session.selection.view = View::Import;
        self.places.import.open(path);
    }

    /// Does what the import place asks for.
    pub(crate) fn import(&mut self, wish: ImportAction) {
        match wish {
            ImportAction::TakeIn => self.take_in(),
            ImportAction::Stop => {
                self.workers.lists.cancel();
                self.workers.gathering.cancel();
                self.places.import.stopped();
                self.session.say("Reading was stopped.");
            }
            ImportAction::WriteMapping => self.asking.ask(Question::File(FilePurpose::WriteMapping)),
            ImportAction::ReadMapping => self.asking.ask(Question::File(FilePurpose::ReadMapping)),
            ImportAction::WriteRejected => self.asking.ask(Question::File(FilePurpose::WriteRejected)),
            ImportAction::EditMarked => self.editor.open = Some(editor::Sheet::Position),
        }
    }

    fn take_in(&mut self) {
        let session = &mut self.session;
        let Some(outcome) = self.places.import.current(session.job()) else {
            return session.say("The lists are still being read; take them in when that is done.");
        };
        let mut catalogue = None;
        if !outcome.catalogue.is_empty() {
            let stem = outcome.catalogue_stem();
            let name = catalog_sources::free_name(session.job(), session.path.as_deref(), &session.stock.held, &stem);
            session.stock.held.insert(name.clone(), outcome.catalogue.clone());
            catalogue = Some(name);
        }
        let (job, what, done) = taken_job(&outcome, session.job(), catalogue);
        let said = format!("Taken in: {}.", done.summary.join(", "));
        let board = done.board.as_ref().map(|(board, _)| *board);
        session.history.close_entry();
        self.edit(Edit::Whole { job: Box::new(job), what });
        if let Some(board) = board {
            let first = self.session.job().positions().map(|(id, _)| id).find(|id| id.board == board);
            self.session.select(first.or(self.session.selection.position));
            self.positions.reveal_first_of_many();
        }
        self.session.say(said);
        for trouble in self.places.import.finish(done) {
            self.session.say(trouble);
        }
    }

    /// Takes a mapping from a file for the list shown.
    pub(crate) fn read_mapping(&mut self, path: &Path) {
        self.session.selection.view = View::Import;
        let taken = Mapping::read(path).map_err(|error| error.to_string());
        let taken = taken.and_then(|mapping| self.places.import.take_mapping(mapping));
        match taken {
            Ok(()) => self.session.say(format!("The meanings are those of {}.", path.display())),
            Err(reason) => self.session.say(reason),
        }
    }

    /// Writes the mapping of the list shown.
    pub(crate) fn write_mapping(&mut self, path: PathBuf) {
        let Some(text) = self.places.import.mapping_text() else {
            return self.session.say("There is no list at hand.");
        };
        self.write_beside(path, text.into_bytes(), "The mapping");
    }

    /// Writes what the lists hold that is not used.
    pub(crate) fn write_import_rejected(&mut self, path: PathBuf) {
        let mut bytes = Vec::new();
        match export::rejected(&mut bytes, &self.places.import.rejected()) {
            Ok(()) => self.write_beside(path, bytes, "The list of what is not used"),
            Err(error) => self.session.say(error.to_string()),
        }
    }

    fn write_beside(&mut self, path: PathBuf, bytes: Vec<u8>, what: &'static str) {
        self.workers.exporting.request(format!("Writing {}", path.display()), move |_| {
            save(&path, &bytes).map_err(|error| error.to_string())?;
            Ok(format!("{what} was written to {}.", path.display()))
        });
    }

    /// Asks for files to be opened and lists to be read, where that is due.
    pub(crate) fn request_import(&mut self) {
        let import = &mut self.places.import;
        if let Some(wanted) = import.next_opening() {
            let what = match wanted.as_slice() {
                [one] => format!("Opening {}", one.name()),
                all => format!("Opening {} files", all.len()),
            };
            self.workers
                .lists
                .request(what, move |progress| wanted.into_iter().map(|file| file.open(progress)).collect());
        }
        let job = self.session.job().clone();
        if let Some(wanted) = import.next_gathering(&job) {
            self.workers.gathering.request("Reading the rows", move |progress| wanted.read(progress));
        }
    }

    /// Takes in what was opened and read.
    pub(crate) fn catch_up_import(&mut self) {
        match self.workers.lists.take() {
            Some(Ok(opened)) => self.places.import.take_opened(opened),
            Some(Err(error)) => {
                self.places.import.stopped();
                self.session.say(error);
            }
            None => {}
        }
        if let Some(Some(outcome)) = self.session.arrived(self.workers.gathering.take()) {
            self.places.import.take_outcome(outcome);
        }
    }
}
