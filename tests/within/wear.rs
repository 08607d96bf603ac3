//! Of `files/wear.rs`, from within it: limits, missing data, odd cases.

use super::*;
use crate::files::unit_record::Reading;

fn record(date: &str, capacitance_uf: f64, esr_mohm: f64, esr_hz: f64) -> UnitRecord {
    let reading = Reading {
        capacitance_uf: Some(capacitance_uf),
        esr_mohm: Some(esr_mohm),
        esr_hz: Some(esr_hz),
        ..Reading::default()
    };
    UnitRecord {
        serial: "D1".into(),
        date: date.parse().unwrap(),
        technician: String::new(),
        next_due: None,
        hours_per_year: Some(3000.0),
        unit_type: String::new(),
        note: String::new(),
        positions: vec![PositionRecord {
            board: "Supply".into(),
            reference: "C1".into(),
            part_number: "A".into(),
            before: reading.clone(),
            after: reading,
            life_h: Some(60_000.0),
            life_low_h: Some(50_000.0),
            life_high_h: Some(100_000.0),
            ..PositionRecord::default()
        }],
        extra: crate::domain::Extra::new(),
    }
}

#[test]
fn wear_is_the_share_of_a_worn_out_part_and_is_judged_by_the_band() {
    // Ten years of 3000 h: 30 000 h of 60 000 h, band 0.3 to 0.6.
    let first = record("2026-01-01", 100.0, 200.0, 1e5);
    for (capacitance, esr, pace) in
        [(92.0, 250.0, Pace::AsPredicted), (99.0, 210.0, Pace::Slower), (98.0, 360.0, Pace::Faster)]
    {
        let later = record("2036-01-01", capacitance, esr, 1e5);
        let wear = wear(&[first.clone(), later.clone()], &later).unwrap().remove(0);
        assert_eq!(wear.pace, pace, "{wear:?}");
        assert!((wear.predicted.unwrap() - 0.5).abs() < 1e-3);
        assert!((wear.by_capacitance.unwrap() - (100.0 - capacitance) / 20.0).abs() < 1e-9);
        assert!((wear.by_esr.unwrap() - (esr - 200.0) / 200.0).abs() < 1e-9);
    }
}

#[test]
fn readings_at_different_frequencies_are_not_compared_and_a_first_rebuild_has_nothing_to_compare() {
    let first = record("2026-01-01", 100.0, 200.0, 120.0);
    let mut later = record("2036-01-01", 90.0, 900.0, 1e5);
    later.positions[0].before.capacitance_uf = None;
    let compared = wear(std::slice::from_ref(&first), &later).unwrap();
    assert_eq!((compared[0].by_esr, compared[0].pace), (None, Pace::Unknown));
    assert_eq!(wear(&[later], &first), None);
}
