//! Taking what other threads have finished, and asking them for what is missing; opening a job that was read.

use std::path::PathBuf;
use std::sync::Arc;

use crate::app::Window;
use crate::app::actions::{dialogs::Choice, picking};
use crate::app::state::{CatalogSources, List, Overlay, Selection, Session, View, settings::VIEWS, settings::of_name};
use crate::app::storage::{catalog_sources, opening::Opened, saving};
use crate::app::widgets::wording;
use crate::app::work::AnyWorker;
use crate::domain::Job;
use crate::files::load::Loaded;

impl Window {
    /// Takes what other threads have finished, and asks them for what is missing.
    pub(crate) fn poll_workers(&mut self) {
        let loaded = self.workers.loading.take().map(Result::flatten);
        if matches!(loaded, Some(Err(_))) {
            // Why a file cannot be opened is more than the line at the bottom has room for.
            self.session.selection.overlay = Some(Overlay::Messages);
        }
        if let Some(opened) = self.session.arrived(loaded) {
            self.hold_opened(opened);
        }
        let Self { session, views, workers, dialogs, keep, .. } = self;
        saving::poll(session, &workers.saving, dialogs, &mut keep.settings.now);
        catalog_sources::poll(session, &workers.catalogs);
        if workers.sizing.poll(session) {
            picking::tell_what_was_picked(session);
        }
        views.poll(session, &keep.settings.now.recent);
        for written in [&workers.exporting, &workers.map] {
            if let Some(said) = session.arrived(written.take().map(Result::flatten)) {
                session.say(said);
            }
        }
        let free = session.selection.overlay.is_none()
            && !dialogs.is_open()
            && workers.loading.busy().is_none()
            && !dialogs.has_answer();
        keep.poll(session, dialogs, free);
        self.answer();
        self.begin_lists();
        self.keep.keep_work(&self.session, false);
        self.request();
    }

    /// Asks for the parts, the sizing, the candidates and the photo, where that is due.
    fn request(&mut self) {
        let Self { session, workers, .. } = self;
        catalog_sources::request(session, &workers.catalogs);
        workers.sizing.request(session);
        workers.photo.poll(session);
    }

    /// Shows a job that was opened or recovered. One with fields that cannot be used is offered with those fields unknown.
    pub(crate) fn hold_opened(&mut self, opened: Opened) {
        if opened.loaded.unusable.is_empty() {
            return self.hold_usable(opened);
        }
        self.dialogs.choose(Choice::doubtful(&opened.loaded.unusable));
        self.doubtful = Some(opened);
    }

    /// Opens the job that was offered with fields unknown: what stands in its file is not what is open.
    pub(crate) fn hold_doubtful(&mut self) {
        if let Some(opened) = self.doubtful.take() {
            self.hold_usable(Opened { saved: Some(Job::default()), ..opened });
            self.session.selection.overlay = Some(Overlay::Messages);
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
            self.keep.settings.now.remember(path);
        }
        self.hold(loaded, path);
        let session = &mut self.session;
        session.stamp = stamp;
        if !held.is_empty() {
            session.stock = CatalogSources::of(&session.job().catalogs, held);
        }
        if let Some(saved) = saved {
            session.count_as_saved(Arc::new(saved));
            if !doubtful {
                session.say("The unsaved work is back; save the job to keep it.");
            }
        }
    }

    /// Shows a job.
    fn hold(&mut self, loaded: Loaded, path: Option<PathBuf>) {
        self.hold_session(Session::new(loaded, path));
        let session = &mut self.session;
        let rejected = session.rejected.len();
        if rejected > 0 {
            let cells =
                wording::count(rejected, "cell or row of the catalogue was", "cells or rows of the catalogue were");
            session.say(format!("{cells} not used."));
        }
    }

    /// Goes over to another job; the view stays as it is where it has something to show.
    pub(crate) fn hold_session(&mut self, new: Session) {
        let Selection { view, overlay, editor, .. } = self.session.selection.clone();
        let (moves, catalogs_seen) = (self.session.moves, self.session.catalogs_seen);
        // What was asked for the job before must not arrive for this one: its parts would replace these.
        self.workers.catalogs.parts.cancel();
        self.views.purchase.start_anew();
        self.views.bench.start_anew();
        self.views.start.conditions_due = false;
        let session = &mut self.session;
        *session = new;
        (session.moves, session.catalogs_seen) = (moves + 1, catalogs_seen + 1);
        let place = self.keep.settings.now.place.as_ref();
        let view = match view {
            // Without positions there is nothing to look at: the first ones come onto the map.
            View::Import => view,
            _ if session.job().positions().next().is_none() => View::Board,
            View::Start => of_name(&VIEWS, place).unwrap_or_default(),
            _ => view,
        };
        (session.selection.view, session.selection.overlay, session.selection.editor) = (view, overlay, editor);
        session.selection.keyboard_to = Some(List::Positions);
        self.views.follow(session);
        self.request();
    }
}
