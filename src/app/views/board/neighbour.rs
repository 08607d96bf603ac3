//! From one can to the nearest in a direction.

use crate::domain::PositionId;
use crate::sizing::BoardMap;

/// The nearest can towards `direction` (x and y on the board), or `None` at the edge. Cans straight ahead come before those
/// to the side.
pub(super) fn towards(map: &BoardMap, from: PositionId, direction: [f64; 2]) -> Option<PositionId> {
    let Some(start) = map.can(from) else { return map.cans.first().map(|can| can.id) };
    let score = |at: [f64; 2]| {
        let [dx, dy] = [at[0] - start.centre_mm[0], at[1] - start.centre_mm[1]];
        let ahead = dx * direction[0] + dy * direction[1];
        let aside = (dx * direction[1] - dy * direction[0]).abs();
        // Within 60° of the direction.
        (ahead > 1e-6 && aside <= ahead * 3f64.sqrt()).then_some(ahead + 2.0 * aside)
    };
    let scored = map.cans.iter().filter_map(|can| Some((score(can.centre_mm)?, can.id)));
    scored.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, id)| id)
}

#[cfg(test)]
#[path = "../../../../tests/window/inside/neighbour.rs"]
mod tests;
