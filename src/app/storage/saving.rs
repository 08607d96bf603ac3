//! Saving the job, and what can come in the way: somebody else's changes, a file of the same name, a disk that refuses.

use std::path::PathBuf;
use std::sync::Arc;

use crate::app::actions::dialogs::{Answer, Choice, Dialogs};
use crate::app::state::{Edit, Session, Snapshot, settings::Settings};
use crate::app::work::Worker;
use crate::domain::Job;
use crate::files::job_file::{Expect, JobSaveError, Stamp, save_job};
use crate::files::{companions, companions::From};
use crate::sizing::changed::{Records, State, records};
use crate::sizing::{CatalogIndex, size};

/// A job that was saved.
pub(crate) struct Saved {
    path: PathBuf,
    /// As it stands in the file: names of files beside it may differ, where a name was taken.
    job: Arc<Job>,
    stamp: Stamp,
    records: Arc<Records>,
    notes: Vec<String>,
}

/// Why a job was not saved.
pub(crate) struct Unsaved {
    path: PathBuf,
    expected: Expect,
    error: JobSaveError,
}

pub(crate) type SaveDone = Result<Saved, Unsaved>;

/// Takes over the names under which the files beside a job now stand.
fn take_names(job: &mut Job, from: &Job) {
    job.catalogs.clone_from(&from.catalogs);
    job.offers.clone_from(&from.offers);
    for (board, from) in job.boards.iter_mut().zip(&from.boards) {
        board.photo.clone_from(&from.photo);
    }
}

/// Saves to the file the job came from.
pub(crate) fn save_here(session: &Session, saving: &Worker<SaveDone>, dialogs: &mut Dialogs) {
    match session.path.clone().filter(|_| !session.newer) {
        Some(path) => request(session, saving, path, known(session)),
        None => dialogs.ask_for_place_to_save(),
    }
}

/// Saves to `path`; over the job's own file only if that is still as it is known.
pub(crate) fn save_as(
    session: &mut Session,
    saving: &Worker<SaveDone>,
    dialogs: &mut Dialogs,
    path: PathBuf,
    expected: Expect,
) {
    let own = session.path.as_ref().is_some_and(|own| companions::same_file(own, &path));
    if own && session.newer {
        dialogs.forget_next();
        session.say(format!(
            "{}: was written by a later version and is not replaced; choose another name.",
            path.display()
        ));
        return;
    }
    let expected = if own { known(session) } else { expected };
    request(session, saving, path, expected);
}

fn known(session: &Session) -> Expect {
    session.stamp.map_or(Expect::Anything, Expect::Known)
}

/// Saves to `path`, where `expected` is thought to stand.
pub(crate) fn request(session: &Session, saving: &Worker<SaveDone>, path: PathBuf, expected: Expect) {
    let (job, catalog_index, own) = (session.job().clone(), session.catalog_index.clone(), session.path.clone());
    let held = session.stock.held.clone();
    let (snapshot, as_saved, offers_due) = (session.snapshot.clone(), session.as_saved.clone(), session.offers_due);
    saving.request(format!("Saving {}", path.display()), move |_| {
        let from = From { beside: own.as_deref(), held: &held, parts: catalog_index.catalog() };
        let brought = companions::bring(&job, from, &path).map_err(JobSaveError::from);
        let saved = brought.and_then(|(moved, notes)| {
            let job = if moved == *job { job } else { Arc::new(moved) };
            let known = (!offers_due).then(|| known_parts(&job, &catalog_index, &snapshot)).flatten();
            let as_saved = known.unwrap_or(as_saved);
            Ok((save_job(&path, &job, &as_saved, expected)?, job, as_saved, notes))
        });
        match saved {
            Ok((stamp, job, records, notes)) => Ok(Saved { path, job, stamp, records, notes }),
            Err(error) => Err(Unsaved { path, expected, error }),
        }
    });
}

/// What is known of the chosen parts now; `None` without a catalogue, when what was known before says more.
fn known_parts(job: &Job, catalog_index: &Arc<CatalogIndex>, snapshot: &Snapshot) -> Option<Arc<Records>> {
    if catalog_index.catalog().is_empty() {
        return None;
    }
    let same = *snapshot.job == *job && Arc::ptr_eq(&snapshot.catalog_index, catalog_index);
    let anew = (!same).then(|| size(job, catalog_index));
    let sizing = anew.as_ref().unwrap_or(&snapshot.sizing);
    Some(Arc::new(records(State { job, catalog_index, sizing })))
}

/// Takes in what became of saving.
pub(crate) fn poll(session: &mut Session, saving: &Worker<SaveDone>, dialogs: &mut Dialogs, settings: &mut Settings) {
    match saving.take() {
        Some(Ok(done)) => take_saved(session, dialogs, settings, done),
        Some(Err(error)) => {
            dialogs.forget_next();
            session.say(error);
        }
        None => {}
    }
}

fn take_saved(session: &mut Session, dialogs: &mut Dialogs, settings: &mut Settings, done: SaveDone) {
    match done {
        Ok(Saved { path, job, stamp, records, notes }) => {
            let mut named = Job::clone(session.job());
            take_names(&mut named, &job);
            session.edit(Edit::Whole { job: Box::new(named), what: "names of the files beside the job".into() });
            notes.into_iter().for_each(|note| session.say(note));
            session.say(format!("Saved to {}.", path.display()));
            session.mark_saved(&path, job, stamp);
            session.as_saved = records;
            settings.remember(&path);
        }
        Err(unsaved) => ask_about(session, dialogs, unsaved),
    }
}

fn ask_about(session: &mut Session, dialogs: &mut Dialogs, Unsaved { path, expected, error }: Unsaved) {
    let elsewhere = ("Save under another name…", Answer::SaveElsewhere);
    let stay = Answer::Nothing("The job is not saved yet.".into());
    let overwrite = Answer::Overwrite(path.clone());
    let choice = match &error {
        JobSaveError::Changed { .. } => Choice {
            heading: "Somebody else changed the file".into(),
            text: format!(
                "{} is not as it was when it was opened or saved here last. Overwriting it keeps the file there \
                 now beside it, with “.previous” after its name. Reading it again gives up the changes made here.",
                path.display()
            ),
            options: vec![
                elsewhere,
                ("Overwrite it", overwrite),
                ("Read it again", Answer::ReadAgain(path)),
                ("Cancel", stay.clone()),
            ],
            closed: stay,
        },
        JobSaveError::Occupied { .. } => Choice {
            heading: "There is a file of this name already".into(),
            text: format!("{} would be replaced; the file there is kept beside it.", path.display()),
            options: vec![elsewhere, ("Replace it", overwrite), ("Cancel", stay.clone())],
            closed: stay,
        },
        JobSaveError::Failed(error) => {
            session.say(error.to_string());
            Choice {
                heading: "The job is not saved".into(),
                text: error.to_string(),
                options: vec![("Try again", Answer::Save(path, expected)), elsewhere, ("Cancel", stay.clone())],
                closed: stay,
            }
        }
    };
    dialogs.choose(choice);
}
