//! Of `sizing/neighbours.rs`, from within it: limits, missing data, odd cases.

use super::*;
use crate::domain::{CatalogBuilder, Position};
use crate::sizing::testing::{can, part, position};
use proptest::prelude::*;

fn round(diameter_mm: f64, centre_mm: [f64; 2]) -> Placed {
    Placed::at(Footprint::Round { diameter_mm }, centre_mm, None)
}

fn located(reference: &str, x_mm: f64, y_mm: f64) -> Position {
    Position { reference: reference.into(), x_mm: Some(x_mm), y_mm: Some(y_mm), ..position() }
}

#[test]
fn neighbours_are_the_located_positions_on_the_same_side_with_the_body_of_their_pick() {
    let mut builder = CatalogBuilder::default();
    builder.push(&part("WIDE", None, Can { diameter_max_mm: Some(18.5), ..can() }));
    let catalog = builder.finish().0;
    let picked = Position { pick: Some("WIDE".into()), ..located("C2", 30.0, 0.0) };
    let below = Position { side: Some(Side::Bottom), ..located("C3", 20.0, 0.0) };
    let nowhere = Position { y_mm: None, ..located("C4", 20.0, 0.0) };
    let lost = Position { pick: Some("LOST".into()), ..located("C5", -40.0, 0.0) };
    let board = Board { positions: vec![located("C1", 0.0, 0.0), picked, below, nowhere, lost], ..Board::default() };
    let all = Surroundings::of(&board, &catalog);
    let first = all.around(0);
    assert_eq!(first.nearest(&round(10.0, [0.0, 0.0])), Some(("C2", 30.0 - 18.5 / 2.0 - 5.0)));
    assert!(first.has_unknown() && !first.is_empty());
    assert!(all.around(3).is_empty(), "a position without a place has no neighbours");
    assert!(all.around(2).is_empty(), "nobody else is on the bottom side");
}

#[test]
fn of_many_cans_on_one_spot_the_first_is_named_and_a_giant_is_seen_from_afar() {
    let wide = |diameter_mm: f64| Can { diameter_max_mm: Some(diameter_mm), ..can() };
    let mut positions: Vec<Position> = (0..1000).map(|at| located(&format!("C{at}"), 50.0, 50.0)).collect();
    positions.extend((0..1000).map(|at| located(&format!("D{at}"), 1000.0 + f64::from(at) * 20.0, 0.0)));
    positions[1500].original.can = wide(4000.0);
    let board = Board { positions, ..Board::default() };
    let all = Surroundings::of(&board, &Catalog::default());
    let nearest = |index: usize| {
        let own = round(10.0, all.0.located[index].centre_mm);
        all.around(index).nearest(&own).unwrap()
    };
    assert_eq!((nearest(700).0, nearest(0).0), ("C0", "C1"));
    assert_eq!(nearest(1450), ("D500", 50.0 * 20.0 - 2000.0 - 5.0));
    assert_eq!(nearest(1999).0, "D998");
}

proptest! {
    #[test]
    fn the_nearest_is_that_of_all_of_them(
        cans in prop::collection::vec((0.0..300.0f64, 0.0..300.0f64, 3.0..60.0f64, any::<bool>()), 1..90),
        diameter_mm in 3.0..120.0f64,
    ) {
        let body = |(diameter_max_mm, lies): (f64, bool)| Can {
            mounting: lies.then_some(crate::domain::Mounting::Axial),
            diameter_max_mm: Some(diameter_max_mm),
            diameter_mm: None,
            height_mm: None,
            height_max_mm: Some(2.0 * diameter_max_mm),
            ..can()
        };
        // On whole millimetres several are at one distance.
        let positions = cans.iter().enumerate().map(|(at, &(x, y, diameter_mm, lies))| {
            let mut position = located(&format!("C{at}"), x.round(), y.round());
            position.rotation_deg = Some(0.0);
            position.original.can = body((diameter_mm.round(), lies));
            position
        });
        let board = Board { positions: positions.collect(), ..Board::default() };
        let all = Surroundings::of(&board, &Catalog::default());
        let own = round(diameter_mm.round(), all.0.located[0].centre_mm);
        let gaps = all.0.located[1..].iter().map(|other| (other.reference, own.gap_mm(&other.body.unwrap())));
        let nearest = gaps.min_by(|a, b| a.1.total_cmp(&b.1));
        prop_assert_eq!(all.around(0).nearest(&own), nearest);
        prop_assert_eq!(Neighbours::of(&board, &Catalog::default(), 0).nearest(&own), nearest, "for one position alone");
    }
}
