//! Where positions are put by hand: to a tenth of a millimetre, those that are marked together.

use crate::app::actions::{Action, LiveScene};
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::domain::{Position, PositionId, Side};
use crate::sizing::BoardMap;

/// The next position of the board that is not located, after `id`.
pub(super) fn next_unlocated(scene: &Scene, id: PositionId) -> Option<PositionId> {
    let open = |(at, position): (PositionId, &Position)| {
        (at.board == id.board && at != id && position.centre_mm().is_none()).then_some(at)
    };
    let after = scene.job.positions().filter_map(open).find(|at| *at > id);
    after.or_else(|| scene.job.positions().find_map(open))
}

/// Moves a can to a place, to a tenth of a millimetre, and with it those it is marked with.
pub(super) fn shift(scene: &LiveScene, map: &BoardMap, id: PositionId, to: [f64; 2]) {
    let together = scene.selection.at_hand();
    let from = scene.job.position(id).and_then(Position::centre_mm);
    let (true, Some(from)) = (together.contains(&id), from) else { return put(scene, &[(id, to)], map.side) };
    let by = [tenth(to[0]) - from.0, tenth(to[1]) - from.1];
    let moved = together.iter().filter(|other| other.board == id.board && map.can(**other).is_some());
    let moved = moved.filter_map(|&other| {
        let (x, y) = scene.job.position(other)?.centre_mm()?;
        Some((other, [x + by[0], y + by[1]]))
    });
    put(scene, &moved.collect::<Vec<_>>(), map.side);
}

/// To a tenth of a millimetre: nobody reads a place more closely.
pub(super) fn tenth(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}

/// Puts positions on the board, to a tenth of a millimetre.
pub(super) fn put(scene: &LiveScene, to: &[(PositionId, [f64; 2])], side: Side) {
    let changed = to.iter().filter_map(|&(id, [x, y])| {
        let position = scene.job.position(id)?;
        let side = if position.side.unwrap_or_default() == side { position.side } else { Some(side) };
        Some((id, Position { x_mm: Some(tenth(x)), y_mm: Some(tenth(y)), side, ..position.clone() }))
    });
    scene.push(Action::Edit(Edit::Positions { changed: changed.collect(), field: "place".into() }));
}
