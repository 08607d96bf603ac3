//! Taking a job in hand: read from its file, recovered, or the demo.

use std::path::PathBuf;

use crate::app::Window;
use crate::app::actions::dialogs::{Answer, Choice};
use crate::app::shell::sheet::Sheet;
use crate::app::state::session::Session;
use crate::app::storage::catalog_sources::CatalogSources;
use crate::app::storage::recovery::Opened;
use crate::app::widgets::wording;
use crate::domain::Job;
use crate::files::companions::Held;
use crate::files::job_file::Stamp;
use crate::files::load::{self, Loaded, load_demo};

/// Faults that the question has room for.
const FAULTS_SHOWN: usize = 12;

impl Window {
    /// Opens a job file, or the demo when there is none.
    pub(crate) fn load(&self, path: Option<PathBuf>) {
        let what = path.as_ref().map_or_else(|| "Opening the demo".to_owned(), |p| format!("Opening {}", p.display()));
        self.workers.loading.request(what, move |progress| {
            // Before it is read: what comes in between is noticed at saving.
            let stamp = path.as_deref().and_then(Stamp::of_file);
            let loaded = match &path {
                Some(path) => load::open(path, progress),
                None => load_demo(),
            };
            loaded
                .map(|loaded| Opened { loaded, path, stamp, saved: None, held: Held::new() })
                .map_err(|error| error.to_string())
        });
    }

    /// Holds a job that was opened or recovered. One with fields that cannot be used is offered with those fields unknown.
    pub(crate) fn hold_opened(&mut self, opened: Opened) {
        let faults = &opened.loaded.unusable;
        if faults.is_empty() {
            return self.hold_usable(opened);
        }
        let shown: String = faults.iter().take(FAULTS_SHOWN).map(|fault| format!("\n{fault}")).collect();
        let more = match faults.len().saturating_sub(FAULTS_SHOWN) {
            0 => String::new(),
            more => format!("\nand {more} more, listed under Messages once it is open"),
        };
        let count = wording::count(faults.len(), "field of the job cannot be used", "fields of the job cannot be used");
        self.asking.choose(Choice {
            heading: count,
            text: format!(
                "It can be opened with them unknown. The file stays as it is until you save; the version before is \
                 kept then.{shown}{more}"
            ),
            options: vec![("Open with these unknown", Answer::OpenDoubtful), ("Cancel", Answer::LeaveDoubtful)],
            closed: Answer::LeaveDoubtful,
        });
        self.doubtful = Some(opened);
    }

    /// Opens the job that was offered with fields unknown: what stands in its file is not what is open.
    pub(crate) fn hold_doubtful(&mut self) {
        if let Some(opened) = self.doubtful.take() {
            self.hold_usable(Opened { saved: Some(Job::default()), ..opened });
            self.sheet = Some(Sheet::Messages);
        }
    }

    /// Forgets it.
    pub(crate) fn leave_doubtful(&mut self) {
        self.doubtful = None;
        self.session.say("The job with fields that cannot be used was not opened; its file is as it was.");
    }

    fn hold_usable(&mut self, Opened { loaded, path, stamp, saved, held }: Opened) {
        let doubtful = !loaded.unusable.is_empty();
        if let Some(path) = &path {
            self.remember_recent(path);
        }
        self.hold(loaded, path);
        self.session.stamp = stamp;
        if !held.is_empty() {
            self.session.stock = CatalogSources::of(&self.session.job().catalogs, held);
        }
        if let Some(saved) = saved {
            self.session.mark_recovered(saved);
            if !doubtful {
                self.session.say("The unsaved work is back; save the job to keep it.");
            }
        }
    }

    /// Takes a job in hand; the view stays where it is.
    pub(crate) fn hold(&mut self, loaded: Loaded, path: Option<PathBuf>) {
        let view = self.session.selection.view;
        // What was asked for the job before must not arrive for this one: its parts would replace these.
        self.workers.parts.cancel();
        self.forget_buying();
        self.forget_parts();
        self.session = Session::new(loaded, path);
        self.session.selection.view = view;
        let rejected = self.session.rejected.len();
        if rejected > 0 {
            let cells =
                wording::count(rejected, "cell or row of the catalogue was", "cells or rows of the catalogue were");
            self.session.say(format!("{cells} not used."));
        }
        self.request();
    }
}
