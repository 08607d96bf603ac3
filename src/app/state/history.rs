//! Undo and redo: the jobs there were, each with what was done next.

use std::sync::Arc;

use crate::app::state::edit::Edit;
use crate::domain::Job;

/// Steps kept. A job of a hundred positions takes a fraction of a megabyte, so this stays small.
const STEPS_KEPT: usize = 200;

#[derive(Debug, Clone)]
struct Step {
    /// What was done, as undo names it.
    label: String,
    /// The job on the other side of the step.
    job: Arc<Job>,
}

/// The job with its past and its undone future.
#[derive(Debug, Clone, Default)]
pub(crate) struct History {
    job: Arc<Job>,
    past: Vec<Step>,
    future: Vec<Step>,
    /// Key of the last edit while a next one with the same key may still join it.
    open_key: Option<String>,
}

impl History {
    /// A job without a past.
    pub(crate) fn new(job: Arc<Job>) -> Self {
        Self { job, ..Self::default() }
    }

    pub(crate) fn job(&self) -> &Arc<Job> {
        &self.job
    }

    /// Makes a change; returns what it is called, or `None` when it changed nothing.
    pub(crate) fn edit(&mut self, edit: Edit) -> Option<String> {
        let label = edit.label(&self.job);
        let key = edit.join_key();
        let mut job = Job::clone(&self.job);
        edit.apply(&mut job);
        if job == *self.job {
            return None;
        }
        let before = std::mem::replace(&mut self.job, Arc::new(job));
        self.future.clear();
        let joins = key.is_some() && key == self.open_key && !self.past.is_empty();
        if !joins {
            self.past.push(Step { label: label.clone(), job: before });
            if self.past.len() > STEPS_KEPT {
                self.past.remove(0);
            }
        }
        self.open_key = key;
        Some(label)
    }

    /// Ends an entry: the next edit of the same field is a step of its own.
    pub(crate) fn close_entry(&mut self) {
        self.open_key = None;
    }

    /// What undo would take back.
    pub(crate) fn undo_label(&self) -> Option<&str> {
        self.past.last().map(|step| step.label.as_str())
    }

    /// What redo would do again.
    pub(crate) fn redo_label(&self) -> Option<&str> {
        self.future.last().map(|step| step.label.as_str())
    }

    /// Takes the last step back; returns what it is called.
    pub(crate) fn undo(&mut self) -> Option<String> {
        Self::travel(&mut self.job, &mut self.past, &mut self.future, &mut self.open_key)
    }

    /// Does the last step taken back again; returns what it is called.
    pub(crate) fn redo(&mut self) -> Option<String> {
        Self::travel(&mut self.job, &mut self.future, &mut self.past, &mut self.open_key)
    }

    fn travel(
        job: &mut Arc<Job>,
        from: &mut Vec<Step>,
        to: &mut Vec<Step>,
        open_key: &mut Option<String>,
    ) -> Option<String> {
        let step = from.pop()?;
        *open_key = None;
        to.push(Step { label: step.label.clone(), job: std::mem::replace(job, step.job) });
        Some(step.label)
    }
}

#[cfg(test)]
#[path = "../../../tests/window/inside/history.rs"]
mod tests;
