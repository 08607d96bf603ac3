//! An oscilloscope's record of the capacitor current: rms and lines by Fourier transform.

mod record;
mod transform;

pub use record::{MIN_SAMPLES, RecordError};

use record::{checked_step_s, count};
use transform::{hann_amplitudes, lines, slowest_hz};

use super::range::positive;
use super::spectrum::Ripple;

/// What a record says.
#[derive(Debug, Clone, PartialEq)]
pub struct Analysis {
    /// Current in A without its mean, over the samples used; the lines' root sum of squares is exactly its rms.
    pub ripple: Ripple,
    /// Mean in A, taken off: a capacitor carries none, so it is the offset of the probe (and the leakage).
    pub mean_a: f64,
    /// Samples given.
    pub samples: usize,
    /// Samples used: whole periods from the start; what is left of an uneven last period is dropped.
    pub samples_used: usize,
    /// Step in s.
    pub step_s: f64,
    /// Length of the part used in s.
    pub length_s: f64,
    /// Distance in Hz of two lines that can be told apart: two bins of the window.
    pub resolution_hz: f64,
    /// Highest frequency in Hz the steps can show; faster ripple appears at a wrong, lower place.
    pub highest_hz: f64,
    /// Frequency in Hz whose periods were counted, and their whole number; `None` with fewer than two in the record: then all samples are
    /// used and the rms is uncertain.
    pub periods: Option<(f64, u32)>,
    /// Share of the power within the lines' own width; the rest is noise or a changing signal, and was added to the nearest line.
    pub share_in_lines: f64,
    /// Power seen through the window over power of the record: far from 1, the current changed during the record.
    pub window_ratio: f64,
}

/// Analyses a record of equally spaced samples.
///
/// The mean is removed; the record is cut to whole periods of `fundamental_hz`, or, without it, of the slowest component with at least
/// 1 % of the power; the rms is taken from the samples; the spectrum from a transform with Hann's window (power over the window's
/// own power, published textbook practice), whose bins are merged into peaks and scaled so that the lines carry the rms.
///
/// # Errors
/// [`RecordError`] says what is wrong with the record and what was expected.
///
/// ```
/// // By definition: a sine of 2 A peak at 100 Hz is 1.414 A rms.
/// let time_s: Vec<f64> = (0..4000).map(|n| f64::from(n) * 1e-5).collect();
/// let current_a: Vec<f64> = time_s.iter().map(|t| 2.0 * (std::f64::consts::TAU * 100.0 * t).sin()).collect();
/// let found = refarad::physics::waveform::analyse(&time_s, &current_a, Some(100.0)).unwrap();
/// assert!((found.ripple.rms_a - 2f64.sqrt()).abs() < 1e-3);
/// ```
pub fn analyse(time_s: &[f64], current_a: &[f64], fundamental_hz: Option<f64>) -> Result<Analysis, RecordError> {
    let step_s = checked_step_s(time_s, current_a)?;
    let samples = current_a.len();
    let length_s = count(samples) * step_s;
    let highest_hz = 0.5 / step_s;
    let period_hz = match fundamental_hz {
        Some(hz) => Some(
            positive(hz)
                .filter(|&hz| hz * length_s >= 1.0 - 1e-6 && hz < highest_hz)
                .ok_or(RecordError::FundamentalOutOfRange { hz, least_hz: 1.0 / length_s, most_hz: highest_hz })?,
        ),
        None => slowest_hz(&hann_amplitudes(&without_mean(current_a).1), 1.0 / length_s),
    };
    let periods = period_hz.and_then(|hz| whole_periods(hz, length_s, fundamental_hz.is_some()));
    let samples_used = periods.map_or(samples, |(hz, whole)| nearest(f64::from(whole) / (hz * step_s)).min(samples));
    if samples_used < MIN_SAMPLES {
        return Err(RecordError::TooFewSamples { samples: samples_used });
    }
    let (mean_a, alternating) = without_mean(&current_a[..samples_used]);
    let rms_a = (alternating.iter().map(|x| x * x).sum::<f64>() / count(samples_used)).sqrt();
    let power: Vec<f64> = hann_amplitudes(&alternating).iter().map(|a| a * a).collect();
    let bin_hz = 1.0 / (count(samples_used) * step_s);
    let seen = power.iter().sum::<f64>();
    let (lines, share_in_lines) = lines(&power, bin_hz, rms_a);
    Ok(Analysis {
        ripple: Ripple { rms_a, lines },
        mean_a,
        samples,
        samples_used,
        step_s,
        length_s: count(samples_used) * step_s,
        resolution_hz: 2.0 * bin_hz,
        highest_hz,
        periods,
        share_in_lines,
        window_ratio: if rms_a > 0.0 { seen / (rms_a * rms_a) } else { 1.0 },
    })
}

/// Frequency and number of the whole periods in `length_s`; `None` below two (below one where the fundamental was given).
fn whole_periods(hz: f64, length_s: f64, given: bool) -> Option<(f64, u32)> {
    // an estimated period may come out a trace long
    let slack = if given { 1e-6 } else { 0.02 };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "saturates, and is not negative")]
    let whole = (hz * length_s + slack).floor() as u32;
    (whole >= if given { 1 } else { 2 }).then_some((hz, whole))
}

fn without_mean(current_a: &[f64]) -> (f64, Vec<f64>) {
    let mean = current_a.iter().sum::<f64>() / count(current_a.len());
    (mean, current_a.iter().map(|a| a - mean).collect())
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "saturates, and is not negative")]
fn nearest(samples: f64) -> usize {
    samples.round() as usize
}
