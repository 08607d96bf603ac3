//! Of `sizing/board_map.rs`: a board as a map: where every body lies and how large it is, and where it stands
//! too close or where nothing may stand.

use refarad::domain::{Catalog, Measured, Position, Side};
use refarad::physics::condition::Condition;
use refarad::sizing::{BoardMap, Reserved, Sizing};

use super::testing::{job_of, position};

fn at(x_mm: Option<f64>) -> Position {
    Position { x_mm, y_mm: x_mm.map(|_| 20.0), ..position() }
}

fn map(positions: Vec<Position>, side: Side) -> BoardMap {
    BoardMap::new(&job_of(positions), &Catalog::default(), &Sizing::default(), 0, side).unwrap()
}

#[test]
fn neighbours_closer_than_the_policy_are_measured_between_their_bodies() {
    // Bodies of 10.5 mm; the policy asks for 1 mm.
    let close = map(vec![at(Some(10.0)), at(Some(21.0)), at(Some(60.0))], Side::Top);
    assert_eq!(close.short_gaps.len(), 1);
    assert!((close.short_gaps[0].gap_mm - 0.5).abs() < 1e-9);
    assert_eq!(close.short_gaps[0].ends_mm, [[15.25, 20.0], [15.75, 20.0]]);
    assert_eq!(close.cans[2].nearest.map(|n| n.0.index), Some(1));
    assert!(map(vec![at(Some(10.0)), at(Some(21.5))], Side::Top).short_gaps.is_empty());
}

#[test]
fn a_body_over_a_keep_out_or_a_mounting_hole_is_found_with_how_far_it_reaches_in() {
    let mut job = job_of(vec![at(Some(10.0)), at(Some(40.0)), at(Some(70.0)), at(None)]);
    // Bodies of 10.5 mm around (10, 20), (40, 20) and (70, 20).
    job.boards[0].keepouts_mm = vec![[14.0, 0.0, 10.0, 50.0], [45.25, 0.0, 10.0, 50.0]];
    job.boards[0].holes_mm = vec![[70.0, 26.25, 4.0]];
    let map = BoardMap::new(&job, &Catalog::default(), &Sizing::default(), 0, Side::Top).unwrap();
    let found: Vec<_> = map.keepout_violations.iter().map(|t| (t.id.index, t.on)).collect();
    assert_eq!(found, [(0, Reserved::KeepOut), (2, Reserved::Hole)], "touching is not reaching in");
    assert!((map.keepout_violations[0].by_mm - 1.25).abs() < 1e-9);
    assert!((map.keepout_violations[1].by_mm - 1.0).abs() < 1e-9);
}

#[test]
fn a_board_without_coordinates_is_a_grid_in_which_nothing_overlaps() {
    let grid = map(vec![at(None); 9], Side::Top);
    assert_eq!(grid.in_grid, 9);
    for (n, a) in grid.cans.iter().enumerate() {
        for b in &grid.cans[n + 1..] {
            assert!(a.body().gap(&b.body()).0 > 1.0, "{:?} {:?}", a.centre_mm, b.centre_mm);
        }
        let ([x, y], [left, bottom, right, top]) = (a.centre_mm, grid.extent_mm);
        assert!(x > left && x < right && y > bottom && y < top);
    }
    assert!(grid.short_gaps.is_empty(), "gaps in a grid mean nothing");
}

#[test]
fn cans_without_coordinates_stand_below_the_board() {
    let mixed = map(vec![at(Some(10.0)), at(None)], Side::Top);
    assert!(mixed.cans[1].centre_mm[1] + mixed.cans[1].reach_mm() < mixed.cans[0].centre_mm[1]);
    assert_eq!(mixed.in_grid, 1);
}

#[test]
fn each_side_shows_its_own_cans_and_the_others_behind() {
    let below = Position { side: Some(Side::Bottom), ..at(Some(30.0)) };
    let bottom = map(vec![at(Some(10.0)), below], Side::Bottom);
    assert_eq!(bottom.cans.iter().map(|c| c.id.index).collect::<Vec<_>>(), [1]);
    assert_eq!(bottom.behind.iter().map(|c| c.id.index).collect::<Vec<_>>(), [0]);
}

#[test]
fn the_old_part_is_judged_by_what_was_measured() {
    let mut old = at(Some(10.0));
    let condition = |old: &Position| map(vec![old.clone()], Side::Top).cans[0].condition;
    assert_eq!(condition(&old), Condition::Unknown);
    let nominal_uf = old.original.can.capacitance_uf.unwrap();
    old.measured = Some(Measured { capacitance_uf: Some(0.7 * nominal_uf), ..Measured::default() });
    assert_eq!(condition(&old), Condition::WornOut);
}
