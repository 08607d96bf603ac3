//! `2200/25`: a capacitance and a voltage without units in one cell, and what proves which is which.

use super::words::{self, kind};
use crate::files::cell::unit::{Kind, Unit};
use crate::files::cell::{Column, Reading, capacitance, number, text, voltage};

/// Rated voltages of catalogues old and new, in V (R5 and R10 series with the usual roundings; from memory). 22, 33, 47 and the like
/// are capacitances only.
pub(super) const VOLTAGES: [f64; 40] = [
    2.5, 4.0, 6.0, 6.3, 7.5, 10.0, 12.0, 12.5, 15.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 50.0, 63.0, 64.0, 70.0, 75.0,
    80.0, 100.0, 125.0, 150.0, 160.0, 180.0, 200.0, 250.0, 300.0, 315.0, 350.0, 375.0, 385.0, 400.0, 420.0, 450.0,
    475.0, 500.0, 550.0, 600.0,
];

/// First two digits of the E12 series (IEC 60063).
const E12: [f64; 12] = [10.0, 12.0, 15.0, 18.0, 22.0, 27.0, 33.0, 39.0, 47.0, 56.0, 68.0, 82.0];

/// What is known about the pairs of a column.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pairs {
    /// Whether the capacitance comes first; `None` when nothing proves it.
    pub capacitance_first: Option<bool>,
    /// Unit of the bare capacitances, where header or other pairs say it.
    pub unit: Option<Unit>,
}

/// Half of a pair.
#[derive(Debug, Clone, Copy)]
struct Half<'a> {
    text: &'a str,
    figure: f64,
    unit: Option<Unit>,
}

/// Both halves of a cell, of which each may have its unit.
fn halves<'a>(cell: &'a str, column: &Column) -> Option<[Half<'a>; 2]> {
    // Words may follow: `470/16 LOW ESR`.
    let figures = cell.trim().split_once(char::is_whitespace).filter(|(figures, words)| {
        figures.contains('/') && !words.contains(|c: char| c.is_ascii_digit() || c == '/') && words.trim().len() > 2
    });
    let figures = figures.map_or(cell.trim(), |(figures, _)| figures);
    // `33u 16`: a value with its unit, and a voltage apart from it.
    let spaced = || {
        let pair = figures.split_once(' ')?;
        let volts = pair.1.trim().parse().is_ok_and(|volts: f64| VOLTAGES.contains(&volts));
        (volts && pair.0.ends_with(char::is_alphabetic)).then_some(pair)
    };
    let (first, second) = figures.split_once('/').or_else(spaced)?;
    let half = |text: &'a str| {
        let text = text.trim();
        let end = text.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | ',')).unwrap_or(text.len());
        // `2m2`: the letter of the unit for the decimal mark.
        let letter = text.chars().find(|c| c.is_alphabetic()).filter(|_| text.ends_with(|c: char| c.is_ascii_digit()));
        if let Some(letter) = letter {
            let figure = capacitance::read(text, column).value()?;
            return Some(Half { text, figure, unit: Some(Unit::parse(&letter.to_string())?) });
        }
        let Reading::Value(figure) = number::read(text.get(..end)?, column) else { return None };
        let rest = text.get(end..)?.trim();
        let unit = if rest.is_empty() { None } else { Some(Unit::parse(rest)?) };
        let electric = unit.is_none_or(|unit| matches!(unit.kind(), Kind::Capacitance | Kind::Voltage));
        (figure > 0.0 && electric).then_some(Half { text, figure, unit })
    };
    Some([half(first)?, half(second)?])
}

/// What header and cells of a column say about pairs in it; `None` when it has none without units.
pub(super) fn of_column(header: &str, cells: &[&str], column: &Column) -> Option<Pairs> {
    let pairs: Vec<[Half; 2]> = cells.iter().filter_map(|cell| halves(cell, column)).collect();
    let bare: Vec<&[Half; 2]> = pairs.iter().filter(|pair| pair.iter().all(|half| half.unit.is_none())).collect();
    if pairs.iter().flatten().all(|half| half.unit.is_some()) {
        return None;
    }
    let said: Vec<Unit> = header.split(|c: char| !c.is_alphanumeric()).filter_map(Unit::parse).collect();
    let place = |kind: Kind| said.iter().position(|unit| unit.kind() == kind);
    let by_header = match (place(Kind::Capacitance), place(Kind::Voltage)) {
        (Some(capacitance), Some(voltage)) => Some(capacitance < voltage),
        _ => None,
    };
    let is = |half: &Half, kind: Kind| half.unit.is_some_and(|unit| unit.kind() == kind);
    let written = |first: Kind, second: Kind| pairs.iter().any(|[a, b]| is(a, first) || is(b, second));
    let by_units = one_of(written(Kind::Capacitance, Kind::Voltage), written(Kind::Voltage, Kind::Capacitance));
    let is_voltage = |half: &Half| VOLTAGES.contains(&half.figure);
    let voltages = |at: usize| bare.iter().all(|pair| is_voltage(&pair[at]));
    let values = |at: usize| bare.iter().all(|pair| is_e12(pair[at].figure));
    // Under a header of capacitances alone, two figures may be two capacitances.
    let of_one_kind = place(Kind::Capacitance).is_some() != place(Kind::Voltage).is_some();
    let by_series = if bare.is_empty() || of_one_kind {
        None
    } else {
        one_of(voltages(1) && !voltages(0), voltages(0) && !voltages(1))
            .or_else(|| one_of(voltages(1) && values(0), voltages(0) && values(1)))
    };
    let units: Vec<Unit> = pairs
        .iter()
        .flatten()
        .filter_map(|half| half.unit)
        .chain(said)
        .filter(|unit| unit.kind() == Kind::Capacitance)
        .collect();
    let unit = units.first().copied().filter(|first| units.iter().all(|unit| unit == first));
    Some(Pairs { capacitance_first: by_header.or(by_units).or(by_series), unit })
}

/// Whether a cell of a table without header is such a pair.
pub(super) fn is_pair(cell: &str) -> bool {
    halves(cell, &Column::dot()).is_some_and(|pair| pair.iter().any(|half| VOLTAGES.contains(&half.figure)))
}

/// The pair in a text about an electrolytic: the `1000/25` of `Elko 1000/25 RM5`.
pub(super) fn in_text(cell: &str) -> Option<&str> {
    let figures = |half: &str| !half.is_empty() && half.bytes().all(|c| c.is_ascii_digit() || matches!(c, b'.' | b','));
    let is_pair = |word: &&str| word.split_once('/').is_some_and(|(a, b)| figures(a) && figures(b));
    let mut pairs = cell.split_whitespace().filter(is_pair);
    let (first, second) = (pairs.next()?, pairs.next());
    let ours = second.is_none() && matches!(kind(&[cell]), words::Kind::Ours { .. });
    // `Elko 100 uF 10/12 V`: two voltages.
    (ours && text::find(cell, &Column::default()).capacitance_uf == Reading::Nothing).then_some(first)
}

/// The one of two proofs that holds.
fn one_of(first: bool, second: bool) -> Option<bool> {
    (first != second).then_some(first)
}

fn is_e12(figure: f64) -> bool {
    let digits = figure / 10f64.powf(figure.log10().floor() - 1.0);
    E12.iter().any(|value| (value - digits).abs() < 1e-6)
}

impl Pairs {
    /// Capacitance and voltage of a cell without one of its units; `None` when it is no such pair.
    pub(super) fn split<'a>(self, cell: &'a str, column: &Column) -> Option<Result<(&'a str, &'a str), String>> {
        let [first, second] = halves(cell, column)?;
        if first.unit.is_some() && second.unit.is_some() {
            return None;
        }
        Some(match self.capacitance_first {
            Some(true) => Ok((first.text, second.text)),
            Some(false) => Ok((second.text, first.text)),
            None => {
                Err(format!("two figures in `{cell}`, and nothing says which is µF and which is V: write the units"))
            }
        })
    }
}

/// The rated voltage of a half.
pub(super) fn volts(half: &str, column: &Column) -> Reading<f64> {
    voltage::read(half, &Column { unit: Some(Unit::Volt), ..*column })
}

#[cfg(test)]
#[path = "../../../tests/within/import_pairs.rs"]
mod tests;
