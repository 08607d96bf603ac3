//! Of `sizing/curves.rs`: how long a part would last if one condition were another: the curves an engineer
//! compares.

use refarad::domain::{Assumed, Can, Catalog, Job, PositionId};
use refarad::sizing::curves::{Axis, curve_set, steps};
use refarad::sizing::{PositionContext, Supply};

use super::testing_duty::{duty, job_with, phase, wet_can};

fn place(job: &Job) -> PositionContext<'_> {
    PositionContext::new(job, &Catalog::default(), PositionId::default()).unwrap()
}

fn years_over(job: &Job, can: &Can, axis: Axis, xs: &[f64]) -> Vec<Option<f64>> {
    let set = curve_set(&place(job), axis, xs, &[("A".into(), can.clone())]);
    set.curves[0].points.iter().map(|p| p.years).collect()
}

#[test]
fn at_the_conditions_of_the_duty_every_curve_meets_the_life_check() {
    let job = job_with(duty(&[(1.0, 80.0, 1.0)]));
    let figures = place(&job).evaluate(&wet_can(), Supply::default()).figures;
    for (axis, x) in [(Axis::Ambient, 80.0), (Axis::Ripple, 1.0), (Axis::Voltage, 40.0), (Axis::Hours, 3000.0)] {
        assert_eq!(years_over(&job, &wet_can(), axis, &[x]), [figures.calendar_years], "{axis:?}");
    }
    let set = curve_set(&place(&job), Axis::Ambient, &[], &[("A".into(), wet_can())]);
    assert_eq!(set.curves[0].at_duty.life_uncapped_h, figures.life_uncapped_h);
    // Its only line is at the frequency of the rating, so no multiplier is needed.
    assert_eq!(set.curves[0].assumed, Assumed::CORE_RISE);
}

#[test]
fn years_fall_with_ambient_ripple_and_hours_inside_their_band_and_under_the_cap() {
    let job = job_with(duty(&[(0.7, 70.0, 1.0), (0.3, 80.0, 1.2)]));
    let context = place(&job);
    for axis in [Axis::Ambient, Axis::Ripple, Axis::Hours] {
        let can = wet_can();
        let (low, high) = axis.usual_range(&context, &[&can]);
        let set = curve_set(&context, axis, &steps(low, high, 40), &[("A".into(), can)]);
        let points = &set.curves[0].points;
        assert!(points.windows(2).all(|w| w[0].years >= w[1].years), "{axis:?}");
        assert!(points.iter().all(|p| p.low_years <= p.years && p.years <= p.high_years));
        assert!(points.iter().all(|p| p.high_years <= Some(15.0)) && points[0].years > points[40].years);
    }
}

#[test]
fn voltage_counts_only_by_policy_and_never_above_the_rating() {
    let can = Can { rated_v: Some(400.0), ..wet_can() };
    let mut job = job_with(duty(&[(1.0, 90.0, 1.0)]));
    let flat = years_over(&job, &can, Axis::Voltage, &[200.0, 390.0, 400.5]);
    assert_eq!((flat[0], flat[2]), (flat[1], None));
    assert_eq!(curve_set(&place(&job), Axis::Voltage, &[], &[]).remarks.len(), 1);
    job.policy.count_voltage_derating = true;
    let counted = years_over(&job, &can, Axis::Voltage, &[300.0, 360.0]);
    let ratio = counted[0].unwrap() / counted[1].unwrap();
    assert!((ratio - (300.0f64 / 360.0).powf(-2.5)).abs() < 1e-9, "{ratio}");
}

#[test]
fn beyond_the_upper_category_temperature_no_law_holds() {
    let job = job_with(duty(&[(1.0, 80.0, 1.0)]));
    let years = years_over(&job, &wet_can(), Axis::Ambient, &[105.0, 105.1, f64::NAN]);
    assert!(years.len() == 2 && years[0].is_some() && years[1].is_none());
}

#[test]
fn the_phases_of_the_duty_are_marked_with_their_names_and_shares() {
    let mut phases = duty(&[(3.0, 50.0, 1.0), (1.0, 70.0, 1.0)]);
    phases[1].name = Some("day".into());
    let job = job_with(phases);
    let marks = |axis| curve_set(&place(&job), axis, &[], &[]).marks;
    let found: Vec<_> = marks(Axis::Ambient).into_iter().map(|m| (m.name, m.x, m.share)).collect();
    assert_eq!(found, [("phase 1".into(), 50.0, Some(0.75)), ("day".into(), 70.0, Some(0.25))]);
    assert_eq!(marks(Axis::Hours)[0].x, 3000.0);
}

#[test]
fn without_a_duty_or_an_endurance_there_are_no_years_and_it_is_said() {
    let mut job = job_with(vec![phase(1.0, 80.0, 1.0)]);
    let no_endurance = Can { endurance_h: None, ..wet_can() };
    assert_eq!(years_over(&job, &no_endurance, Axis::Ambient, &[40.0]), [None]);
    job.boards[0].positions[0].stress.phases = None;
    let set = curve_set(&place(&job), Axis::Ambient, &[40.0], &[("A".into(), wet_can())]);
    assert_eq!((set.curves[0].points[0].years, set.remarks.len()), (None, 1));
}

#[test]
fn steps_include_both_ends() {
    assert_eq!(steps(0.0, 2.0, 4), [0.0, 0.5, 1.0, 1.5, 2.0]);
    assert!(steps(1.0, 0.0, 4).is_empty() && steps(0.0, 1.0, 0).is_empty() && steps(f64::NAN, 1.0, 2).is_empty());
}
