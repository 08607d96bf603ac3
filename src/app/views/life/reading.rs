//! Files of measurements: a logger's temperatures, an oscilloscope's current.

use std::path::{Path, PathBuf};

use crate::files::{
    oscilloscope, oscilloscope::Record, temperature_log, temperature_log::LogAnswers, temperature_log::TemperatureLog,
};
use crate::physics::waveform::MIN_SAMPLES;

/// A record longer than this is no record of ripple, s.
const LONGEST_RECORD_S: f64 = 10.0;

/// What a file turned out to hold.
pub(crate) enum Reading {
    /// Temperatures, and where they were read.
    Log(PathBuf, TemperatureLog),
    /// Samples, and the name of their file.
    Record(String, Record),
}

impl Reading {
    /// Reads a temperature log.
    pub(crate) fn log(path: &Path) -> Result<Self, String> {
        Self::answered_log(path, &LogAnswers::default())
    }

    /// Reads a log by what a person said about it.
    pub(crate) fn answered_log(path: &Path, answers: &LogAnswers) -> Result<Self, String> {
        let log = temperature_log::read(path, answers).map_err(|error| error.to_string())?;
        Ok(Self::Log(path.to_owned(), log))
    }

    /// Reads an oscilloscope's record.
    pub(crate) fn record(path: &Path) -> Result<Self, String> {
        let record = oscilloscope::read(path).map_err(|error| error.to_string())?;
        Ok(Self::Record(name_of(path), record))
    }

    /// Reads whichever of the two the file is: a record of ripple is short and dense.
    pub(crate) fn either(path: &Path) -> Result<Self, String> {
        let dense = |record: &Record| {
            let length_s = record.time_s.first().zip(record.time_s.last()).map(|(first, last)| last - first);
            record.time_s.len() >= MIN_SAMPLES && length_s.is_some_and(|length_s| length_s <= LONGEST_RECORD_S)
        };
        match oscilloscope::read(path) {
            Ok(record) if dense(&record) => Ok(Self::Record(name_of(path), record)),
            _ => Self::log(path).map_err(|error| {
                format!(
                    "{error}. Nor is it an oscilloscope record. To add a catalogue, drop it in another place than Life."
                )
            }),
        }
    }
}

fn name_of(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}
