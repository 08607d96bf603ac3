//! Oscilloscope records against numpy.fft (`scripts/waveform_numpy.py` makes the same record and the figures).

use std::f64::consts::PI;

use refarad::physics::spectrum::rms_a;
use refarad::physics::waveform::analyse;

use crate::printed::near;

const STEP_S: f64 = 4e-6;
const SAMPLES: u32 = 26_300;

/// A rectifier's pulses at 100 Hz, a switching stage's at 12.5 kHz, a probe offset; 10.52 periods.
fn record() -> (Vec<f64>, Vec<f64>) {
    (0..SAMPLES)
        .map(|i| {
            let t = f64::from(i) * STEP_S;
            let slow = ((2.0 * PI * 50.0 * t + 0.2).cos().powi(2) - 0.75).max(0.0) * 16.0;
            let fast = if (12_500.0 * t + 0.27).fract() < 0.3 { 1.2 } else { 0.0 };
            (t, 0.35 + slow + fast)
        })
        .unzip()
}

#[test]
fn rms_and_lines_of_a_record_are_those_of_numpy() {
    let (time_s, current_a) = record();
    for fundamental_hz in [None, Some(100.0)] {
        let found = analyse(&time_s, &current_a, fundamental_hz).unwrap();
        assert_eq!(found.samples_used, 25_000);
        // numpy 2.4.6, mean and rms over ten periods
        near(found.mean_a, 1.581_982_468, 1e-6);
        near(found.ripple.rms_a, 1.519_901_955_96, 1e-6);
        near(rms_a(&found.ripple.lines), found.ripple.rms_a, 1e-12);
        // numpy.fft.rfft over ten periods, no window
        for (hz, a) in [
            (100.0, 1.105_921_437_6),
            (200.0, 0.779_696_646_634),
            (300.0, 0.389_848_089_986),
            (12_500.0, 0.438_775_539_483),
            (25_000.0, 0.261_138_087_343),
            (37_500.0, 0.057_734_782_092_6),
        ] {
            let line = found
                .ripple
                .lines
                .iter()
                .find(|line| (line.hz - hz).abs() < found.resolution_hz / 2.0)
                .unwrap_or_else(|| panic!("no line at {hz} Hz: {:?}", found.ripple.lines));
            near(line.a, a, 5e-3);
        }
    }
}
