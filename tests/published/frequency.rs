//! Ripple multipliers over frequency.

use refarad::domain::Can;
use refarad::physics::frequency::{Multipliers, equivalent_current_a};

use super::assert_printed;

/// Vishay BCcomponents data sheet 056/057 PSM-SI, document 28340, revision 07-Nov-05, table 4: frequency in Hz; multiplier
/// for rated voltages of 10 to 25 V, 40 to 100 V, above 100 V. Reference 100 Hz, 85 °C snap-in.
const VISHAY_056_057: [(f64, [f64; 3]); 8] = [
    (50.0, [0.93, 0.91, 0.86]),
    (100.0, [1.0, 1.0, 1.0]),
    (200.0, [1.04, 1.05, 1.13]),
    (400.0, [1.07, 1.09, 1.21]),
    (1000.0, [1.11, 1.13, 1.29]),
    (2000.0, [1.13, 1.15, 1.32]),
    (4000.0, [1.15, 1.18, 1.35]),
    (10_000.0, [1.18, 1.22, 1.40]),
];

/// Vishay BCcomponents data sheet 136 RVI, document 28321, revision 16-Nov-05, table 4: frequency in Hz; multiplier for 10,
/// 16 to 25, 35 to 50, 63 to 100 V, each up to 12.5 mm and from 16 mm diameter. Reference 100 kHz, 105 °C.
const VISHAY_136_RVI: [(f64, [f64; 8]); 7] = [
    (100.0, [0.70, 0.83, 0.63, 0.69, 0.50, 0.60, 0.35, 0.50]),
    (300.0, [0.80, 0.90, 0.72, 0.79, 0.61, 0.71, 0.51, 0.64]),
    (1000.0, [0.88, 0.95, 0.80, 0.87, 0.72, 0.80, 0.66, 0.74]),
    (3000.0, [0.92, 0.98, 0.88, 0.92, 0.81, 0.88, 0.76, 0.83]),
    (10_000.0, [0.96, 0.99, 0.92, 0.96, 0.88, 0.93, 0.85, 0.90]),
    (30_000.0, [0.99, 1.0, 0.98, 0.99, 0.94, 0.96, 0.92, 0.95]),
    (100_000.0, [1.0; 8]),
];

/// Current at the rating frequency that heats as much as 1 A at `hz`, as a multiplier.
fn multiplier(can: &Can, hz: f64) -> f64 {
    let multipliers = Multipliers::of(can).unwrap();
    assert!(multipliers.assumed, "a default table is marked");
    equivalent_current_a(Some(&multipliers), can.ripple_hz.unwrap(), &[(hz, 1.0)]).unwrap().recip()
}

#[test]
fn snap_in_multipliers_are_those_of_vishay_document_28340() {
    // Each class by the lowest and highest rated voltage the sheet names for it.
    let classes = [[10.0, 25.0], [40.0, 100.0], [160.0, 450.0]];
    for (hz, row) in VISHAY_056_057 {
        for (printed, class) in row.into_iter().zip(classes) {
            for rated_v in class {
                // Rated at 50 Hz, where the published point is kept; the table is relative to 100 Hz.
                let can = Can { rated_v: Some(rated_v), ripple_hz: Some(50.0), ..Can::default() };
                assert_printed(multiplier(&can, hz) / multiplier(&can, 100.0), printed, 2);
            }
        }
    }
}

#[test]
fn radial_multipliers_are_those_of_vishay_document_28321() {
    let classes = [[6.3, 10.0], [16.0, 25.0], [35.0, 50.0], [63.0, 100.0]];
    for (hz, row) in VISHAY_136_RVI {
        for (printed, (class, diameter)) in
            row.into_iter().zip(classes.into_iter().flat_map(|c| [(c, [5.0, 12.5]), (c, [16.0, 18.0])]))
        {
            for (rated_v, diameter_mm) in class.into_iter().zip(diameter) {
                let can = Can {
                    rated_v: Some(rated_v),
                    ripple_hz: Some(1e5),
                    diameter_mm: Some(diameter_mm),
                    ..Can::default()
                };
                assert_printed(multiplier(&can, hz), printed, 2);
            }
        }
    }
}

/// The last row of document 28340 reads "10 kHz and above".
#[test]
fn the_last_multiplier_holds_above_its_frequency() {
    let can = Can { rated_v: Some(400.0), ripple_hz: Some(100.0), ..Can::default() };
    assert_printed(multiplier(&can, 66e3), 1.40, 2);
}
