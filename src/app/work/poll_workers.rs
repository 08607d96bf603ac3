//! Taking in what other threads have finished, and asking them for what is missing.

use std::sync::Arc;

use crate::app::Window;
use crate::app::state::candidates::Candidates;
use crate::app::state::snapshot::Snapshot;
use crate::app::work::worker::{AnyWorker, in_front};
use crate::sizing;

impl Window {
    /// Takes in what other threads have finished, and asks them for what is missing.
    pub(crate) fn poll_workers(&mut self) {
        let Self { session, workers, .. } = self;
        let loaded = workers.loading.take().map(Result::flatten);
        if matches!(loaded, Some(Err(_))) {
            // Why a file cannot be opened is more than the line at the bottom has room for.
            self.sheet = Some(crate::app::shell::sheet::Sheet::Messages);
        }
        if let Some(opened) = session.arrived(loaded) {
            self.hold_opened(opened);
        }
        self.catch_up_saving();
        self.catch_up_stock();
        self.catch_up_import();
        self.catch_up_sizing();
        self.catch_up_beside();
        if let Some(photo) = self.session.arrived(self.workers.photo.take()) {
            self.take_photo(photo);
        }
        self.catch_up_keeping();
        self.catch_up_buying();
        self.answer();
        self.keep_work(false);
        self.request();
        self.request_photo();
    }
    fn catch_up_sizing(&mut self) {
        let Self { session, workers, places, .. } = self;
        if let Some(candidates) = session.arrived(workers.candidates.take()) {
            session.candidates = candidates;
        }
        let candidates = session.candidates.as_ref().map(|(_, candidates)| candidates);
        if let Err(error) = places.candidates.follow(candidates, &session.catalog_index, &workers.listing) {
            session.say(error);
        }
        if let Some(Some(snapshot)) = session.arrived(workers.sizing.take()) {
            session.snapshot = Arc::new(snapshot);
            self.tell_what_was_picked();
        }
    }

    /// Asks for the sizing of a changed job and for the candidates of a changed selection.
    pub(crate) fn request(&mut self) {
        self.request_stock();
        self.request_import();
        self.ask_for_answers();
        let job = self.session.job().clone();
        let position = self.session.selection.position;
        let (known_job, known_position) = match &self.asked_for {
            Some((known, position)) => (Arc::ptr_eq(known, &job), *position),
            None => (false, None),
        };
        if !known_job {
            self.workers.sizing.cancel();
            self.sizing_is_due = true;
        }
        if !known_job || known_position != position {
            self.asked_for = Some((job.clone(), position));
            if let Some(position) = position {
                let (job, catalog_index) = (job.clone(), self.session.catalog_index.clone());
                self.workers.candidates.request("Checking the candidates", move |progress| {
                    let candidates = in_front(|| Candidates::of(&job, &catalog_index, position, progress))?;
                    Some((job, Arc::new(candidates)))
                });
            }
        }
        // What is looked at comes first.
        if self.sizing_is_due && self.workers.candidates.busy().is_none() {
            self.sizing_is_due = false;
            let catalog_index = self.session.catalog_index.clone();
            self.workers.sizing.request("Sizing the job", move |progress| {
                let sizing = sizing::size_watched(&job, &catalog_index, progress)?;
                Some(Snapshot { job, sizing })
            });
        }
    }
}
