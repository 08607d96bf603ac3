//! Buck, boost, flyback and rectified-sine stages in continuous conduction.
//!
//! Currents are mean values in A, `duty` is the share of the period the switch conducts (0 to 1, both excluded),
//! `switching_hz` above zero. Every function returns `None` outside these ranges.

use std::f64::consts::{FRAC_PI_2, SQRT_2};

use super::LISTED;
use super::pulses::{pulse_train, triangle};
use crate::physics::range::{non_negative, open_unit, positive};
use crate::physics::spectrum::Ripple;

/// Peak-to-peak inductor current of a buck stage in A: `dI = Vo (1-D)/(L f)` (published, TI TPS62000-Q1 data sheet SGLS243A p. 16).
///
/// ```
/// // Our ngspice netlist 04b: 12 V from 24 V over 47 µH at 100 kHz, 1.277 A by hand.
/// let ripple_a = refarad::physics::circuits::converters::buck_inductor_ripple_a(12.0, 0.5, 47e-6, 1e5).unwrap();
/// assert!((ripple_a - 1.2766).abs() < 1e-4);
/// ```
pub fn buck_inductor_ripple_a(output_v: f64, duty: f64, inductance_h: f64, switching_hz: f64) -> Option<f64> {
    Some(positive(output_v)? * (1.0 - open_unit(duty)?) / (positive(inductance_h)? * positive(switching_hz)?))
}

/// Input capacitor of a buck stage.
///
/// With `inductor_ripple_a` (peak to peak) of 0 this is the flat-top `Io sqrt(D(1-D))` of the data sheets (published, Infineon
/// IR3894 data sheet p. 27, TI LM2745 data sheet p. 18); above 0 the exact `sqrt(D(Io^2 + dI^2/12) - (D Io)^2)`. The formula holds in
/// continuous conduction: `None` where `inductor_ripple_a` exceeds twice `output_a`.
///
/// ```
/// // Infineon IR3894 data sheet p. 27: 12 A at a duty of 0.1 make 3.6 A.
/// let ripple = refarad::physics::circuits::converters::buck_input(12.0, 0.0, 0.1, 6e5).unwrap();
/// assert!((ripple.rms_a - 3.6).abs() < 1e-12);
/// ```
pub fn buck_input(output_a: f64, inductor_ripple_a: f64, duty: f64, switching_hz: f64) -> Option<Ripple> {
    pulse_train(output_a, continuous(output_a, inductor_ripple_a)?, duty, switching_hz)
}

/// Output capacitor of a buck stage: the inductor's triangle, `dI/(2 sqrt3)` (published, TI TPS62000-Q1 data sheet SGLS243A p. 16).
///
/// A resistive load takes its share `ESR/(R+ESR)` of the ripple, which is left with the capacitor here.
///
/// ```
/// // Our ngspice netlist 04b: 0.367124 A with a ripple of 1.27178 A.
/// let ripple = refarad::physics::circuits::converters::buck_output(1.27178, 0.5, 1e5).unwrap();
/// assert!((ripple.rms_a - 0.36713).abs() < 1e-5);
/// ```
pub fn buck_output(inductor_ripple_a: f64, duty: f64, switching_hz: f64) -> Option<Ripple> {
    triangle(inductor_ripple_a, duty, switching_hz)
}

/// Output capacitor of a boost or flyback stage: the diode's pulses `Io/(1-D)` less the load `Io`.
///
/// With `diode_ramp_a` of 0 (the current's fall while the diode conducts) this is `Io sqrt(D/(1-D))`, the same as
/// `IL sqrt(D(1-D))` with `IL = Io/(1-D)` (published, TI LM5022 data sheet SNVS480G p. 17, there with a margin factor of 1.13; equal to
/// `sqrt(Isrms^2 - Io^2)`, Power Integrations AN-16 p. 22). `None` in discontinuous conduction, where
/// `diode_ramp_a` exceeds twice `Io/(1-D)`.
///
/// ```
/// // Our ngspice netlist 08, flat-top: Io sqrt(D/(1-D)) = 2.00 A at 2 A and a duty of 0.5.
/// let ripple = refarad::physics::circuits::converters::boost_output(2.0, 0.0, 0.5, 1e5).unwrap();
/// assert!((ripple.rms_a - 2.0).abs() < 1e-12);
/// ```
pub fn boost_output(output_a: f64, diode_ramp_a: f64, duty: f64, switching_hz: f64) -> Option<Ripple> {
    let conducting = 1.0 - open_unit(duty)?;
    let height_a = non_negative(output_a)? / conducting;
    pulse_train(height_a, continuous(height_a, diode_ramp_a)?, conducting, switching_hz)
}

/// Input capacitor of a flyback stage: the switch's pulses `Iin/D` less the source's `Iin`, `Iin sqrt((1-D)/D)` when
/// `switch_ramp_a` is 0 (derived from the same waveform as the boost output; circuit theory, no source).
///
/// ```
/// // By hand: 1 A at a duty of 0.2 is 1 sqrt(0.8/0.2) = 2 A.
/// let ripple = refarad::physics::circuits::converters::flyback_input(1.0, 0.0, 0.2, 65e3).unwrap();
/// assert!((ripple.rms_a - 2.0).abs() < 1e-12);
/// ```
pub fn flyback_input(input_a: f64, switch_ramp_a: f64, duty: f64, switching_hz: f64) -> Option<Ripple> {
    let height_a = non_negative(input_a)? / open_unit(duty)?;
    pulse_train(height_a, continuous(height_a, switch_ramp_a)?, duty, switching_hz)
}

/// Output capacitor fed by a full-wave rectified sine (resonant converter with centre tap or bridge): `Io sqrt(pi^2/8 - 1)` (derived;
/// ngspice-checked). `resonant_hz` is that of the sine; the ripple starts at twice it. Harmonic k of the pulses is `sqrt2 Io/(4k^2-1)`.
///
/// ```
/// // Our ngspice netlist 09: 4.83423 A at 10 A.
/// let ripple = refarad::physics::circuits::converters::rectified_sine_output(10.0, 1e5).unwrap();
/// assert!((ripple.rms_a - 4.83423).abs() < 1e-4);
/// ```
pub fn rectified_sine_output(output_a: f64, resonant_hz: f64) -> Option<Ripple> {
    let output_a = non_negative(output_a)?;
    let harmonics: Vec<f64> =
        (1..=LISTED).map(|k| SQRT_2 * output_a / (4.0 * f64::from(k) * f64::from(k) - 1.0)).collect();
    let rms_a = output_a * (FRAC_PI_2 * FRAC_PI_2 / 2.0 - 1.0).sqrt();
    Ripple::harmonic(2.0 * positive(resonant_hz)?, &harmonics, rms_a)
}

/// The ramp, if a current of mean `height_a` can carry it without reaching zero.
fn continuous(height_a: f64, ramp_a: f64) -> Option<f64> {
    non_negative(ramp_a).filter(|&ramp| ramp <= 2.0 * height_a)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ramp_makes_the_exact_input_ripple_larger_than_flat_top() {
        let flat = buck_input(5.0, 0.0, 0.5, 1e5).unwrap().rms_a;
        let exact = buck_input(5.0, 1.2766, 0.5, 1e5).unwrap().rms_a;
        assert!((flat - 2.5).abs() < 1e-12);
        assert!(exact > flat);
    }

    #[test]
    fn discontinuous_conduction_is_not_answered_with_the_continuous_formula() {
        assert_eq!(buck_input(1.0, 2.1, 0.5, 1e5), None);
        assert_eq!(boost_output(1.0, 4.1, 0.5, 1e5), None);
        assert_eq!(flyback_input(1.0, 4.1, 0.5, 1e5), None);
        assert!(buck_input(1.0, 2.0, 0.5, 1e5).is_some());
    }

    #[test]
    fn the_boost_output_starts_at_the_switching_frequency_and_the_rectified_sine_at_twice_it() {
        assert!((boost_output(1.0, 0.0, 0.4, 65e3).unwrap().lines[0].hz - 65e3).abs() < 1e-6);
        assert!((rectified_sine_output(1.0, 65e3).unwrap().lines[0].hz - 130e3).abs() < 1e-6);
    }
}
