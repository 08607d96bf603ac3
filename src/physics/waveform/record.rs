//! Is it a record of equally spaced samples at all?

/// Least number of samples worth analysing.
pub const MIN_SAMPLES: usize = 64;

/// A sample may lie this share of a step beside its place; more is a gap or a change of rate, less the rounding of a text file.
const TIME_TOLERANCE: f64 = 0.25;

/// Why a record cannot be analysed. Indices count samples from 0.
#[derive(Debug, Clone, PartialEq)]
pub enum RecordError {
    /// Times and currents differ in number.
    Uneven {
        /// Number of times.
        times: usize,
        /// Number of currents.
        currents: usize,
    },
    /// Fewer than [`MIN_SAMPLES`] samples, or fewer than that in whole periods.
    TooFewSamples {
        /// Samples there are.
        samples: usize,
    },
    /// A time or a current is not a finite number.
    NotANumber {
        /// The sample.
        index: usize,
    },
    /// The time does not advance in equal steps.
    UnequalSteps {
        /// First sample out of place.
        index: usize,
        /// Its time in s.
        time_s: f64,
        /// The time in s it should have.
        expected_s: f64,
    },
    /// The given fundamental has no whole period in the record, or is above half the sampling rate.
    FundamentalOutOfRange {
        /// The fundamental in Hz.
        hz: f64,
        /// Least possible in Hz.
        least_hz: f64,
        /// Highest possible in Hz.
        most_hz: f64,
    },
}

impl std::fmt::Display for RecordError {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Uneven { times, currents } => {
                write!(out, "{times} times but {currents} currents: expected as many of each")
            }
            Self::TooFewSamples { samples } => {
                write!(out, "{samples} samples: expected at least {MIN_SAMPLES}")
            }
            Self::NotANumber { index } => {
                write!(out, "sample {}: expected a time and a current", index + 1)
            }
            Self::UnequalSteps { index, time_s, expected_s } => write!(
                out,
                "sample {}: time {time_s:e} s where equal steps give {expected_s:e} s: expected equal time steps",
                index + 1
            ),
            Self::FundamentalOutOfRange { hz, least_hz, most_hz } => {
                write!(out, "fundamental {hz} Hz: this record can show {least_hz} to {most_hz} Hz")
            }
        }
    }
}

impl std::error::Error for RecordError {}

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

#[expect(clippy::cast_precision_loss, reason = "sample counts are far below 2^52")]
pub(super) const fn count(samples: usize) -> f64 {
    samples as f64
}
