//! The spectrum of a recorded current.

use std::f64::consts::PI;

use refarad::physics::spectrum::rms_a;
use refarad::physics::waveform::{RecordError, analyse};

/// `parts` are (Hz, A rms, phase) on an offset of 0.4 A.
fn record(samples: usize, step_s: f64, parts: &[(f64, f64, f64)]) -> (Vec<f64>, Vec<f64>) {
    (0..samples)
        .map(|i| {
            let t = i as f64 * step_s;
            let wave: f64 =
                parts.iter().map(|(hz, a, phase)| a * 2_f64.sqrt() * (2.0 * PI * hz * t + phase).sin()).sum();
            (t - 0.01, 0.4 + wave)
        })
        .unzip()
}

#[test]
fn known_harmonics_come_back_with_an_uneven_last_period() {
    let parts = [(100.0, 1.5, 0.3), (200.0, 0.8, 1.0), (66_000.0, 0.6, 2.0)];
    // 43.7 periods of 100 Hz at 5 us
    let (time, current) = record(87_400, 5e-6, &parts);
    let found = analyse(&time, &current, None).unwrap();
    let expected = (1.5_f64 * 1.5 + 0.8 * 0.8 + 0.6 * 0.6).sqrt();
    assert!((found.ripple.rms_a / expected - 1.0).abs() < 1e-4, "{found:?}");
    assert!((found.mean_a - 0.4).abs() < 1e-3);
    assert_eq!(found.ripple.lines.len(), 3);
    for (line, (hz, a, _)) in found.ripple.lines.iter().zip(parts) {
        assert!((line.hz / hz - 1.0).abs() < 1e-3 && (line.a / a - 1.0).abs() < 1e-3, "{line:?}");
    }
    assert_eq!(found.periods.map(|(_, whole)| whole), Some(43));
    assert!(found.samples_used.abs_diff(86_000) < 20);
    assert!(found.share_in_lines > 0.999 && (found.window_ratio - 1.0).abs() < 1e-3);
}

#[test]
fn the_lines_always_carry_the_rms_of_the_record() {
    // a square wave has more harmonics than lines are kept for
    let (time, sine) = record(5000, 1e-6, &[(1037.0, 1.0, 0.1)]);
    let square: Vec<f64> = sine.iter().map(|a| (a - 0.4).signum()).collect();
    let found = analyse(&time, &square, None).unwrap();
    assert!((rms_a(&found.ripple.lines) / found.ripple.rms_a - 1.0).abs() < 1e-12);
    assert!((found.ripple.rms_a - 1.0).abs() < 1e-3);
}

#[test]
fn a_known_fundamental_is_used_and_an_impossible_one_refused() {
    let (time, current) = record(1700, 1e-5, &[(100.0, 1.0, 0.0)]);
    let found = analyse(&time, &current, Some(100.0)).unwrap();
    assert_eq!((found.samples_used, found.periods), (1000, Some((100.0, 1))));
    assert!((found.ripple.rms_a - 1.0).abs() < 1e-9);
    for hz in [10.0, 60_000.0, 0.0, f64::NAN] {
        assert!(matches!(analyse(&time, &current, Some(hz)), Err(RecordError::FundamentalOutOfRange { .. })));
    }
}

#[test]
fn fewer_than_two_periods_are_used_whole_and_said() {
    let (time, current) = record(1300, 1e-5, &[(100.0, 1.0, 0.0)]);
    let found = analyse(&time, &current, None).unwrap();
    assert_eq!((found.periods, found.samples_used), (None, 1300));
}

#[test]
fn a_direct_current_has_no_ripple() {
    let (time, current) = record(100, 1e-3, &[]);
    let found = analyse(&time, &current, None).unwrap();
    assert!(found.ripple.rms_a < 1e-12 && (found.mean_a - 0.4).abs() < 1e-12);
    assert!(found.ripple.lines.iter().all(|line| line.hz.is_finite() && line.a.is_finite()));
}

#[test]
fn noise_is_called_noise() {
    let mut state = 1_u32;
    let (time, _) = record(8192, 1e-6, &[]);
    let noise: Vec<f64> = (0..8192)
        .map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state >> 8) / f64::from(1_u32 << 24) - 0.5
        })
        .collect();
    let found = analyse(&time, &noise, None).unwrap();
    assert!(found.share_in_lines < 0.5, "{}", found.share_in_lines);
    assert!((rms_a(&found.ripple.lines) / found.ripple.rms_a - 1.0).abs() < 1e-12);
}

#[test]
fn times_rounded_by_the_instrument_pass_and_a_gap_does_not() {
    let (time, current) = record(1000, 1e-6, &[(10_000.0, 1.0, 0.0)]);
    let rounded: Vec<f64> = time.iter().map(|t| (t * 1e7).round() / 1e7).collect();
    assert!(analyse(&rounded, &current, None).is_ok());
    for gap in [1, 500, 998] {
        let (mut time, mut current) = (time.clone(), current.clone());
        time.remove(gap);
        current.remove(gap);
        let refused = analyse(&time, &current, None);
        assert!(matches!(refused, Err(RecordError::UnequalSteps { .. })), "{gap}: {refused:?}");
    }
    let backwards: Vec<f64> = time.iter().rev().copied().collect();
    assert!(matches!(analyse(&backwards, &current, None), Err(RecordError::UnequalSteps { .. })));
}

#[test]
fn what_cannot_be_a_record_is_refused_with_the_place() {
    let (time, mut current) = record(100, 1e-6, &[(50_000.0, 1.0, 0.0)]);
    assert_eq!(analyse(&time[..63], &current[..63], None), Err(RecordError::TooFewSamples { samples: 63 }));
    assert!(matches!(analyse(&time, &current[..99], None), Err(RecordError::Uneven { .. })));
    current[42] = f64::NAN;
    let refused = analyse(&time, &current, None).unwrap_err();
    assert_eq!(refused, RecordError::NotANumber { index: 42 });
    assert!(refused.to_string().contains("sample 43"));
}
