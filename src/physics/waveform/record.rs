//! Is it a record of equally spaced samples at all?

/// Least number of samples worth analysing.
pub const MIN_SAMPLES: usize = 64;

/// A sample may lie this share of a step beside its place; more is a gap or a change of rate, less the rounding of a text file.
const TIME_TOLERANCE: f64 = 0.25;

/// Why a record cannot be analysed. Indices count samples from 0.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RecordError {
    /// Times and currents differ in number.
    #[error("{times} times but {currents} currents: expected as many of each")]
    Uneven { times: usize, currents: usize },
    /// Fewer than [`MIN_SAMPLES`] samples, or fewer than that in whole periods.
    #[error("{samples} samples: expected at least {MIN_SAMPLES}")]
    TooFewSamples { samples: usize },
    /// A time or a current is not a finite number.
    #[error("sample {}: expected a time and a current", index + 1)]
    NotANumber { index: usize },
    /// The time does not advance in equal steps; the first sample out of place.
    #[error(
        "sample {}: time {time_s:e} s where equal steps give {expected_s:e} s: expected equal time steps",
        index + 1
    )]
    UnequalSteps { index: usize, time_s: f64, expected_s: f64 },
    /// The given fundamental has no whole period in the record, or is above half the sampling rate.
    #[error("fundamental {hz} Hz: this record can show {least_hz} to {most_hz} Hz")]
    FundamentalOutOfRange { hz: f64, least_hz: f64, most_hz: f64 },
}

/// The step in s, after the record has been found complete and even.
pub(super) fn checked_step_s(time_s: &[f64], current_a: &[f64]) -> Result<f64, RecordError> {
    if time_s.len() != current_a.len() {
        return Err(RecordError::Uneven { times: time_s.len(), currents: current_a.len() });
    }
    let samples = time_s.len();
    if samples < MIN_SAMPLES {
        return Err(RecordError::TooFewSamples { samples });
    }
    if let Some(index) = (0..samples).find(|&i| !(time_s[i].is_finite() && current_a[i].is_finite())) {
        return Err(RecordError::NotANumber { index });
    }
    let (first, last) = (time_s[0], time_s[samples - 1]);
    let step_s = (last - first) / count(samples - 1);
    for (index, &time) in time_s.iter().enumerate() {
        let expected_s = first + step_s * count(index);
        if step_s <= 0.0 || (time - expected_s).abs() > TIME_TOLERANCE * step_s {
            return Err(RecordError::UnequalSteps { index, time_s: time, expected_s });
        }
    }
    Ok(step_s)
}

pub(super) const fn count(samples: usize) -> f64 {
    samples as f64
}
