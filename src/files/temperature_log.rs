//! A temperature log as a logger writes it: times in several notations, temperatures in one of several columns.

use std::path::{Path, PathBuf};

use super::Rejected;
use super::log_text::{Row, decode, number, rows};
use super::timestamp::{DateOrder, Moment, order_of, read as read_moment};
use crate::sizing::duty_from_log::Stretch;

/// Largest file read, bytes.
pub const MOST_BYTES: usize = 256 << 20;

/// Most rows read: two years of minutes.
pub const MOST_ROWS: usize = 1_100_000;

/// Rows looked at to find out what the columns hold.
const LOOKED_AT: usize = 300;

/// A pause longer than this many usual steps is a gap: nobody knows how warm it was.
const GAP_STEPS: f64 = 10.0;

/// A temperature log could not be used.
#[derive(Debug, thiserror::Error)]
pub enum LogError {
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a temperature log (*.csv)", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// The file is larger than [`MOST_BYTES`].
    #[error("{}: {bytes} bytes; expected at most {MOST_BYTES}", path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Its size.
        bytes: usize,
    },
    /// No column holds times.
    #[error("{}: no column with times; expected dates with times, times of day, or numbers in s, min or h", path.display())]
    NoTime {
        /// The file.
        path: PathBuf,
    },
    /// No column holds temperatures, or not the one asked for.
    #[error("{}: no column with temperatures{}", path.display(), asked.as_ref().map_or(String::new(), |name| format!(" called {name}")))]
    NoTemperature {
        /// The file.
        path: PathBuf,
        /// The column asked for.
        asked: Option<String>,
    },
    /// Fewer than two rows could be used.
    #[error("{}: {rows} usable rows; expected at least 2", path.display())]
    TooShort {
        /// The file.
        path: PathBuf,
        /// Rows that could be used.
        rows: usize,
    },
}

/// A temperature log as read, and what has to be said about it.
#[derive(Debug, Clone, PartialEq)]
pub struct TemperatureLog {
    /// The log: each temperature holds until the next; weights in s.
    pub stretches: Vec<Stretch>,
    /// Time from the first to the last row, s.
    pub length_s: f64,
    /// The usual step between rows, s.
    pub step_s: f64,
    /// Pauses longer than ten steps; they count as one step each.
    pub gaps: usize,
    /// Columns that hold temperatures, by their header or as `column 2`.
    pub columns: Vec<String>,
    /// The one that was read.
    pub column: String,
    /// Rows that were not used.
    pub rejected: Vec<Rejected>,
    /// Remarks for the person, one sentence each.
    pub notes: Vec<String>,
}

/// Reads the log at `path`; `column` asks for a column by its name in [`TemperatureLog::columns`].
///
/// # Errors
/// When the file cannot be read or holds no temperature log.
pub fn read(path: &Path, column: Option<&str>) -> Result<TemperatureLog, LogError> {
    let bytes = std::fs::read(path).map_err(|source| LogError::Unreadable { path: path.to_owned(), source })?;
    from_bytes(&bytes, path, column)
}

/// Reads a log from memory; `path` is for messages.
///
/// # Errors
/// When the bytes hold no temperature log.
pub fn from_bytes(bytes: &[u8], path: &Path, column: Option<&str>) -> Result<TemperatureLog, LogError> {
    let owned = || path.to_owned();
    if bytes.len() > MOST_BYTES {
        return Err(LogError::TooLarge { path: owned(), bytes: bytes.len() });
    }
    let text = decode(bytes);
    let (table, more) = rows(&text, MOST_ROWS);
    let mut notes = Vec::new();
    if more {
        notes.push(format!("Only the first {MOST_ROWS} rows were read."));
    }
    let order = date_order(&table.rows, &mut notes);
    let layout = Layout::find(&table.rows, order).ok_or_else(|| LogError::NoTime { path: owned() })?;
    let no_temperature = || LogError::NoTemperature { path: owned(), asked: column.map(str::to_owned) };
    let names: Vec<String> = layout.temperatures.iter().map(|&at| layout.name(at)).collect();
    let chosen = match column {
        Some(name) => names.iter().position(|known| known == name),
        None => layout.likeliest(),
    };
    let chosen = *layout.temperatures.get(chosen.ok_or_else(no_temperature)?).ok_or_else(no_temperature)?;
    let scale = layout.scale(chosen, &table.rows);
    notes.extend(scale.note());
    notes.extend(layout.times.note());

    let mut samples = Vec::with_capacity(table.rows.len());
    let mut rejected = Vec::new();
    let mut clock = Clock::default();
    for row in &table.rows[layout.first_data..] {
        let reject = |field: &str, at: usize, reason: &str| Rejected {
            file: owned(),
            line: row.line,
            field: field.into(),
            value: row.cells.get(at).cloned().unwrap_or_default(),
            reason: reason.into(),
        };
        let Some(time_s) = layout.times.seconds(row, order, &mut clock) else {
            rejected.push(reject("time", layout.times.column(), "expected a time as in the rows above"));
            continue;
        };
        match row.cells.get(chosen).and_then(|cell| number(cell)).map(|(value, _)| scale.celsius(value)) {
            Some(ambient_c) if (-273.0..=1000.0).contains(&ambient_c) => samples.push((time_s, ambient_c)),
            _ => rejected.push(reject("temperature", chosen, "expected a temperature between -273 and 1000 °C")),
        }
    }
    if samples.windows(2).any(|w| w[1].0 < w[0].0) {
        notes.push("The times do not rise from row to row; the rows were sorted by time.".into());
        samples.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
    let held = hold(&samples).ok_or_else(|| LogError::TooShort { path: owned(), rows: samples.len() })?;
    if held.gaps > 0 {
        notes.push(format!("{} gaps longer than {GAP_STEPS} steps are left out.", held.gaps));
    }
    Ok(TemperatureLog {
        length_s: samples[samples.len() - 1].0 - samples[0].0,
        step_s: held.step_s,
        gaps: held.gaps,
        stretches: held.stretches,
        column: layout.name(chosen),
        columns: names,
        rejected,
        notes,
    })
}

struct Held {
    stretches: Vec<Stretch>,
    step_s: f64,
    gaps: usize,
}

/// Each temperature holds until the next sample; after a gap and at the end for the usual step. `None` below two samples or without any
/// time between them.
fn hold(samples: &[(f64, f64)]) -> Option<Held> {
    let mut steps: Vec<f64> = samples.windows(2).map(|w| w[1].0 - w[0].0).collect();
    let all = steps.clone();
    steps.retain(|&step| step > 0.0);
    if steps.is_empty() {
        return None;
    }
    let middle = steps.len() / 2;
    let step_s = *steps.select_nth_unstable_by(middle, f64::total_cmp).1;
    let mut gaps = 0;
    let stretches = samples
        .iter()
        .enumerate()
        .map(|(at, &(_, ambient_c))| {
            let weight = match all.get(at) {
                Some(&step) if step > GAP_STEPS * step_s => {
                    gaps += 1;
                    step_s
                }
                Some(&step) => step,
                None => step_s,
            };
            Stretch { weight, ambient_c }
        })
        .collect();
    Some(Held { stretches, step_s, gaps })
}

/// Which number of a date with slashes is the day; told by a number above 12, else day first, which is said.
fn date_order(rows: &[Row], notes: &mut Vec<String>) -> DateOrder {
    let mut slashes = false;
    for cell in rows.iter().flat_map(|row| &row.cells) {
        if let Some(order) = order_of(cell) {
            return order;
        }
        slashes |=
            cell.split('/').count() == 3 && matches!(read_moment(cell, DateOrder::DayFirst), Some(Moment::Absolute(_)));
    }
    if slashes && rows.iter().flat_map(|row| &row.cells).any(|cell| cell.find('/').is_some_and(|at| at <= 2)) {
        notes.push("Dates such as 03/04/2026 are read with the day first (assumed).".into());
    }
    DateOrder::DayFirst
}

/// Where the times stand.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Times {
    /// Date and time in one cell.
    Whole(usize),
    /// Date in one cell, time of day in another.
    Split { date: usize, clock: usize },
    /// Time of day only; past midnight a day is added.
    Clock(usize),
    /// A number; one unit is so many seconds.
    Number { column: usize, unit_s: f64, assumed: bool },
}

/// The last time of day and the days counted so far.
#[derive(Default)]
struct Clock {
    last_s: f64,
    days: f64,
}

impl Times {
    fn column(self) -> usize {
        match self {
            Self::Whole(column) | Self::Clock(column) | Self::Number { column, .. } => column,
            Self::Split { date, .. } => date,
        }
    }

    fn note(self) -> Option<String> {
        match self {
            Self::Number { assumed: true, .. } => {
                Some("The times carry no unit; they are read as seconds (assumed).".into())
            }
            _ => None,
        }
    }

    fn seconds(self, row: &Row, order: DateOrder, clock: &mut Clock) -> Option<f64> {
        let cell = |at: usize| row.cells.get(at).map(String::as_str);
        match self {
            Self::Whole(at) => match read_moment(cell(at)?, order)? {
                Moment::Absolute(seconds) => Some(seconds),
                Moment::Clock(_) => None,
            },
            Self::Split { date, clock } => {
                match (read_moment(cell(date)?, order)?, read_moment(cell(clock)?, order)?) {
                    (Moment::Absolute(day_s), Moment::Clock(seconds)) => Some(day_s + seconds),
                    _ => None,
                }
            }
            Self::Clock(at) => match read_moment(cell(at)?, order)? {
                Moment::Clock(seconds) => {
                    /// Falling by more than this is a midnight and not a row out of place.
                    const HALF_A_DAY_S: f64 = 43_200.0;
                    if clock.last_s - seconds > HALF_A_DAY_S {
                        clock.days += 1.0;
                    }
                    clock.last_s = seconds;
                    Some(clock.days * 86_400.0 + seconds)
                }
                Moment::Absolute(_) => None,
            },
            Self::Number { column, unit_s, .. } => Some(number(cell(column)?)?.0 * unit_s),
        }
    }
}

/// What the columns hold.
struct Layout {
    times: Times,
    /// Columns of numbers that can be temperatures.
    temperatures: Vec<usize>,
    headers: Vec<String>,
    first_data: usize,
}

impl Layout {
    fn find(rows: &[Row], order: DateOrder) -> Option<Self> {
        let looked_at = &rows[..rows.len().min(LOOKED_AT)];
        let width = looked_at.iter().map(|row| row.cells.len()).max()?;
        let count = |of: &dyn Fn(&str) -> bool, at: usize| {
            looked_at.iter().filter(|row| row.cells.get(at).is_some_and(|cell| of(cell))).count()
        };
        let moment = |cell: &str| read_moment(cell, order);
        let absolute = |cell: &str| matches!(moment(cell), Some(Moment::Absolute(_)));
        let with_clock = |cell: &str| absolute(cell) && cell.contains(':');
        let clock = |cell: &str| matches!(moment(cell), Some(Moment::Clock(_)));
        let plain = |cell: &str| moment(cell).is_none() && number(cell).is_some();
        let mostly = |of: &dyn Fn(&str) -> bool| -> Vec<usize> {
            // Half of the rows: the others may be a preamble, or an instrument that lost its sensor.
            (0..width)
                .filter(|&at| 2 * count(of, at) >= looked_at.len().min(4) && 3 * count(of, at) >= looked_at.len())
                .collect()
        };
        let numbers = mostly(&plain);
        let first_row = |times: &[usize]| {
            looked_at.iter().position(|row| {
                times
                    .iter()
                    .all(|&at| row.cells.get(at).is_some_and(|cell| moment(cell).is_some() || number(cell).is_some()))
                    && numbers
                        .iter()
                        .any(|&at| !times.contains(&at) && row.cells.get(at).is_some_and(|cell| plain(cell)))
            })
        };
        let headers_before = |first: usize| -> Vec<String> {
            first.checked_sub(1).and_then(|at| rows.get(at)).map(|row| row.cells.clone()).unwrap_or_default()
        };
        let times = if let Some(&at) = mostly(&with_clock).first() {
            Times::Whole(at)
        } else if let (Some(&date), Some(&clock)) = (mostly(&absolute).first(), mostly(&clock).first()) {
            Times::Split { date, clock }
        } else if let Some(&at) = mostly(&clock).first() {
            Times::Clock(at)
        } else if let Some(&at) = mostly(&absolute).first() {
            Times::Whole(at)
        } else {
            let headers = headers_before(first_row(&[])?);
            Self::number_times(&numbers, &headers, looked_at)?
        };
        let used = match times {
            Times::Split { date, clock } => vec![date, clock],
            other => vec![other.column()],
        };
        let first_data = first_row(&used)?;
        let temperatures = numbers.into_iter().filter(|at| !used.contains(at)).collect();
        Some(Self { times, temperatures, headers: headers_before(first_data), first_data })
    }

    /// The first column of numbers that rises, or falls, all along and is not the only one, with the unit its header names.
    fn number_times(numbers: &[usize], headers: &[String], rows: &[Row]) -> Option<Times> {
        let values =
            |at: usize| -> Vec<f64> { rows.iter().filter_map(|row| Some(number(row.cells.get(at)?)?.0)).collect() };
        let runs = |values: &[f64]| {
            values.len() > 1 && (values.windows(2).all(|w| w[0] < w[1]) || values.windows(2).all(|w| w[0] > w[1]))
        };
        let header = |at: usize| headers.get(at).map(|text| text.to_lowercase()).unwrap_or_default();
        let running: Vec<usize> = numbers.iter().copied().filter(|&at| runs(&values(at))).collect();
        let is_named =
            |&&at: &&usize| ["time", "zeit", "elapsed", "unix", "epoch"].iter().any(|word| header(at).contains(word));
        let column = *running.iter().find(is_named).or_else(|| running.first()).filter(|_| numbers.len() > 1)?;
        let name = header(column);
        let ends = |units: &[&str]| {
            let last =
                name.trim_end_matches([')', ']', ' ']).rsplit(['(', '[', '_', ' ', '/']).next().unwrap_or_default();
            units.contains(&last)
        };
        let first = values(column).first().copied().unwrap_or_default();
        let (unit_s, assumed) = match first {
            _ if ends(&["ms", "millis", "milliseconds"]) || first > 1e11 => (1e-3, false),
            // Seconds since 1970 cannot be anything else.
            _ if ends(&["s", "sec", "secs", "seconds"]) || first > 1e9 => (1.0, false),
            _ if ends(&["min", "mins", "minutes"]) => (60.0, false),
            _ if ends(&["h", "hr", "hrs", "hours"]) => (3600.0, false),
            _ if ends(&["d", "day", "days"]) => (86_400.0, false),
            _ => (1.0, true),
        };
        Some(Times::Number { column, unit_s, assumed })
    }

    fn name(&self, at: usize) -> String {
        let header = self.headers.get(at).map(|text| text.trim()).filter(|text| !text.is_empty());
        header.map_or_else(|| format!("column {}", at + 1), str::to_owned)
    }

    /// Index into `temperatures` of the column most like one: named so, else the first that is not named as something else.
    fn likeliest(&self) -> Option<usize> {
        let name = |&at: &usize| self.headers.get(at).map(|text| text.to_lowercase()).unwrap_or_default();
        let named = |at: &usize| ["temp", "°c", "celsius", "°f", "ambient"].iter().any(|word| name(at).contains(word));
        let other = |at: &usize| {
            let name = name(at);
            ["humid", "rh", "%", "batt", "volt", "dew"].iter().any(|word| name.contains(word))
                || ["#", "no", "no.", "nr", "nr.", "id", "index", "row", "record"].contains(&name.as_str())
        };
        let places = || self.temperatures.iter();
        places()
            .position(|at| named(at) && !other(at))
            .or_else(|| places().position(|at| !other(at)))
            .or_else(|| (!self.temperatures.is_empty()).then_some(0))
    }

    /// The scale of a column: by its header, or by the unit behind its first number.
    fn scale(&self, at: usize, rows: &[Row]) -> Scale {
        let header = self.headers.get(at).map(|text| text.to_lowercase()).unwrap_or_default();
        let first = rows.get(self.first_data).and_then(|row| row.cells.get(at));
        let behind = first.and_then(|cell| number(cell)).map_or(String::new(), |(_, behind)| behind.to_lowercase());
        let says = |header_words: &[&str], units: &[&str]| {
            header_words.iter().any(|word| header.contains(word)) || units.contains(&behind.as_str())
        };
        if says(&["°f", "fahrenheit", "(f)", "[f]", "_f"], &["f", "°f"]) {
            Scale::Fahrenheit
        } else if says(&["kelvin", "(k)", "[k]"], &["k"]) {
            Scale::Kelvin
        } else if says(&["°c", "celsius", "(c)", "[c]", "_c", "℃"], &["c", "°c", "℃"]) {
            Scale::Celsius
        } else {
            Scale::CelsiusAssumed
        }
    }
}

#[derive(Clone, Copy)]
enum Scale {
    Celsius,
    CelsiusAssumed,
    Fahrenheit,
    Kelvin,
}

impl Scale {
    fn celsius(self, value: f64) -> f64 {
        match self {
            Self::Celsius | Self::CelsiusAssumed => value,
            Self::Fahrenheit => (value - 32.0) / 1.8,
            Self::Kelvin => value - 273.15,
        }
    }

    fn note(self) -> Option<String> {
        match self {
            Self::Celsius => None,
            Self::CelsiusAssumed => Some("The temperatures carry no unit; they are read as °C (assumed).".into()),
            Self::Fahrenheit => Some("The temperatures were turned from °F into °C.".into()),
            Self::Kelvin => Some("The temperatures were turned from K into °C.".into()),
        }
    }
}

#[cfg(test)]
#[path = "temperature_log_tests.rs"]
mod tests;
