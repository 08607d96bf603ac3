//! Fourier series of the pulse and the triangle, in rms per harmonic.

use std::f64::consts::{PI, SQRT_2};

use super::LISTED;
use crate::physics::range::{finite, non_negative, open_unit};
use crate::physics::spectrum::Ripple;

/// A pulse train without its mean: `height_a` on average for the share `duty` of the period, rising (or falling) by
/// `ramp_a` in all while it lasts, zero for the rest.
///
/// `rms = sqrt(duty (height^2 + ramp^2/12) - (duty height)^2)`. Harmonic k of the flat part is
/// `sqrt2 height sin(pi k duty)/(pi k)`, of the ramp, in quadrature to it,
/// `ramp (sin x - x cos x)/(sqrt2 pi^2 k^2 duty)` with `x = pi k duty` (derived; checked by numerical integration).
///
/// `None` unless 0 < duty < 1, hz > 0, height >= 0 and ramp >= 0.
pub(super) fn pulse_train(height_a: f64, ramp_a: f64, duty: f64, hz: f64) -> Option<Ripple> {
    let height_a = non_negative(height_a)?;
    let ramp_a = non_negative(ramp_a)?;
    let duty = open_unit(duty)?;
    let variance = duty * (1.0 - duty) * height_a * height_a + duty * ramp_a * ramp_a / 12.0;
    let harmonics: Vec<f64> = (1..=LISTED)
        .map(|k| {
            let k = f64::from(k);
            let x = PI * k * duty;
            let flat = SQRT_2 * height_a * x.sin() / (PI * k);
            let ramp = ramp_a * (x.sin() - x * x.cos()) / (SQRT_2 * PI * PI * k * k * duty);
            flat.hypot(ramp)
        })
        .collect();
    Ripple::harmonic(hz, &harmonics, finite(variance.sqrt())?)
}

/// A triangle without its mean: `peak_to_peak_a`, rising for the share `duty` of the period.
///
/// `rms = peak_to_peak/(2 sqrt3)`; harmonic k is `peak_to_peak |sin(pi k duty)|/(sqrt2 pi^2 k^2 duty (1-duty))`
/// (derived; checked by numerical integration). `None` unless 0 < duty < 1, hz > 0 and `peak_to_peak_a` >= 0.
pub(super) fn triangle(peak_to_peak_a: f64, duty: f64, hz: f64) -> Option<Ripple> {
    let peak_to_peak_a = non_negative(peak_to_peak_a)?;
    let duty = open_unit(duty)?;
    let harmonics: Vec<f64> = (1..=LISTED)
        .map(|k| {
            let k = f64::from(k);
            peak_to_peak_a * (PI * k * duty).sin().abs() / (SQRT_2 * PI * PI * k * k * duty * (1.0 - duty))
        })
        .collect();
    Ripple::harmonic(hz, &harmonics, finite(peak_to_peak_a / 12_f64.sqrt())?)
}

#[cfg(test)]
#[path = "../../../tests/within/pulses.rs"]
mod tests;
