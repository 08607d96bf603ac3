//! Of `sizing/series.rs`, from within it: limits, missing data, odd cases.

use super::super::testing_duty::{duty, job_of, position, wet_can};
use super::*;

fn found(count: usize, dc_v: f64, can: &Can) -> SeriesString {
    let mut one = position("C", duty(&[(1.0, 60.0, 1.0)]));
    one.series_group = Some("link".into());
    one.stress.dc_v = Some(dc_v);
    let job = job_of(vec![one; count]);
    let fit = |_| Some(Fitted { name: "X".into(), can: can.clone(), part: None });
    strings(&job, fit).remove(0)
}

fn can(rated_v: f64, leakage_ua: f64) -> Can {
    Can { rated_v: Some(rated_v), leakage_ua: Some(leakage_ua), ..wet_can() }
}

#[test]
fn the_resistor_is_that_of_the_simulated_strings() {
    // ngspice-39: two on 800 V, 1 mA apart, 100 kohm: 450 V on the worse one
    let pair = found(2, 400.0, &can(450.0, 1000.0));
    assert!((pair.balancing_ohm.unwrap() - 100e3).abs() < 1e-6);
    assert!((pair.worst_v(100e3).unwrap() - 450.0).abs() < 1e-9);
    // ngspice-39: three on 1000 V, 0.5 mA apart, 200 kohm: 400 V on the least leaky one
    let three = found(3, 1000.0 / 3.0, &can(400.0, 500.0));
    assert!((three.balancing_ohm.unwrap() / 200e3 - 1.0).abs() < 1e-9);
    assert!((three.worst_v(400e3).unwrap() - 466.666_666).abs() < 1e-3);
    assert!((three.balancing_w.unwrap() - 400.0 * 400.0 / 200e3).abs() < 1e-9);
    assert!(pair.assumed.is_empty());
}

#[test]
fn at_switch_on_the_smallest_can_takes_most() {
    // 20 % either way, two cans: (1/0.8) / (1/0.8 + 1/1.2) = 0.6
    let pair = found(2, 400.0, &can(450.0, 1000.0));
    assert!((pair.switch_on_worst_v.unwrap() - 480.0).abs() < 1e-9);
    assert!(pair.remarks.iter().any(|remark| remark.contains("At switch-on")));
    assert!((pair.capacitance_uf.unwrap() - 50.0).abs() < 1e-12 && pair.even_v == Some(400.0));
}

#[test]
fn a_string_above_its_ratings_has_no_resistor_and_usual_leakage_is_marked() {
    let over = found(2, 460.0, &can(450.0, 1000.0));
    assert!(over.balancing_ohm.is_none() && over.remarks[0].contains("no resistor helps"));
    let usual = found(2, 300.0, &Can { leakage_ua: None, ..can(350.0, 1.0) });
    assert!(usual.assumed.contains(Assumed::LEAKAGE) && usual.balancing_ohm.is_some());
    let unknown = found(2, 300.0, &Can { rated_v: None, leakage_ua: None, ..wet_can() });
    assert!(unknown.balancing_ohm.is_none() && unknown.rated_v.is_none());
}
