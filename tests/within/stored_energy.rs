//! Of `sizing/stored_energy.rs`, from within it: limits, missing data, odd cases.

use super::super::testing_duty::{duty, job_of, position, wet_can};
use super::*;
use crate::domain::Can;

fn found(grouped: bool, dc_v: Option<f64>, capacitance_uf: Option<f64>) -> Vec<StoredEnergy> {
    let mut one = position("C1", duty(&[(1.0, 60.0, 1.0)]));
    (one.stress.dc_v, one.stress.ripple_peak_v, one.stress.transient_v) = (dc_v, None, None);
    (one.original.can.capacitance_uf, one.original.can.rated_v) = (capacitance_uf, None);
    one.parallel_group = grouped.then(|| "bulk".into());
    let job = job_of(vec![one; 2]);
    let can = Can { capacitance_uf, ..wet_can() };
    let fitted = |_| Some(Fitted { name: "X".into(), can: can.clone(), part: None });
    job.positions().filter_map(|(id, _)| stored_energy(&job, id, fitted)).collect()
}

#[test]
fn the_resistor_for_five_seconds_does_it_in_five_seconds() {
    let one = &found(false, Some(400.0), Some(470.0))[0];
    assert!((one.energy_j.unwrap() - 37.6).abs() < 1e-9 && one.caution == Some(true));
    let ohm = one.bleeder_ohm.unwrap();
    assert!((one.time_to_safe_s(ohm).unwrap() - 5.0).abs() < 1e-9);
    assert!((one.bleeder_w.unwrap() - 160_000.0 / ohm).abs() < 1e-9);
    // ngspice-39: 470 uF, 400 V, 5.6 kohm: 60 V after 4.99322 s
    assert!((one.time_to_safe_s(5600.0).unwrap() - 4.99322).abs() < 1e-4);
    assert!(one.thresholds.len() >= 3);
}

#[test]
fn cans_of_a_group_discharge_together() {
    // 8 J each at 40 V: none alone above 10 J
    let alone = &found(false, Some(40.0), Some(10_000.0))[0];
    assert_eq!((alone.caution, alone.bleeder_ohm), (Some(false), None));
    let group = &found(true, Some(40.0), Some(10_000.0))[0];
    assert!((group.together_j.unwrap() - 16.0).abs() < 1e-9 && group.caution == Some(true));
    assert!((group.energy_j.unwrap() - 8.0).abs() < 1e-9);
}

#[test]
fn across_a_series_string_the_voltages_add_and_call_for_the_caution() {
    let mut one = position("C1", duty(&[(1.0, 60.0, 1.0)]));
    (one.stress.dc_v, one.stress.ripple_peak_v, one.stress.transient_v) = (Some(40.0), None, None);
    one.series_group = Some("link".into());
    let job = job_of(vec![one.clone(), one]);
    let fitted = |_| Some(Fitted { name: "X".into(), can: Can { capacitance_uf: Some(1.0), ..wet_can() }, part: None });
    let stored = stored_energy(&job, PositionId::default(), fitted).unwrap();
    assert_eq!((stored.highest_v, stored.string_v, stored.caution), (Some((40.0, "dc")), Some(80.0), Some(true)));
}

#[test]
fn the_highest_voltage_counts_and_is_named() {
    let mut here = Position::default();
    assert_eq!(highest_v(&here), None);
    here.original.can.rated_v = Some(400.0);
    assert_eq!(highest_v(&here), Some((400.0, "rated, operating voltage not entered")));
    here.stress.dc_v = Some(325.0);
    assert_eq!(highest_v(&here), Some((325.0, "dc")));
    here.stress.ripple_peak_v = Some(15.0);
    assert_eq!(highest_v(&here), Some((340.0, "dc and ripple peak")));
    here.stress.transient_v = Some(380.0);
    assert_eq!(highest_v(&here), Some((380.0, "transient")));
    // The other way round a non-polar part stores as much.
    here.stress.min_v = Some(-390.0);
    assert_eq!(highest_v(&here), Some((390.0, "lowest voltage")));
}

#[test]
fn the_larger_of_the_original_and_what_is_fitted_counts() {
    let mut position = Position::default();
    position.original.can.capacitance_uf = Some(220.0);
    let uf = |fitted_uf| largest_f(&position, fitted_uf).map(|farad| (farad * 1e6).round());
    assert_eq!((uf(Some(330.0)), uf(Some(100.0)), uf(None)), (Some(330.0), Some(220.0), Some(220.0)));
    assert_eq!(largest_f(&Position::default(), None), None);
}

#[test]
fn what_is_not_known_is_no_all_clear() {
    assert_eq!(found(false, None, Some(100.0))[0].caution, None, "the original's rating is not known either");
    assert_eq!(found(false, Some(12.0), None)[0].caution, None);
    assert_eq!(found(false, Some(300.0), None)[0].caution, Some(true));
    assert_eq!(found(false, Some(-300.0), Some(100.0))[0].caution, Some(true));
}
