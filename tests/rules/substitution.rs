//! Of `sizing/substitution.rs`: two parallel cans replaced by one, or one can by two, where the space allows.

use std::sync::Arc;

use refarad::domain::{Assumed, Can, CatalogBuilder, Job, Part, PositionId, Status};
use refarad::sizing::substitution::{applied, one_for_all, two_for_one};
use refarad::sizing::{CatalogIndex, size_position};

use super::testing_duty::{duty, job_of, position, wet_can};

fn catalog_index(cans: &[(&str, Can)]) -> CatalogIndex {
    let mut builder = CatalogBuilder::default();
    for (number, can) in cans {
        let mut part: Part =
            Part { part_number: (*number).into(), can: can.clone(), status: Some(Status::Active), ..Part::default() };
        part.trade.unit_price = Some(1.0);
        builder.push(&part);
    }
    CatalogIndex::new(Arc::new(builder.finish().0))
}

/// A can twice as large in every respect, in the same body.
fn double() -> Can {
    Can { capacitance_uf: Some(200.0), ripple_a: Some(2.0), esr_mohm: Some(50.0), ..wet_can() }
}

fn half() -> Can {
    Can { capacitance_uf: Some(50.0), ripple_a: Some(0.5), esr_mohm: Some(200.0), ..wet_can() }
}

fn job() -> Job {
    let mut positions = ["C1", "C2"].map(|name| position(name, duty(&[(1.0, 60.0, 1.0)])));
    for (at, position) in positions.iter_mut().enumerate() {
        position.parallel_group = Some("out".into());
        (position.x_mm, position.y_mm) = (Some(10.0 + 15.0 * at as f64), Some(20.0));
    }
    let mut job = job_of(positions.to_vec());
    job.boards[0].outline_mm = Some([60.0, 40.0]);
    job
}

const BOTH: [PositionId; 2] = [PositionId { board: 0, index: 0 }, PositionId { board: 0, index: 1 }];

#[test]
fn one_can_twice_as_large_replaces_two_and_the_single_one_does_not() {
    let catalog_index = catalog_index(&[("ONE", wet_can()), ("TWO", double())]);
    let proposals = one_for_all(&job(), &catalog_index, &BOTH, 3);
    let numbers: Vec<&str> = proposals.found.iter().map(|p| catalog_index.catalog().part_number(p.part.id)).collect();
    assert_eq!(numbers, ["TWO", "TWO"], "{:?}", proposals.obstacles);
    let first = &proposals.found[0];
    assert!((first.each_a - 1.0).abs() < 1e-12 && first.total_uf == Some(200.0) && first.total_esr_mohm == Some(50.0));
    // it carries both ripples, and half its rating as each did before
    assert!((first.part.evaluation.figures.ripple_eq_a.unwrap() - 1.0).abs() < 1e-12);
    assert!(first.assumed.contains(Assumed::CORE_RISE) && first.note.contains("C1"));
}

#[test]
fn two_cans_half_as_large_replace_one_where_the_map_has_a_free_spot() {
    let catalog_index = catalog_index(&[("HALF", half())]);
    let mut job = job();
    let proposals = two_for_one(&job, &catalog_index, BOTH[0], 3);
    let found = &proposals.found[0];
    assert!(
        (found.each_a - 0.25).abs() < 1e-12 && found.total_uf == Some(100.0) && found.total_esr_mohm == Some(100.0)
    );
    assert_eq!(found.price, Some(2.0));
    assert!(found.second.unwrap().distance_mm >= 11.5 - 1e-9 && found.note.contains("new holes"));
    job.boards[0].keepouts_mm = vec![[0.0, 0.0, 60.0, 40.0]];
    let none = two_for_one(&job, &catalog_index, BOTH[0], 3);
    assert!(none.found.is_empty() && none.obstacles[0].contains("no free spot"), "{none:?}");
    job.boards[0].outline_mm = None;
    assert!(two_for_one(&job, &catalog_index, BOTH[0], 3).obstacles[0].contains("outline"));
}

#[test]
fn what_is_not_known_stands_in_the_way_and_is_said() {
    let catalog_index = catalog_index(&[("TWO", double())]);
    let mut job = job();
    job.boards[0].positions[1].stress.ripple = None;
    job.boards[0].positions[1].original.can.ripple_a = None;
    assert!(one_for_all(&job, &catalog_index, &BOTH, 3).obstacles[0].contains("ripple"));
    assert!(one_for_all(&job, &catalog_index, &BOTH[..1], 3).obstacles[0].contains("at least two"));
    assert!(two_for_one(&job, &catalog_index, BOTH[1], 3).found.is_empty());
}

#[test]
fn a_catalogue_without_such_a_can_says_so() {
    let catalog_index = catalog_index(&[("ONE", wet_can())]);
    assert!(one_for_all(&job(), &catalog_index, &BOTH, 3).obstacles[0].contains("No part"));
}

#[test]
fn a_proposal_carried_out_holds_and_keeps_the_originals_figures() {
    let catalog_index = catalog_index(&[("TWO", double()), ("HALF", half())]);
    let job = job();
    let one = one_for_all(&job, &catalog_index, &BOTH, 1).found.remove(0);
    let merged = applied(&job, &catalog_index, &one).unwrap();
    assert_eq!(merged.boards[0].positions.len(), 1);
    let position = &merged.boards[0].positions[0];
    assert_eq!((position.pick.as_deref(), position.parallel_group.as_deref()), (Some("TWO"), None));
    assert_eq!(position.original, job.boards[0].positions[one.at.index].original);
    assert!(position.note.as_deref().unwrap().contains("C1, C2"));
    let sized = size_position(&merged, &catalog_index, BOTH[0]).unwrap();
    assert_eq!(sized.choice.verdict, one.part.evaluation.verdict);

    let two = two_for_one(&job, &catalog_index, BOTH[0], 1).found.remove(0);
    let split = applied(&job, &catalog_index, &two).unwrap();
    let positions = &split.boards[0].positions;
    assert_eq!(positions.iter().map(|p| p.reference.as_str()).collect::<Vec<_>>(), ["C1", "C2", "C1B"]);
    for index in [0, 2] {
        assert_eq!(positions[index].pick.as_deref(), Some("HALF"));
        assert_eq!(positions[index].stress.ripple.as_ref().unwrap()[0].a, Some(0.25));
        let sized = size_position(&split, &catalog_index, PositionId { board: 0, index }).unwrap();
        assert!(sized.choice.verdict.usable(), "{:?}", sized.choice);
    }
    assert_eq!(applied(&Job::default(), &catalog_index, &two), None);
}
