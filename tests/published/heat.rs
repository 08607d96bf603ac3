//! Ripple over ambient, moving air, core and case.

use refarad::domain::{Can, Mounting, Technology};
use refarad::physics::heat::{
    AmbientFactors, air_multiplier, core_rise_k, core_to_case_ratio, default_rated_rise_k, rise_per_watt,
};

use super::assert_printed;

fn factor(temp_max_c: f64, own_table: &str, ambient_c: f64) -> f64 {
    let own = (!own_table.is_empty()).then(|| own_table.parse().unwrap());
    let can = Can { temp_max_c: Some(temp_max_c), ripple_temp_factors: own, ..Can::default() };
    AmbientFactors::of(&can).unwrap().at(ambient_c)
}

/// Rubycon Corp. Engineering Division, lifetime calculation sheet for aluminium electrolytic capacitors: ripple
/// coefficients that keep the life at its rated value.
#[test]
fn ripple_coefficients_over_ambient_are_those_of_rubycon() {
    for (ambient_c, printed) in [(105.0, 1.0), (85.0, 1.7), (65.0, 2.1), (40.0, 2.1)] {
        assert_printed(factor(105.0, "", ambient_c), printed, 1);
    }
    for (ambient_c, printed) in [(85.0, 1.0), (70.0, 1.6), (50.0, 2.0), (30.0, 2.0)] {
        assert_printed(factor(85.0, "", ambient_c), printed, 1);
    }
}

/// The same sheet, families USR, USC and USG: 1.0 at 85 °C, 1.3 up to 65 °C. A family with a table of its own.
#[test]
fn a_familys_own_coefficients_replace_the_default() {
    for (ambient_c, printed) in [(85.0, 1.0), (65.0, 1.3), (40.0, 1.3)] {
        assert_printed(factor(85.0, "65:1.3", ambient_c), printed, 1);
    }
}

/// GE Capacitor application data, table AP3: air speed in ft/min and ripple multiplier.
#[test]
fn ripple_multipliers_in_moving_air_are_those_of_ge() {
    let table = [(0.0, 1.0), (50.0, 1.15), (100.0, 1.25), (150.0, 1.4), (200.0, 1.5), (250.0, 1.6), (300.0, 1.7)];
    for (airflow_lfm, printed) in table {
        let air = air_multiplier(airflow_lfm, Some(25.0)).0;
        assert_printed(air, printed, 2);
        // The multiplier says how much more current gives the rise of still air.
        assert_printed(core_rise_k(5.0, printed, 1.0, air), 5.0, 9);
    }
}

/// Rubycon lifetime calculation sheet: core rise over case rise by case diameter in mm.
#[test]
fn core_to_case_ratios_are_those_of_rubycon() {
    let table = [
        (5.0, 1.0),
        (8.0, 1.0),
        (10.0, 1.1),
        (12.5, 1.1),
        (16.0, 1.2),
        (18.0, 1.2),
        (20.0, 1.3),
        (22.0, 1.3),
        (25.0, 1.4),
        (30.0, 1.5),
        (35.0, 1.6),
    ];
    for (diameter_mm, printed) in table {
        assert_printed(core_to_case_ratio(diameter_mm), printed, 1);
    }
}

/// Wikipedia, "Aluminum electrolytic capacitor": core rise at rated ripple of 85, 105 and 125 °C parts.
#[test]
fn default_core_rises_are_those_printed_in_wikipedia() {
    for (temp_max_c, printed) in [(85.0, 10.0), (105.0, 5.0), (125.0, 3.0)] {
        assert_printed(default_rated_rise_k(Technology::Wet, temp_max_c), printed, 0);
    }
}

/// F+T (Fischer & Tausche) catalogue, section 5, thermal model, still air: diameter and length in mm, hot spot to case and
/// case to ambient in K/W.
const SCREW_CANS: [(f64, f64, f64, f64); 4] =
    [(90.0, 98.0, 0.7, 2.2), (90.0, 69.0, 0.6, 2.6), (75.0, 69.0, 0.6, 3.3), (50.0, 69.0, 0.6, 5.3)];

/// The balance of large screw cans is fitted to this table, within 8 % of it, and orders the cans like the catalogue does.
#[test]
fn the_heat_balance_of_screw_cans_is_within_eight_percent_of_the_f_and_t_catalogue() {
    let ours = SCREW_CANS.map(|(diameter_mm, length_mm, core_to_case, case_to_ambient)| {
        let rise = rise_per_watt(diameter_mm, length_mm, Some(Mounting::Screw));
        let (case, core) = (rise.case_k / case_to_ambient, rise.core_k / (core_to_case + case_to_ambient));
        println!("F+T {diameter_mm} x {length_mm} mm: balance over catalogue, case {case:.3}, core {core:.3}");
        assert!((case - 1.0).abs() < 0.08 && (core - 1.0).abs() < 0.08, "case {case}, core {core}");
        rise.core_k
    });
    assert!(ours.windows(2).all(|pair| pair[0] < pair[1]), "{ours:?}: the smaller the can, the hotter");
}
