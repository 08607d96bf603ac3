//! What a text in a table is: a figure, a code, a mark, a line about a voltage.

/// Signs that makers set beside a figure to point to a footnote.
const MARKS: &str = "*＊★☆▲△▼▽●○◎◆◇■※†‡♦#¹²³⁴⁵⁶⁷⁸⁹⁽⁾";

/// `*1`, `(2)`, `★`.
pub(super) fn is_mark(text: &str) -> bool {
    (1..=4).contains(&text.chars().count())
        && text.chars().all(|c| c.is_ascii_digit() || MARKS.contains(c) || "(),".contains(c))
}

/// A figure without the marks before and behind it, and the marks: `*820`, `270 ★`.
pub(super) fn apart(text: &str) -> (String, String) {
    let is_mark = |c: char| MARKS.contains(c) || c.is_whitespace();
    let bare = text.trim_matches(is_mark);
    if bare.len() == text.trim().len() || !bare.contains(|c: char| c.is_ascii_digit()) {
        return (text.trim().to_owned(), String::new());
    }
    let start = text.find(bare).unwrap_or(0);
    let marks =
        text[..start].chars().chain(text[start + bare.len()..].chars()).filter(|c| MARKS.contains(*c)).collect();
    (bare.to_owned(), marks)
}

/// Whether a line of text explains marks: `* : life 5000 h`, `(1) Reflow`.
pub(super) fn explains(text: &str) -> bool {
    let text = text.trim_start();
    text.starts_with(|c: char| MARKS.contains(c)) && text.chars().any(char::is_alphabetic)
}

/// `820`, `*820`, `±20`, `5×11`; a dash stands for a figure that is not there.
pub(super) fn is_figure(text: &str) -> bool {
    let text = apart(text).0;
    let bare = text.trim_start_matches(['±', '+', '<', '>', '≤', '≥', '≦', '≧', '(', '~', 'φ', 'Φ', 'ø', 'Ø']);
    bare.starts_with(|c: char| c.is_ascii_digit()) || is_dash(&text)
}

pub(super) fn is_dash(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|c| "-–—―−─".contains(c))
}

/// `16 V`, `Rated voltage 25 V DC (1E)`, `UR = 16 V (surge 20 V)`: a line about the voltage of the rows below it.
pub(super) fn is_banner(text: &str) -> bool {
    const WORDS: &str = "v vdc wv wvdc dc volt volts rated voltage working vr ur u r un nominal surge sv code";
    let lower = text.to_lowercase();
    // A code in brackets behind the figure.
    let code = lower.split_once('(').filter(|(_, code)| code.trim_end().len() <= 4).map(|(before, _)| before);
    let lower = code.unwrap_or(&lower);
    let figures =
        lower.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter(|run| run.parse::<f64>().is_ok()).count();
    let mut words = lower.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty()).peekable();
    let surge = ["surge", "sv"].iter().any(|word| lower.contains(word));
    words.peek().is_some()
        && words.all(|word| WORDS.split(' ').any(|known| known == word))
        && figures == 1 + usize::from(surge)
}

/// Letters and digits in one word, as part numbers are.
pub(super) fn is_code(text: &str) -> bool {
    let word = text.trim();
    word.len() >= 6
        && word.split_whitespace().count() <= 2
        && word.chars().filter(char::is_ascii_digit).count() >= 2
        && word.starts_with(|c: char| c.is_ascii_alphanumeric())
        && word.chars().filter(|c| c.is_ascii_uppercase()).count() >= 2
}

/// A part number too long for its cell goes on in the next line; two that begin alike are two numbers.
pub(super) fn parted_code(lines: &[String]) -> Option<String> {
    let [first, second] = lines else { return None };
    let is_piece = |text: &str| {
        text.len() >= 3 && text.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || "-□#*".contains(c))
    };
    let alike = first.chars().zip(second.chars()).take_while(|(a, b)| a == b).count() >= 2;
    let whole = format!("{first}{second}");
    (is_piece(first) && is_piece(second) && !alike && is_code(&whole) && first.contains(char::is_alphabetic))
        .then_some(whole)
}

/// The capacitance in µF that three digits stand for.
pub(super) fn code_uf(text: &str) -> Option<f64> {
    let digits: Vec<u32> = text.chars().filter_map(|c| c.to_digit(10)).collect();
    let [a, b, zeros] = *digits.as_slice() else { return None };
    (text.len() == 3).then(|| f64::from(10 * a + b) * 10_f64.powi(zeros.cast_signed()))
}
