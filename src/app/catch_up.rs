//! Taking in what other threads have finished, and asking them for what is missing.

use std::sync::Arc;

use super::Window;
use super::candidates::Candidates;
use super::snapshot::Snapshot;
use super::worker::{AnyLane, in_front};
use crate::sizing;

impl Window {
    /// Takes in what other threads have finished, and asks them for what is missing.
    pub(super) fn catch_up(&mut self) {
        let Self { session, lanes, .. } = self;
        let loaded = lanes.loading.take().map(Result::flatten);
        if matches!(loaded, Some(Err(_))) {
            // Why a file cannot be opened is more than the line at the bottom has room for.
            self.sheet = Some(super::sheet::Sheet::Messages);
        }
        if let Some(opened) = session.arrived(loaded) {
            self.hold_opened(opened);
        }
        self.catch_up_saving();
        self.catch_up_stock();
        self.catch_up_import();
        self.catch_up_sizing();
        self.catch_up_beside();
        if let Some(photo) = self.session.arrived(self.lanes.photo.take()) {
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
        let Self { session, lanes, places, .. } = self;
        if let Some(candidates) = session.arrived(lanes.candidates.take()) {
            session.candidates = candidates;
        }
        let candidates = session.candidates.as_ref().map(|(_, candidates)| candidates);
        if let Err(error) = places.candidates.follow(candidates, &session.market, &lanes.listing) {
            session.say(error);
        }
        if let Some(Some(snapshot)) = session.arrived(lanes.sizing.take()) {
            session.snapshot = Arc::new(snapshot);
            self.tell_what_was_picked();
        }
    }

    /// Asks for the sizing of a changed job and for the candidates of a changed selection.
    pub(super) fn request(&mut self) {
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
            self.lanes.sizing.cancel();
            self.sizing_is_due = true;
        }
        if !known_job || known_position != position {
            self.asked_for = Some((job.clone(), position));
            if let Some(position) = position {
                let (job, market) = (job.clone(), self.session.market.clone());
                self.lanes.candidates.request("Checking the candidates", move |progress| {
                    let candidates = in_front(|| Candidates::of(&job, &market, position, progress))?;
                    Some((job, Arc::new(candidates)))
                });
            }
        }
        // What is looked at comes first.
        if self.sizing_is_due && self.lanes.candidates.busy().is_none() {
            self.sizing_is_due = false;
            let market = self.session.market.clone();
            self.lanes.sizing.request("Sizing the job", move |progress| {
                let sizing = sizing::size_watched(&job, &market, progress)?;
                Some(Snapshot { job, sizing })
            });
        }
    }
}
