//! Of `app/views/board/neighbour.rs`, whose module this is.

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
