//! A cell taken apart into numbers, words and single marks.

use super::digits::{Number, resolve};
use super::unit::Unit;
use super::words;
use super::{Decimal, Reading};

#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Token {
    Number(Number),
    /// Letters, with `°` and `Ω`; `%` and `"` are words of their own.
    Word(String),
    Mark(char),
    /// Digits and marks that are no number, with the reason.
    Broken(String),
}

/// Whether a blank may separate groups of three digits.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Join {
    Blanks,
    Never,
}

fn is_word(c: char) -> bool {
    c.is_alphabetic() || matches!(c, '°' | 'Ω')
}

/// A letter of a script that is written without blanks.
fn is_ideograph(c: char) -> bool {
    c >= '\u{3040}'
}

/// End of the run of digits and inner marks that starts at `start`.
fn number_end(chars: &[char], start: usize, join: Join) -> usize {
    let digit = |at: usize| chars.get(at).is_some_and(char::is_ascii_digit);
    let mut end = start;
    while let Some(&c) = chars.get(end) {
        let inner_mark = matches!(c, '.' | ',' | '\'') && digit(end + 1);
        let grouping_blank = join == Join::Blanks
            && c == ' '
            && (1..=3).all(|ahead| digit(end + ahead))
            && !digit(end + 4)
            && chars[start..end].iter().rev().take_while(|c| c.is_ascii_digit()).count() <= 3
            && !chars[start..end].iter().any(|c| matches!(c, '.' | ','));
        if c.is_ascii_digit() || inner_mark || grouping_blank {
            end += 1;
        } else {
            break;
        }
    }
    end
}

/// A signed exponent (`E-04`, as spreadsheets write it) at `start`: its value and its end. Without a sign, `E` is a letter.
fn exponent_at(chars: &[char], start: usize) -> Option<(i32, usize)> {
    if !matches!(chars.get(start), Some('e' | 'E')) {
        return None;
    }
    let negative = match chars.get(start + 1)? {
        '-' => true,
        '+' => false,
        _ => return None,
    };
    let digits: String = chars[start + 2..].iter().take_while(|c| c.is_ascii_digit()).collect();
    if !(1..=3).contains(&digits.len()) {
        return None;
    }
    let size: i32 = digits.parse().ok()?;
    Some((if negative { -size } else { size }, start + 2 + digits.len()))
}

fn starts_number(chars: &[char], at: usize) -> bool {
    let digit = |at: usize| chars.get(at).is_some_and(char::is_ascii_digit);
    // The last dot of "-40...105" is no decimal mark.
    let after_dot = at.checked_sub(1).is_some_and(|before| chars[before] == '.');
    digit(at) || (chars[at] == '.' && digit(at + 1) && !after_dot)
}

/// A `+` or `-` is a sign when a number follows at once and no letter, digit, unit or closing bracket stands directly before it.
fn is_sign(chars: &[char], at: usize) -> bool {
    matches!(chars[at], '-' | '+')
        && chars.get(at + 1).is_some()
        && starts_number(chars, at + 1)
        && !at.checked_sub(1).is_some_and(|before| {
            let c = chars[before];
            c.is_alphanumeric() || matches!(c, ')' | '%' | '°' | '"' | '.')
        })
}

/// The tokens of a cleaned cell under a definite decimal mark. Closing punctuation at the very end is dropped.
pub(crate) fn scan(text: &str, decimal: Decimal, join: Join) -> Vec<Token> {
    let chars: Vec<char> = text.chars().collect();
    let mut tokens = Vec::new();
    let mut at = 0;
    while at < chars.len() {
        let c = chars[at];
        let signed = is_sign(&chars, at);
        if signed || starts_number(&chars, at) {
            let start = at + usize::from(signed);
            let end = number_end(&chars, start, join);
            let raw: String = chars[start..end].iter().collect();
            let (exponent, next) = exponent_at(&chars, end).unwrap_or((0, end));
            tokens.push(match resolve(&raw, decimal) {
                Ok(digits) => Token::Number(Number::new(digits, signed && c == '-', signed && c == '+', exponent)),
                Err(reason) => Token::Broken(reason),
            });
            at = next;
        } else if is_word(c) {
            // `插件D10`: letters of another script are another word.
            let other = |c: char| !is_word(c) || is_ideograph(c) != is_ideograph(chars[at]);
            let end = (at..chars.len()).find(|&end| other(chars[end])).unwrap_or(chars.len());
            tokens.push(Token::Word(chars[at..end].iter().collect()));
            at = end;
        } else {
            match c {
                ' ' => {}
                '%' | '"' => tokens.push(Token::Word(c.to_string())),
                c => tokens.push(Token::Mark(c)),
            }
            at += 1;
        }
    }
    while matches!(tokens.last(), Some(Token::Mark('.' | ',' | ';'))) {
        tokens.pop();
    }
    merge_codes(&chars, tokens)
}

/// Digits of every number in a cleaned cell, as written.
pub(crate) fn raw_numbers(text: &str) -> Vec<String> {
    let chars: Vec<char> = text.chars().collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < chars.len() {
        if starts_number(&chars, at) {
            let end = number_end(&chars, at, Join::Never);
            found.push(chars[at..end].iter().collect());
            at = end;
        } else {
            at += 1;
        }
    }
    found
}

/// Turns `4u7`, `3V3`, `0F22`, `0R28`, `u47` (the letter stands for the decimal mark, IEC 60062) into number and unit. Only the
/// letters of units count, only whole digits around them, and nothing may follow that makes the second number a quantity of its own.
fn merge_codes(chars: &[char], tokens: Vec<Token>) -> Vec<Token> {
    if !tokens.windows(2).any(|pair| matches!(pair, [Token::Word(_), Token::Number(_)])) {
        return tokens;
    }
    // Codes are written without blanks: with a blank anywhere between, tokens are not glued. Cheap test before the exact one.
    let text: String = chars.iter().collect();
    let mut out: Vec<Token> = Vec::with_capacity(tokens.len());
    let mut at = 0;
    while at < tokens.len() {
        let code = match &tokens[at..] {
            [Token::Number(whole), Token::Word(letter), Token::Number(part), rest @ ..] => {
                code_number(Some(whole), letter, part, &text)
                    .filter(|_| !glued_unit(letter, rest, part, &text))
                    .map(|number| (number, letter.clone(), 3))
            }
            [Token::Word(letter), Token::Number(part), rest @ ..] if !matches!(out.last(), Some(Token::Number(_))) => {
                code_number(None, letter, part, &text)
                    .filter(|_| {
                        matches!(letter.as_str(), "u" | "U" | "n" | "R") && !glued_unit(letter, rest, part, &text)
                    })
                    .map(|number| (number, letter.clone(), 2))
            }
            _ => None,
        };
        if let Some((number, letter, used)) = code {
            out.push(Token::Number(number));
            out.push(Token::Word(letter));
            at += used;
        } else {
            out.push(tokens[at].clone());
            at += 1;
        }
    }
    out
}

/// Whether the token after the second number is a unit of its own, written directly at it (`22u63V`, `16V100uF`).
fn glued_unit(letter: &str, rest: &[Token], part: &Number, text: &str) -> bool {
    match rest.first() {
        Some(Token::Word(word)) => {
            Unit::parse(word)
                .is_some_and(|unit| unit.kind() != super::unit::Kind::Capacitance || matches!(letter, "V" | "v"))
                && text.contains(&format!("{}{word}", part.digits()))
        }
        _ => false,
    }
}

fn code_number(whole: Option<&Number>, letter: &str, part: &Number, text: &str) -> Option<Number> {
    if !matches!(letter, "u" | "U" | "n" | "N" | "p" | "P" | "m" | "F" | "V" | "v" | "R" | "r") {
        return None;
    }
    let digits = whole.map_or("", Number::digits);
    let glued = format!("{digits}{letter}{}", part.digits());
    // `100u25`: no value has so many digits, and 25 is its voltage.
    let short = digits.trim_start_matches('0').len() + part.digits().len() <= 4
        && !(digits.len() > 2 && part.digits().len() > 1);
    (whole.is_none_or(Number::is_whole) && part.is_whole() && short && text.contains(&glued))
        .then(|| Number::new(format!("{digits}.{}", part.digits()), false, false, 0))
}

/// A number with its unit, or without one.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Quantity {
    pub number: Number,
    pub unit: Option<Unit>,
}

/// What a cell with conditions is made of: quantities in order, and words that are neither unit nor filler.
pub(crate) struct Parts {
    pub quantities: Vec<Quantity>,
    pub words: Vec<String>,
}

/// Collects quantities; `@`, brackets, commas, `at`, `rms`, `max` and the like are passed over, other words are kept.
pub(crate) fn parts(text: &str, decimal: Decimal, join: Join) -> Result<Parts, String> {
    let tokens = scan(&text.replace("r.m.s.", "rms"), decimal, join);
    let mut parts = Parts { quantities: Vec::new(), words: Vec::new() };
    let mut at = 0;
    while at < tokens.len() {
        match &tokens[at] {
            Token::Number(number) => {
                let unit = match tokens.get(at + 1) {
                    Some(Token::Word(word)) => Unit::parse(word),
                    _ => None,
                };
                at += usize::from(unit.is_some());
                // "105 deg C": the letter belongs to the degree.
                if unit == Some(Unit::Celsius) && matches!(tokens.get(at + 1), Some(Token::Word(word)) if word == "C") {
                    at += 1;
                }
                parts.quantities.push(Quantity { number: number.clone(), unit });
            }
            Token::Broken(reason) => return Err(reason.clone()),
            Token::Word(word) => {
                if !words::says("words among quantities", word) {
                    parts.words.push(word.clone());
                }
            }
            Token::Mark('@' | '(' | ')' | ',' | ';' | '/' | ':' | '=' | '<' | '≤' | '_' | '-' | '~') => {}
            Token::Mark(mark) => parts.words.push(mark.to_string()),
        }
        at += 1;
    }
    Ok(parts)
}

/// What cannot be understood of a cell, with the cell where it is only a part of it.
pub(super) fn not_understood(what: &str, text: &str) -> String {
    if what == text.trim() {
        format!("`{what}` is not understood")
    } else {
        format!("`{what}` in `{text}` is not understood")
    }
}

/// The parts of a cell that may hold nothing but quantities.
pub(crate) fn only_quantities<T>(text: &str, decimal: Decimal, join: Join) -> Result<Vec<Quantity>, Reading<T>> {
    match parts(text, decimal, join) {
        Err(reason) => Err(Reading::Bad { reason }),
        Ok(parts) => match parts.words.first() {
            Some(word) => Err(Reading::bad(not_understood(word, text))),
            None if parts.quantities.is_empty() => Err(Reading::bad(format!("no number in `{text}`"))),
            None => Ok(parts.quantities),
        },
    }
}
