//! Picking the selected candidate, and what the pick does to the board once it is sized.

use crate::app::state::edit::Edit;
use crate::app::state::selection::Candidate;
use crate::app::state::session::Session;
use crate::app::widgets::wording;
use crate::domain::PositionId;
use crate::sizing::reasons::figure;
use crate::sizing::{Interval, PositionSizing, Source};

/// Every proposal that is not picked yet.
pub(crate) fn proposals(session: &Session) -> Vec<(PositionId, Option<String>)> {
    let proposed = session.snapshot.sizing.positions.iter().filter(|p| p.choice.source == Source::Proposed);
    let number = |p: &PositionSizing| Some(session.catalog_index.catalog().part_number(p.choice.part?.id).to_owned());
    proposed.filter_map(|p| Some((p.id, Some(number(p)?)))).collect()
}

/// Picks the selected candidate; what that does to the board is told when it is sized.
pub(crate) fn pick(session: &mut Session) {
    let scene = session.scene();
    let (Some((id, _)), Some(candidate @ Candidate::Part(_))) = (scene.position(), scene.candidate()) else {
        return;
    };
    let edit = Edit::pick(id, scene.name(candidate));
    let before = scene.sizing.boards.get(id.board).map(|board| board.as_chosen.clone()).filter(|_| scene.fresh);
    session.edit(edit);
    session.picked = Some((id, before));
}

/// After a pick was sized: what it does to the board.
pub(crate) fn tell_what_was_picked(session: &mut Session) {
    if !session.scene().fresh {
        return;
    }
    let Some((id, before)) = session.picked.take() else { return };
    let scene = session.scene();
    let Some(part) = scene.job.position(id).and_then(|position| position.pick.as_deref()) else { return };
    let (Some(board), Some(sized)) = (scene.job.boards.get(id.board), scene.sizing.boards.get(id.board)) else {
        return;
    };
    let after = &sized.as_chosen;
    let change = match before {
        Some(before) if before == *after => ", as before".to_owned(),
        Some(Interval { years: Some(years), .. }) => format!(" (before: {} years)", figure(years)),
        _ => String::new(),
    };
    let words = wording::interval(&scene, after);
    let said = format!("{part} picked for {}: {} {words}{change}.", scene.reference(id), board.name);
    session.say(said);
}
