//! Unsaved work is kept in a recovery file while it is being done, and offered at the next start when the program ended
//! without a farewell.

use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use crate::app::actions::dialogs::{Answer, Choice, Dialogs};
use crate::app::state::Session;
use crate::app::storage::{opening::Opened, settings_file::SettingsFile};
use crate::app::work::{AnyWorker, Worker};
use crate::domain::Job;
use crate::files::recovery::{self, LeftBehind, Origin, Recovery};
use crate::files::{bounded, companions::Held, load};
use crate::sizing::CatalogIndex;

/// Least time between two writings of the recovery file: with the writing itself less than a second is ever lost.
const PAUSE: Duration = Duration::from_millis(400);

/// Where the program keeps things between runs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Folders {
    /// Holds `settings.json`.
    pub settings: PathBuf,
    /// Holds the recovery files.
    pub recovery: PathBuf,
}

impl Folders {
    /// Where the desktop wants them; `None` when the person has no home.
    pub fn of_desktop() -> Option<Self> {
        let own = directories::ProjectDirs::from("", "", "refarad")?;
        Some(Self { settings: own.config_dir().to_owned(), recovery: own.data_local_dir().join("recovery") })
    }
}

/// What is kept between runs, and what was.
#[derive(Default)]
pub(crate) struct Keep {
    pub settings: SettingsFile,
    recovery: Option<Arc<Recovery>>,
    worker: Worker<Result<(), String>>,
    scan: Worker<(Vec<LeftBehind>, Vec<String>)>,
    /// Work of earlier runs that is still to be offered.
    left: Vec<LeftBehind>,
    /// Work that was taken up again; removed once it is kept anew.
    taken: Arc<Mutex<Vec<LeftBehind>>>,
    /// What the recovery file holds, or is about to.
    kept: Option<(Arc<Job>, Arc<CatalogIndex>)>,
    kept_at: Option<Instant>,
    fault_told: bool,
}

impl Keep {
    /// The work on other threads.
    pub(crate) fn workers(&self) -> [&dyn AnyWorker; 3] {
        [&self.scan, &self.worker, &self.settings.worker]
    }

    /// Waits for the other threads.
    pub(crate) fn wait(&self) {
        self.workers().into_iter().for_each(AnyWorker::wait);
    }
}

impl Keep {
    /// Keeps settings and unsaved work in `folders`, and offers what was left there.
    pub(crate) fn keep_in(&mut self, folders: Folders, session: &mut Session) {
        self.recovery = Some(Arc::new(Recovery::in_folder(&folders.recovery)));
        self.settings.read_from(&folders.settings, session);
        self.scan.request("Looking for unsaved work", move |_| recovery::left_behind(&folders.recovery));
    }

    /// Writes what is not saved into the recovery file, or removes that when all is saved; now and then, unless `at_once`.
    pub(crate) fn keep_work(&mut self, session: &Session, at_once: bool) {
        let Some(recovery) = self.recovery.clone() else { return };
        let wanted = session.is_dirty().then(|| (session.job().clone(), session.catalog_index.clone()));
        let same = match (&wanted, &self.kept) {
            (Some(wanted), Some(kept)) => Arc::ptr_eq(&wanted.0, &kept.0) && Arc::ptr_eq(&wanted.1, &kept.1),
            (None, None) => true,
            _ => false,
        };
        if same {
            return;
        }
        let wait = self.kept_at.map_or(Duration::ZERO, |at| PAUSE.saturating_sub(at.elapsed()));
        if !at_once && !wait.is_zero() {
            if let Some(ctx) = self.worker.ctx() {
                ctx.request_repaint_after(wait);
            }
            return;
        }
        self.kept.clone_from(&wanted);
        self.kept_at = Some(Instant::now());
        let (origin, taken, with_parts) = (origin(session), self.taken.clone(), keeps_parts(session));
        self.worker.request("Keeping unsaved work", move |_| {
            match wanted {
                Some((job, catalog_index)) => {
                    let parts = with_parts.then_some(&catalog_index);
                    recovery.write(&job, &origin, parts).map_err(|error| error.to_string())?;
                }
                None => recovery.clear(),
            }
            taken.lock().unwrap_or_else(PoisonError::into_inner).drain(..).for_each(LeftBehind::remove);
            Ok(())
        });
    }

    /// Writes the recovery file on this thread: the window may not live to see another frame.
    pub(crate) fn keep_in_distress(&self, session: &Session) -> Result<(), String> {
        let recovery = self.recovery.as_ref().ok_or("There is no folder to keep it in.")?;
        let parts = keeps_parts(session).then_some(&session.catalog_index);
        recovery.write(session.job(), &origin(session), parts).map_err(|error| error.to_string())
    }

    /// Takes in what other threads did about recovery, and offers work that was left behind.
    pub(crate) fn poll(&mut self, session: &mut Session, dialogs: &mut Dialogs, free: bool) {
        if let Some(Ok(Err(error)) | Err(error)) = self.worker.take()
            && !std::mem::replace(&mut self.fault_told, true)
        {
            session.say(format!("Unsaved work is not kept against crashes: {error}"));
        }
        if let Some(Ok((left, faults))) = self.scan.take() {
            self.left = left;
            faults.into_iter().for_each(|fault| session.say(fault));
        }
        self.settings.poll(session);
        if let Some(left) = self.left.first().filter(|_| free) {
            let of = match &left.origin.job_file {
                Some(path) => format!("It belongs to {}.", path.display()),
                None => "It was never saved to a file.".into(),
            };
            let name = if left.job.name.is_empty() { "a job without a name" } else { left.job.name.as_str() };
            dialogs.choose(Choice {
                heading: "There is work that was not saved".into(),
                text: format!(
                    "The program ended before {name} was saved; it was kept as it stood at {}. {of} Recovering it \
                     changes no file until you save.",
                    left.origin.kept_at()
                ),
                options: vec![
                    ("Recover it", Answer::Recover),
                    ("Discard it", Answer::DropRecovered),
                    ("Ask again next time", Answer::RecoverLater),
                ],
                closed: Answer::RecoverLater,
            });
        }
    }

    /// Takes up the work that was offered.
    pub(crate) fn recover(&mut self, loading: &Worker<Result<Opened, String>>) {
        if self.left.is_empty() {
            return;
        }
        let left = self.left.remove(0);
        let (job, origin, parts) = (left.job.clone(), left.origin.clone(), left.parts.clone());
        self.taken.lock().unwrap_or_else(PoisonError::into_inner).push(left);
        loading.request("Recovering unsaved work", move |_| {
            let path = origin.job_file;
            let saved = path.as_ref().and_then(|path| Some(crate::files::job::read(path).ok()?.job));
            let mut loaded = load::recovered(job, path.as_deref(), parts.as_deref());
            loaded.newer = origin.newer;
            let mut held = Held::new();
            if !loaded.job.catalogs.is_empty()
                && let Some(bytes) =
                    parts.as_deref().and_then(|kept| bounded::read(kept, bounded::TABLE_BYTES_MAX).ok())
            {
                // All that was at hand in one catalogue.
                loaded.job.catalogs = vec!["parts.csv".into()];
                held.insert("parts.csv".into(), Arc::new(bytes));
            }
            // Where the demo is the original, what is in it counts as saved.
            let saved = saved.or_else(|| Some(crate::files::demo::job().ok()?.job).filter(|_| path.is_none()));
            let (stamp, saved) = (origin.stamp, Some(saved.unwrap_or_default()));
            Ok(Opened { loaded, path, stamp, saved, held })
        });
    }

    /// Throws the work away that was offered.
    pub(crate) fn drop_recovered(&mut self, session: &mut Session) {
        if !self.left.is_empty() {
            self.left.remove(0).remove();
            session.say("The unsaved work was discarded.");
        }
    }

    /// Leaves what was offered where it is.
    pub(crate) fn recover_later(&mut self, session: &mut Session) {
        self.left.clear();
        session.say("The unsaved work stays where it is and is offered at the next start.");
    }

    /// The last thing before the window is gone: work that is saved or not wanted leaves nothing behind.
    pub(crate) fn farewell(&mut self, session: &Session, leaving: bool) {
        if leaving || !session.is_dirty() {
            self.worker.wait();
            if let Some(recovery) = &self.recovery {
                recovery.clear();
            }
        } else {
            self.keep_work(session, true);
        }
        self.wait();
    }
}

/// Whether the parts go into the recovery file: the job's own files do not have them.
fn keeps_parts(session: &Session) -> bool {
    session.path.as_ref().is_none_or(|path| session.stock.is_only_held(session.job(), path))
}

fn origin(session: &Session) -> Origin {
    let job_file = session.path.as_ref().map(|path| std::path::absolute(path).unwrap_or_else(|_| path.clone()));
    Origin { job_file, stamp: session.stamp, newer: session.newer, kept_unix_s: 0 }
}
