//! Positions and boards come and go.

use std::collections::HashSet;

use crate::app::actions::command::Command;
use crate::app::state::{Edit, EditorSheet, List, Reveal, Session};
use crate::domain::{Board, Job, Position, PositionId};

/// A name like `like` that none of `taken` has: the same letters with the next number.
pub(crate) fn next_name(like: &str, taken: &HashSet<String>) -> String {
    let stem = like.trim_end_matches(|c: char| c.is_ascii_digit());
    let stem = if stem.is_empty() { "C" } else { stem };
    let number = |name: &String| name.strip_prefix(stem)?.parse::<u64>().ok();
    let highest = taken.iter().filter_map(number).max().unwrap_or(0);
    format!("{stem}{}", highest.saturating_add(1))
}

pub(crate) fn names(board: &Board) -> HashSet<String> {
    board.positions.iter().map(|position| position.reference.clone()).collect()
}

/// The job with copies of positions, and where the copies are. A copy has neither place nor pick nor measured values.
fn duplicated(job: &Job, ids: &[PositionId]) -> (Job, Vec<PositionId>) {
    let mut new = job.clone();
    let mut copies = Vec::new();
    for &id in ids {
        let Some(position) = job.position(id) else { continue };
        let board = &mut new.boards[id.board];
        let reference = next_name(&position.reference, &names(board));
        let plain = Position { reference, x_mm: None, y_mm: None, pick: None, measured: None, ..position.clone() };
        copies.push(PositionId { index: board.positions.len(), ..id });
        board.positions.push(plain);
    }
    (new, copies)
}

/// Carries out a command that makes or removes positions or boards.
pub(crate) fn rearrange(session: &mut Session, command: Command) {
    let job = session.job().clone();
    let at = session.selection.board;
    let at_hand = session.selection.at_hand();
    let whole = |job: Job, what: String| Edit::Whole { job: Box::new(job), what };
    match command {
        Command::AddPosition => {
            let new = if let Some(board) = job.boards.get(at) {
                let reference = next_name("C", &names(board));
                let position = Box::new(Position { reference, ..Position::default() });
                session.edit(Edit::Add { board: at, position });
                PositionId { board: at, index: board.positions.len() }
            } else {
                let position = Position { reference: "C1".into(), ..Position::default() };
                let board = Board { name: "Board 1".into(), positions: vec![position], ..Board::default() };
                let new = PositionId { board: job.boards.len(), index: 0 };
                let boards = job.boards.iter().cloned().chain([board]).collect();
                session.edit(whole(Job { boards, ..Job::clone(&job) }, "add Board 1 with C1".to_owned()));
                new
            };
            select_new(session, new);
            session.selection.editor = Some(EditorSheet::Position);
        }
        Command::DuplicatePosition => {
            let (new, copies) = duplicated(&job, &at_hand);
            let what = match at_hand.as_slice() {
                [id] => format!("duplicate {}", job.position(*id).map_or("position", |p| p.reference.as_str())),
                _ => format!("duplicate {} positions", at_hand.len()),
            };
            session.edit(whole(new, what));
            if let Some((first, others)) = copies.split_first() {
                select_new(session, *first);
                session.selection.marked = others.to_vec();
            }
        }
        Command::RemovePosition => session.edit(Edit::Remove(at_hand)),
        Command::AddBoard | Command::DuplicateBoard => {
            let mut new = Job::clone(&job);
            let mut board = match command {
                Command::DuplicateBoard => job.boards.get(at).cloned().unwrap_or_default(),
                _ => Board::default(),
            };
            let taken: HashSet<String> = job.boards.iter().map(|b| b.name.clone()).collect();
            let like = if board.name.is_empty() { "Board ".to_owned() } else { format!("{} ", board.name) };
            board.name = next_name(&like, &taken);
            let what = format!("add {}", board.name);
            new.boards.push(board);
            session.edit(whole(new, what));
            let last = session.job().boards.len().saturating_sub(1);
            let first = PositionId { board: last, index: 0 };
            session.select(session.job().position(first).map(|_| first));
            session.selection.board = last;
        }
        Command::RemoveBoard if at < job.boards.len() => {
            let mut new = Job::clone(&job);
            let removed = new.boards.remove(at);
            session.edit(whole(new, format!("remove {}", removed.name)));
        }
        _ => {}
    }
}

fn select_new(session: &mut Session, id: PositionId) {
    session.select(Some(id));
    session.selection.list = List::Positions;
    session.selection.reveal = Some(Reveal::InSight);
}

#[cfg(test)]
#[path = "../../../tests/window/inside/rearrange.rs"]
mod tests;
