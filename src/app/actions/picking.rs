//! Picking the selected candidate, and what the pick does to the board once it is sized.

use std::sync::Arc;

use crate::app::actions::dialogs::Dialogs;
use crate::app::state::{Candidate, Edit, Scene, Session};
use crate::domain::{Check, Outcome, Position, PositionId};
use crate::sizing::reasons::{check_name, figure, reason};
use crate::sizing::{Interval, PositionSizing, Source};

/// Every proposal that is not picked yet.
pub(crate) fn proposals(session: &Session) -> Vec<(PositionId, Option<String>)> {
    let proposed = session.snapshot.sizing.positions.iter().filter(|p| p.choice.source == Source::Proposed);
    let number = |p: &PositionSizing| Some(session.catalog_index.catalog().part_number(p.choice.part?.id).to_owned());
    proposed.filter_map(|p| Some((p.id, Some(number(p)?)))).collect()
}

/// Picks the selected candidate; one that fails or is not known to be suitable is asked about first, with what speaks against it.
pub(crate) fn pick(session: &mut Session, dialogs: &mut Dialogs) {
    let scene = session.scene();
    let (Some((_, position)), Some(candidate @ Candidate::Part(_))) = (scene.position(), scene.candidate()) else {
        return;
    };
    let against = against(&scene, candidate);
    if against.is_empty() {
        return pick_for(session, None);
    }
    let fails = |check: &Check| scene.evaluation(candidate).is_some_and(|e| e.outcome(*check) == Outcome::Fail);
    let failed: Vec<&str> = Check::ALL.into_iter().filter(fails).map(check_name).collect();
    let (name, reference) = (scene.name(candidate), &position.reference);
    let heading = match failed.as_slice() {
        [] => format!("{name} is not known to be suitable for {reference}"),
        failed => format!("{name} fails at {reference}: {}", failed.join(", ")),
    };
    dialogs.reason(heading, against);
}

/// What speaks against a candidate, a sentence for each check; nothing where it may be used.
fn against(scene: &Scene, candidate: Candidate) -> Vec<String> {
    let (Some(place), Some(evaluation), Some(can)) = (scene.place(), scene.evaluation(candidate), scene.can(candidate))
    else {
        return Vec::new();
    };
    if evaluation.verdict.usable() {
        return Vec::new();
    }
    let open = Check::ALL.into_iter().filter(|&check| !evaluation.outcome(check).usable());
    open.map(|check| {
        let (name, outcome) = (check_name(check), evaluation.outcome(check).word());
        format!("{name}, {outcome}: {}", reason(place, &can, &evaluation, check))
    })
    .collect()
}

/// Picks the selected candidate, with the reason as the note of the position where one was asked for; what that does to the
/// board is told when it is sized.
pub(crate) fn pick_for(session: &mut Session, why: Option<String>) {
    let scene = session.scene();
    let (Some((id, position)), Some(candidate @ Candidate::Part(_))) = (scene.position(), scene.candidate()) else {
        return;
    };
    let number = scene.name(candidate);
    let edit = match why {
        None => Edit::pick(id, number),
        Some(why) => {
            let note = match position.note.as_deref().filter(|note| !note.is_empty()) {
                Some(note) => format!("{note}; {number}: {why}"),
                None => format!("{number}: {why}"),
            };
            let picked = Position { pick: Some(number.to_owned()), note: Some(note), ..position.clone() };
            Edit::Positions { changed: vec![(id, picked)], field: format!("pick of {number}") }
        }
    };
    edit_pick(session, id, edit);
}

/// Changes the job; of the pick of one position it is told what that does to its board.
pub(crate) fn edit(session: &mut Session, edit: Edit) {
    let one = match &edit {
        Edit::Pick { picks } if picks.len() == 1 && picks[0].1.is_some() => Some(picks[0].0),
        _ => None,
    };
    match one {
        Some(id) => edit_pick(session, id, edit),
        None => session.edit(edit),
    }
}

fn edit_pick(session: &mut Session, id: PositionId, edit: Edit) {
    let scene = session.scene();
    let before = scene.sizing.boards.get(id.board).map(|board| board.as_chosen.clone()).filter(|_| scene.fresh);
    let unchanged = session.job().clone();
    session.edit(edit);
    if !Arc::ptr_eq(session.job(), &unchanged) {
        session.picked = Some((id, before));
    }
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
    let words = after.told(scene.job);
    let said = format!("{part} picked for {}: {} {words}{change}.", scene.reference(id), board.name);
    session.say(said);
}
