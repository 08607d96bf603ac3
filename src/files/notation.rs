//! How numbers and texts are written into CSV files.

use std::borrow::Cow;

/// A number with a dot as decimal sign, as many digits as it takes to read the same value back; empty when unknown or beyond
/// what a number can say, since no spreadsheet knows `inf`.
pub fn number(value: Option<f64>) -> String {
    match value {
        Some(value) if !value.is_finite() => String::new(),
        None => String::new(),
        Some(value) if value != 0.0 && !(1e-6..1e15).contains(&value.abs()) => {
            format!("{value:e}")
        }
        Some(value) => value.to_string(),
    }
}

/// A computed figure, without the digits that are noise of the arithmetic: `0.4` and not `0.3999999999999986`.
pub(super) fn computed(value: Option<f64>) -> String {
    number(value.filter(|value| value.is_finite()).map(|value| format!("{value:.11e}").parse().unwrap_or(value)))
}

/// A text for the cell of a table that others open: nothing in it is hidden, and none that starts like a formula is taken for one; it gets an
/// apostrophe in front.
pub fn neutral_text(text: &str) -> String {
    match text.chars().next() {
        Some('=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '＝' | '＋' | '－' | '＠') => format!("'{}", plain(text)),
        _ => plain(text).into_owned(),
    }
}

/// A text for paper and tables, in one line and with nothing hidden in it: control characters are blanks, marks that turn the direction of
/// writing and signs without width are spelled out as their code points.
pub(super) fn plain(text: &str) -> Cow<'_, str> {
    if !text.chars().any(is_unseen) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    text.chars().for_each(|c| push_plain(&mut out, c));
    Cow::Owned(out)
}

fn push_plain(out: &mut String, c: char) {
    match c {
        c if c.is_control() => out.push(' '),
        // Emoji are joined by it.
        '\u{200d}' => out.push(c),
        c if is_unseen(c) => out.push_str(&format!("U+{:04X}", u32::from(c))),
        c => out.push(c),
    }
}

/// What [`neutral_text`] was made of: the apostrophe it put in front is taken off, any other stays.
pub(crate) fn bare_text(text: &str) -> &str {
    text.strip_prefix('\'').filter(|bare| neutral_text(bare) == text).unwrap_or(text)
}

/// A text in which nothing is hidden: control characters, line breaks, marks that turn the direction of writing and signs without
/// width are spelled out, as `\\n` or `\\u{202e}`.
pub fn visible(text: &str) -> Cow<'_, str> {
    if !text.chars().any(is_unseen) {
        return Cow::Borrowed(text);
    }
    let spelled = |c: char| if is_unseen(c) { c.escape_default().to_string() } else { c.to_string() };
    Cow::Owned(text.chars().map(spelled).collect())
}

/// The same for between tags or inside a quoted attribute of a page or drawing; lines stay lines.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\t' => out.push(c),
            c => push_plain(&mut out, c),
        }
    }
    out
}

/// Whether a character is not seen itself but changes how others are.
fn is_unseen(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_back_to_the_same_value() {
        for value in [0.0, 1.0, 0.1 + 0.2, 1e-97, 6.02e23, -131_400.0] {
            assert_eq!(number(Some(value)).parse::<f64>().unwrap(), value);
        }
        for unknown in [None, Some(f64::INFINITY), Some(f64::NEG_INFINITY), Some(f64::NAN)] {
            assert_eq!((number(unknown), computed(unknown)), (String::new(), String::new()));
        }
    }

    #[test]
    fn computed_figures_lose_the_noise_of_the_arithmetic_and_keep_far_more_than_six_digits() {
        assert_eq!(computed(Some(0.1 + 0.2)), "0.3");
        assert_eq!(computed(Some(31.4 - 31.0)), "0.4");
        assert_eq!(computed(Some(131_400.0)), "131400");
        assert_eq!(computed(Some(1.0 / 3.0)), "0.333333333333");
        assert_eq!(computed(None), "");
    }

    #[test]
    fn texts_that_start_like_a_formula_are_disarmed() {
        assert_eq!(neutral_text("=1+1"), "'=1+1");
        assert_eq!(neutral_text("TALUS-10"), "TALUS-10");
        assert_eq!(neutral_text("\t=1\u{7}"), "' =1 ");
        assert_eq!(neutral_text("C1\u{202e}2\n👍\u{200d}🔧"), "C1U+202E2 👍\u{200d}🔧");
        for text in ["=1", "'TALUS", "TALUS", "'", ""] {
            assert_eq!(bare_text(&neutral_text(text)), text);
        }
    }
}
