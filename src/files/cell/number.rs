//! Decimal numbers: decimal marks, thousands marks, and the evidence a column gives about them.
//!
//! The rules, in order:
//! 1. `.` and `,` both occur: the later one is the decimal mark, the other must separate groups of three (`2,963.16`, `4.700,00`).
//! 2. One of them occurs more than once: it separates groups of three (`1,234,567`), or the number is refused.
//! 3. One of them occurs once, one to three digits before it (not starting with 0) and exactly three after it (`4.700`, `2,963`):
//!    it means what the column's decimal mark says; with [`Decimal::Unknown`] both meanings are possible.
//! 4. One of them occurs once in any other way (`6,3`, `0.394`, `12.5000`, `1234,567`, `.5`): it is the decimal mark.
//! 5. `'` and, where a reader allows it, a blank separate groups of three (`10 000 h`; ISO 80000-1 groups digits so).

use super::{Column, Decimal, Reading, clean, decide, scan};

/// A non-negative decimal number as its digits, so that a decimal unit prefix shifts it without rounding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Number {
    /// Digits with at most one dot, optionally an exponent: what `f64::from_str` reads.
    digits: String,
    pub negative: bool,
    /// Whether a `+` stood before it.
    pub plus: bool,
    exponent: i32,
}

impl Number {
    /// The value times ten to the `shift`, correctly rounded once; `None` if it is not finite.
    pub(crate) fn shifted(&self, shift: i32) -> Option<f64> {
        let text = format!("{}e{}", self.digits, self.exponent + shift);
        let value: f64 = text.parse().ok()?;
        let value = if self.negative { -value } else { value };
        value.is_finite().then_some(value)
    }

    pub(crate) fn value(&self) -> Option<f64> {
        self.shifted(0)
    }

    pub(crate) fn is_whole(&self) -> bool {
        !self.digits.contains('.') && self.exponent == 0 && !self.negative && !self.plus
    }

    /// The digits as written, without sign.
    pub(crate) fn digits(&self) -> &str {
        &self.digits
    }

    /// `digits` was taken apart by [`resolve`].
    pub(crate) fn new(digits: String, negative: bool, plus: bool, exponent: i32) -> Self {
        Number { digits, negative, plus, exponent }
    }
}

/// The digits of a number with at most one dot, from text of digits, `.`, `,`, `'` and blanks. `decimal` must not be `Unknown`.
pub(crate) fn resolve(raw: &str, decimal: Decimal) -> Result<String, String> {
    let refuse = || format!("`{raw}` is not a number: the groups between its marks are not three digits long");
    let mut text = raw.to_string();
    for blank in ['\'', ' '] {
        if text.contains(blank) {
            let whole = text.split(['.', ',']).next().unwrap_or_default();
            if !grouped(whole, blank) || text[whole.len()..].contains(blank) {
                return Err(refuse());
            }
            text.retain(|c| c != blank);
        }
    }
    let count = |mark: char| text.chars().filter(|&c| c == mark).count();
    let (dots, commas) = (count('.'), count(','));
    let last = if text.rfind('.') > text.rfind(',') { '.' } else { ',' };
    let other = if last == '.' { ',' } else { '.' };
    match (dots, commas) {
        (0, 0) => Ok(text),
        (dots, commas) if dots > 0 && commas > 0 => {
            let (whole, fraction) = text.split_once(last).ok_or_else(refuse)?;
            if fraction.contains(['.', ',']) || !grouped(whole, other) {
                return Err(refuse());
            }
            Ok(format!("{}.{fraction}", whole.replace(other, "")))
        }
        (dots, commas) if dots + commas > 1 => {
            if !grouped(&text, last) {
                return Err(refuse());
            }
            Ok(text.replace(last, ""))
        }
        _ => {
            let is_decimal_mark = (last == '.') == (decimal == Decimal::Dot);
            if grouped(&text, last) && !is_decimal_mark {
                Ok(text.replace(last, ""))
            } else {
                Ok(text.replace(last, "."))
            }
        }
    }
}

/// Whether `mark` separates groups of three digits after a first group of one to three that does not start with 0.
fn grouped(text: &str, mark: char) -> bool {
    let mut groups = text.split(mark);
    let first = groups.next().unwrap_or_default();
    (1..=3).contains(&first.len()) && !first.starts_with('0') && groups.all(|group| group.len() == 3)
}

/// A bare number, for columns that have no unit (multipliers, quantities, tan δ).
#[must_use]
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
#[must_use]
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

#[cfg(test)]
mod tests {
    use super::*;

    fn dot(text: &str) -> Option<f64> {
        read(text, &Column::dot()).value()
    }

    fn comma(text: &str) -> Option<f64> {
        read(text, &Column { decimal: Decimal::Comma, ..Column::default() }).value()
    }

    // Hand-made cases.
    #[test]
    fn a_mark_before_three_digits_means_what_the_column_says() {
        assert_eq!((dot("4.700"), comma("4.700")), (Some(4.7), Some(4700.0)));
        assert_eq!((dot("2,963"), comma("2,963")), (Some(2963.0), Some(2.963)));
        assert_eq!(
            read("4.700", &Column::default()),
            Reading::Ambiguous { what: "decimal mark or thousands mark".into(), options: vec![4.7, 4700.0] }
        );
    }

    #[test]
    fn a_number_with_one_meaning_needs_no_evidence() {
        let free = |text: &str| read(text, &Column::default()).value();
        for (text, value) in [
            ("2,963.16", 2963.16),
            ("2,963.16000", 2963.16),
            ("4.700,00", 4700.0),
            ("6,3", 6.3),
            ("0,394", 0.394),
            ("0.394", 0.394),
            ("1234,567", 1234.567),
            ("1,234,567", 1_234_567.0),
            ("2'963.5", 2963.5),
            ("10 000", 10_000.0),
            (".5", 0.5),
            ("22.", 22.0),
            ("-12.5000", -12.5),
            ("4.7E-04", 0.00047),
        ] {
            assert_eq!(free(text), Some(value), "{text}");
        }
    }

    #[test]
    fn marks_that_make_no_groups_are_refused() {
        for text in ["1.2.3", "1,23,456", "12,3456.7", "1.2,3.4", "2'96"] {
            assert!(matches!(read(text, &Column::default()), Reading::Bad { .. }), "{text}");
        }
    }

    #[test]
    fn a_column_tells_its_decimal_mark() {
        assert_eq!(column_decimal(["4.700", "0.52", "12"]), Decimal::Dot);
        assert_eq!(column_decimal(["4.700", "4.700,00"]), Decimal::Comma);
        assert_eq!(column_decimal(["4.700", "1.250.000"]), Decimal::Comma);
        assert_eq!(column_decimal(["4.700", "2,963"]), Decimal::Unknown);
        assert_eq!(column_decimal(["0.5", "0,5"]), Decimal::Unknown);
    }
}
