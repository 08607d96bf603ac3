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
#[path = "../../tests/within/notation.rs"]
mod tests;
