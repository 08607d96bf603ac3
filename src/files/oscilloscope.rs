//! An oscilloscope's record as CSV: a time column, or a step in the preamble, and one or more channels.

use std::path::{Path, PathBuf};

use super::bounded;
use super::canonical::decode;
use super::log_text::{Row, number, rows};
use crate::physics::waveform::{Analysis, MIN_SAMPLES, RecordError, analyse};
use crate::sizing::reasons::figure;

/// Largest file read, bytes.
const BYTES_MAX: u64 = 256 << 20;

/// Most samples read.
const MOST_SAMPLES: usize = 4_000_000;

/// Lines among which the samples have to begin.
const PREAMBLE_LINES: usize = 200;

/// A record could not be used.
#[derive(Debug, thiserror::Error)]
pub enum ScopeError {
    /// The file could not be read from the disk, or is larger than 256 MB.
    #[error("{}: {source}; expected an oscilloscope record (*.csv)", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// No block of numbers was found.
    #[error("{}: expected rows of numbers, a time and one or more channels, within the first {PREAMBLE_LINES} lines", path.display())]
    NoSamples {
        /// The file.
        path: PathBuf,
    },
    /// One column of numbers, and no step in the lines before.
    #[error("{}: expected a column of times, or the sample interval in the lines before the samples", path.display())]
    NoTime {
        /// The file.
        path: PathBuf,
    },
    /// A cell among the samples is no number.
    #[error("{}: line {line}: \"{value}\": expected a number in each of {columns} columns", path.display())]
    NotANumber {
        /// The file.
        path: PathBuf,
        /// Line of the file, from 1.
        line: u64,
        /// What stands there.
        value: String,
        /// Columns of the block.
        columns: usize,
    },
}

/// One channel of a record.
#[derive(Debug, Clone, PartialEq)]
pub struct Channel {
    /// Its header, or `channel 1`.
    pub name: String,
    /// Its unit as printed; empty when none was.
    pub unit: String,
    /// The samples in that unit.
    pub samples: Vec<f64>,
}

/// What the samples of a channel are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sampled {
    /// A current; so many A for one of its unit.
    Current(f64),
    /// A voltage; so many V for one of its unit.
    Voltage(f64),
    /// The unit says neither.
    Unknown,
}

impl Channel {
    /// What its samples are, by the unit printed.
    #[must_use]
    pub fn sampled(&self) -> Sampled {
        match self.unit.trim().to_lowercase().as_str() {
            "a" | "amp" | "ampere" | "amperes" => Sampled::Current(1.0),
            "ma" => Sampled::Current(1e-3),
            "v" | "volt" | "volts" => Sampled::Voltage(1.0),
            "mv" => Sampled::Voltage(1e-3),
            _ => Sampled::Unknown,
        }
    }

    /// A for one of its unit. `a_per_v` is the current that makes one volt at the input (10 for a clamp of 100 mV/A or a shunt of 0.1 Ω); a channel in A needs
    /// none. `probe` multiplies what the oscilloscope wrote, where its probe was set wrongly. `None` while the figure needed is missing or is no
    /// finite number above 0.
    #[must_use]
    pub fn a_per_unit(&self, a_per_v: Option<f64>, probe: f64) -> Option<f64> {
        let unit = match self.sampled() {
            Sampled::Current(a) => a,
            Sampled::Voltage(v) => v * a_per_v?,
            Sampled::Unknown => a_per_v?,
        };
        Some(unit * probe).filter(|scale| scale.is_finite() && *scale > 0.0)
    }

    /// Lowest and highest sample in each of `columns` equal stretches, for a drawing; fewer where there are fewer samples.
    #[must_use]
    pub fn envelope(&self, columns: usize) -> Vec<(f64, f64)> {
        let each = self.samples.len().div_ceil(columns.max(1)).max(1);
        let ends = |part: &[f64]| {
            part.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &x| (low.min(x), high.max(x)))
        };
        self.samples.chunks(each).map(ends).collect()
    }
}

/// A record as read.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Time of each sample, s.
    pub time_s: Vec<f64>,
    /// The channels.
    pub channels: Vec<Channel>,
    /// Remarks for the person, one sentence each.
    pub notes: Vec<String>,
}

impl Record {
    /// Rms and lines of a channel taken as the capacitor's current; `a_per_unit` turns its unit into A (0.1 for a probe of 10 V/A, 1e-3 for
    /// mA). `fundamental_hz` as in [`analyse`].
    ///
    /// # Errors
    /// When there is no such channel (as a record without samples), or the record cannot be analysed.
    pub fn analyse(
        &self,
        channel: usize,
        a_per_unit: f64,
        fundamental_hz: Option<f64>,
    ) -> Result<Analysis, RecordError> {
        let channel = self.channels.get(channel).ok_or(RecordError::TooFewSamples { samples: 0 })?;
        let current_a: Vec<f64> = channel.samples.iter().map(|sample| sample * a_per_unit).collect();
        analyse(&self.time_s, &current_a, fundamental_hz)
    }
}

/// What has to be said about an analysed record, a sentence each.
#[must_use]
pub fn remarks(analysis: &Analysis) -> Vec<String> {
    let mut remarks = vec![format!(
        "{} of {} samples used; lines closer than {} Hz cannot be told apart, nothing above {} Hz is seen.",
        analysis.samples_used,
        analysis.samples,
        figure(analysis.resolution_hz),
        figure(analysis.highest_hz)
    )];
    if analysis.periods.is_none() {
        remarks.push("Fewer than two whole periods: the rms is uncertain; record longer.".into());
    }
    if analysis.share_in_lines < 0.9 {
        remarks.push(format!(
            "Only {:.0} % of the power lies in lines; the rest is noise or a changing current and was added to the nearest line.",
            100.0 * analysis.share_in_lines
        ));
    }
    if !(0.8..1.25).contains(&analysis.window_ratio) {
        remarks.push("The current changed during the record: record a steady state.".into());
    }
    if analysis.mean_a.abs() > 0.02 * analysis.ripple.rms_a {
        remarks.push(format!(
            "A mean of {} A was taken off: a capacitor carries none, so it is the offset of the probe.",
            figure(analysis.mean_a)
        ));
    }
    remarks
}

/// Reads the record at `path`.
///
/// # Errors
/// When the file cannot be read or holds no record.
pub fn read(path: &Path) -> Result<Record, ScopeError> {
    let bytes =
        bounded::read(path, BYTES_MAX).map_err(|source| ScopeError::Unreadable { path: path.to_owned(), source })?;
    from_bytes(&bytes, path)
}

/// Reads a record from memory; `path` is for messages.
///
/// # Errors
/// When the bytes hold no record.
pub fn from_bytes(bytes: &[u8], path: &Path) -> Result<Record, ScopeError> {
    let owned = || path.to_owned();
    let text = decode(bytes);
    let (table, more) = rows(&text, MOST_SAMPLES + PREAMBLE_LINES);
    let first = first_sample(&table.rows).ok_or_else(|| ScopeError::NoSamples { path: owned() })?;
    let (preamble, samples) = table.rows.split_at(first);
    let columns = used_columns(&samples[0]);
    let mut values: Vec<Vec<f64>> = vec![Vec::with_capacity(samples.len()); columns];
    let mut notes = Vec::new();
    let kept = &samples[..samples.len().min(MOST_SAMPLES)];
    if more || kept.len() < samples.len() {
        notes.push(format!("Only the first {MOST_SAMPLES} samples were read."));
    }
    for row in kept {
        for (at, column) in values.iter_mut().enumerate() {
            let cell = row.cells.get(at).map_or("", String::as_str);
            let not_a_number = || ScopeError::NotANumber { path: owned(), line: row.line, value: cell.into(), columns };
            column.push(number(cell).ok_or_else(not_a_number)?.0);
        }
    }
    let (headers, units) = headings(preamble, columns);
    let step = step_s(preamble, columns);
    let has_time = columns > 1 && rises(&values[0]);
    let (time_s, first_channel) = match step {
        // A running number in front, or nothing: the preamble says the step.
        Some(step) if !has_time || counts(&values[0]) => {
            let time_s = (0..kept.len()).map(|at| at as f64 * step).collect();
            (time_s, usize::from(has_time))
        }
        _ if has_time => {
            let unit_s = time_unit_s(&units[0]).or_else(|| time_unit_s(&in_brackets(&headers[0])));
            if unit_s.is_none() {
                notes.push("The times carry no unit; they are read as seconds (assumed).".into());
            }
            (values[0].iter().map(|time| time * unit_s.unwrap_or(1.0)).collect(), 1)
        }
        _ => return Err(ScopeError::NoTime { path: owned() }),
    };
    if kept.len() < MIN_SAMPLES {
        notes.push(format!("{} samples; an analysis needs at least {MIN_SAMPLES}.", kept.len()));
    }
    let channels = values
        .into_iter()
        .enumerate()
        .skip(first_channel)
        .map(|(at, samples)| Channel {
            name: if headers[at].is_empty() {
                format!("channel {}", at + 1 - first_channel)
            } else {
                headers[at].clone()
            },
            unit: if units[at].is_empty() { in_brackets(&headers[at]) } else { units[at].clone() },
            samples,
        })
        .collect();
    Ok(Record { time_s, channels, notes })
}

/// Leading cells of a row that are numbers.
fn used_columns(row: &Row) -> usize {
    row.cells.iter().take_while(|cell| is_number(cell)).count()
}

fn is_number(cell: &str) -> bool {
    number(cell).is_some_and(|(_, behind)| behind.is_empty())
}

/// The first of three rows in succession (or of all that are left) that begin with equally many numbers.
fn first_sample(rows: &[Row]) -> Option<usize> {
    (0..rows.len().min(PREAMBLE_LINES)).find(|&at| {
        let columns = used_columns(&rows[at]);
        let next = &rows[at + 1..rows.len().min(at + 3)];
        columns > 0 && !next.is_empty() && next.iter().all(|row| used_columns(row) >= columns)
            // A row of settings under the header may carry more numbers than the samples.
            && next.iter().all(|row| used_columns(row) <= columns)
    })
}

/// Header and unit of each column, from the last rows before the samples.
fn headings(preamble: &[Row], columns: usize) -> (Vec<String>, Vec<String>) {
    let cells = |row: Option<&Row>| -> Vec<String> {
        (0..columns).map(|at| row.and_then(|row| row.cells.get(at)).cloned().unwrap_or_default()).collect()
    };
    let is_header = |row: &Row| row.cells.first().is_some_and(|cell| !is_number(cell)) && row.cells.len() >= columns;
    let last = preamble.last().filter(|row| is_header(row));
    let before = preamble.len().checked_sub(2).and_then(|at| preamble.get(at)).filter(|row| is_header(row));
    let unit_like = |row: &Row| {
        row.cells.iter().take(columns).all(|cell| {
            let bare = cell.trim_matches(['(', ')', '[', ']']);
            bare.is_empty()
                || time_unit_s(bare).is_some()
                || bare.chars().count() <= 2
                || ["volt", "ampere"].contains(&bare.to_lowercase().as_str())
        })
    };
    match (before, last) {
        (before, Some(last)) if unit_like(last) && before.is_some() => {
            let units =
                cells(Some(last)).iter().map(|cell| cell.trim_matches(['(', ')', '[', ']']).to_owned()).collect();
            (cells(before), units)
        }
        (_, last) => (cells(last), vec![String::new(); columns]),
    }
}

fn in_brackets(header: &str) -> String {
    let open = header.find(['(', '[']);
    let inside = open.and_then(|at| header.get(at + 1..)).unwrap_or_default();
    inside.trim_end_matches([')', ']']).trim().to_owned()
}

fn time_unit_s(unit: &str) -> Option<f64> {
    match unit.trim().to_lowercase().as_str() {
        "s" | "sec" | "second" | "seconds" => Some(1.0),
        "ms" => Some(1e-3),
        "us" | "µs" | "μs" => Some(1e-6),
        "ns" => Some(1e-9),
        _ => None,
    }
}

/// The sample interval where the preamble names it: beside a word such as `interval`, or under a header `increment`.
fn step_s(preamble: &[Row], columns: usize) -> Option<f64> {
    const WORDS: [&str; 5] = ["sample interval", "sampling interval", "increment", "time step", "sampling period"];
    let positive = |cell: &String| {
        let (value, behind) = number(cell)?;
        let value = value * time_unit_s(behind).unwrap_or(1.0);
        (value > 0.0).then_some(value)
    };
    preamble.iter().enumerate().find_map(|(line, row)| {
        row.cells.iter().enumerate().find_map(|(at, cell)| {
            let name = cell.to_lowercase();
            if !WORDS.iter().any(|word| name.contains(word)) {
                return None;
            }
            let below = || preamble.get(line + 1).and_then(|next| next.cells.get(at)).and_then(positive);
            // Under the header when it stands beyond the samples' columns, else beside it.
            if at >= columns { below() } else { row.cells.get(at + 1).and_then(positive).or_else(below) }
        })
    })
}

fn rises(values: &[f64]) -> bool {
    values.windows(2).all(|w| w[1] >= w[0]) && values.first() < values.last()
}

/// 0, 1, 2, ... or 1, 2, 3, ...
fn counts(values: &[f64]) -> bool {
    values.windows(2).all(|w| w[1] - w[0] == 1.0) && values.first().is_some_and(|first| first.fract() == 0.0)
}

#[cfg(test)]
#[path = "oscilloscope_tests.rs"]
mod tests;
