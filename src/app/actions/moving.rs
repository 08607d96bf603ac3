//! Moving about: from row to row of the list in use, from list to list, and what is marked on the way.

use egui::Context;

use crate::app::state::{List, Reveal, Session, Step};
use crate::domain::PositionId;
use crate::sizing::PositionSizing;

/// Gives the keyboard to a list.
pub(crate) fn use_list(session: &mut Session, ctx: &Context, list: List) {
    session.selection.list = list;
    if list == List::Candidates && session.selection.candidate.is_none() {
        session.selection.candidate = session.scene().candidate();
    }
    session.selection.keyboard_to = Some(list);
    ctx.request_repaint();
}

/// Moves the selection in the list of positions.
pub(crate) fn step_positions(session: &mut Session, step: Step) {
    let ids: Vec<PositionId> = session.job().positions().map(|(id, _)| id).collect();
    let at = ids.iter().position(|&id| Some(id) == session.selection.position);
    if let Some(to) = step.from(at, ids.len()) {
        session.selection.reveal = Some(Reveal::InSight);
        session.select(Some(ids[to]));
    }
}

/// Selects the next position that is not settled, from the first one again after the last.
pub(crate) fn select_next_open(session: &mut Session) {
    let open = |p: &&PositionSizing| !p.is_settled();
    let positions = &session.snapshot.sizing.positions;
    let after = positions.iter().filter(open).find(|p| Some(p.id) > session.selection.position);
    match after.or_else(|| positions.iter().find(open)).map(|p| p.id) {
        Some(id) => {
            session.selection.reveal = Some(Reveal::InSight);
            session.select(Some(id));
        }
        None => session.say("Every position is settled: each has a picked part that may be used."),
    }
}

/// Marks the neighbour of the positions at hand.
pub(crate) fn mark_step(session: &mut Session, step: Step) {
    let selection = &session.selection;
    let at_hand = selection.at_hand();
    let edge = if step == Step::Next { at_hand.last() } else { at_hand.first() };
    let ids: Vec<PositionId> = session.job().positions().map(|(id, _)| id).collect();
    let at = edge.and_then(|edge| ids.iter().position(|id| id == edge));
    if let Some(to) = step.from(at, ids.len()).map(|to| ids[to])
        && !selection.has(to)
    {
        session.selection.toggle_mark(to);
    }
}

/// Marks every position between the selected one and `id`.
pub(crate) fn mark_to(session: &mut Session, id: PositionId) {
    let from = session.selection.position.unwrap_or(id);
    let (first, last) = (from.min(id), from.max(id));
    let between = session.job().positions().map(|(id, _)| id).filter(|id| (first..=last).contains(id));
    session.selection.marked = between.filter(|id| *id != from).collect();
    session.selection.list = List::Positions;
}
