//! One spelling for the many characters that mean the same thing, and the marks that mean "nothing here".

use super::words;

/// Longest cell that is read as a quantity, in characters; beyond that it is prose.
pub const LONGEST_CELL: usize = 400;

/// The text with one spelling per sign: µ and μ become `u`, all multiplication signs `x`, all diameter signs `Ø`, `℃` becomes `°C`,
/// all blanks a single blank, full-width letters plain ones.
///
/// # Errors
/// Says why the text cannot be a quantity.
pub fn clean(text: &str) -> Result<String, String> {
    clean_within(text, LONGEST_CELL)
}

/// [`clean`] with another limit of length, in characters.
pub(crate) fn clean_within(text: &str, longest: usize) -> Result<String, String> {
    if text.len() > longest && text.chars().take(longest + 1).count() > longest {
        return Err(format!("longer than {longest} characters"));
    }
    if text.contains('\u{FFFD}') {
        return Err("a character was lost in an earlier conversion of this file".to_string());
    }
    // Most cells have one spelling already.
    let plain = |byte: u8| matches!(byte, b' '..=b'~') && byte != b'*';
    if text.bytes().all(plain) && !text.contains("  ") {
        return Ok(text.trim().to_owned());
    }
    let mut out = String::with_capacity(text.len());
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            // UTF-8 that was once read as Latin-1: the first byte of µ, ±, °, º shows as Â.
            'Â' if matches!(chars.peek(), Some('µ' | '±' | '°' | 'º' | '\u{A0}')) => {}
            '\u{B5}' | '\u{3BC}' => out.push('u'),
            '×' | '✕' | '✖' | '⨯' | '╳' | '*' | '＊' => out.push('x'),
            // `20,0х300 в`: the Cyrillic letter between two figures.
            'х' | 'Х'
                if out.trim_end().ends_with(|c: char| c.is_ascii_digit())
                    && chars.clone().find(|c| !c.is_whitespace()).is_some_and(|c| c.is_ascii_digit()) =>
            {
                out.push('x');
            }
            'Φ' | 'φ' | 'ϕ' | 'ø' | '⌀' | 'ɸ' | '∅' => out.push('Ø'),
            '℃' => out.push_str("°C"),
            '℉' => out.push_str("°F"),
            'º' | '˚' => out.push('°'),
            // `2·2 µF`, as British lists were typeset.
            '·' | '∙' | '⋅'
                if chars.peek().is_some_and(char::is_ascii_digit)
                    && (out.is_empty() || out.ends_with(|c: char| c.is_ascii_digit())) =>
            {
                out.push('.');
            }
            '\u{2126}' => out.push('Ω'),
            '\u{2212}' | '–' | '—' | '‐' | '‑' | '‒' | '―' => out.push('-'),
            '～' | '∼' | '〜' => out.push('~'),
            '…' => out.push_str("..."),
            '“' | '”' | '″' | '〃' => out.push('"'),
            '‘' | '’' | '′' => out.push('\''),
            '\u{200B}'..='\u{200F}' | '\u{FEFF}' | '\u{AD}' => {}
            '\u{FF01}'..='\u{FF5E}' | '\u{660}'..='\u{669}' | '\u{6F0}'..='\u{6F9}' => out.push(narrow_letter(c)),
            c if c.is_whitespace() || c.is_control() => {
                // Two figures far apart are two, never the groups of one.
                let apart = out.strip_suffix(' ').is_some_and(|out| out.ends_with(|c: char| c.is_ascii_digit()));
                let wide = apart && chars.peek().is_some_and(char::is_ascii_digit);
                if !out.is_empty() && (!out.ends_with(' ') || wide) {
                    out.push(' ');
                }
            }
            c => out.push(c),
        }
    }
    let trimmed = out.trim_end().len();
    out.truncate(trimmed);
    Ok(out)
}

/// The plain letter of a full-width one and the plain digit of an Arabic one, which stand at fixed distances from them.
pub(crate) fn narrow_letter(c: char) -> char {
    let moved = |by: u32| char::from_u32(u32::from(c) - by);
    match c {
        '\u{FF01}'..='\u{FF5E}' => moved(0xFEE0),
        '\u{660}'..='\u{669}' => moved(0x630),
        '\u{6F0}'..='\u{6F9}' => moved(0x6C0),
        _ => None,
    }
    .unwrap_or(c)
}

/// A name with plain letters in place of full-width ones.
pub(crate) fn narrow(name: &str) -> String {
    name.chars().map(narrow_letter).collect()
}

/// Whether the cell says that there is nothing: empty, a dash, `?`, `null`, `<datasheet>`, `${...}`, `EMPTY on ...` and the like.
pub fn is_nothing(text: &str) -> bool {
    let text = text.trim_matches(|c: char| c.is_whitespace() || c == '\u{FEFF}' || c == '\u{200B}');
    if text.chars().all(|c| matches!(c, '-' | '–' | '—' | '−' | '?' | '~' | '～' | '.' | '_' | '*' | '/' | ' '))
    {
        return true;
    }
    // No word for nothing begins with a figure, and most cells do.
    !text.starts_with(|c: char| c.is_ascii_digit()) && words::says("nothing here", text)
        || text.get(..9).is_some_and(|begins| begins.eq_ignore_ascii_case("empty on "))
        || (text.starts_with('<') && text.ends_with('>'))
        || (text.starts_with("${") && text.ends_with('}'))
}
