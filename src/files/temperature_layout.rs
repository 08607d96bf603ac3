//! What the columns of a temperature log hold.

use std::cmp::Ordering;

use super::log_text::{Row, number, seconds};
use super::timestamp::{DateOrder, Moment, order_of, read as read_moment};

/// Rows looked at to find out what the columns hold.
const LOOKED_AT: usize = 300;

/// Which number of a date with slashes is the day; told by a number above 12, else day first, which is said.
pub(super) fn date_order(rows: &[Row], notes: &mut Vec<String>) -> DateOrder {
    let mut slashes = false;
    for cell in rows.iter().flat_map(|row| &row.cells) {
        if let Some(order) = order_of(cell) {
            return order;
        }
        slashes |=
            cell.split('/').count() == 3 && read_moment(cell, DateOrder::DayFirst).and_then(Moment::absolute).is_some();
    }
    if !slashes || !rows.iter().flat_map(|row| &row.cells).any(|cell| cell.find('/').is_some_and(|at| at <= 2)) {
        return DateOrder::DayFirst;
    }
    // A log of some days has its days one behind the other.
    let span = |order| {
        let cells = rows.iter().flat_map(|row| &row.cells).filter(|cell| cell.contains('/'));
        let times = cells.filter_map(|cell| read_moment(cell, order)?.absolute());
        let (first, last) = times.fold((f64::MAX, f64::MIN), |(first, last), at| (first.min(at), last.max(at)));
        last - first
    };
    let (order, told) = match span(DateOrder::DayFirst).total_cmp(&span(DateOrder::MonthFirst)) {
        Ordering::Less => (DateOrder::DayFirst, "day first: so its days follow each other"),
        Ordering::Equal => (DateOrder::DayFirst, "day first (assumed)"),
        Ordering::Greater => (DateOrder::MonthFirst, "month first: so its days follow each other"),
    };
    notes.push(format!("Dates such as 03/04/2026 are read with the {told}."));
    order
}

/// Where the times stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Times {
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
pub(super) struct Clock {
    last_s: f64,
    days: f64,
}

impl Times {
    pub(super) fn column(self) -> usize {
        match self {
            Self::Whole(column) | Self::Clock(column) | Self::Number { column, .. } => column,
            Self::Split { date, .. } => date,
        }
    }

    pub(super) fn note(self) -> Option<String> {
        match self {
            Self::Number { assumed: true, .. } => {
                Some("The times carry no unit; they are read as seconds (assumed).".into())
            }
            _ => None,
        }
    }

    pub(super) fn seconds(self, row: &Row, order: DateOrder, clock: &mut Clock) -> Option<f64> {
        /// Falling by more than this is a midnight and not a row out of place.
        const HALF_A_DAY_S: f64 = 43_200.0;
        let cell = |at: usize| row.cells.get(at).map(String::as_str);
        let moment = |at: usize| read_moment(cell(at)?, order);
        match self {
            Self::Whole(at) => moment(at)?.absolute(),
            Self::Split { date, clock } => Some(moment(date)?.absolute()? + moment(clock)?.clock()?),
            Self::Clock(at) => {
                let seconds = moment(at)?.clock()?;
                if clock.last_s - seconds > HALF_A_DAY_S {
                    clock.days += 1.0;
                }
                clock.last_s = seconds;
                Some(clock.days * 86_400.0 + seconds)
            }
            Self::Number { column, unit_s, .. } => Some(number(cell(column)?)?.0 * unit_s),
        }
    }
}

/// What the columns hold.
pub(super) struct Layout {
    pub times: Times,
    /// Columns of numbers that can be temperatures.
    pub temperatures: Vec<usize>,
    headers: Vec<String>,
    /// Units of the columns, where a row of them stands under the names.
    units: Vec<String>,
    pub first_data: usize,
}

/// Words of headers that name temperatures.
const TEMPERATURES: [&str; 9] = ["temp", "°c", "℃", "celsius", "°f", "fahrenheit", "ambient", "kelvin", "温度"];

/// Beginnings of words in headers that name something else.
const OTHERS: [&str; 16] = [
    "humid", "rh", "batt", "volt", "dew", "press", "hpa", "mbar", "co2", "ppm", "lux", "feucht", "akku", "elapsed",
    "time", "zeit",
];

/// Scales by what says them anywhere in a header, and by what their unit alone may be.
const SCALES: [(Scale, &[&str], &[&str]); 3] = [
    (
        Scale::Fahrenheit,
        &["°f", "fahrenheit", "(f)", "[f]", "_f", "deg f", "degf"],
        &["f", "°f", "degf", "deg f", "fahrenheit"],
    ),
    (
        Scale::Celsius,
        &["°c", "celsius", "(c)", "[c]", "_c", "℃", "deg c", "degc"],
        &["c", "°c", "℃", "degc", "deg c", "celsius"],
    ),
    (Scale::Kelvin, &["kelvin", "(k)", "[k]", "_k"], &["k", "kelvin"]),
];

/// A unit as it stands in a row or behind a number.
fn bare(text: &str) -> String {
    text.trim_matches(['(', ')', '[', ']', ' ']).to_lowercase()
}

/// A cell of a header in small letters.
fn lower(cells: &[String], at: usize) -> String {
    cells.get(at).map(|text| text.to_lowercase()).unwrap_or_default()
}

/// Rows that are none of a logger's names: `°C`, `s`, `%`.
fn is_unit(cell: &str) -> bool {
    let unit = bare(cell);
    ["", "%", "%rh", "% rh", "v", "mv", "s", "sec", "min", "h", "hpa"].contains(&unit.as_str())
        || SCALES.iter().any(|(_, _, units)| units.contains(&unit.as_str()))
}

impl Layout {
    pub(super) fn find(rows: &[Row], order: DateOrder) -> Option<Self> {
        let looked_at = &rows[..rows.len().min(LOOKED_AT)];
        let width = looked_at.iter().map(|row| row.cells.len()).max()?;
        let count = |of: &dyn Fn(&str) -> bool, at: usize| {
            looked_at.iter().filter(|row| row.cells.get(at).is_some_and(|cell| of(cell))).count()
        };
        let moment = |cell: &str| read_moment(cell, order);
        let absolute = |cell: &str| moment(cell).and_then(Moment::absolute).is_some();
        let with_clock = |cell: &str| absolute(cell) && cell.contains(':');
        let clock = |cell: &str| moment(cell).and_then(Moment::clock).is_some();
        let figure = |behind: &str| !behind.contains(|c: char| c.is_ascii_digit());
        let plain = |cell: &str| moment(cell).is_none() && number(cell).is_some_and(|(_, behind)| figure(behind));
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
        // Names, and units in a row of their own under them.
        let headers_before = |first: usize| -> (Vec<String>, Vec<String>) {
            let above = |rows_above: usize| first.checked_sub(rows_above).and_then(|at| rows.get(at));
            let cells = |row: &Row| row.cells.clone();
            match (above(2), above(1)) {
                (Some(names), Some(units)) if units.cells.iter().all(|cell| is_unit(cell)) => {
                    (cells(names), cells(units))
                }
                (_, names) => (names.map(cells).unwrap_or_default(), Vec::new()),
            }
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
            let (headers, units) = headers_before(first_row(&[])?);
            Self::number_times(&numbers, &headers, &units, looked_at)?
        };
        let used = match times {
            Times::Split { date, clock } => vec![date, clock],
            other => vec![other.column()],
        };
        let first_data = first_row(&used)?;
        let temperatures = numbers.into_iter().filter(|at| !used.contains(at)).collect();
        let (headers, units) = headers_before(first_data);
        Some(Self { times, temperatures, headers, units, first_data })
    }

    /// The first column of numbers that rises, or falls, all along and is not the only one, with the unit its header names.
    fn number_times(numbers: &[usize], headers: &[String], units: &[String], rows: &[Row]) -> Option<Times> {
        let values =
            |at: usize| -> Vec<f64> { rows.iter().filter_map(|row| Some(number(row.cells.get(at)?)?.0)).collect() };
        let runs = |values: &[f64]| {
            values.len() > 1 && (values.windows(2).all(|w| w[0] < w[1]) || values.windows(2).all(|w| w[0] > w[1]))
        };
        let (header, unit) = (|at: usize| lower(headers, at), |at: usize| bare(&lower(units, at)));
        let warm = |at: usize| TEMPERATURES.iter().any(|word| header(at).contains(word) || unit(at) == *word);
        let running: Vec<usize> = numbers.iter().copied().filter(|&at| runs(&values(at)) && !warm(at)).collect();
        let is_named =
            |&&at: &&usize| ["time", "zeit", "elapsed", "unix", "epoch"].iter().any(|word| header(at).contains(word));
        let column = *running.iter().find(is_named).or_else(|| running.first()).filter(|_| numbers.len() > 1)?;
        let name = header(column);
        let last = name.trim_end_matches([')', ']', ' ']).rsplit(['(', '[', '_', ' ', '/']).next().unwrap_or_default();
        let first = values(column).first().copied().unwrap_or_default();
        let (unit_s, assumed) = match seconds(last).or_else(|| seconds(&unit(column))) {
            Some(said_s) if said_s < 1.0 => (said_s, false),
            // Since 1970: it cannot be anything else.
            _ if first > 1e11 => (1e-3, false),
            _ if first > 1e9 => (1.0, false),
            said_s => (said_s.unwrap_or(1.0), said_s.is_none()),
        };
        Some(Times::Number { column, unit_s, assumed })
    }

    pub(super) fn name(&self, at: usize) -> String {
        let header = self.headers.get(at).map(|text| text.trim()).filter(|text| !text.is_empty());
        header.map_or_else(|| format!("column {}", at + 1), str::to_owned)
    }

    /// Index into `temperatures` of the only column that can be meant: the only one named so, or the only one not named as something
    /// else.
    pub(super) fn only_one(&self) -> Option<usize> {
        let (name, unit) = (|at: usize| lower(&self.headers, at), |at: usize| lower(&self.units, at));
        let other = |at: usize| {
            let (name, unit) = (name(at), unit(at));
            let mut words = name.split(|c: char| !c.is_alphanumeric());
            words.any(|begins| OTHERS.iter().any(|other| begins.starts_with(other)))
                || name.contains('%')
                || unit.contains(['%', 'v', 'p'])
                || ["#", "no", "no.", "nr", "nr.", "id", "index", "row", "record"].contains(&name.as_str())
        };
        let scaled = |at: usize| SCALES.iter().any(|(_, words, _)| words.iter().any(|word| name(at).contains(word)));
        let named = |at: usize| {
            scaled(at) || TEMPERATURES.iter().any(|word| name(at).contains(word) || unit(at).contains(word))
        };
        let open: Vec<usize> = (0..self.temperatures.len()).filter(|&at| !other(self.temperatures[at])).collect();
        let warm: Vec<usize> = open.iter().copied().filter(|&at| named(self.temperatures[at])).collect();
        [warm, open].iter().find_map(|of| if let [only] = of[..] { Some(only) } else { None })
    }

    /// The scale of a column, by its header, its row of units or the unit behind its first number; `None` where a person has to say it: a
    /// K that may be a thermocouple's letter, no unit where °F are as likely.
    pub(super) fn scale(&self, at: usize, rows: &[Row]) -> Option<ScaleSaid> {
        /// What a place on this planet may have, K.
        const ROOMS_K: std::ops::RangeInclusive<f64> = 200.0..=450.0;
        /// Up to this figure a bare temperature is taken as °C: 50 °F are seldom what a warm place has.
        const SURELY_C: f64 = 50.0;
        let cell = |row: &Row| row.cells.get(at).and_then(|cell| number(cell)).map(|(value, _)| value);
        let header = lower(&self.headers, at);
        let first = rows.get(self.first_data).and_then(|row| row.cells.get(at));
        let behind = first.and_then(|cell| number(cell)).map_or(String::new(), |(_, behind)| bare(behind));
        let unit = bare(&lower(&self.units, at));
        let says = |header_words: &[&str], units: &[&str]| {
            header_words.iter().any(|word| header.contains(word))
                || header.rsplit_once(' ').is_some_and(|(_, last)| units.contains(&last))
                || units.contains(&behind.as_str())
                || units.contains(&unit.as_str())
        };
        let values = || rows[self.first_data..].iter().filter_map(cell);
        match SCALES.iter().find(|(_, words, units)| says(words, units)) {
            Some((Scale::Kelvin, ..)) if !values().all(|value| ROOMS_K.contains(&value)) => None,
            Some(&(scale, ..)) => Some(ScaleSaid { scale, assumed: false }),
            None => {
                let surely = values().all(|value| value <= SURELY_C);
                surely.then_some(ScaleSaid { scale: Scale::Celsius, assumed: true })
            }
        }
    }
}

/// Unit of temperatures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// °C
    Celsius,
    /// °F
    Fahrenheit,
    /// K
    Kelvin,
}

/// A scale, and whether it was only assumed.
#[derive(Debug, Clone, Copy)]
pub(super) struct ScaleSaid {
    pub scale: Scale,
    assumed: bool,
}

impl Scale {
    /// Every scale with its sign.
    pub const ALL: [(Self, &'static str); 3] = [(Self::Celsius, "°C"), (Self::Fahrenheit, "°F"), (Self::Kelvin, "K")];

    /// The scale of a sign: `°C`, `C`, `F`, `K`.
    pub fn parse(text: &str) -> Option<Self> {
        let bare = text.trim().trim_start_matches('°').to_uppercase();
        Self::ALL.into_iter().find(|(_, sign)| sign.trim_start_matches('°') == bare).map(|(scale, _)| scale)
    }

    pub(super) fn celsius(self, value: f64) -> f64 {
        match self {
            Self::Celsius => value,
            Self::Fahrenheit => (value - 32.0) / 1.8,
            Self::Kelvin => value - 273.15,
        }
    }
}

impl ScaleSaid {
    pub(super) fn note(self) -> Option<String> {
        match self.scale {
            Scale::Celsius => {
                self.assumed.then(|| "The temperatures carry no unit; they are read as °C (assumed).".into())
            }
            Scale::Fahrenheit => Some("The temperatures were turned from °F into °C.".into()),
            Scale::Kelvin => Some("The temperatures were turned from K into °C.".into()),
        }
    }
}
