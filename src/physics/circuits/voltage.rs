//! Ripple voltage and the capacitance a circuit needs, from the data sheets' design sections.
//!
//! Voltages in V, currents in A, frequencies in Hz, capacitances in F. `None` outside the ranges named.

use std::f64::consts::PI;

use crate::physics::range::{non_negative, open_unit, positive};

/// Largest input ripple voltage of a buck stage, peak to peak, at a duty of one half: `Io/(4 f C)` (published, TI LM5088 data sheet
/// SNVS600H p. 21). ESR comes on top.
#[must_use]
pub fn buck_input_ripple_v(output_a: f64, switching_hz: f64, capacitance_f: f64) -> Option<f64> {
    Some(non_negative(output_a)? / (4.0 * positive(switching_hz)? * positive(capacitance_f)?))
}

/// Output ripple voltage of a boost stage, peak to peak, without the ESR's part: `(Io/C)(D/f)` (published, TI LM5022 data sheet SNVS480G p. 17).
#[must_use]
pub fn boost_output_ripple_v(output_a: f64, duty: f64, switching_hz: f64, capacitance_f: f64) -> Option<f64> {
    Some(non_negative(output_a)? * open_unit(duty)? / (positive(switching_hz)? * positive(capacitance_f)?))
}

/// Least output capacitance of a boost stage for `ripple_v` peak to peak: `(Io/dV)(D/f)` (published, same page).
#[must_use]
pub fn boost_output_capacitance_f(output_a: f64, duty: f64, switching_hz: f64, ripple_v: f64) -> Option<f64> {
    Some(non_negative(output_a)? * open_unit(duty)? / (positive(switching_hz)? * positive(ripple_v)?))
}

/// Least input capacitance that damps a boost stage's source: `2 Ls Vo Io/(Vin^2 Rs)` (published, TI LM5022 data sheet SNVS480G p. 18).
/// `source_h` and `source_ohm` are the inductance and resistance of the source.
#[must_use]
pub fn boost_input_capacitance_f(
    source_h: f64,
    source_ohm: f64,
    input_v: f64,
    output_v: f64,
    output_a: f64,
) -> Option<f64> {
    let input_v = positive(input_v)?;
    Some(
        2.0 * positive(source_h)? * positive(output_v)? * non_negative(output_a)?
            / (input_v * input_v * positive(source_ohm)?),
    )
}

/// Capacitance that carries `output_w` for `hold_s` while its voltage falls from `start_v` to `end_v`: `2 P t/(V1^2 - V2^2)`
/// (published, TI UCC28180 data sheet SLUSBQ5A p. 30). `None` unless start > end >= 0.
#[must_use]
pub fn hold_up_capacitance_f(output_w: f64, hold_s: f64, start_v: f64, end_v: f64) -> Option<f64> {
    let (start_v, end_v) = (positive(start_v)?, non_negative(end_v)?);
    let span_v2 = positive((start_v - end_v) * (start_v + end_v))?;
    Some(2.0 * non_negative(output_w)? * non_negative(hold_s)? / span_v2)
}

/// Time in s for which `capacitance_f` carries `output_w` from `start_v` down to `end_v`, the same balance the other way round.
#[must_use]
pub fn hold_up_s(capacitance_f: f64, output_w: f64, start_v: f64, end_v: f64) -> Option<f64> {
    let (start_v, end_v) = (positive(start_v)?, non_negative(end_v)?);
    let span_v2 = non_negative((start_v - end_v) * (start_v + end_v))?;
    Some(positive(capacitance_f)? * span_v2 / (2.0 * positive(output_w)?))
}

/// **Amplitude** of the ripple voltage at twice the line frequency behind a power factor stage: `Io/(2 pi 2f C)`.
///
/// TI UCC28180 data sheet SLUSBQ5A p. 30 prints the same number as peak to peak; that is twice this (ngspice-checked: 11.576 V for
/// its example, where it prints 5.789 V).
#[must_use]
pub fn pfc_ripple_amplitude_v(output_a: f64, line_hz: f64, capacitance_f: f64) -> Option<f64> {
    Some(non_negative(output_a)? / (2.0 * PI * 2.0 * positive(line_hz)? * positive(capacitance_f)?))
}

/// Series resonance in Hz of `inductance_h` with `capacitance_f`: `1/(2 pi sqrt(L C))`.
#[must_use]
pub fn resonance_hz(inductance_h: f64, capacitance_f: f64) -> Option<f64> {
    Some(1.0 / (2.0 * PI * (positive(inductance_h)? * positive(capacitance_f)?).sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hold_up_time_and_capacitance_are_each_others_inverse() {
        let capacitance = hold_up_capacitance_f(360.0, 0.02, 390.0, 300.0).unwrap();
        assert!((hold_up_s(capacitance, 360.0, 390.0, 300.0).unwrap() - 0.02).abs() < 1e-12);
        assert_eq!(hold_up_capacitance_f(360.0, 0.02, 300.0, 390.0), None);
    }

    #[test]
    fn boost_ripple_and_capacitance_are_each_others_inverse() {
        let capacitance = boost_output_capacitance_f(0.5, 0.77, 5e5, 0.1).unwrap();
        assert!((boost_output_ripple_v(0.5, 0.77, 5e5, capacitance).unwrap() - 0.1).abs() < 1e-12);
    }
}
