//! Of `sizing/old_part.rs`, from within it: limits, missing data, odd cases.

use super::super::testing_duty::{duty, job_of, position, wet_can};
use super::*;
use crate::domain::{Can, Measured, Position};
use crate::physics::condition::Condition;

/// Made in 2016, measured in 2026: 30 000 h.
fn measured(ambient_c: f64, capacitance_uf: f64, esr_mohm: f64) -> Position {
    let mut position = position("C1", duty(&[(1.0, ambient_c, 1.0)]));
    position.original.made_year = Some(2016.0);
    position.measured = Some(Measured {
        capacitance_uf: Some(capacitance_uf),
        esr_mohm: Some(esr_mohm),
        esr_hz: Some(1e5),
        date: Some("2026-01-15".into()),
        ..Measured::default()
    });
    position
}

fn found(position: Position) -> OldPart {
    old_part(&job_of(vec![position]), &Catalog::default(), PositionId::default(), None).unwrap()
}

#[test]
fn a_part_worn_faster_than_any_law_says_the_stress_is_underestimated() {
    // at 50 °C it should live 5000 * 2^5.5 * ... h, of which 30 000 h is a fraction; it lost 30 % of its capacitance
    let part = found(measured(50.0, 70.0, 120.0));
    assert_eq!((part.assessment.condition, part.verdict), (Condition::WornOut, Verdict::WearsMore));
    assert!((part.measured_wear.unwrap() - 1.5).abs() < 1e-12 && part.age_years == Some(10.0));
    let (_, most) = part.predicted_range.unwrap();
    assert!((part.explained_by_k.unwrap() - 10.0 * (1.5 / most).log2()).abs() < 1e-9);
    assert!(part.sentence().contains("underestimated"), "{}", part.sentence());
    assert!(!part.beyond_calendar_cap && !part.age_assumed);
}

#[test]
fn a_part_worn_as_predicted_or_less_says_so() {
    let hot = found(measured(75.0, 100.0, 100.0));
    assert_eq!((hot.assessment.condition, hot.verdict), (Condition::Sound, Verdict::WearsLess));
    assert!(hot.explained_by_k.unwrap() < 0.0 && hot.sentence().contains("overestimated"));
    let law = hot.predicted_wear.unwrap();
    // half of the predicted loss of capacitance, all of the predicted rise of ESR
    let as_predicted = found(measured(75.0, 100.0 * (1.0 - 0.1 * law), 100.0 * (1.0 + law)));
    assert_eq!(as_predicted.verdict, Verdict::AsPredicted);
    assert!((as_predicted.measured_wear.unwrap() - law).abs() < 1e-9);
}

#[test]
fn missing_figures_leave_it_unknown() {
    let mut undated = measured(50.0, 70.0, 120.0);
    undated.measured.as_mut().unwrap().date = None;
    let job = job_of(vec![undated]);
    let at = |year| old_part(&job, &Catalog::default(), PositionId::default(), year).unwrap();
    assert_eq!((at(None).verdict, at(None).age_years), (Verdict::Unknown, None));
    assert!(at(Some(2026.0)).age_assumed && at(Some(2026.0)).verdict == Verdict::WearsMore);
    let mut bare = measured(50.0, 70.0, 120.0);
    bare.measured.as_mut().unwrap().esr_hz = None;
    bare.original.can = Can { endurance_h: None, ..wet_can() };
    let part = found(bare);
    assert_eq!((part.assessment.esr_ratio, part.predicted_wear, part.verdict), (None, None, Verdict::Unknown));
    assert!(part.sentence().starts_with("Nothing can be said"));
}

#[test]
fn a_board_shows_the_worst_first_and_the_unmeasured_last() {
    let mut unmeasured = measured(50.0, 100.0, 100.0);
    unmeasured.measured = None;
    let job = job_of(vec![
        unmeasured,
        measured(50.0, 100.0, 100.0),
        measured(50.0, 70.0, 100.0),
        measured(50.0, 85.0, 100.0),
    ]);
    let order: Vec<usize> =
        board_by_condition(&job, &Catalog::default(), 0, None).iter().map(|part| part.id.index).collect();
    assert_eq!(order, [2, 3, 1, 0]);
}

#[test]
fn a_position_that_suffered_more_than_the_others_of_its_board_is_named_even_when_all_outlived_the_law() {
    let old = |capacitance_uf: f64| measured(85.0, capacitance_uf, 100.0);
    let job = job_of(vec![old(96.0), old(95.0), old(95.0), old(84.0)]);
    let parts = board_by_condition(&job, &Catalog::default(), 0, None);
    assert!(parts.iter().all(|part| part.verdict == Verdict::WearsLess), "{parts:?}");
    let named: Vec<usize> = parts.iter().filter(|part| part.suffered_more()).map(|part| part.id.index).collect();
    assert_eq!(named, [3]);
    assert!((parts[0].relative_to_board.unwrap() - 3.2).abs() < 1e-9);
    assert!(parts[0].sentence().contains("3.2 times as much as the others"), "{}", parts[0].sentence());
}

#[test]
fn worn_out_as_predicted_says_no_more() {
    let part = found(measured(95.0, 60.0, 100.0));
    assert!(part.predicted_wear.unwrap() > 2.0 && part.verdict == Verdict::AsPredicted);
    assert!(part.sentence().contains("past its end by both"));
}

#[test]
fn dates_give_the_year_and_nonsense_does_not() {
    assert_eq!(year_of("2026-07-01"), Some(2026.5));
    assert_eq!(year_of("2026"), Some(2026.5));
    for text in ["", "soon", "26-01-01", "2026-13-01", "2026-xx"] {
        assert_eq!(year_of(text), None, "{text}");
    }
}
