//! Decimal numbers: decimal marks, thousands marks, and the evidence a column gives about them.
//!
//! The rules, in order:
//! 1. `.` and `,` both occur: the later one is the decimal mark, the other must separate groups of three (`2,963.16`, `4.700,00`).
//! 2. One of them occurs more than once: it separates groups of three (`1,234,567`), or the number is refused.
//! 3. One of them occurs once, one to three digits before it (not starting with 0) and exactly three after it (`4.700`, `2,963`):
//!    it means what the column's decimal mark says; with [`Decimal::Unknown`] both meanings are possible.
//! 4. One of them occurs once in any other way (`6,3`, `0.394`, `12.5000`, `1234,567`, `.5`): it is the decimal mark.
//! 5. `'` and, where a reader allows it, a blank separate groups of three (`10 000 h`; ISO 80000-1 groups digits so).

use super::Decimal;

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
