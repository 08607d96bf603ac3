//! Of `sizing/duty_from_log.rs`: a temperature log as phases of a duty, and how much the life changes by it.

use refarad::domain::{Can, Catalog, PositionId, Technology};
use refarad::sizing::PositionContext;
use refarad::sizing::duty_from_log::{MOST_PHASES, Stretch, bin, life_error};

use super::testing_duty::{duty, job_with, wet_can};

fn day() -> Vec<Stretch> {
    // a day between 35 and 65 °C in steps of a minute
    (0..1440)
        .map(|minute| {
            let turn = f64::from(minute) / 1440.0 * std::f64::consts::TAU;
            Stretch { weight: 60.0, ambient_c: 50.0 - 15.0 * turn.cos() }
        })
        .collect()
}

#[test]
fn phases_keep_the_time_and_the_range_of_the_log() {
    let found = bin(&day(), 4).unwrap();
    assert_eq!(found.phases.len(), 4);
    assert!((found.phases.iter().filter_map(|p| p.share).sum::<f64>() - 1.0).abs() < 1e-12);
    assert!((found.mean_c - 50.0).abs() < 1e-9);
    assert_eq!((found.min_c, found.max_c), (35.0, 65.0));
    assert!(found.phases.windows(2).all(|w| w[0].ambient_c < w[1].ambient_c));
}

#[test]
fn one_phase_carries_the_damage_of_all_where_the_floor_is_not_touched() {
    // half at 60, half at 70 °C: mean of 1 and 2 is 1.5 times the damage at 60, so 60 + 10 log2(1.5) = 65.85 °C
    let log = [Stretch { weight: 5.0, ambient_c: 60.0 }, Stretch { weight: 5.0, ambient_c: 70.0 }];
    let found = bin(&log, 1).unwrap();
    assert!((found.phases[0].ambient_c.unwrap() - 65.849_625).abs() < 1e-6);
    assert!(found.life_error.abs() < 1e-12);
}

#[test]
fn the_error_shrinks_with_more_phases_and_is_the_one_of_the_part() {
    let error = |count| bin(&day(), count).unwrap().life_error.abs();
    assert!(error(1) > error(12) && error(12) < 0.005, "{} {}", error(1), error(12));
    let mut job = job_with(duty(&[(1.0, 60.0, 1.0)]));
    let context = PositionContext::new(&job, &Catalog::default(), PositionId::default()).unwrap();
    for count in [1, 3, 8] {
        let found = bin(&day(), count).unwrap();
        let own = life_error(&context, &wet_can(), &day(), &found.phases).unwrap();
        assert!((own - found.life_error).abs() < 1e-9, "{count}: {own} {}", found.life_error);
    }
    // polymer follows another rule, so its error is its own
    let polymer = Can { technology: Some(Technology::Polymer), ..wet_can() };
    let found = bin(&day(), 3).unwrap();
    assert!((life_error(&context, &polymer, &day(), &found.phases).unwrap() - found.life_error).abs() > 1e-4);
    job.boards[0].positions[0].stress.ripple = None;
    job.boards[0].positions[0].original.can.ripple_a = None;
    let context = PositionContext::new(&job, &Catalog::default(), PositionId::default()).unwrap();
    assert_eq!(life_error(&context, &wet_can(), &day(), &found.phases), None);
}

#[test]
fn what_is_no_log_has_no_phases() {
    let at = |weight: f64, ambient_c: f64| Stretch { weight, ambient_c };
    assert_eq!(bin(&[], 3), None);
    assert_eq!(bin(&[at(0.0, 20.0)], 3), None);
    assert_eq!(bin(&[at(1.0, f64::NAN)], 3), None);
    assert_eq!(bin(&[at(-1.0, 20.0), at(2.0, 20.0)], 3), None);
    assert!(bin(&day(), 0).is_none() && bin(&day(), MOST_PHASES + 1).is_none());
    assert_eq!(bin(&[at(1.0, 20.0)], 5).unwrap().phases.len(), 1);
}
