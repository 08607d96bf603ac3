//! An oscilloscope's record as CSV: a time column, or a step in the preamble, and one or more channels.

use std::path::{Path, PathBuf};

use super::bounded;
use super::import::synonyms;
use super::log_text::{Row, number, rows, seconds};
use super::table;
use crate::domain::style::counted;
use crate::physics::waveform::{Analysis, MIN_SAMPLES, RecordError, analyse};
use crate::sizing::reasons::figure;

/// Largest file read, bytes.
const BYTES_MAX: u64 = 256 << 20;

/// Most samples read.
const MOST_SAMPLES: usize = 4_000_000;

/// Lines among which the samples have to begin.
const PREAMBLE_LINES: usize = 200;

/// Lines behind the samples that may hold something else.
const FOOTER_LINES: usize = 5;

/// A longer name of a setting is found within a text.
const LONG_WORD: usize = 8;

/// Columns looked at.
const MOST_COLUMNS: usize = 64;

/// Times without unit are taken as seconds up to this step, s: a longer one shows no ripple.
const SLOWEST_STEP_S: f64 = 0.5e-3;

/// Times printed to more than this share of a step are rounded.
const COARSE_STEPS: f64 = 0.25;

/// A step is derived from rounded times where that is right within this share.
const COARSEST_SHARE: f64 = 0.01;

/// A record could not be used.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum ScopeError {
    /// The file could not be read from the disk, or is larger than 256 MB.
    #[error("{}: {source}; expected an oscilloscope record (*.csv)", path.display())]
    Unreadable { path: PathBuf, source: std::io::Error },
    /// No block of numbers was found.
    #[error("{}: expected rows of numbers, a time and one or more channels, within the first {PREAMBLE_LINES} lines", path.display())]
    NoSamples { path: PathBuf },
    /// A cell among the samples is no number.
    #[error("{}: line {line}: \"{value}\": expected a number in each of {columns} columns", path.display())]
    NotANumber { path: PathBuf, line: u64, value: String, columns: usize },
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

/// What samples in a unit are.
fn sampled(unit: &str) -> Sampled {
    match unit.trim().to_lowercase().as_str() {
        "a" | "amp" | "amps" | "ampere" | "amperes" => Sampled::Current(1.0),
        "ma" => Sampled::Current(1e-3),
        "ua" | "µa" | "μa" => Sampled::Current(1e-6),
        "v" | "volt" | "volts" => Sampled::Voltage(1.0),
        "mv" => Sampled::Voltage(1e-3),
        "uv" | "µv" | "μv" => Sampled::Voltage(1e-6),
        _ => Sampled::Unknown,
    }
}

impl Channel {
    /// What its samples are, by the unit printed.
    pub fn sampled(&self) -> Sampled {
        sampled(&self.unit)
    }

    /// A for one of its unit. `a_per_v` is the current that makes one volt at the input (10 for a clamp of 100 mV/A or a shunt of 0.1 Ω); a channel in A needs
    /// none. `probe` multiplies what the oscilloscope wrote, where its probe was set wrongly. `None` while the figure needed is missing or is no
    /// finite number above 0.
    pub fn a_per_unit(&self, a_per_v: Option<f64>, probe: f64) -> Option<f64> {
        let unit = match self.sampled() {
            Sampled::Current(a) => a,
            Sampled::Voltage(v) => v * a_per_v?,
            Sampled::Unknown => a_per_v?,
        };
        Some(unit * probe).filter(|scale| scale.is_finite() && *scale > 0.0)
    }

    /// Lowest and highest sample in each of `columns` equal stretches, for a drawing; fewer where there are fewer samples.
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
    /// Time of each sample, s; the number of the sample while its step is asked for.
    pub time_s: Vec<f64>,
    /// The channels.
    pub channels: Vec<Channel>,
    /// Why the step between two samples has to be said by a person, where the file does not give it.
    pub step_asked: Option<String>,
    /// Remarks for the person, one sentence each.
    pub notes: Vec<String>,
}

impl Record {
    /// The channel that can be meant: the only one, or the only one in A; otherwise a person chooses.
    pub fn only_channel(&self) -> Option<usize> {
        let current = |at: &usize| matches!(self.channels[*at].sampled(), Sampled::Current(_));
        let all: Vec<usize> = (0..self.channels.len()).collect();
        let currents: Vec<usize> = all.iter().copied().filter(current).collect();
        [all, currents].iter().find_map(|of| if let [only] = of[..] { Some(only) } else { None })
    }

    /// Takes the step between two samples from a person, s.
    pub fn set_step(&mut self, step_s: f64) {
        self.time_s = (0..self.time_s.len()).map(|at| at as f64 * step_s).collect();
        self.step_asked = None;
    }

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
    let (text, mut notes) = table::text(bytes, synonyms::known());
    let (table, more) = rows(&text, MOST_SAMPLES + PREAMBLE_LINES);
    let mut rows = table.rows.as_slice();
    let no_samples = || ScopeError::NoSamples { path: owned() };
    let columns = columns_of_samples(rows);
    let has = |row: &Row, at: usize| row.cells.get(at).is_some_and(|cell| is_number(cell));
    let footer = rows.iter().rev().take(FOOTER_LINES).take_while(|row| !columns.iter().any(|&at| has(row, at))).count();
    if footer > 0 && rows.len() > footer {
        rows = &rows[..rows.len() - footer];
        notes.push(format!("At the end {} no samples.", counted(footer, "line holds", "lines hold")));
    }
    let full = |row: &Row| !columns.is_empty() && columns.iter().all(|&at| has(row, at));
    let begins = |at: &usize| rows[*at..rows.len().min(at + 3)].iter().all(full) && at + 1 < rows.len();
    let first = (0..rows.len().min(PREAMBLE_LINES)).find(begins).ok_or_else(no_samples)?;
    let kept = &rows[first..rows.len().min(first + MOST_SAMPLES)];
    if more || kept.len() < rows.len() - first {
        notes.push(format!("Only the first {MOST_SAMPLES} samples were read."));
    }
    let mut values: Vec<Vec<f64>> = vec![Vec::with_capacity(kept.len()); columns.len()];
    for row in kept {
        for (&at, column) in columns.iter().zip(&mut values) {
            let cell = row.cells.get(at).map_or("", String::as_str);
            let not_a_number =
                || ScopeError::NotANumber { path: owned(), line: row.line, value: cell.into(), columns: columns.len() };
            column.push(number(cell).ok_or_else(not_a_number)?.0);
        }
    }
    let settings = Settings { rows: &rows[..rows.len().min(first + PREAMBLE_LINES)], columns: &columns, first };
    let (headers, units) = settings.headings();
    let timed = columns.len() > 1 && rises(&values[0]);
    let count_only = !timed || counts(&values[0]);
    let printed = printed_to(kept.iter().filter_map(|row| row.cells.get(columns[0])));
    let unit_s = seconds(&units[0])
        .or_else(|| seconds(in_brackets(&headers[0])))
        .or_else(|| seconds(settings.after(&["horizontal units", "x units", "time units"])?));
    let times = if let Some(step) = settings.step_s().filter(|_| count_only || !evenly(&values[0], COARSE_STEPS)) {
        // A running number in front, nothing, or rounded times: the settings say the step.
        Ok((0..kept.len()).map(|at| at as f64 * step).collect())
    } else if timed {
        times_s(&values[0], printed, unit_s, &mut notes)
    } else {
        Err("there is no column of times, and no line says the sample interval".to_owned())
    };
    if kept.len() < MIN_SAMPLES {
        notes.push(format!("{} samples; an analysis needs at least {MIN_SAMPLES}.", kept.len()));
    }
    let first_channel = usize::from(timed);
    let in_settings = |words: &[&str]| settings.after(words).filter(|_| values.len() == first_channel + 1);
    let channel = |at: usize| {
        let name = Some(headers[at].as_str()).filter(|name| !name.is_empty());
        let name = name.or_else(|| in_settings(&["source", "channel"]));
        let unit = [units[at].as_str(), in_brackets(&headers[at])].into_iter().find(|unit| !unit.is_empty());
        let unit = unit.or_else(|| in_settings(&["vertical units", "y units"]));
        Channel {
            name: name.map_or_else(|| format!("channel {}", at + 1 - first_channel), str::to_owned),
            unit: unit.unwrap_or_default().to_owned(),
            samples: values[at].clone(),
        }
    };
    let channels = (first_channel..columns.len()).map(channel).collect();
    let step_asked = times.as_ref().err().cloned();
    let time_s = times.unwrap_or_else(|_| (0..kept.len()).map(|at| at as f64).collect());
    Ok(Record { time_s, channels, step_asked, notes })
}

fn is_number(cell: &str) -> bool {
    number(cell).is_some_and(|(_, behind)| behind.is_empty())
}

/// Columns with a number in most rows of the second half: settings stand beside the first samples, or before them.
fn columns_of_samples(rows: &[Row]) -> Vec<usize> {
    let rows = &rows[rows.len() / 2..];
    let width = rows.iter().map(|row| row.cells.len()).max().unwrap_or(0).min(MOST_COLUMNS);
    let numbers = |at: usize| rows.iter().filter(|row| row.cells.get(at).is_some_and(|cell| is_number(cell))).count();
    (0..width).filter(|&at| 2 * numbers(at) > rows.len()).collect()
}

/// Times in s, or why they are asked for: no unit where seconds cannot be meant, or fewer digits than the steps need. `printed` is what
/// the last digit of most of them is worth.
fn times_s(values: &[f64], printed: f64, unit_s: Option<f64>, notes: &mut Vec<String>) -> Result<Vec<f64>, String> {
    let step = step_of(values);
    if unit_s.is_none() && step > SLOWEST_STEP_S {
        return Err(format!("the times carry no unit, and steps of {} s are too long for a ripple", figure(step)));
    }
    if unit_s.is_none() {
        notes.push("The times carry no unit; they are read as seconds (assumed).".into());
    }
    let unit_s = unit_s.unwrap_or(1.0);
    let plain = || values.iter().map(|time| time * unit_s).collect();
    if printed <= COARSE_STEPS * step || evenly(values, COARSE_STEPS) {
        return Ok(plain());
    }
    let share = printed / (values[values.len() - 1] - values[0]);
    let printed_s = figure(printed * unit_s);
    if !evenly(values, printed / step) {
        return Err(format!("the times are printed to {printed_s} s only, and do not advance evenly"));
    }
    if share > COARSEST_SHARE {
        return Err(format!("the times are printed to {printed_s} s only: too coarse to derive the step from"));
    }
    notes.push(format!(
        "The times are printed to {printed_s} s, more than a step: the step {} s is derived from the first and the last, right within {} %.",
        figure(step * unit_s),
        figure((1000.0 * share).ceil() / 10.0)
    ));
    Ok((0..values.len()).map(|at| (values[0] + at as f64 * step) * unit_s).collect())
}

/// The mean step.
fn step_of(values: &[f64]) -> f64 {
    let last = values.len() - 1;
    (values[last] - values[0]) / last.max(1) as f64
}

/// Whether every value lies within so many steps of the straight line from the first to the last.
fn evenly(values: &[f64], steps: f64) -> bool {
    let step = step_of(values);
    let within = steps * step * (1.0 + 1e-9);
    values.iter().enumerate().all(|(at, value)| (value - values[0] - at as f64 * step).abs() <= within)
}

/// What the last digit of three quarters of the numbers is worth at most; zeros tell nothing.
fn printed_to<'a>(cells: impl Iterator<Item = &'a String>) -> f64 {
    let nonzero = cells.filter(|cell| cell.contains(|c: char| ('1'..='9').contains(&c)));
    let mut worth: Vec<f64> = nonzero.filter_map(|cell| resolution(cell)).collect();
    worth.sort_unstable_by(f64::total_cmp);
    worth.get(3 * worth.len() / 4).copied().unwrap_or(0.0)
}

/// What the last digit of a printed number is worth: `1.00E-06` 1e-8, `0.002` 0.001.
fn resolution(cell: &str) -> Option<f64> {
    let (mantissa, exponent) = cell.split_once(['e', 'E']).unwrap_or((cell, "0"));
    let decimals = mantissa.split_once(['.', ',']).map_or(0, |(_, behind)| behind.trim().len());
    let exponent: i32 = exponent.trim().parse().ok()?;
    Some(10f64.powi(exponent.saturating_sub(i32::try_from(decimals).ok()?)))
}

/// What stands before the samples, and beside the first of them.
struct Settings<'a> {
    rows: &'a [Row],
    /// Columns of the samples.
    columns: &'a [usize],
    /// First row of samples.
    first: usize,
}

impl Settings<'_> {
    /// Header and unit of each column, from the last rows before the samples.
    fn headings(&self) -> (Vec<String>, Vec<String>) {
        let cells = |row: Option<&Row>| -> Vec<String> {
            let cell = |&at: &usize| row.and_then(|row| row.cells.get(at)).cloned().unwrap_or_default();
            self.columns.iter().map(cell).collect()
        };
        let is_header = |row: &&Row| {
            let cell = |&at: &usize| row.cells.get(at).is_some_and(|cell| !is_number(cell));
            self.columns.first().is_some_and(cell) && self.columns.last().is_some_and(cell)
        };
        let above = |rows: usize| self.first.checked_sub(rows).and_then(|at| self.rows.get(at)).filter(is_header);
        let bare = |cell: &String| cell.trim_matches(['(', ')', '[', ']']).to_owned();
        let unit_like = |row: &Row| {
            let electric = |bare: &String| sampled(bare) != Sampled::Unknown;
            let units: Vec<String> = cells(Some(row)).iter().map(bare).collect();
            let like = |bare: &String| seconds(bare).is_some() || bare.chars().count() <= 2 || electric(bare);
            // `Sequence,VOLTS`: what the running number is called.
            units.iter().all(like) || units.len() > 1 && units[1..].iter().all(electric)
        };
        match (above(2), above(1)) {
            (before @ Some(_), Some(last)) if unit_like(last) => {
                (cells(before), cells(Some(last)).iter().map(bare).collect())
            }
            (_, last) => (cells(last), vec![String::new(); self.columns.len()]),
        }
    }

    /// The cells outside the samples that say one of `words`, with their row and column.
    fn named<'s>(&'s self, words: &'s [&'s str]) -> impl Iterator<Item = (usize, usize)> + 's {
        let cells = self.rows.iter().enumerate().flat_map(move |(line, row)| {
            let outside = move |at: &usize| line < self.first || !self.columns.contains(at);
            (0..row.cells.len()).filter(outside).map(move |at| (line, at))
        });
        cells.filter(move |&(line, at)| {
            let name = self.rows[line].cells[at].to_lowercase();
            let name = name.trim_end_matches([':', ' ']);
            words.iter().any(|word| name == *word || (word.len() > LONG_WORD && name.contains(word)))
        })
    }

    /// The text behind a setting.
    fn after(&self, words: &[&str]) -> Option<&str> {
        let mut found = self.named(words).filter_map(|(line, at)| self.rows[line].cells.get(at + 1));
        found.find(|cell| !cell.is_empty()).map(String::as_str)
    }

    /// The sample interval, s, where the settings name it: behind a word such as `interval`, or under a header `increment`.
    fn step_s(&self) -> Option<f64> {
        const WORDS: [&str; 6] =
            ["sample interval", "sampling interval", "increment", "time step", "sampling period", "x increment"];
        let positive = |cell: &String| {
            let (value, behind) = number(cell)?;
            let value = value * seconds(behind).unwrap_or(1.0);
            (value > 0.0).then_some(value)
        };
        self.named(&WORDS).find_map(|(line, at)| {
            let below = || self.rows.get(line + 1).and_then(|next| next.cells.get(at)).and_then(positive);
            let behind = || self.rows[line].cells.get(at + 1).and_then(positive);
            // A header stands over its figure, a setting before it.
            let is_header = line < self.first && self.columns.iter().all(|&column| column < at);
            if is_header { below().or_else(behind) } else { behind().or_else(below) }
        })
    }
}

fn in_brackets(header: &str) -> &str {
    let inside = header.split_once(['(', '[']).map_or("", |(_, inside)| inside);
    inside.trim_end_matches([')', ']']).trim()
}

fn rises(values: &[f64]) -> bool {
    values.windows(2).all(|w| w[1] >= w[0]) && values.first() < values.last()
}

/// 0, 1, 2, ... or 1, 2, 3, ...
fn counts(values: &[f64]) -> bool {
    values.windows(2).all(|w| w[1] - w[0] == 1.0) && values.first().is_some_and(|first| first.fract() == 0.0)
}
