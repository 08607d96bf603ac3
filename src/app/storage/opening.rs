//! Taking a job in hand: read from its file, recovered, or the demo.

use std::path::PathBuf;

use crate::app::Window;
use crate::app::state::session::Session;
use crate::app::storage::catalog_sources::CatalogSources;
use crate::app::storage::recovery::Opened;
use crate::files::companions::Held;
use crate::files::job_file::Stamp;
use crate::files::load::{self, Loaded, load_demo};

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

    /// Takes a job in hand that was opened or recovered.
    pub(crate) fn hold_opened(&mut self, Opened { loaded, path, stamp, saved, held }: Opened) {
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
            self.session.say("The unsaved work is back; save the job to keep it.");
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
            let cells = crate::app::widgets::wording::count(
                rejected,
                "cell or row of the catalogue was",
                "cells or rows of the catalogue were",
            );
            self.session.say(format!("{cells} not used."));
        }
        self.request();
    }
}
