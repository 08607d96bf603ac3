//! Of `physics/circuits/rectifier.rs`: full-wave mains rectifier with reservoir, integrated to its periodic
//! state.

use std::f64::consts::SQRT_2;

use refarad::physics::circuits::rectifier::{Diodes, Load, Rectifier, reservoir};
use refarad::physics::spectrum::rms_a;

const SMALL: Rectifier = Rectifier {
    source_v: 24.0,
    line_hz: 50.0,
    source_ohm: 0.2,
    diodes: Diodes::Drop(0.9),
    diodes_in_path: 2,
    capacitance_f: 4700e-6,
    esr_ohm: 0.03,
    load: Load::Current(2.0),
};

#[test]
fn lines_carry_the_rms_and_the_charge_balances() {
    for load in [Load::Current(2.0), Load::Resistor(15.0), Load::Power(60.0)] {
        let state = reservoir(&Rectifier { load, ..SMALL }).unwrap();
        assert!((rms_a(&state.ripple.lines) / state.ripple.rms_a - 1.0).abs() < 1e-9);
        // a capacitor carries no mean current, so with a constant load the source's mean square is the sum of both
        if let Load::Current(load_a) = load {
            assert!((state.ripple.rms_a.hypot(load_a) / state.source_rms_a - 1.0).abs() < 1e-6);
        }
    }
}

#[test]
fn equal_mean_loads_of_any_kind_give_nearly_the_same_ripple() {
    let current = reservoir(&SMALL).unwrap();
    let resistor = reservoir(&Rectifier { load: Load::Resistor(current.mean_v / 2.0), ..SMALL }).unwrap();
    let power = reservoir(&Rectifier { load: Load::Power(current.mean_v * 2.0), ..SMALL }).unwrap();
    for other in [&resistor, &power] {
        assert!((other.ripple.rms_a / current.ripple.rms_a - 1.0).abs() < 0.02);
    }
    assert!(power.valley_v < current.valley_v && resistor.valley_v > current.valley_v);
}

#[test]
fn a_constant_drop_shifts_the_voltage_and_a_centre_tap_loses_half_of_it() {
    let lossless = reservoir(&Rectifier { diodes: Diodes::Drop(0.0), ..SMALL }).unwrap();
    let bridge = reservoir(&SMALL).unwrap();
    let tap = reservoir(&Rectifier { diodes_in_path: 1, ..SMALL }).unwrap();
    assert!((lossless.mean_v - bridge.mean_v - 1.8).abs() < 1e-3);
    assert!((lossless.mean_v - tap.mean_v - 0.9).abs() < 1e-3);
}

#[test]
fn source_resistance_lowers_ripple_and_valley() {
    let stiff = reservoir(&Rectifier { source_ohm: 0.0, ..SMALL }).unwrap();
    let soft = reservoir(&SMALL).unwrap();
    assert!(soft.ripple.rms_a < 0.8 * stiff.ripple.rms_a);
    assert!(soft.valley_v < stiff.valley_v);
}

#[test]
fn halving_the_capacitance_still_finds_the_periodic_state_and_starving_it_does_not() {
    assert!(reservoir(&Rectifier { capacitance_f: 470e-6, ..SMALL }).is_some());
    let starved = Rectifier { capacitance_f: 47e-6, ..SMALL };
    assert_eq!(reservoir(&starved), None);
    assert_eq!(reservoir(&Rectifier { capacitance_f: f64::NAN, ..SMALL }), None);
}

#[test]
fn no_load_means_a_charged_capacitor_and_no_ripple() {
    let idle = reservoir(&Rectifier { load: Load::Current(0.0), ..SMALL }).unwrap();
    assert!(idle.ripple.rms_a < 1e-6 && (idle.peak_v - (24.0 * SQRT_2 - 1.8)).abs() < 1e-6);
}
