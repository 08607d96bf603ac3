//! Of `sizing/pick_change.rs`: what a change of parts does to each position before anybody agrees to it, and
//! the one part that moves a board's limit.

use std::sync::Arc;

use refarad::domain::{Can, CatalogBuilder, Job, Outcome, Part, PositionId, Status};
use refarad::progress::Progress;
use refarad::sizing::pick_change::{LimitStays, interval_with, limit_step, pick_changes, picked, remove_limits};
use refarad::sizing::{CatalogIndex, size};

use super::testing_duty::{duty, job_of, position, wet_can};

fn catalog_index() -> CatalogIndex {
    let mut builder = CatalogBuilder::default();
    for (number, endurance_h, price, rated_v) in [
        ("USUAL", 5000.0, 1.0, 63.0),
        ("LONG", 7000.0, 3.0, 63.0),
        ("LONGEST", 10_000.0, 8.0, 63.0),
        ("TIGHT", 9000.0, 0.1, 50.0),
    ] {
        let can = Can { endurance_h: Some(endurance_h), rated_v: Some(rated_v), ..wet_can() };
        let mut part: Part = Part {
            part_number: number.into(),
            can,
            status: Some(Status::Active),
            currency: "EUR".into(),
            ..Part::default()
        };
        part.trade.unit_price = Some(price);
        builder.push(&part);
    }
    CatalogIndex::new(Arc::new(builder.finish().0))
}

fn job() -> Job {
    let mut job = job_of(vec![
        position("C1", duty(&[(1.0, 78.0, 1.0)])),
        position("C2", duty(&[(1.0, 82.0, 1.0)])),
        position("C3", duty(&[(1.0, 60.0, 1.0)])),
    ]);
    job.currency = Some("EUR".into());
    job.interval_years = Some(14.5);
    for position in &mut job.boards[0].positions {
        position.pick = Some("USUAL".into());
    }
    job
}

#[test]
fn a_list_of_changes_tells_what_is_lost_and_which_picks_are_a_persons() {
    let (mut job, catalog_index) = (job(), catalog_index());
    job.boards[0].positions[2].pick = None;
    let sizing = size(&job, &catalog_index);
    let at = |index| PositionId { board: 0, index };
    let picks = [(at(0), "USUAL".to_owned()), (at(1), "TIGHT".to_owned()), (at(2), "LONG".to_owned())];
    let changes = pick_changes(&job, &catalog_index, &sizing, &picks);
    assert_eq!(changes.iter().map(|c| (c.position.index, c.picked)).collect::<Vec<_>>(), [(1, true), (2, false)]);
    // 41 V on 50 V is 82 %, over the 80 % of the policy.
    assert_eq!((changes[0].now.verdict, changes[0].then.verdict), (Outcome::Fail, Outcome::Marginal));
    assert!(changes[0].lost.iter().any(|clause| clause.starts_with("voltage marginal: ")), "{:?}", changes[0].lost);
    assert!(!changes[0].is_free() && changes[1].is_free());
    assert!(changes.iter().all(|change| !change.keeps_part()));
    // A proposal that becomes a pick is no other part.
    let proposed = sizing.position(at(2)).unwrap().choice.part.unwrap().id;
    let same = [(at(2), catalog_index.catalog().part_number(proposed).to_owned())];
    assert!(pick_changes(&job, &catalog_index, &sizing, &same)[0].keeps_part());
    assert_eq!((changes[0].now.cost, changes[0].then.cost), (Some(1.0), Some(0.1)));
    let kept = interval_with(&sizing, Some(0), &[]);
    assert_eq!(kept.limiting_position(), Some(at(1)));
    assert!(interval_with(&sizing, Some(0), &changes.iter().collect::<Vec<_>>()).years > kept.years);
}

#[test]
fn the_limit_is_removed_step_by_step_until_the_target() {
    let (mut job, catalog_index) = (job(), catalog_index());
    let mut limits = Vec::new();
    let stays = loop {
        let sizing = size(&job, &catalog_index);
        match limit_step(&job, &catalog_index, &sizing, (0, &[]), false) {
            Ok(step) => {
                assert!(step.then.years > step.now.years && step.change.then.verdict == Outcome::Pass);
                assert_ne!(step.change.then.part_number.as_deref(), Some("TIGHT"));
                limits.push((step.now.limiting_position().unwrap().index, step.extra.unwrap()));
                job = picked(&job, [(step.change.position, step.change.then.part_number.unwrap())]);
            }
            Err(stays) => break stays,
        }
        assert!(limits.len() < 10);
    };
    assert_eq!(stays, LimitStays::Reached);
    assert!(limits.len() >= 2 && limits[0].0 == 1 && limits[0].1 > 0.0, "{limits:?}");
}

#[test]
fn the_limits_of_all_boards_are_removed_to_the_target_with_one_list_to_agree_to() {
    let (mut job, catalog_index) = (job(), catalog_index());
    job.boards.push(job.boards[0].clone());
    job.boards[1].positions[1].stress.phases = Some(duty(&[(1.0, 104.0, 1.0)]));
    let sizing = size(&job, &catalog_index);
    let (boards, changes) = remove_limits(&job, &catalog_index, &sizing, false, &Progress::default()).unwrap();
    assert_eq!(boards.iter().map(|found| found.board).collect::<Vec<_>>(), [0, 1]);
    assert_eq!(boards[0].stays, None, "the target is reached");
    // No part lasts in such heat: the second board ends at its hot position.
    assert_eq!(boards[1].stays, Some(LimitStays::NoPart(PositionId { board: 1, index: 1 })));
    let steps = &boards[0].steps;
    assert!(steps.windows(2).all(|pair| pair[0].then == pair[1].now), "each begins where the one before ends");
    let after = picked(&job, changes.iter().map(|c| (c.position, c.then.part_number.clone().unwrap())));
    let after = size(&after, &catalog_index);
    assert_eq!(after.boards[0].as_chosen, steps.last().unwrap().then);
    assert!(after.boards[0].as_chosen.years >= job.interval_years);
    let stopped = Progress::default();
    stopped.cancel();
    assert!(remove_limits(&job, &catalog_index, &sizing, false, &stopped).is_none());
}
