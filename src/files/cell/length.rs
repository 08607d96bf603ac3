//! Lengths and coordinates, in mm.
//!
//! `12.5 mm`, `500mil`, `0.5"`, `0.465" (11.80mm)`. A length given in two units must agree with itself.

use super::digits::Number;
use super::scan::{Join, not_understood, parts};
use super::unit::{Kind, Unit};
use super::{Column, Doubt, Reading, ask, choose, decide};

/// Largest distance from zero read, in mm.
const LARGEST_MM: f64 = 10_000.0;
/// How far the two figures of a doubly given length may differ: rounding of the coarser one.
const AGREE_SHARE: f64 = 0.03;
const AGREE_MM: f64 = 0.03;

/// The length in mm, rounded to a nanometre so that inch factors leave no binary noise.
pub(crate) fn millimetres(number: &Number, unit: Unit) -> Option<f64> {
    let mm = match unit {
        Unit::Millimetre => number.value()?,
        Unit::Centimetre => number.shifted(1)?,
        Unit::Inch => (number.value()? * 25.4 * 1e6).round() / 1e6,
        Unit::Mil => (number.value()? * 0.0254 * 1e6).round() / 1e6,
        _ => return None,
    };
    (mm.abs() <= LARGEST_MM).then_some(mm)
}

/// Whether two figures can be roundings of the same length.
pub(crate) fn agree(a_mm: f64, b_mm: f64) -> bool {
    (a_mm - b_mm).abs() <= AGREE_MM.max(AGREE_SHARE * a_mm.abs().min(b_mm.abs()))
}

/// `1-5/8`, `2 1/8"`, `7/8 in`: inches in binary fractions, as text in decimals; `None` for anything else.
fn inch_fraction(text: &str, column: &Column) -> Option<String> {
    let text = text.trim();
    let figures = text.trim_end_matches(['"', '”', '″', '.']).trim_end();
    let figures = figures.strip_suffix("inch").or_else(|| figures.strip_suffix("in")).unwrap_or(figures).trim_end();
    if figures.len() == text.len() && column.unit != Some(Unit::Inch) {
        return None;
    }
    let (whole, part) = figures.rsplit_once(['-', ' ']).unwrap_or(("0", figures));
    let (above, below) = part.split_once('/')?;
    let number = |digits: &str| digits.trim().parse::<u32>().ok();
    let (whole, above, below) = (number(whole)?, number(above)?, number(below)?);
    let is_binary = [2, 4, 8, 16, 32, 64].contains(&below) && (1..below).contains(&above);
    is_binary.then(|| format!("{} in", f64::from(whole) + f64::from(above) / f64::from(below)))
}

/// A size with its binary fractions of inches in decimals: `1-3/8" x 3"`. Fractions without a sign of inches stay: `10/16` are two figures.
pub(crate) fn without_fractions(text: &str, unit: Option<Unit>) -> String {
    let inches = unit == Some(Unit::Inch) || text.contains(['"', '”', '″']) || text.to_lowercase().contains("inch");
    if !inches || !text.contains('/') {
        return text.to_owned();
    }
    let column = Column { unit: Some(Unit::Inch), ..Column::default() };
    let pieces = text.split(['x', 'X', '×', '*']);
    let pieces: Vec<String> =
        pieces.map(|of| inch_fraction(of, &column).unwrap_or_else(|| of.trim().to_owned())).collect();
    pieces.join(" x ")
}

/// Reads a length in mm; it may be negative, as coordinates are. A bare number takes the column's unit, else it is asked.
pub fn read(text: &str, column: &Column) -> Reading<f64> {
    let written = inch_fraction(text, column);
    decide(written.as_deref().unwrap_or(text), column, |text, decimal| {
        let parts = match parts(text, decimal, Join::Never) {
            Ok(parts) => parts,
            Err(reason) => return Reading::Bad { reason },
        };
        if let Some(word) = parts.words.first() {
            return Reading::bad(not_understood(word, text));
        }
        let mut lengths = Vec::new();
        for quantity in &parts.quantities {
            let in_unit = |unit| millimetres(&quantity.number, unit);
            match quantity.unit {
                Some(unit) if unit.kind() == Kind::Length => match in_unit(unit) {
                    Some(mm) => lengths.push((unit, mm)),
                    None => return Reading::bad(format!("`{text}` is longer than 10 m")),
                },
                Some(_) => return Reading::bad(format!("`{text}` is not a length")),
                None if parts.quantities.len() > 1 => {
                    return Reading::bad(format!("`{text}` holds more than a length"));
                }
                None => {
                    return match column.unit.filter(|unit| unit.kind() == Kind::Length) {
                        Some(unit) => in_unit(unit)
                            .map_or_else(|| Reading::bad(format!("`{text}` is longer than 10 m")), Reading::Value),
                        None => ask(
                            Doubt::unit_of("length"),
                            [Unit::Millimetre, Unit::Mil, Unit::Inch].into_iter().filter_map(in_unit).collect(),
                        ),
                    };
                }
            }
        }
        match lengths.as_slice() {
            [(_, mm)] => Reading::Value(*mm),
            // The millimetre figure of a doubly given length is the finer one in the trade's lists.
            [(a_unit, a), (b_unit, b)] if a_unit != b_unit => {
                if agree(*a, *b) {
                    Reading::Value(if *a_unit == Unit::Millimetre { *a } else { *b })
                } else {
                    choose("the two figures of one length differ", vec![*a, *b])
                }
            }
            _ => Reading::bad(format!("`{text}` is not one length")),
        }
    })
}
