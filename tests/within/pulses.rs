//! Of `physics/circuits/pulses.rs`, from within it: limits, missing data, odd cases.

use super::*;

/// Harmonic `k` of `wave` over one period of length 1, A rms, by the midpoint rule.
fn harmonic_by_integration(wave: impl Fn(f64) -> f64, k: f64) -> f64 {
    let points = 200_000;
    let (mut re, mut im) = (0.0, 0.0);
    for i in 0..points {
        let t = (f64::from(i) + 0.5) / f64::from(points);
        re += wave(t) * (2.0 * PI * k * t).cos();
        im += wave(t) * (2.0 * PI * k * t).sin();
    }
    SQRT_2 * re.hypot(im) / f64::from(points)
}

#[test]
fn the_harmonics_of_a_ramped_pulse_are_those_of_its_integral() {
    let (height, ramp, duty) = (5.0, 3.0, 0.3);
    let wave = |t: f64| {
        if t < duty { height + ramp * (t / duty - 0.5) } else { 0.0 }
    };
    let ripple = pulse_train(height, ramp, duty, 1000.0).unwrap();
    for line in &ripple.lines[..8] {
        let by_integration = harmonic_by_integration(wave, line.hz / 1000.0);
        assert!((line.a - by_integration).abs() < 1e-4, "{line:?} {by_integration}");
    }
}

#[test]
fn the_harmonics_of_a_lopsided_triangle_are_those_of_its_integral() {
    let (pp, duty) = (2.0, 0.2);
    let wave = |t: f64| {
        if t < duty { pp * (t / duty - 0.5) } else { pp * (0.5 - (t - duty) / (1.0 - duty)) }
    };
    let ripple = triangle(pp, duty, 1.0).unwrap();
    for line in &ripple.lines[..4] {
        let by_integration = harmonic_by_integration(wave, line.hz);
        assert!((line.a - by_integration).abs() < 1e-6, "{line:?} {by_integration}");
    }
}

#[test]
fn the_lumped_rest_is_small_and_completes_the_rms() {
    use crate::physics::spectrum::rms_a;
    for duty in [0.05, 0.1, 0.5, 0.77, 0.95] {
        let ripple = pulse_train(1.0, 0.4, duty, 100_000.0).unwrap();
        assert!((rms_a(&ripple.lines) / ripple.rms_a - 1.0).abs() < 1e-9);
        let rest = ripple.lines.last().unwrap().a / ripple.rms_a;
        assert!(rest * rest < 0.11, "duty {duty}: {rest}");
    }
}

#[test]
fn an_impossible_duty_has_no_answer() {
    for duty in [0.0, 1.0, -0.1, 1.1, f64::NAN] {
        assert_eq!(pulse_train(1.0, 0.0, duty, 1e5), None);
        assert_eq!(triangle(1.0, duty, 1e5), None);
    }
}
