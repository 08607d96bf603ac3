//! A temperature log as a logger writes it: times in several notations, temperatures in one of several columns.

use std::path::{Path, PathBuf};

use super::import::synonyms;
use super::log_text::{Row, number, rows};
use super::table;
pub use super::temperature_layout::Scale;
use super::temperature_layout::{Clock, Layout, ScaleSaid, date_order};
use super::timestamp::DateOrder;
use super::{Rejected, bounded};
use crate::sizing::duty_from_log::Stretch;

/// Largest file read, bytes.
const BYTES_MAX: u64 = 256 << 20;

/// Most rows read: two years of minutes.
const MOST_ROWS: usize = 1_100_000;

/// A pause longer than this many usual steps is a gap: nobody knows how warm it was.
const GAP_STEPS: f64 = 10.0;

/// A temperature log could not be used.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum LogError {
    /// The file could not be read from the disk, or is larger than 256 MB.
    #[error("{}: {source}; expected a temperature log (*.csv)", path.display())]
    Unreadable { path: PathBuf, source: std::io::Error },
    /// No column holds times.
    #[error("{}: no column with times; expected dates with times, times of day, or numbers in s, min or h", path.display())]
    NoTime { path: PathBuf },
    /// No column holds temperatures.
    #[error("{}: no column with temperatures", path.display())]
    NoTemperature { path: PathBuf },
    /// There is no column of this name.
    #[error("{}: no column with temperatures called {asked}; expected one of {}", path.display(), columns.join(", "))]
    NoSuchColumn { path: PathBuf, asked: String, columns: Vec<String> },
    /// Fewer than two rows could be used.
    #[error("{}: {rows} usable rows; expected at least 2 of different times", path.display())]
    TooShort { path: PathBuf, rows: usize },
}

/// What a person said about a log.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct LogAnswers {
    /// The column beside the can, by its name in [`TemperatureLog::columns`].
    pub column: Option<String>,
    /// The unit of its temperatures.
    pub scale: Option<Scale>,
}

/// A temperature log as read, and what has to be said about it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct TemperatureLog {
    /// The log: each temperature holds until the next; weights in s. Empty while a question is open.
    pub stretches: Vec<Stretch>,
    /// Time from the first to the last row, s.
    pub length_s: f64,
    /// The usual step between rows, s.
    pub step_s: f64,
    /// Pauses longer than ten steps; they count as one step each.
    pub gaps: usize,
    /// Columns that hold temperatures, by their header or as `column 2`.
    pub columns: Vec<String>,
    /// The one that was read; `None` while it is asked which one stands beside the can.
    pub column: Option<String>,
    /// Its unit; `None` while it is asked for.
    pub scale: Option<Scale>,
    /// Rows that were not used.
    pub rejected: Vec<Rejected>,
    /// Remarks for the person, one sentence each.
    pub notes: Vec<String>,
}

/// Reads the log at `path`.
///
/// # Errors
/// When the file cannot be read or holds no temperature log.
pub fn read(path: &Path, answers: &LogAnswers) -> Result<TemperatureLog, LogError> {
    let bytes =
        bounded::read(path, BYTES_MAX).map_err(|source| LogError::Unreadable { path: path.to_owned(), source })?;
    from_bytes(&bytes, path, answers)
}

/// Reads a log from memory; `path` is for messages.
///
/// # Errors
/// When the bytes hold no temperature log.
pub fn from_bytes(bytes: &[u8], path: &Path, answers: &LogAnswers) -> Result<TemperatureLog, LogError> {
    let owned = || path.to_owned();
    let (text, mut notes) = table::text(bytes, synonyms::known());
    let (table, more) = rows(&text, MOST_ROWS);
    if more {
        notes.push(format!("Only the first {MOST_ROWS} rows were read."));
    }
    let order = date_order(&table.rows, &mut notes);
    let layout = Layout::find(&table.rows, order).ok_or_else(|| LogError::NoTime { path: owned() })?;
    let columns: Vec<String> = layout.temperatures.iter().map(|&at| layout.name(at)).collect();
    if columns.is_empty() {
        return Err(LogError::NoTemperature { path: owned() });
    }
    let chosen = match &answers.column {
        Some(name) => {
            let at = columns.iter().position(|known| known == name);
            let asked = || LogError::NoSuchColumn { path: owned(), asked: name.clone(), columns: columns.clone() };
            Some(at.ok_or_else(asked)?)
        }
        None => layout.only_one(),
    };
    let chosen = chosen.map(|at| layout.temperatures[at]);
    let said = chosen.and_then(|at| layout.scale(at, &table.rows));
    let scale = answers.scale.or(said.map(|said| said.scale));
    let column = chosen.map(|at| layout.name(at));
    let mut log = TemperatureLog { columns, column, scale, notes, ..TemperatureLog::default() };
    let (Some(chosen), Some(scale)) = (chosen, scale) else { return Ok(log) };
    log.notes.extend(said.filter(|_| answers.scale.is_none()).and_then(ScaleSaid::note));
    log.notes.extend(layout.times.note());
    fill(&mut log, &table.rows, &layout, order, (chosen, scale), path)?;
    Ok(log)
}

/// Reads the rows of the chosen column.
fn fill(
    log: &mut TemperatureLog,
    rows: &[Row],
    layout: &Layout,
    order: DateOrder,
    (chosen, scale): (usize, Scale),
    path: &Path,
) -> Result<(), LogError> {
    let mut samples = Vec::with_capacity(rows.len());
    let mut clock = Clock::default();
    for row in &rows[layout.first_data..] {
        let reject = |field: &str, at: usize, reason: &str| {
            Rejected::new(path, row.line, field, row.cells.get(at).map_or("", String::as_str), reason)
        };
        let Some(time_s) = layout.times.seconds(row, order, &mut clock) else {
            log.rejected.push(reject("time", layout.times.column(), "expected a time as in the rows above"));
            continue;
        };
        match row.cells.get(chosen).and_then(|cell| number(cell)).map(|(value, _)| scale.celsius(value)) {
            Some(ambient_c) if (-273.0..=1000.0).contains(&ambient_c) => samples.push((time_s, ambient_c)),
            _ => log.rejected.push(reject("temperature", chosen, "expected a temperature between -273 and 1000 °C")),
        }
    }
    if samples.windows(2).any(|w| w[1].0 < w[0].0) {
        log.notes.push("The times do not rise from row to row; the rows were sorted by time.".into());
        samples.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
    if !hold(&samples, log) {
        return Err(LogError::TooShort { path: path.to_owned(), rows: samples.len() });
    }
    if log.gaps > 0 {
        log.notes.push(format!("{} gaps longer than {GAP_STEPS} steps are left out.", log.gaps));
    }
    log.length_s = samples[samples.len() - 1].0 - samples[0].0;
    Ok(())
}

/// Each temperature holds until the next sample; after a gap and at the end for the usual step. False below two samples or without any
/// time between them.
fn hold(samples: &[(f64, f64)], log: &mut TemperatureLog) -> bool {
    let all: Vec<f64> = samples.windows(2).map(|w| w[1].0 - w[0].0).collect();
    let mut steps: Vec<f64> = all.iter().copied().filter(|&step| step > 0.0).collect();
    if steps.is_empty() {
        return false;
    }
    let middle = steps.len() / 2;
    let step_s = *steps.select_nth_unstable_by(middle, f64::total_cmp).1;
    let is_gap = |step: &f64| *step > GAP_STEPS * step_s;
    let weights = all.iter().map(|step| if is_gap(step) { step_s } else { *step }).chain([step_s]);
    let stretch = |(weight, &(_, ambient_c)): (f64, &(f64, f64))| Stretch { weight, ambient_c };
    log.stretches = weights.zip(samples).map(stretch).collect();
    (log.step_s, log.gaps) = (step_s, all.iter().filter(|step| is_gap(step)).count());
    true
}
