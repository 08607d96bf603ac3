//! Of `sizing/heat_opinion.rs`: two opinions on the heat: the rated-ripple law and a heat balance, forwards
//! from the ripple and backwards from a measured rise.

use refarad::domain::{Assumed, Can, Catalog, Job, PositionId};
use refarad::physics::heat::core_to_case_ratio;
use refarad::sizing::PositionContext;
use refarad::sizing::heat_opinion::{explain_rise, opinions};

use super::testing_duty::{duty, job_with, wet_can};

fn place(job: &Job) -> PositionContext<'_> {
    PositionContext::new(job, &Catalog::default(), PositionId::default()).unwrap()
}

#[test]
fn the_balance_is_that_of_the_hand_calculation_and_the_law_that_of_the_check() {
    let job = job_with(duty(&[(1.0, 60.0, 1.0), (1.0, 60.0, 2.0)]));
    let found = opinions(&place(&job), &wet_can()).unwrap();
    // the phase at scale 2: 1 A at 100 kHz, 100 mohm: 0.1 W; rated 1 A: 5 K
    assert!((found.loss_w.unwrap() - 0.1).abs() < 1e-12 && (found.law_rise_k - 5.0).abs() < 1e-12);
    // D 1 cm, H 2 cm: S = 7.069 cm2, beta = 2.3e-3 * S^-0.2 = 1.5553e-3; 0.1 / (beta S) * 1.1
    let surface: f64 = std::f64::consts::FRAC_PI_4 * 9.0;
    let expected = 0.1 / (2.3e-3 * surface.powf(-0.2) * surface) * 1.1;
    assert!((found.balance_rise_k.unwrap() - expected).abs() < 1e-12);
    let sentence = found.sentence();
    assert!(sentence.contains("5 K") && sentence.contains("hotter"), "{sentence}");
    assert!(found.assumed.contains(Assumed::CORE_RISE));
}

#[test]
fn without_a_body_there_is_no_second_opinion_and_without_ripple_none_at_all() {
    let mut job = job_with(duty(&[(1.0, 60.0, 1.0)]));
    let bare = Can { height_mm: None, ..wet_can() };
    let found = opinions(&place(&job), &bare).unwrap();
    assert!(found.balance_rise_k.is_none() && found.sentence().contains("no cross-check"));
    job.boards[0].positions[0].stress.ripple = None;
    job.boards[0].positions[0].original.can.ripple_a = None;
    assert_eq!(opinions(&place(&job), &wet_can()), None);
    job.boards[0].positions[0].stress.ripple = Some(Vec::new());
    let still = opinions(&place(&job), &wet_can()).unwrap();
    assert_eq!((still.law_rise_k, still.balance_rise_k), (0.0, Some(0.0)));
    assert!(!still.sentence().contains("-0"), "{}", still.sentence());
    assert!(still.sentence().contains("alike"));
}

#[test]
fn backwards_from_the_forward_rise_is_the_ripple_that_made_it() {
    let mut job = job_with(duty(&[(1.0, 60.0, 1.0)]));
    job.boards[0].positions[0].stress.airflow_lfm = Some(100.0);
    let context = place(&job);
    let forward = opinions(&context, &wet_can()).unwrap();
    let case_k = forward.balance_rise_k.unwrap() / core_to_case_ratio(10.0);
    let back = explain_rise(&context, &wet_can(), case_k, 1e5, None).unwrap();
    assert!((back.by_balance_a.unwrap() - 0.5).abs() < 1e-12, "{back:?}");
    assert!((back.scale_of_entered.unwrap() - 1.0).abs() < 1e-12);
    let law_case_k = forward.law_rise_k / core_to_case_ratio(10.0);
    let back = explain_rise(&context, &wet_can(), law_case_k, 1e5, None).unwrap();
    assert!((back.by_law_a.unwrap() - 0.5).abs() < 1e-12);
}

#[test]
fn an_aged_part_needs_less_ripple_for_the_same_rise() {
    let job = job_with(duty(&[(1.0, 60.0, 1.0)]));
    let context = place(&job);
    let new = explain_rise(&context, &wet_can(), 5.0, 1e5, None).unwrap();
    let aged = explain_rise(&context, &wet_can(), 5.0, 1e5, Some(400.0)).unwrap();
    assert!((new.by_balance_a.unwrap() / aged.by_balance_a.unwrap() - 2.0).abs() < 1e-12);
    assert!((new.scale_of_entered.unwrap() / aged.scale_of_entered.unwrap() - 2.0).abs() < 1e-12);
    assert_eq!(explain_rise(&context, &wet_can(), -1.0, 1e5, None), None);
    let nothing = explain_rise(&context, &Can::default(), 5.0, 1e5, None).unwrap();
    assert_eq!((nothing.by_law_a, nothing.by_balance_a), (None, None));
}
