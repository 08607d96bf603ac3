//! Taking a job in hand: read from its file, recovered, or the demo.

use std::path::PathBuf;

use super::Window;
use super::keep::Opened;
use super::session::Session;
use super::stock::Stock;
use crate::files::companions::Held;
use crate::files::job_file::Stamp;
use crate::files::load::{self, Loaded, load_demo};

impl Window {
    /// Opens a job file, or the demo when there is none.
    pub(super) fn load(&self, path: Option<PathBuf>) {
        let what = path.as_ref().map_or_else(|| "Opening the demo".to_owned(), |p| format!("Opening {}", p.display()));
        self.lanes.loading.request(what, move |progress| {
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

    /// Takes a job in hand that was opened or recovered.
    pub(super) fn hold_opened(&mut self, Opened { loaded, path, stamp, saved, held }: Opened) {
        if let Some(path) = &path {
            self.remember_recent(path);
        }
        self.hold(loaded, path);
        self.session.stamp = stamp;
        if !held.is_empty() {
            self.session.stock = Stock::of(&self.session.job().catalogs, held);
        }
        if let Some(saved) = saved {
            self.session.mark_recovered(saved);
            self.session.say("The unsaved work is back; save the job to keep it.");
        }
    }

    /// Takes a job in hand; the view stays where it is.
    pub(super) fn hold(&mut self, loaded: Loaded, path: Option<PathBuf>) {
        let view = self.session.selection.view;
        // What was asked for the job before must not arrive for this one: its parts would replace these.
        self.lanes.parts.cancel();
        self.forget_buying();
        self.forget_parts();
        self.session = Session::new(loaded, path);
        self.session.selection.view = view;
        let rejected = self.session.rejected.len();
        if rejected > 0 {
            self.session.say(format!("{rejected} cells or rows of the catalogue were not used."));
        }
        self.request();
    }
}
