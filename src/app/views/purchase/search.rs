//! A search for few lines that goes on elsewhere: how far it is, and the way to stop it.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use crate::domain::Job;
use crate::sizing::{Order, Totals, few_lines::Progress, pick_change::PickChange};

pub(crate) struct Found {
    /// The job it was for.
    pub job: Arc<Job>,
    /// The order, or why there is none.
    pub order: Result<Order, String>,
    /// What the positions of the order cost as they were; `None` without an order.
    pub now: Option<Totals>,
    pub changes: Vec<PickChange>,
    /// The parts or their offers are others now: what was found no longer holds.
    pub outdated: bool,
}

#[derive(Default)]
struct Shared {
    cancel: AtomicBool,
    progress: Mutex<Option<Progress>>,
}

#[derive(Clone, Default)]
pub(crate) struct Search(Arc<Shared>);

impl Search {
    /// Set when the search is to end with what it has.
    pub(crate) fn cancel(&self) -> &AtomicBool {
        &self.0.cancel
    }

    /// Ends the search with what it has.
    pub(crate) fn stop(&self) {
        self.0.cancel.store(true, Ordering::Relaxed);
    }

    /// Whether it was told to end.
    pub(crate) fn is_stopped(&self) -> bool {
        self.0.cancel.load(Ordering::Relaxed)
    }

    /// Says how far it is.
    pub(crate) fn report(&self, progress: Progress) {
        *self.0.progress.lock().unwrap_or_else(PoisonError::into_inner) = Some(progress);
    }

    pub(crate) fn progress(&self) -> Option<Progress> {
        *self.0.progress.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
