//! Of `sizing/catalog_index.rs`: the catalogue ordered so that most parts never have to be looked at for a
//! position.

use refarad::domain::{Can, Mounting, Position};
use refarad::sizing::{PositionContext, RuledOut};

use super::testing::{HERE, can, catalog_index, job, part, position};

fn admitted(change_position: impl FnOnce(&mut Position), change_can: impl FnOnce(&mut Can)) -> bool {
    let mut position = position();
    change_position(&mut position);
    let mut can = can();
    change_can(&mut can);
    let catalog_index = catalog_index(&[part("A", None, can)]);
    let job = job(position);
    let context = PositionContext::new(&job, catalog_index.catalog(), HERE).unwrap();
    let by_index = catalog_index.admitted(&context);
    assert_eq!(by_index, catalog_index.admitted_by_full_scan(&context));
    !by_index.is_empty()
}

#[test]
fn a_part_on_a_bound_is_admitted_and_one_beyond_it_is_not() {
    let capacitance = |uf| admitted(|_| (), |can| can.capacitance_uf = Some(uf));
    assert_eq!([375.9, 376.0, 1410.0, 1410.1].map(capacitance), [false, true, true, false]);
    let rating = |v| admitted(|_| (), |can| can.rated_v = Some(v));
    assert_eq!([12.5, 12.4].map(rating), [true, false]);
    let diameter = |limit_mm| admitted(|p| p.space.diameter_max_mm = Some(limit_mm), |_| ());
    assert_eq!([10.0, 9.99].map(diameter), [true, false]);
    let height = |limit_mm| admitted(|p| p.space.height_max_mm = Some(limit_mm), |_| ());
    assert_eq!([17.0, 16.99].map(height), [true, false]);
    let mounting = |own| admitted(|_| (), |can| can.mounting = own);
    assert_eq!([Some(Mounting::Radial), Some(Mounting::Axial), None].map(mounting), [true, false, true]);
}

#[test]
fn a_figure_that_is_not_known_rules_nothing_out() {
    assert!(admitted(|_| (), |can| *can = Can::default()));
    let unsized_can = |can: &mut Can| {
        (can.diameter_mm, can.diameter_max_mm, can.height_mm, can.height_max_mm) = (None, None, None, None);
    };
    assert!(admitted(|_| (), unsized_can));
    assert!(admitted(|p| *p = Position::default(), |_| ()));
}

#[test]
fn every_cause_that_rules_a_part_out_is_counted_and_one_that_does_so_alone_too() {
    let parts = [
        part("A", None, can()),
        part("B", None, Can { height_mm: Some(30.0), height_max_mm: Some(31.0), ..can() }),
        part("C", None, Can { height_mm: Some(30.0), height_max_mm: Some(31.0), rated_v: Some(10.0), ..can() }),
    ];
    let (catalog_index, job) = (catalog_index(&parts), job(position()));
    let context = PositionContext::new(&job, catalog_index.catalog(), HERE).unwrap();
    let ruled_out = catalog_index.ruled_out(&context);
    assert_eq!(ruled_out, RuledOut { by: [0, 1, 0, 0, 2], only_by: [0, 0, 0, 0, 1] });
}

#[test]
fn bounds_that_contradict_each_other_admit_nothing() {
    let contradiction = |p: &mut Position| {
        (p.needs.capacitance_min_uf, p.needs.capacitance_max_uf) = (Some(500.0), Some(400.0));
    };
    assert!(!admitted(contradiction, |_| ()));
}
