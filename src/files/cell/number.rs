//! Bare numbers, and the decimal mark that the cells of a column agree on.

use super::digits::resolve;
use super::{Column, Decimal, Reading, clean, decide, scan};

/// A bare number, for columns that have no unit (multipliers, quantities, tan δ).
pub fn read(text: &str, column: &Column) -> Reading<f64> {
    decide(text, column, |text, decimal| match scan::scan(text, decimal, scan::Join::Blanks).as_slice() {
        [scan::Token::Number(number)] => {
            number.value().map_or_else(|| Reading::bad("number out of range"), Reading::Value)
        }
        [scan::Token::Broken(reason)] => Reading::bad(reason.clone()),
        _ => Reading::bad(format!("`{text}` is not a bare number")),
    })
}

/// The shortest text that is exactly this number, with a dot.
pub fn print(value: f64) -> String {
    format!("{value}")
}

/// The decimal mark that the cells of a column agree on: cells that can be read only one way decide; without any, or when they
/// contradict each other, [`Decimal::Unknown`].
pub fn column_decimal<'a>(cells: impl IntoIterator<Item = &'a str>) -> Decimal {
    let (mut dot, mut comma) = (false, false);
    for cell in cells {
        let Ok(cell) = clean::clean(cell) else { continue };
        for raw in scan::raw_numbers(&cell) {
            let (Ok(under_dot), Ok(under_comma)) = (resolve(&raw, Decimal::Dot), resolve(&raw, Decimal::Comma)) else {
                continue;
            };
            if under_dot != under_comma || !raw.contains(['.', ',']) {
                continue;
            }
            // Read the same under both rules: the mark that ended up as the dot is the decimal mark, or only groups were found.
            let fraction = under_dot.split_once('.').is_some();
            let last_is_dot = raw.rfind('.') > raw.rfind(',');
            if last_is_dot == fraction { dot = true } else { comma = true }
        }
    }
    match (dot, comma) {
        (true, false) => Decimal::Dot,
        (false, true) => Decimal::Comma,
        _ => Decimal::Unknown,
    }
}
