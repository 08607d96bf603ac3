//! Life: worked examples.

use refarad::domain::{Can, EnduranceBasis, Technology};
use refarad::physics::life::{Conditions, LIFE_CAP_H, arrhenius_factor, capped_h, linear_damage, voltage_factor};

use super::assert_printed;
use super::support::{can, evaluate, job, phase, position};

/// A part at an ambient without ripple, tested without ripple.
fn unloaded(endurance_h: f64, temp_max_c: f64, ambient_c: f64) -> Conditions {
    Conditions {
        endurance_h,
        temp_max_c,
        rated_rise_k: 5.0,
        rise_assumed: false,
        tested_with_ripple: false,
        ambient_c,
        rise_share: 0.0,
        voltage_factor: 1.0,
    }
}

/// Wikipedia, "Aluminum electrolytic capacitor": 2000 h at 105 °C are 128 000 h at 45 °C.
#[test]
fn ten_kelvin_rule_of_wikipedia() {
    assert_printed(unloaded(2000.0, 105.0, 45.0).life(Technology::Wet).nominal_h, 128_000.0, 0);
}

/// A capacitor maker's glossary (machine-translated): 1000 h at 105 °C are 32 000 h at 55 °C.
#[test]
fn ten_kelvin_rule_of_a_makers_glossary() {
    assert_printed(unloaded(1000.0, 105.0, 55.0).life(Technology::Wet).nominal_h, 32_000.0, 0);
}

/// A component seller's note (qmhouse 507328): solid polymer, 1000 h at 125 °C are 100 000 h at 85 °C.
#[test]
fn twenty_kelvin_rule_of_solid_polymer() {
    assert_printed(unloaded(1000.0, 125.0, 85.0).life(Technology::Polymer).nominal_h, 100_000.0, 0);
}

/// Cosel technical information, electrolytic capacitor lifetime at varying ambient temperatures: 1000 h at 105 °C, equal
/// shares at 45, 55 and 65 °C (64 000, 32 000 and 16 000 h) are as a constant 57.2 °C.
#[test]
fn mixed_duty_of_cosel() {
    let at = |ambient_c| unloaded(1000.0, 105.0, ambient_c).life(Technology::Wet);
    for (ambient_c, printed) in [(45.0, 64_000.0), (55.0, 32_000.0), (65.0, 16_000.0)] {
        assert_printed(at(ambient_c).nominal_h, printed, 0);
    }
    let mixed = linear_damage([45.0, 55.0, 65.0].map(|ambient_c| (1.0 / 3.0, at(ambient_c)))).unwrap();
    assert_printed(mixed.nominal_h, 27_428.57, 2);
    let constant_h = |ambient_c| at(ambient_c).nominal_h;
    assert!(constant_h(57.15) > mixed.nominal_h && mixed.nominal_h > constant_h(57.25));
}

/// The same duty through every check of the program, with the equal shares entered as 1, 1 and 1.
#[test]
fn mixed_duty_of_cosel_through_the_life_check() {
    let mut position = position();
    position.stress.ripple = Some(Vec::new());
    position.stress.phases = Some([45.0, 55.0, 65.0].map(|ambient_c| phase(1.0, ambient_c, 1.0)).into());
    let part = Can { endurance_h: Some(1000.0), endurance_basis: Some(EnduranceBasis::Voltage), ..can() };
    let figures = evaluate(&job(vec![position]), &part).figures;
    assert_printed(figures.life_uncapped_h.unwrap(), 27_428.57, 2);
}

/// Beckhoff PS9011-2420 manual: 15 years are 131 400 h, the longest life stated.
#[test]
fn life_cap_of_beckhoff() {
    assert_printed(LIFE_CAP_H, 131_400.0, 0);
    assert_printed(capped_h(unloaded(5000.0, 105.0, 40.0).life(Technology::Wet).nominal_h), 131_400.0, 0);
    assert_printed(LIFE_CAP_H / 15.0, 8760.0, 0);
}

/// A public derivation note on the ten-degree rule: 5000 h at 105 °C brought to 40 °C by the law of Arrhenius.
#[test]
fn arrhenius_lives_of_the_note_on_the_ten_degree_rule() {
    for (activation_ev, printed) in [(0.50, 120_823.0), (0.60, 228_446.0), (0.90, 1_544_157.0)] {
        assert_printed(5000.0 * arrhenius_factor(activation_ev, 40.0, 105.0), printed, 0);
    }
}

/// The same note: activation energy in eV for which 10 K are exactly a factor of two, 0.832 from 105 to 95 °C, 0.663 from 65
/// to 55 °C, 0.549 from 35 to 25 °C.
#[test]
fn activation_energies_hidden_in_the_ten_degree_rule() {
    for (hot_c, printed) in [(105.0, 0.832), (65.0, 0.663), (35.0, 0.549)] {
        // The factor is the exponential of the energy times what 1 eV gives.
        let doubling_ev = 2f64.ln() / arrhenius_factor(1.0, hot_c - 10.0, hot_c).ln();
        assert_printed(doubling_ev, printed, 3);
    }
}

/// The band's 0.68 eV lies between what the ten-degree rule hides at 105 °C and at 35 °C, so that its law crosses the rule
/// inside the range of use.
#[test]
fn the_bands_activation_energy_crosses_the_ten_degree_rule_in_the_range_of_use() {
    let cool = unloaded(5000.0, 105.0, 65.0).life(Technology::Wet);
    assert_printed(cool.low_h, 5000.0 * arrhenius_factor(0.68, 65.0, 105.0), 3);
    let slope = |ambient_c| arrhenius_factor(0.68, ambient_c - 10.0, ambient_c);
    assert!(slope(105.0) < 2.0 && slope(65.0) > 2.0);
}

/// Albertsen, Electrolytic capacitor lifetime estimation, Jianghai Europe 2010 (second-hand): 3.59 at 0.6 of the rated
/// voltage.
#[test]
fn voltage_factor_of_albertsen() {
    assert_printed(voltage_factor(0.6 * 400.0, 400.0), 3.586, 3);
    assert_printed(voltage_factor(0.6 * 400.0, 400.0), 3.59, 2);
    assert_printed(voltage_factor(400.0, 400.0), 1.0, 9);
}
