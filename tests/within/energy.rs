//! Of `physics/energy.rs`, from within it: limits, missing data, odd cases.

use super::*;

#[test]
fn time_and_bleeder_belong_to_one_law() {
    let ohm = bleeder_ohm(470e-6, 400.0, 60.0, 5.0).unwrap();
    assert!((time_to_v_s(470e-6, ohm, 400.0, 60.0).unwrap() - 5.0).abs() < 1e-12);
}

#[test]
fn a_capacitor_already_below_the_limit_needs_no_time_and_no_bleeder() {
    assert_eq!(time_to_v_s(1e-3, 1e3, 50.0, 60.0), Some(0.0));
    assert_eq!(bleeder_ohm(1e-3, 50.0, 60.0, 5.0), None);
    assert_eq!(bleeder_ohm(1e-3, 60.0, 60.0, 5.0), None);
}

#[test]
fn the_borders_of_every_threshold_lie_as_its_words_say() {
    let at = |volt: f64, joule: f64| 2.0 * joule / (volt * volt);
    let sources =
        |c: f64, v: f64| -> Vec<&str> { thresholds_reached(c, v).unwrap().iter().map(|t| t.source).collect() };
    assert!(!sources(1e-3, 60.0).contains(&"IEC 60204-1, 6.2.4"));
    assert!(sources(1e-3, 60.1).contains(&"IEC 60204-1, 6.2.4"));
    // 60 µC at 100 V is 0.6 uF
    assert!(sources(0.6e-6, 100.0).is_empty());
    assert_eq!(sources(0.61e-6, 100.0), ["IEC 60204-1, 6.2.4"]);
    let hazardous = "IEC 60950-1, hazardous energy test";
    assert!(!sources(at(2.0, 19.9), 2.0).contains(&hazardous));
    assert!(sources(at(2.0, 20.1), 2.0).contains(&hazardous));
    assert!(!sources(at(1.9, 25.0), 1.9).contains(&hazardous));
    let shock = "DOE/LBNL electrical safety manual, table 2.2.13";
    assert!(sources(at(100.0, 10.001), 100.0).contains(&shock));
    assert!(!sources(at(100.0, 9.9), 100.0).contains(&shock));
    assert!(!sources(at(99.0, 11.0), 99.0).contains(&shock));
    let burn = "DOE/LBNL electrical safety manual, table 2.3.5";
    assert!(sources(at(99.0, 101.0), 99.0).contains(&burn));
    assert!(!sources(at(100.0, 101.0), 100.0).contains(&burn));
    let arc = "DOE/LBNL electrical safety manual, table 2.3.3";
    assert!(sources(at(400.0, 10_001.0), 400.0).contains(&arc));
    assert!(!sources(at(400.0, 9_999.0), 400.0).contains(&arc));
}

#[test]
fn the_caution_is_shown_above_sixty_volts_or_ten_joules() {
    assert_eq!(needs_caution(1e-6, 61.0), Some(true));
    assert_eq!(needs_caution(1e-6, 60.0), Some(false));
    assert_eq!(needs_caution(0.1, 20.0), Some(true));
    assert_eq!(needs_caution(0.1, 10.0), Some(false));
    assert_eq!(needs_caution(f64::NAN, 10.0), None);
}
