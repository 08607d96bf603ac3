//! Temperatures and temperature ranges, in °C.

use super::scan::{Join, Token, not_understood, scan};
use super::unit::{Kind, Unit};
use super::{Column, Decimal, Doubt, Reading, ask, decide};

/// Range of operating temperatures as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TempRange {
    /// Lower end in °C; `None` when only an upper one is written.
    pub min_c: Option<f64>,
    /// Upper end, °C.
    pub max_c: f64,
}

/// Highest and lowest temperature read, in °C.
const POSSIBLE_C: std::ops::RangeInclusive<f64> = -273.15..=1000.0;

/// Reads a single temperature in °C.
pub fn read(text: &str, column: &Column) -> Reading<f64> {
    read_range(text, column).and_single(text)
}

impl Reading<TempRange> {
    fn and_single(self, text: &str) -> Reading<f64> {
        let two = match &self {
            Reading::Value(range) => range.min_c.is_some(),
            Reading::Ambiguous { options, .. } => options.iter().any(|range| range.min_c.is_some()),
            _ => false,
        };
        if two {
            Reading::bad(format!("`{text}` is a range, not one temperature"))
        } else {
            self.map(|range| range.max_c)
        }
    }
}

/// Reads a range of temperatures; one temperature alone is the upper end.
pub fn read_range(text: &str, column: &Column) -> Reading<TempRange> {
    decide(text, column, |text, decimal| match figures(text, decimal) {
        Err(reason) => Reading::Bad { reason },
        Ok((figures, unit)) => {
            let range = match figures.as_slice() {
                &[max_c] => TempRange { min_c: None, max_c },
                &[min_c, max_c] if min_c < max_c => TempRange { min_c: Some(min_c), max_c },
                [_, _] => return Reading::bad(format!("the range `{text}` does not rise")),
                _ => return Reading::bad(format!("`{text}` is not a temperature or a range of two")),
            };
            match unit.or(column.unit.filter(|unit| unit.kind() == Kind::Temperature)) {
                Some(Unit::Celsius) => Reading::Value(range),
                Some(_) => Reading::bad(format!("`{text}` is not in °C")),
                None => ask(Doubt::unit_of("temperature"), vec![range]),
            }
        }
    })
}

fn figures(text: &str, decimal: Decimal) -> Result<(Vec<f64>, Option<Unit>), String> {
    let mut found = Vec::new();
    let mut unit = None;
    for token in scan(text, decimal, Join::Never) {
        match token {
            Token::Number(number) => {
                found.push(
                    number
                        .value()
                        .filter(|value| POSSIBLE_C.contains(value))
                        .ok_or_else(|| format!("`{text}` is no possible temperature"))?,
                );
            }
            Token::Word(word) => match Unit::parse(&word) {
                Some(this) if this.kind() == Kind::Temperature && !found.is_empty() => {
                    if unit.is_some_and(|unit| unit != this) {
                        return Err(format!("`{text}` mixes units"));
                    }
                    unit = Some(this);
                }
                _ if matches!(word.to_lowercase().as_str(), "to" | "ta" | "tc" | "tj" | "bis" | "max") => {}
                _ => return Err(not_understood(&word, text)),
            },
            Token::Broken(reason) => return Err(reason),
            Token::Mark('~' | '-' | '/' | '(' | ')' | '.' | ',' | ':' | '+' | '≤' | '÷') => {}
            Token::Mark(mark) => return Err(not_understood(&mark.to_string(), text)),
        }
    }
    Ok((found, unit))
}

/// `58 °C`.
pub fn print(temp_c: f64) -> String {
    format!("{temp_c} °C")
}

/// `-40 °C ~ 105 °C`, or `105 °C` without a lower end.
pub fn print_range(range: &TempRange) -> String {
    match range.min_c {
        Some(min_c) => format!("{min_c} °C ~ {} °C", range.max_c),
        None => print(range.max_c),
    }
}
