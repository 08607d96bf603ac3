//! Leakage current limits.

use refarad::domain::Technology;
use refarad::physics::leakage::usual_ua;

use super::assert_printed;

/// How a sheet combines its two terms.
#[derive(Clone, Copy)]
enum Combine {
    Greater,
    Sum,
    Smaller,
}

/// A limit as printed: `factor * C * U` in µA with C in µF, and a second figure in µA.
struct Limit {
    series: &'static str,
    rated_v: &'static [f64],
    factor: f64,
    second_ua: f64,
    combine: Combine,
}

impl Limit {
    fn at_ua(&self, capacitance_uf: f64, rated_v: f64) -> f64 {
        let product_ua = self.factor * capacitance_uf * rated_v;
        match self.combine {
            Combine::Greater => product_ua.max(self.second_ua),
            Combine::Sum => product_ua + self.second_ua,
            Combine::Smaller => product_ua.min(self.second_ua),
        }
    }

    /// Ours over the sheet's at capacitances from 1 to 10 000 µF.
    fn ratios(&self) -> impl Iterator<Item = f64> {
        let capacitances_uf = [1.0, 10.0, 47.0, 100.0, 470.0, 1000.0, 2200.0, 10_000.0];
        let at = move |c, v| usual_ua(Technology::Wet, c, v) / self.at_ua(c, v);
        self.rated_v.iter().flat_map(move |&v| capacitances_uf.map(|c| at(c, v)))
    }
}

const LOW_V: &[f64] = &[6.3, 10.0, 16.0, 25.0, 35.0, 50.0, 63.0, 100.0];
const HIGH_V: &[f64] = &[160.0, 200.0, 250.0, 315.0, 350.0, 400.0, 450.0];

const fn limit(series: &'static str, rated_v: &'static [f64], factor: f64, second_ua: f64, combine: Combine) -> Limit {
    Limit { series, rated_v, factor, second_ua, combine }
}

/// Data sheets that print the rule the program uses: Nichicon HE, Panasonic SU (2 minutes), Panasonic NHG, KEMET ESL.
const SAME: [Limit; 6] = [
    limit("Nichicon HE", LOW_V, 0.01, 3.0, Combine::Greater),
    limit("Panasonic SU", LOW_V, 0.01, 3.0, Combine::Greater),
    limit("Panasonic SU", HIGH_V, 0.06, 10.0, Combine::Sum),
    limit("Panasonic NHG", LOW_V, 0.01, 3.0, Combine::Greater),
    limit("Panasonic NHG", HIGH_V, 0.06, 10.0, Combine::Sum),
    limit("KEMET ESL", &[16.0, 25.0, 35.0, 50.0, 63.0, 100.0], 0.01, 3.0, Combine::Greater),
];

#[test]
fn the_usual_leakage_limit_is_that_of_nichicon_he_panasonic_su_nhg_and_kemet_esl() {
    for sheet in SAME {
        for ratio in sheet.ratios() {
            assert_printed(ratio, 1.0, 9);
        }
    }
}

/// Limits worked out by hand from the same sheets, µA.
#[test]
fn usual_leakage_limits_by_hand() {
    let table = [
        (1.0, 16.0, 3.0),       // Nichicon HE: 0.16 µA, so the floor
        (470.0, 25.0, 117.5),   // Nichicon HE
        (4700.0, 63.0, 2961.0), // Panasonic SU
        (220.0, 200.0, 2650.0), // Panasonic NHG
        (100.0, 450.0, 2710.0), // Panasonic SU
    ];
    for (capacitance_uf, rated_v, by_hand) in table {
        assert_printed(usual_ua(Technology::Wet, capacitance_uf, rated_v), by_hand, 1);
    }
}

/// Nippon Chemi-Con FAQ on leakage current: 35 V 2200 µF, 770 µA.
#[test]
fn leakage_limit_of_the_nippon_chemi_con_example() {
    assert_printed(usual_ua(Technology::Wet, 2200.0, 35.0), 770.0, 0);
}

/// Sheets that allow less than the assumed figure: KEMET ESL, Keltron radial and KEMET ALC12 above 100 V. A part of theirs
/// without its own figure may be refused though it is good, never the other way round.
#[test]
fn the_usual_leakage_limit_is_on_the_careful_side_of_kemet_and_keltron_high_voltage_parts() {
    let sheets = [
        limit("KEMET ESL", HIGH_V, 0.02, 10.0, Combine::Sum),
        limit("Keltron radial", HIGH_V, 0.02, 10.0, Combine::Sum),
        limit("KEMET ALC12", &HIGH_V[1..], 0.003, 6000.0, Combine::Smaller),
    ];
    for sheet in sheets {
        for ratio in sheet.ratios() {
            println!("{}: usual over limit {ratio:.1}", sheet.series);
            assert!(ratio > 1.0, "{}: {ratio}", sheet.series);
        }
    }
}

/// Sheets that allow more than the assumed figure, which is why it stays marked: Nichicon UPW/UPM and Panasonic SU after
/// one minute, Nichicon UH, Keltron's floor of 4 µA, Nichicon UPW/UPM from 160 V up to a CV of 1000.
#[test]
fn the_usual_leakage_limit_is_short_of_some_sheets_by_a_recorded_factor() {
    let sheets = [
        (limit("Nichicon UPW/UPM", LOW_V, 0.03, 4.0, Combine::Greater), 0.25..0.80),
        (limit("Panasonic SU, 1 min", LOW_V, 0.03, 4.0, Combine::Greater), 0.25..0.80),
        (limit("Nichicon UH", &LOW_V[1..6], 0.03, 4.0, Combine::Greater), 0.25..0.80),
        (limit("Keltron radial", LOW_V, 0.01, 4.0, Combine::Greater), 0.74..1.01),
    ];
    for (sheet, range) in sheets {
        for ratio in sheet.ratios() {
            assert!(range.contains(&ratio), "{}: {ratio}", sheet.series);
        }
    }
    let small = limit("Nichicon UPW/UPM, CV up to 1000", HIGH_V, 0.1, 40.0, Combine::Sum);
    let large = limit("Nichicon UPW/UPM, CV above 1000", HIGH_V, 0.04, 100.0, Combine::Sum);
    for &rated_v in HIGH_V {
        for capacitance_uf in [1.0, 2.2, 3.3, 4.7, 10.0, 47.0, 100.0, 470.0] {
            let sheet = if capacitance_uf * rated_v <= 1000.0 { &small } else { &large };
            let ratio = usual_ua(Technology::Wet, capacitance_uf, rated_v) / sheet.at_ua(capacitance_uf, rated_v);
            println!("{}, {capacitance_uf} µF {rated_v} V: usual over limit {ratio:.2}", sheet.series);
            assert!((0.3..1.5).contains(&ratio), "{}: {ratio}", sheet.series);
        }
    }
}
