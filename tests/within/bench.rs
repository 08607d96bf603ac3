//! Of `sizing/bench.rs`, from within it: limits, missing data, odd cases.

use super::super::testing::{job_of, position};
use super::*;
use crate::physics::condition::Condition;

fn unit(serial: &str, capacitance_uf: f64) -> UnitAtBench {
    let mut unit = UnitAtBench { serial: serial.into(), ..UnitAtBench::default() };
    unit.change("", "C1", |at| at.before.capacitance_uf = Some(capacitance_uf));
    unit
}

fn job() -> Job {
    let mut job = job_of(vec![Position { reference: "C1".into(), ..position() }]);
    job.boards[0].name = String::new();
    job
}

#[test]
fn leakage_alone_counts_as_measured() {
    let mut leaking = UnitAtBench { serial: "A".into(), ..UnitAtBench::default() };
    leaking.change("", "C1", |at| (at.before.leakage_ua, at.finding) = (Some(850.0), "warm".into()));
    let job = job();
    let kept = kept(&job, &job.boards[0].positions[0], 0, &[leaking]).unwrap();
    assert_eq!((kept.unit.as_deref(), kept.note.as_deref()), (Some("A"), Some("warm; leakage 850 µA")));
}

#[test]
fn a_position_keeps_the_most_worn_of_its_units_and_a_correction_takes_its_place() {
    let job = job();
    let position = &job.boards[0].positions[0];
    let nominal_uf = position.original.can.capacitance_uf.unwrap();
    let of = |shares: [f64; 2]| [unit("D1", shares[0] * nominal_uf), unit("D2", shares[1] * nominal_uf)];
    let kept_of = |shares| kept(&job, position, 0, &of(shares)).unwrap().unit.unwrap();
    assert_eq!([kept_of([0.7, 0.95]), kept_of([0.98, 0.95])], ["D1", "D2"]);
    let before = Measured { capacitance_uf: Some(0.5 * nominal_uf), unit: Some("D9".into()), ..Measured::default() };
    let held = |serial: &str| Position {
        measured: Some(Measured { unit: Some(serial.into()), ..before.clone() }),
        ..position.clone()
    };
    assert_eq!(kept(&job, &held("D9"), 0, &of([0.7, 0.9])).unwrap().unit.as_deref(), Some("D9"), "of a unit elsewhere");
    assert_eq!(kept(&job, &held("D1"), 0, &of([0.7, 0.9])).unwrap().capacitance_uf, Some(0.7 * nominal_uf));
    assert_eq!(kept(&job, position, 0, &[]), None);
}

#[test]
fn a_unit_that_was_rebuilt_before_is_judged_by_the_part_that_went_in_then() {
    let job = job();
    let of = BoardOfUnit { board: 0, name: String::new() };
    let then = PositionRecord {
        part_number: "NOT-IN-THE-CATALOGUE".into(),
        after: Reading { capacitance_uf: Some(200.0), ..Reading::default() },
        ..PositionRecord::of("", "C1")
    };
    let date: Date = "2016-07-01".parse().unwrap();
    let found = as_found(&job, &Catalog::default(), &unit("D1", 150.0), &of, Some((date, &[then])));
    let position = &found.boards[0].positions[0];
    let (assessment, _) = condition(position);
    assert_eq!((assessment.capacitance_share, assessment.condition), (Some(0.75), Condition::WornOut));
    assert!((position.original.made_year.unwrap() - 2016.5).abs() < 0.01);
    assert_eq!(position.measured.as_ref().unwrap().unit.as_deref(), Some("D1"));
    assert_eq!(as_found(&job, &Catalog::default(), &UnitAtBench::default(), &of, None), job);
}
