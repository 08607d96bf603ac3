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
mod tests {
    use super::*;
    use crate::domain::{Board, Catalog, Job, Position, Side};
    use crate::sizing::Sizing;

    #[test]
    fn the_nearest_can_straight_ahead_is_found_and_the_edge_stops() {
        let at = |x: f64, y: f64| Position { x_mm: Some(x), y_mm: Some(y), ..Position::default() };
        let positions = vec![at(10.0, 10.0), at(30.0, 12.0), at(22.0, 40.0), at(10.0, 60.0)];
        let job = Job { boards: vec![Board { positions, ..Board::default() }], ..Job::default() };
        let map = BoardMap::new(&job, &Catalog::default(), &Sizing::default(), 0, Side::Top).unwrap();
        let go = |from, direction| towards(&map, PositionId { board: 0, index: from }, direction).map(|id| id.index);
        assert_eq!(go(0, [1.0, 0.0]), Some(1));
        assert_eq!(go(0, [0.0, 1.0]), Some(3));
        assert_eq!(go(1, [-1.0, 0.0]), Some(0));
        assert_eq!(go(0, [-1.0, 0.0]), None);
    }
}
