//! Rows of cells out of the text files that loggers and instruments write.

use super::csv_rows::CsvRows;

/// Separators tried; the first that gives the most rows of equal length wins.
const SEPARATORS: [u8; 4] = [b';', b'\t', b',', b'|'];

/// Rows looked at to find the separator.
const LOOKED_AT: usize = 200;

/// A row with its line in the file, from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row {
    pub line: u64,
    pub cells: Vec<String>,
}

/// A text cut into rows of cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Rows {
    pub separator: u8,
    pub rows: Vec<Row>,
}

/// Cuts `text` by the separator that makes the longest run of rows with the same number of cells, at least two; blank rows are left out. At
/// most `most` rows are read; the second member says whether there were more.
pub(super) fn rows(text: &str, most: usize) -> (Rows, bool) {
    let separator = separator(text);
    let mut reader = CsvRows::new(text, separator, 1, None);
    let mut record = csv::StringRecord::new();
    let mut rows = Vec::new();
    while let Some(line) = reader.next(&mut record) {
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        if rows.len() == most {
            return (Rows { separator, rows }, true);
        }
        rows.push(Row { line, cells: record.iter().map(|cell| cell.trim().to_owned()).collect() });
    }
    (Rows { separator, rows }, false)
}

fn separator(text: &str) -> u8 {
    let score = |separator: u8| {
        let lengths: Vec<usize> = text
            .lines()
            .filter(|line| !line.trim().is_empty())
            .take(LOOKED_AT)
            .map(|line| line.bytes().filter(|&byte| byte == separator).count())
            .collect();
        let most_common = lengths.iter().max_by_key(|&&n| (lengths.iter().filter(|&&m| m == n && n > 0).count(), n));
        lengths.iter().filter(|&n| Some(n) == most_common && *n > 0).count()
    };
    // Reversed, since `max_by_key` keeps the last of equals.
    SEPARATORS.into_iter().rev().max_by_key(|&separator| score(separator)).unwrap_or(b',')
}

/// A number as instruments write it: `23.4`, `23,4` (a comma inside a cell is a decimal sign), `1.2E-03`, with a unit behind it
/// (`23,4 °C`, `12 mV`). The second member is what stands behind the number.
pub(super) fn number(cell: &str) -> Option<(f64, &str)> {
    let cell = cell.trim().trim_matches('"').trim();
    // A typographic minus sign.
    let (negative, cell) = cell.strip_prefix('\u{2212}').map_or((false, cell), |rest| (true, rest));
    let digits = |c: char| c.is_ascii_digit();
    let mut end = 0;
    let mut seen_exponent = false;
    let mut previous = ' ';
    for (at, c) in cell.char_indices() {
        let sign = (c == '-' || c == '+') && (at == 0 || matches!(previous, 'e' | 'E'));
        let decimal = c == '.' || c == ',';
        let exponent = matches!(c, 'e' | 'E') && !seen_exponent && (digits(previous) || previous == '.');
        if !(digits(c) || sign || decimal || exponent) {
            break;
        }
        seen_exponent |= exponent;
        previous = c;
        end = at + c.len_utf8();
    }
    let text = cell.get(..end)?.replace(',', ".");
    // An `e` that starts a unit is none of the number's.
    let (text, cut) = match text.strip_suffix(['e', 'E']) {
        Some(shorter) => (shorter.to_owned(), end - 1),
        None => (text, end),
    };
    let value: f64 = text.parse().ok().filter(|value: &f64| value.is_finite())?;
    Some((if negative { -value } else { value }, cell.get(cut..).unwrap_or_default().trim()))
}

/// How many seconds one of a unit of time is, by its sign or word.
pub(super) fn seconds(unit: &str) -> Option<f64> {
    const UNITS: [(f64, &[&str]); 7] = [
        (1e-9, &["ns", "nsec"]),
        (1e-6, &["us", "µs", "μs", "usec"]),
        (1e-3, &["ms", "msec", "millis", "milliseconds"]),
        (1.0, &["s", "sec", "secs", "second", "seconds"]),
        (60.0, &["min", "mins", "minutes"]),
        (3600.0, &["h", "hr", "hrs", "hours"]),
        (86_400.0, &["d", "day", "days"]),
    ];
    let unit = unit.trim().to_lowercase();
    UNITS.iter().find(|(_, words)| words.contains(&unit.as_str())).map(|(seconds, _)| *seconds)
}

#[cfg(test)]
#[path = "../../tests/within/log_text.rs"]
mod tests;
