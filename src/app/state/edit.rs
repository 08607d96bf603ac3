//! Changes to the job. Every change a person makes is an [`Edit`] and goes through [`Edit::apply`], so undo, saving and
//! recalculation see all of them.

use crate::domain::{Board, Job, Measured, Position, PositionId, UnitAtBench};

/// A change to the job, as data.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Edit {
    /// Picks a part for positions, or takes their pick away.
    Pick {
        /// The positions with their new picks.
        picks: Vec<(PositionId, Option<String>)>,
    },
    /// Replaces positions by changed copies of themselves.
    Positions {
        /// The positions with what they become.
        changed: Vec<(PositionId, Position)>,
        /// Which field, for the undo label and for joining the keystrokes of one entry into one step: `operating voltage`.
        field: String,
    },
    /// Adds a position at the end of a board.
    Add {
        /// Index of the board.
        board: usize,
        position: Box<Position>,
    },
    /// Takes positions off their boards.
    Remove(Vec<PositionId>),
    /// Replaces a board by a changed copy of itself.
    Board {
        /// Index of the board.
        at: usize,
        /// What it becomes.
        board: Box<Board>,
        /// Which field; as in [`Positions`](Self::Positions).
        field: String,
    },
    /// Replaces everything of the job but its boards by that of a changed copy.
    Settings {
        /// The changed copy; its boards are not used.
        job: Box<Job>,
        /// Which field; as in [`Positions`](Self::Positions).
        field: String,
    },
    /// Replaces what is at the bench, and what positions keep of what was measured there.
    Bench {
        units: Vec<UnitAtBench>,
        /// Positions with what they keep.
        measured: Vec<(PositionId, Option<Measured>)>,
        /// What was entered; as in [`Positions`](Self::Positions).
        field: String,
    },
    /// Replaces the whole job by a changed copy: boards come and go, rows are pasted, lost work is recovered.
    Whole {
        /// The changed copy.
        job: Box<Job>,
        /// What was done, as undo names it.
        what: String,
    },
}

impl Edit {
    /// Picks `part` for one position.
    pub(crate) fn pick(position: PositionId, part: &str) -> Self {
        Self::Pick { picks: vec![(position, Some(part.to_owned()))] }
    }

    /// Changes something of the job but its boards.
    pub(crate) fn settings(job: &Job, field: &str, set: impl FnOnce(&mut Job)) -> Self {
        let mut job = Job { boards: Vec::new(), ..job.clone() };
        set(&mut job);
        Self::Settings { job: Box::new(job), field: field.to_owned() }
    }

    /// Changes something of a board.
    pub(crate) fn board(at: usize, board: &Board, field: &str, set: impl FnOnce(&mut Board)) -> Self {
        let mut board = Box::new(board.clone());
        set(&mut board);
        Self::Board { at, board, field: field.to_owned() }
    }

    /// Takes the pick of one position away.
    pub(crate) fn unpick(position: PositionId) -> Self {
        Self::Pick { picks: vec![(position, None)] }
    }

    /// What was done, as undo names it.
    pub(crate) fn label(&self, job: &Job) -> String {
        let name = |id: PositionId| job.position(id).map_or("position", |p| p.reference.as_str());
        match self {
            Self::Pick { picks } => match picks.as_slice() {
                [(id, Some(part))] => format!("pick {part} for {}", name(*id)),
                [(id, None)] => format!("unpick {}", name(*id)),
                _ => format!("pick for {} positions", picks.len()),
            },
            Self::Positions { changed, field } => match changed.as_slice() {
                [(id, _)] => format!("{field} of {}", name(*id)),
                _ => format!("{field} of {} positions", changed.len()),
            },
            Self::Add { position, .. } => format!("add {}", position.reference),
            Self::Remove(ids) => match ids.as_slice() {
                [id] => format!("remove {}", name(*id)),
                _ => format!("remove {} positions", ids.len()),
            },
            Self::Board { board, field, .. } => format!("{field} of {}", board.name),
            Self::Settings { field, .. } | Self::Bench { field, .. } => field.clone(),
            Self::Whole { what, .. } => what.clone(),
        }
    }

    /// Equal keys on successive edits join them into one undo step; `None` stands alone.
    pub(crate) fn join_key(&self) -> Option<String> {
        match self {
            Self::Positions { changed, field } => {
                let ids: Vec<PositionId> = changed.iter().map(|c| c.0).collect();
                Some(format!("{field} {ids:?}"))
            }
            Self::Board { at, field, .. } => Some(format!("{field} {at}")),
            Self::Settings { field, .. } | Self::Bench { field, .. } => Some(field.clone()),
            Self::Pick { .. } | Self::Add { .. } | Self::Remove(_) | Self::Whole { .. } => None,
        }
    }

    /// Makes the change. Positions and boards the job does not have are left out.
    pub(crate) fn apply(self, job: &mut Job) {
        match self {
            Self::Pick { picks } => {
                for (id, part) in picks {
                    if let Some(position) = job.position_mut(id) {
                        position.pick = part;
                    }
                }
            }
            Self::Positions { changed, .. } => {
                for (id, new) in changed {
                    if let Some(position) = job.position_mut(id) {
                        *position = new;
                    }
                }
            }
            Self::Add { board, position } => {
                if let Some(board) = job.boards.get_mut(board) {
                    board.positions.push(*position);
                }
            }
            Self::Remove(mut ids) => {
                ids.sort_unstable();
                ids.dedup();
                // From the end, so that the indices before stay right.
                for id in ids.into_iter().rev() {
                    if let Some(board) = job.boards.get_mut(id.board).filter(|b| id.index < b.positions.len()) {
                        board.positions.remove(id.index);
                    }
                }
            }
            Self::Board { at, board, .. } => {
                if let Some(old) = job.boards.get_mut(at) {
                    *old = *board;
                }
            }
            Self::Settings { job: new, .. } => {
                let boards = std::mem::take(&mut job.boards);
                *job = Job { boards, ..*new };
            }
            Self::Bench { units, measured, .. } => {
                job.bench = units;
                for (id, measured) in measured {
                    if let Some(position) = job.position_mut(id) {
                        position.measured = measured;
                    }
                }
            }
            Self::Whole { job: new, .. } => *job = *new,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn job() -> Job {
        let position = |reference: &str| Position { reference: reference.into(), ..Position::default() };
        let positions = ["C1", "C2", "C3"].map(position).to_vec();
        Job { name: "Job".into(), boards: vec![Board { positions, ..Board::default() }], ..Job::default() }
    }

    fn at(index: usize) -> PositionId {
        PositionId { board: 0, index }
    }

    fn references(job: &Job) -> Vec<&str> {
        job.positions().map(|(_, p)| p.reference.as_str()).collect()
    }

    #[test]
    fn removing_several_positions_removes_exactly_those() {
        let mut job = job();
        Edit::Remove(vec![at(0), at(2), at(0), at(9)]).apply(&mut job);
        assert_eq!(references(&job), ["C2"]);
    }

    #[test]
    fn settings_leave_the_boards_alone() {
        let mut job = job();
        let new = Job { name: "Other".into(), units: Some(4.0), boards: Vec::new(), ..Job::default() };
        Edit::Settings { job: Box::new(new), field: "units".into() }.apply(&mut job);
        assert_eq!((job.name.as_str(), job.units), ("Other", Some(4.0)));
        assert_eq!(references(&job).len(), 3);
    }

    #[test]
    fn an_edit_names_what_it_did() {
        let job = job();
        assert_eq!(Edit::pick(at(1), "TALUS-6V3-4U7").label(&job), "pick TALUS-6V3-4U7 for C2");
        assert_eq!(Edit::unpick(at(0)).label(&job), "unpick C1");
        assert_eq!(Edit::Remove(vec![at(0), at(1)]).label(&job), "remove 2 positions");
    }
}
