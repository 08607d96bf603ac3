//! Stored energy and discharge against our own ngspice-39 runs, arithmetic and the quoted standards.

use refarad::physics::energy::{THRESHOLDS, bleeder_ohm, charge_c, stored_j, thresholds_reached, time_to_v_s};

use crate::printed::{near, reads};

#[test]
fn bleeding_down_takes_as_long_as_simulated() {
    // ngspice-39, run 11: 470 uF at 400 V through 5.6 kohm: 60 V at 4.99322 s, 34 V at 6.48815 s, 59.846 V after 5 s
    reads(time_to_v_s(470e-6, 5600.0, 400.0, 60.0).unwrap(), "4.99322");
    reads(time_to_v_s(470e-6, 5600.0, 400.0, 34.0).unwrap(), "6.48815");
    near(time_to_v_s(470e-6, 5600.0, 400.0, 59.846).unwrap(), 5.0, 1e-5);
    let largest = bleeder_ohm(470e-6, 400.0, 60.0, 5.0).unwrap();
    assert!((5600.0..5650.0).contains(&largest), "{largest}");
}

#[test]
fn stored_energy_is_half_c_u_squared() {
    // arithmetic: 470 uF 400 V; 100 uF 450 V; 1000 uF 63 V
    reads(stored_j(470e-6, 400.0).unwrap(), "37.6");
    reads(stored_j(100e-6, 450.0).unwrap(), "10.125");
    near(stored_j(1000e-6, 63.0).unwrap(), 1.9845, 1e-12);
    // ngspice-39, run 13: 325.27 V into 470 uF through 10 + 0.1 ohm: 24.863 J, of which 10/10.1 heats the resistor: 24.617 J
    let joule = stored_j(470e-6, 325.27).unwrap();
    reads(joule, "24.863");
    reads(joule * 10.0 / 10.1, "24.617");
}

#[test]
fn thresholds_carry_the_figures_of_their_clauses() {
    let of = |source: &str| {
        THRESHOLDS.iter().find(|threshold| threshold.source.starts_with(source)).unwrap_or_else(|| panic!("{source}"))
    };
    // IEC 60204-1 6.2.4, quoted: at most 60 V within 5 s; 60 uC exempt
    let machine = of("IEC 60204-1, 6.2.4");
    assert_eq!((machine.from_v, machine.within_s, machine.exempt_c), (60.0, Some(5.0), 60e-6));
    // IEC 60950-1, quoted: at 2 V and above, over 20 J
    let equipment = of("IEC 60950-1");
    assert_eq!((equipment.from_v, equipment.from_j), (2.0, 20.0));
    // DOE/LBNL electrical safety manual, read: tables 2.2.13, 2.3.3, 2.3.5
    let shock = of("DOE/LBNL electrical safety manual, table 2.2.13");
    assert_eq!((shock.from_v, shock.from_j), (100.0, 10.0));
    let arc = of("DOE/LBNL electrical safety manual, table 2.3.3");
    assert_eq!((arc.from_v, arc.from_j), (100.0, 10_000.0));
    let burn = of("DOE/LBNL electrical safety manual, table 2.3.5");
    assert_eq!((burn.below_v, burn.from_j), (100.0, 100.0));
}

#[test]
fn the_charge_limit_and_the_capacitance_limit_of_the_household_standard_meet() {
    // IEC 60335-1 8.1.4, quoted: C <= 0.1 uF up to 450 V, Q <= 45 uC above: the same charge where they meet
    near(charge_c(0.1e-6, 450.0).unwrap(), 45e-6, 1e-12);
    // IEC 60950-1 2.1.1.7, quoted: time constant at most 1 s: 1 uF needs 1 Mohm, which leaves 1/e after 1 s
    near(time_to_v_s(1e-6, 1e6, 325.0, 325.0 / std::f64::consts::E).unwrap(), 1.0, 1e-12);
}

#[test]
fn a_mains_reservoir_reaches_the_shock_the_energy_and_the_machine_threshold() {
    // derived from the rules above: 470 uF at 400 V, 37.6 J
    let sources: Vec<&str> = thresholds_reached(470e-6, 400.0).unwrap().iter().map(|t| t.source).collect();
    assert_eq!(
        sources,
        ["IEC 60204-1, 6.2.4", "IEC 60950-1, hazardous energy test", "DOE/LBNL electrical safety manual, table 2.2.13"]
    );
}
