//! Work off the window's thread. Each kind of work has a worker; in a worker a newer request supersedes the older one.

use egui;
use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, OnceLock, PoisonError};

pub(crate) use crate::progress::Progress;

type Work<T> = Box<dyn FnOnce(&Progress) -> T + Send>;

struct Slots<T> {
    next: Option<(Arc<Progress>, Work<T>)>,
    /// What was asked for last and has not been taken.
    current: Option<Arc<Progress>>,
    finished: Option<Result<T, String>>,
    thread_runs: bool,
    closed: bool,
}

struct Shared<T> {
    slots: Mutex<Slots<T>>,
    changed: Condvar,
    /// Woken when a result is there; empty until the window has drawn once.
    ctx: OnceLock<egui::Context>,
}

impl<T> Shared<T> {
    fn lock(&self) -> MutexGuard<'_, Slots<T>> {
        // Work runs outside the lock, so a poisoned lock still guards whole slots.
        self.slots.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// One kind of work: one thread, one request at a time, only the latest counts.
pub(crate) struct Worker<T> {
    shared: Arc<Shared<T>>,
}

/// A worker without work; its thread starts with the first request.
impl<T> Default for Worker<T> {
    fn default() -> Self {
        let slots = Slots { next: None, current: None, finished: None, thread_runs: false, closed: false };
        let (slots, changed, ctx) = (Mutex::new(slots), Condvar::new(), OnceLock::new());
        Self { shared: Arc::new(Shared { slots, changed, ctx }) }
    }
}

impl<T: Send + 'static> Worker<T> {
    /// The window, once it has drawn.
    pub(crate) fn ctx(&self) -> Option<&egui::Context> {
        self.shared.ctx.get()
    }

    /// Asks for `work`; whatever this worker was asked before is no longer wanted.
    pub(crate) fn request(&self, what: impl Into<String>, work: impl FnOnce(&Progress) -> T + Send + 'static) {
        let progress = Arc::new(Progress::new(what.into()));
        let mut slots = self.shared.lock();
        if let Some(older) = slots.current.replace(progress.clone()) {
            older.cancel();
        }
        slots.finished = None;
        slots.next = Some((progress, Box::new(work)));
        if !slots.thread_runs {
            let shared = self.shared.clone();
            let spawned = std::thread::Builder::new().name("refarad worker".into()).spawn(move || run(&shared));
            match spawned {
                Ok(_) => slots.thread_runs = true,
                Err(error) => {
                    slots.next = None;
                    slots.finished = Some(Err(format!("The system gave no thread to work on: {error}")));
                }
            }
        }
        drop(slots);
        self.shared.changed.notify_all();
    }

    /// The result of the latest request, once.
    pub(crate) fn take(&self) -> Option<Result<T, String>> {
        let mut slots = self.shared.lock();
        let finished = slots.finished.take()?;
        slots.current = None;
        Some(finished)
    }

    /// Gives up the current work; it leaves no result.
    pub(crate) fn cancel(&self) {
        let mut slots = self.shared.lock();
        slots.next = None;
        slots.finished = None;
        if let Some(progress) = slots.current.take() {
            progress.cancel();
        }
        drop(slots);
        self.shared.changed.notify_all();
    }
}

/// A worker whatever its results are.
pub(crate) trait AnyWorker {
    /// What is being worked on.
    fn busy(&self) -> Option<Arc<Progress>>;
    /// Gives up the work if it is this one.
    fn stop(&self, work: &Arc<Progress>);
    /// Waits until there is a result or nothing to wait for.
    fn wait(&self);
    /// Wakes this window when a result is there.
    fn wake(&self, ctx: &egui::Context);
}

impl<T: Send + 'static> AnyWorker for Worker<T> {
    fn busy(&self) -> Option<Arc<Progress>> {
        self.shared.lock().current.clone()
    }

    fn stop(&self, work: &Arc<Progress>) {
        if self.busy().is_some_and(|own| Arc::ptr_eq(&own, work)) {
            self.cancel();
        }
    }

    fn wait(&self) {
        let mut slots = self.shared.lock();
        while slots.current.is_some() && slots.finished.is_none() {
            slots = self.shared.changed.wait(slots).unwrap_or_else(PoisonError::into_inner);
        }
    }

    fn wake(&self, ctx: &egui::Context) {
        // What was finished before somebody could be woken is seen to now.
        if self.shared.ctx.set(ctx.clone()).is_ok() && self.shared.lock().finished.is_some() {
            ctx.request_repaint();
        }
    }
}

impl<T> Drop for Worker<T> {
    fn drop(&mut self) {
        let mut slots = self.shared.lock();
        slots.closed = true;
        if let Some(progress) = slots.current.take() {
            progress.cancel();
        }
        drop(slots);
        self.shared.changed.notify_all();
    }
}

fn run<T>(shared: &Shared<T>) {
    loop {
        let mut slots = shared.lock();
        let (progress, work) = loop {
            if slots.closed {
                return;
            }
            if let Some(next) = slots.next.take() {
                break next;
            }
            slots = shared.changed.wait(slots).unwrap_or_else(PoisonError::into_inner);
        };
        drop(slots);
        let result = catch_unwind(AssertUnwindSafe(|| work(&progress))).map_err(|panic| {
            let said = said_by(panic.as_ref());
            format!(
                "{} went wrong and was stopped; your job is unchanged. Save it, then take the last change back or open it \
                 again; please report: {said}",
                progress.what
            )
        });
        let mut slots = shared.lock();
        if slots.current.as_ref().is_some_and(|current| Arc::ptr_eq(current, &progress)) {
            slots.finished = Some(result);
        }
        drop(slots);
        shared.changed.notify_all();
        if let Some(ctx) = shared.ctx.get() {
            ctx.request_repaint();
        }
    }
}

/// Does work that the person looks at on threads of its own, so that it does not queue behind the sizing of the whole job.
pub(crate) fn in_front<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    static THREADS: OnceLock<Option<rayon::ThreadPool>> = OnceLock::new();
    let threads = THREADS.get_or_init(|| rayon::ThreadPoolBuilder::new().build().ok());
    match threads {
        Some(threads) => threads.install(work),
        None => work(),
    }
}

pub(crate) fn said_by(panic: &(dyn Any + Send)) -> &str {
    let text = panic.downcast_ref::<&str>().copied();
    text.or_else(|| panic.downcast_ref::<String>().map(String::as_str)).unwrap_or("no message")
}

#[cfg(test)]
#[path = "../../../tests/window/inside/worker.rs"]
mod tests;
