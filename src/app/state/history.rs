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

    /// The job as it is now.
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
mod tests {
    use super::*;
    use crate::domain::{Board, Position, PositionId};
    use proptest::prelude::*;

    const C1: PositionId = PositionId { board: 0, index: 0 };

    fn history() -> History {
        let board =
            Board { positions: vec![Position { reference: "C1".into(), ..Position::default() }], ..Board::default() };
        History::new(Arc::new(Job { boards: vec![board], ..Job::default() }))
    }

    fn volts(history: &History, dc_v: f64) -> Edit {
        let mut position = history.job().position(C1).cloned().unwrap_or_default();
        position.stress.dc_v = Some(dc_v);
        Edit::Positions { changed: vec![(C1, position)], field: "operating voltage".into() }
    }

    #[test]
    fn undo_and_redo_go_back_and_forth_by_name() {
        let mut history = history();
        let before = history.job().clone();
        assert_eq!(history.edit(Edit::pick(C1, "A")).as_deref(), Some("pick A for C1"));
        let after = history.job().clone();
        assert_eq!(history.undo().as_deref(), Some("pick A for C1"));
        assert!(Arc::ptr_eq(history.job(), &before));
        assert_eq!(history.redo().as_deref(), Some("pick A for C1"));
        assert!(Arc::ptr_eq(history.job(), &after));
        assert_eq!(history.redo(), None);
    }

    #[test]
    fn keystrokes_of_one_entry_are_one_step_until_the_entry_ends() {
        let mut history = history();
        for dc_v in [1.0, 16.0, 160.0] {
            history.edit(volts(&history, dc_v));
        }
        history.close_entry();
        history.edit(volts(&history, 200.0));
        history.undo();
        assert_eq!(history.job().boards[0].positions[0].stress.dc_v, Some(160.0));
        history.undo();
        assert_eq!(history.job().boards[0].positions[0].stress.dc_v, None);
        assert_eq!(history.undo(), None);
    }

    #[test]
    fn an_edit_that_changes_nothing_is_no_step() {
        let mut history = history();
        assert_eq!(history.edit(Edit::unpick(C1)), None);
        assert_eq!(history.undo_label(), None);
    }

    proptest! {
        #[test]
        fn any_walk_can_be_walked_back(picks in prop::collection::vec(prop::option::of(0u8..4), 1..30)) {
            let mut history = history();
            let start = history.job().clone();
            let mut seen = vec![start];
            for pick in picks {
                let edit = Edit::Pick { picks: vec![(C1, pick.map(|p| p.to_string()))] };
                if history.edit(edit).is_some() {
                    seen.push(history.job().clone());
                }
            }
            for job in seen.iter().rev().skip(1) {
                prop_assert!(history.undo().is_some());
                prop_assert_eq!(history.job(), job);
            }
            prop_assert!(history.undo().is_none());
            for job in seen.iter().skip(1) {
                prop_assert!(history.redo().is_some());
                prop_assert_eq!(history.job(), job);
            }
        }
    }
}
