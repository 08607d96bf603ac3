//! What the person asks Import for: importing as one change of the job, mappings, lists of what is rejected.

use std::path::{Path, PathBuf};

use super::{intake::left_in_words, intake::taken_job, state::ImportState};
use crate::app::actions::ImportAction;
use crate::app::actions::dialogs::{Dialogs, FilePurpose, Question};
use crate::app::actions::refusal::OFFERS_BESIDE_JOB;
use crate::app::state::{Edit, EditorSheet, Reveal, Session, View};
use crate::app::work::Worker;
use crate::files::{companions, export, import::Mapping, output};

type Exporting = Worker<Result<String, String>>;

impl ImportState {
    /// Does what the view asks for.
    pub(crate) fn dispatch(&mut self, session: &mut Session, dialogs: &mut Dialogs, action: ImportAction) {
        let file = |purpose| Question::File(purpose);
        match action {
            ImportAction::TakeIn => self.take_in(session),
            ImportAction::Stop => {
                self.stop();
                session.say("Reading was stopped.");
            }
            ImportAction::WriteMapping => dialogs.ask(file(FilePurpose::WriteMapping)),
            ImportAction::ReadMapping => dialogs.ask(file(FilePurpose::ReadMapping)),
            ImportAction::WriteRejected => dialogs.ask(file(FilePurpose::WriteRejected)),
            ImportAction::EditMarked => session.selection.editor = Some(EditorSheet::Position),
        }
    }

    /// Imports everything that was read as one change of the job.
    fn take_in(&mut self, session: &mut Session) {
        let Some(outcome) = self.current(session.job()) else {
            return session.say("The lists are still being read; import them when that is done.");
        };
        let mut offers = Vec::new();
        for (stem, list) in &outcome.offers {
            let Some(path) = session.path.as_deref() else { return session.say(OFFERS_BESIDE_JOB) };
            match companions::put(&format!("{}.csv", companions::offers_stem(stem)), list, path) {
                Ok(name) => offers.push(name),
                Err(error) => return session.say(error.to_string()),
            }
        }
        let mut names = Vec::new();
        for (stem, catalogue) in &outcome.catalogues {
            let name = companions::free_name(session.job(), session.path.as_deref(), &session.stock.held, stem);
            session.stock.held.insert(name.clone(), catalogue.clone());
            names.push(name);
        }
        let (job, what, done) = taken_job(&outcome, session.job(), [names, offers], left_in_words(self));
        let left = done.left.as_ref().map_or_else(String::new, |left| format!(" {left}"));
        let said = format!("Imported: {}.{left}", done.summary.join(", "));
        let board = done.board.as_ref().map(|(board, _)| *board);
        session.history.close_entry();
        session.edit(Edit::Whole { job: Box::new(job), what });
        if let Some(board) = board {
            let first = session.job().positions().map(|(id, _)| id).find(|id| id.board == board);
            session.select(first.or(session.selection.position));
            session.selection.reveal = Some(Reveal::AtTop);
        }
        session.say(said);
        for trouble in self.finish(done) {
            session.say(trouble);
        }
    }

    /// Takes a mapping from a file for the list shown.
    pub(crate) fn read_mapping(&mut self, session: &mut Session, path: &Path) {
        session.selection.view = View::Import;
        let taken = Mapping::read(path).map_err(|error| error.to_string());
        let taken = taken.and_then(|mapping| self.take_mapping(mapping));
        match taken {
            Ok(()) => session.say(format!("The meanings are those of {}.", path.display())),
            Err(reason) => session.say(reason),
        }
    }

    /// Writes the mapping of the list shown.
    pub(crate) fn write_mapping(&self, session: &mut Session, exporting: &Exporting, path: PathBuf) {
        let Some(text) = self.mapping_text() else {
            return session.say("No list is open.");
        };
        write(exporting, path, text.into_bytes(), "The mapping");
    }

    /// Writes what the lists hold that is not used.
    pub(crate) fn write_rejected(&self, session: &mut Session, exporting: &Exporting, path: PathBuf) {
        let mut bytes = Vec::new();
        match export::rejected(&mut bytes, &self.rejected()) {
            Ok(()) => write(exporting, path, bytes, "The list of what is not used"),
            Err(error) => session.say(error.to_string()),
        }
    }
}

fn write(exporting: &Exporting, path: PathBuf, bytes: Vec<u8>, what: &'static str) {
    exporting.request(format!("Writing {}", path.display()), move |_| {
        output::asked(&path, bytes)?;
        Ok(format!("{what} was written to {}.", path.display()))
    });
}
