//! Dissipation factor, series resistance and its rise in the cold.

use refarad::domain::{Can, Check, Outcome, Technology};
use refarad::physics::esr::{Ladder, at_hz, from_tan_delta_mohm, usual_tan_delta};

use super::assert_printed;
use super::support::{can, evaluate, job, position};

/// Nichicon HE data sheet: rated voltage and largest dissipation factor at 120 Hz.
const NICHICON_HE: [(f64, f64); 8] =
    [(6.3, 0.22), (10.0, 0.19), (16.0, 0.16), (25.0, 0.14), (35.0, 0.12), (50.0, 0.10), (63.0, 0.09), (100.0, 0.08)];

/// Nichicon UPW data sheet, the part of the table above 100 V.
const NICHICON_UPW_FROM_160_V: [(f64, f64); 7] =
    [(160.0, 0.15), (200.0, 0.15), (250.0, 0.15), (315.0, 0.20), (350.0, 0.20), (400.0, 0.25), (450.0, 0.25)];

#[test]
fn the_loss_factor_ladder_is_that_of_nichicon_he_and_upw() {
    // Both sheets print the same figures up to 100 V.
    for (rated_v, printed) in NICHICON_HE.into_iter().chain(NICHICON_UPW_FROM_160_V) {
        assert_printed(usual_tan_delta(Ladder::Limit, rated_v, 470.0), printed, 2);
    }
}

/// The same two sheets: 0.02 more for every 1000 µF above 1000 µF. At whole thousands nothing has to be read into it.
#[test]
fn the_loss_factor_grows_with_capacitance_as_nichicon_prints() {
    for (capacitance_uf, added) in [(1000.0, 0.0), (2000.0, 0.02), (3000.0, 0.04), (10_000.0, 0.18)] {
        assert_printed(usual_tan_delta(Ladder::Limit, 25.0, capacitance_uf), 0.14 + added, 2);
    }
}

/// Panasonic SU data sheet agrees up to 100 V and at 350 V.
#[test]
fn the_loss_factor_ladder_agrees_with_panasonic_su_up_to_100_v() {
    for (rated_v, printed) in NICHICON_HE.into_iter().chain([(350.0, 0.20)]) {
        assert_printed(usual_tan_delta(Ladder::Limit, rated_v, 1000.0), printed, 2);
    }
    record("Panasonic SU", &[(160.0, 0.16), (200.0, 0.18), (250.0, 0.18), (400.0, 0.20), (450.0, 0.20)], 0.65..1.3);
}

/// Panasonic FA data sheet agrees up to 50 V and prints 0.08 at 63 V.
#[test]
fn the_loss_factor_ladder_agrees_with_panasonic_fa_up_to_50_v() {
    for (rated_v, printed) in [(6.3, 0.22), (10.0, 0.19), (16.0, 0.16), (25.0, 0.14), (35.0, 0.12), (50.0, 0.10)] {
        assert_printed(usual_tan_delta(Ladder::Limit, rated_v, 1000.0), printed, 2);
    }
    record("Panasonic FA", &[(63.0, 0.08)], 1.0..1.2);
}

/// Nichicon UPM data sheet: equal up to 50 V, at 100 V and from 315 V; 0.20 where the ladder has 0.15.
#[test]
fn the_loss_factor_ladder_differs_from_nichicon_upm_at_160_to_250_v() {
    for (rated_v, printed) in [(50.0, 0.10), (100.0, 0.08), (315.0, 0.20), (350.0, 0.20), (400.0, 0.25), (450.0, 0.25)]
    {
        assert_printed(usual_tan_delta(Ladder::Limit, rated_v, 1000.0), printed, 2);
    }
    record("Nichicon UPM", &[(63.0, 0.08), (160.0, 0.20), (200.0, 0.20), (250.0, 0.20)], 0.74..1.2);
}

/// Keltron radial low-ESR data sheet (100 Hz, 27 °C, printed in percent) never allows more than the ladder.
#[test]
fn the_loss_factor_ladder_is_never_below_the_keltron_low_esr_limits() {
    let low_voltage = [
        (6.3, 0.20),
        (10.0, 0.16),
        (16.0, 0.14),
        (25.0, 0.12),
        (35.0, 0.11),
        (50.0, 0.10),
        (63.0, 0.09),
        (100.0, 0.08),
    ];
    record("Keltron", &low_voltage, 0.999..1.2);
    record("Keltron", &[(160.0, 0.11), (250.0, 0.11), (350.0, 0.14), (400.0, 0.13), (450.0, 0.12)], 1.3..2.1);
}

/// Nichicon UH data sheet (125 °C chip parts) allows more than the ladder of 105 °C radial parts: an assumed
/// dissipation factor is up to a sixth too low for such parts.
#[test]
fn the_loss_factor_ladder_is_below_the_limits_of_nichicon_uh_chips() {
    record("Nichicon UH", &[(10.0, 0.22), (16.0, 0.18), (25.0, 0.16), (35.0, 0.14), (50.0, 0.12)], 0.83..0.9);
}

/// Prints the ladder over a sheet's figures and checks the range of the ratio.
fn record(series: &str, sheet: &[(f64, f64)], range: std::ops::Range<f64>) {
    for &(rated_v, printed) in sheet {
        let ratio = usual_tan_delta(Ladder::Limit, rated_v, 470.0) / printed;
        println!("{series}, {rated_v} V: ladder over limit {ratio:.2}");
        assert!(range.contains(&ratio), "{series} {rated_v} V: {ratio}");
    }
}

/// KMQ 1800 µF 250 V as transcribed in an open hardware design note: ESR in mΩ at dissipation factors 0.15, 0.20 and
/// 0.22 at 120 Hz; the formula is that of KEMET A4001.
#[test]
fn esr_from_the_loss_factor_of_a_kmq_part() {
    for (tan_delta, printed) in [(0.15, 110.5), (0.20, 147.4), (0.22, 162.1)] {
        assert_printed(from_tan_delta_mohm(tan_delta, 1800.0), printed, 1);
        let can = Can {
            technology: Some(Technology::Wet),
            capacitance_uf: Some(1800.0),
            rated_v: Some(250.0),
            tan_delta: Some(tan_delta),
            ..Can::default()
        };
        assert_printed(at_hz(&can, 120.0).unwrap().mohm, printed, 1);
    }
}

/// Rated voltages of the cold ratio tables.
const COLD_V: [f64; 8] = [6.3, 10.0, 16.0, 25.0, 35.0, 50.0, 63.0, 100.0];

/// Impedance at -25 °C (first) and -40 °C (second) over impedance at 20 °C, 120 Hz, at [`COLD_V`]; 0 where none is printed.
/// Data sheets Nichicon HE, Panasonic SU, Nichicon UH; Keltron radial (100 Hz, 27 °C).
const COLD: [(&str, [f64; 8], [f64; 8]); 4] = [
    ("Nichicon HE", [4., 3., 2., 2., 2., 2., 2., 2.], [8., 6., 4., 3., 3., 3., 3., 3.]),
    ("Panasonic SU", [4., 3., 2., 2., 2., 2., 2., 0.], [8., 6., 4., 4., 3., 3., 3., 0.]),
    ("Nichicon UH", [0., 4., 3., 2., 2., 2., 0., 0.], [0., 8., 6., 4., 3., 3., 0., 0.]),
    ("Keltron", [6., 4., 3., 3., 2., 2., 2., 2.], [12., 8., 6., 5., 4., 3., 3., 3.]),
];

/// ESR in the cold over ESR, and the outcome of the ESR check against a limit in the cold. Checked at 120 Hz, where the ratio
/// is given.
fn cold(rated_v: f64, z_ratio: f64, z_cold_c: f64, ambient_min_c: f64, limit_over_esr: f64) -> (f64, Outcome) {
    let part = Can { rated_v: Some(rated_v), z_ratio: Some(z_ratio), z_cold_c: Some(z_cold_c), ..can() };
    let part = Can { esr_hz: Some(120.0), ..part };
    let mut position = position();
    position.stress.ambient_min_c = Some(ambient_min_c);
    position.needs.esr_hz = Some(120.0);
    position.needs.esr_cold_max_mohm = Some(limit_over_esr * 60.0);
    let evaluation = evaluate(&job(vec![position]), &part);
    (evaluation.figures.esr_cold_mohm.unwrap() / 60.0, evaluation.outcome(Check::Esr))
}

#[test]
fn a_printed_cold_ratio_multiplies_the_esr_at_its_temperature() {
    for (series, at_25, at_40) in COLD {
        for (z_cold_c, ratios) in [(-25.0, at_25), (-40.0, at_40)] {
            for (rated_v, ratio) in COLD_V.into_iter().zip(ratios).filter(|r| r.1 > 0.0) {
                let at = |limit| cold(rated_v, ratio, z_cold_c, z_cold_c, limit);
                assert_eq!(at(ratio), (ratio, Outcome::Pass), "{series} {rated_v} V");
                assert_eq!(at(ratio / 1.2).1, Outcome::Fail, "{series} {rated_v} V");
            }
        }
    }
}

/// A part carries one ratio. From the one printed for -25 °C the ratio at -40 °C is taken as twice that, 1.5 times for 50 to
/// 100 V, and what these tables print is never more.
#[test]
fn a_ratio_for_minus_25_is_never_short_at_minus_40() {
    for (series, at_25, at_40) in COLD {
        for ((rated_v, mild), printed) in COLD_V.into_iter().zip(at_25).zip(at_40).filter(|r| r.1 > 0.0) {
            let (used, outcome) = cold(rated_v, mild, -25.0, -40.0, 100.0);
            println!("{series}, {rated_v} V: at -40 °C printed {printed}, taken {used}");
            assert!((1.0..=1.34).contains(&(used / printed)), "{series} {rated_v} V: {}", used / printed);
            assert_eq!(outcome, Outcome::Marginal, "15 K below the printed ratio it is never a pass");
        }
    }
}

/// The same tables the other way: from a ratio printed for -40 °C the one at -25 °C is taken on the line of the logarithm.
/// Makers print up to a fifth more there for parts below 16 V, hardly less elsewhere; recorded.
#[test]
fn a_ratio_for_minus_40_is_near_the_printed_one_at_minus_25() {
    for (series, at_25, at_40) in COLD {
        for ((rated_v, mild), printed) in COLD_V.into_iter().zip(at_25).zip(at_40).filter(|r| r.1 > 0.0) {
            let over = cold(rated_v, printed, -40.0, -25.0, 100.0).0 / mild;
            println!("{series}, {rated_v} V: taken over printed at -25 °C {over:.2}");
            assert!((0.99..1.5).contains(&over), "{series} {rated_v} V: {over}");
        }
    }
}
