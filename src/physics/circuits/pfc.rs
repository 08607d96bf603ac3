//! Storage capacitor behind a boost power factor stage in continuous conduction.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

use crate::physics::range::{non_negative, positive};
use crate::physics::spectrum::{Line, Ripple};

/// Switching harmonics listed; the line's carrier groups lie this far apart, so a few are enough.
const CARRIERS: u32 = 8;

/// Points over a quarter of the line period for the average of a carrier harmonic; Simpson's rule, error far below 1e-6.
const POINTS: u32 = 400;

/// The part at twice the line frequency: `Io/sqrt2` in A rms (published, TI UCC28180 data sheet SLUSBQ5A p. 30).
///
/// `output_a` is the mean current of what the capacitor feeds. `None` unless `output_a` >= 0 and `line_hz` > 0.
///
/// ```
/// // TI UCC28180 data sheet p. 30: 0.653 A at 0.923 A.
/// let ripple = refarad::physics::circuits::pfc::line_part(0.923, 47.0).unwrap();
/// assert!((ripple.rms_a - 0.653).abs() < 5e-4);
/// ```
pub fn line_part(output_a: f64, line_hz: f64) -> Option<Ripple> {
    Ripple::single(2.0 * positive(line_hz)?, non_negative(output_a)? * FRAC_1_SQRT_2)
}

/// The part at the switching frequency and its multiples: `Io sqrt(16 Vo/(3 pi Vpk) - 1.5)` in A rms (published, TI UCC28180
/// data sheet SLUSBQ5A p. 30).
///
/// The lines are the quasi-static average, over the line period, of the harmonics of the diode's pulses (duty `Vpk|sin|/Vo`);
/// each stands for a group of sidebands a few line frequencies wide (derived: their sum over all orders is the formula).
/// `None` unless `output_v` >= `line_peak_v` > 0, as a boost stage needs.
///
/// ```
/// // TI UCC28180 data sheet p. 30: 1.848 A.
/// let ripple = refarad::physics::circuits::pfc::switching_part(0.923, 390.0, 85.0 * 2f64.sqrt(), 116e3).unwrap();
/// assert!((ripple.rms_a - 1.848).abs() < 5e-4);
/// ```
pub fn switching_part(output_a: f64, output_v: f64, line_peak_v: f64, switching_hz: f64) -> Option<Ripple> {
    let output_a = non_negative(output_a)?;
    let switching_hz = positive(switching_hz)?;
    let ratio = positive(line_peak_v)? / positive(output_v)?;
    if ratio > 1.0 {
        return None;
    }
    let rms_a = output_a * (16.0 / (3.0 * PI * ratio) - 1.5).sqrt();
    let lines = (1..=CARRIERS)
        .map(|k| Line { hz: f64::from(k) * switching_hz, a: output_a * carrier_harmonic(ratio, f64::from(k)) })
        .collect();
    Ripple::completed(lines, f64::from(CARRIERS + 1) * switching_hz, rms_a)
}

/// Both parts together (published, same page: `sqrt(2f^2 + HF^2)`). A converter fed from the same capacitor adds its own input
/// ripple, which is not in here.
///
/// ```
/// // TI UCC28180 data sheet p. 30: 1.96 A together.
/// let peak_v = 85.0 * 2f64.sqrt();
/// let ripple = refarad::physics::circuits::pfc::storage_capacitor(0.923, 390.0, peak_v, 47.0, 116e3).unwrap();
/// assert!((ripple.rms_a - 1.96).abs() < 5e-3);
/// ```
pub fn storage_capacitor(
    output_a: f64,
    output_v: f64,
    line_peak_v: f64,
    line_hz: f64,
    switching_hz: f64,
) -> Option<Ripple> {
    Some(line_part(output_a, line_hz)?.and(switching_part(output_a, output_v, line_peak_v, switching_hz)?))
}

/// Rms of carrier harmonic `k` for an output of 1 A: line current `(2/ratio) sin`, diode duty `ratio sin`.
fn carrier_harmonic(ratio: f64, k: f64) -> f64 {
    let step = PI / 2.0 / f64::from(POINTS);
    let square = |i: u32| {
        let sine = (f64::from(i) * step).sin();
        let amplitude = 2.0 * sine / ratio * (PI * k * ratio * sine).sin() / (PI * k);
        2.0 * amplitude * amplitude
    };
    let sum: f64 = (1..POINTS).map(|i| square(i) * if i % 2 == 1 { 4.0 } else { 2.0 }).sum();
    ((square(0) + sum + square(POINTS)) / (3.0 * f64::from(POINTS))).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::spectrum::rms_a;

    #[test]
    fn carrier_harmonics_of_all_orders_add_up_to_the_published_rms() {
        let ratio: f64 = 120.0 / 390.0;
        let sum: f64 = (1..=1000).map(|k| carrier_harmonic(ratio, f64::from(k)).powi(2)).sum();
        let formula = 16.0 / (3.0 * PI * ratio) - 1.5;
        assert!((sum / formula - 1.0).abs() < 5e-3, "{sum} {formula}");
    }

    #[test]
    fn lines_carry_exactly_the_rms_and_lie_where_they_must() {
        let ripple = storage_capacitor(0.923, 390.0, 120.0, 47.0, 118e3).unwrap();
        assert!((rms_a(&ripple.lines) / ripple.rms_a - 1.0).abs() < 1e-12);
        assert!((ripple.lines[0].hz - 94.0).abs() < 1e-9);
        assert!((ripple.lines[1].hz - 118e3).abs() < 1e-6);
    }

    #[test]
    fn a_boost_stage_cannot_deliver_less_than_the_line_peak() {
        assert_eq!(switching_part(1.0, 300.0, 325.0, 1e5), None);
        assert!(switching_part(1.0, 325.0, 325.0, 1e5).is_some());
    }
}
