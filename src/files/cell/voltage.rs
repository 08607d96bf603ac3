//! Rated direct voltage, in V.
//!
//! `25V`, `25 V`, `6,3V`, `3V3`, `35 WV`, `50VDC`, `16(1C)`. `25/50 V` is ambiguous; an alternating rating is no rated voltage here.

use super::digits::Number;
use super::scan::{Join, Token, scan};
use super::unit::{Kind, Unit};
use super::{Column, Doubt, Reading, ask, choose, decide, words};

/// Largest rated voltage read, in V.
const LARGEST_V: f64 = 10_000.0;

/// Reads a voltage in V.
pub fn read(text: &str, column: &Column) -> Reading<f64> {
    decide(text, column, |text, decimal| {
        let mut tokens = scan(text, decimal, Join::Never);
        // "V dc", "V (DC)", "50 WV": the unit may be two words.
        if let Some(at) =
            tokens.iter().position(|token| matches!(token, Token::Word(word) if word.eq_ignore_ascii_case("dc")))
        {
            tokens.remove(at);
            if matches!(tokens[at.saturating_sub(1)..], [Token::Mark('('), Token::Mark(')')]) {
                tokens.truncate(at - 1);
            }
        }
        match tokens.as_slice() {
            [Token::Number(number), Token::Word(code)] if coded(number, code).is_some() && code != "V" => {
                ask("a voltage code?", coded(number, code).into_iter().collect())
            }
            [Token::Number(number)] => match column.unit.filter(|unit| unit.kind() == Kind::Voltage) {
                Some(unit) => in_unit(number, unit),
                None => match in_unit(number, Unit::Volt) {
                    Reading::Value(value) => ask(Doubt::unit_of("voltage"), vec![value]),
                    bad => bad,
                },
            },
            [Token::Number(number), Token::Word(word)] => with_word(text, number, word),
            [
                Token::Number(number),
                rest @ ..,
                Token::Mark('('),
                Token::Number(digit),
                Token::Word(letter),
                Token::Mark(')'),
            ] if rest.len() <= 1 => match coded(digit, letter) {
                None => Reading::bad(format!("`{text}`: the code in brackets is not a known voltage code")),
                Some(code) => {
                    let mut options = in_unit(number, Unit::Volt).possible();
                    options.push(code);
                    choose("voltage and voltage code differ", options)
                }
            },
            // `6.3 (8)`, `400V (450V)`: the rated and the surge voltage of a data sheet.
            [Token::Number(rated), .., Token::Mark('('), Token::Number(surge), Token::Mark(')')]
            | [Token::Number(rated), .., Token::Mark('('), Token::Number(surge), Token::Word(_), Token::Mark(')')]
                if is_surge(rated, surge) =>
            {
                match (tokens.get(1), column.unit.filter(|unit| unit.kind() == Kind::Voltage)) {
                    (Some(Token::Word(word)), _) => with_word(text, rated, word),
                    (_, Some(unit)) => in_unit(rated, unit),
                    (_, None) => ask(Doubt::unit_of("voltage"), in_unit(rated, Unit::Volt).possible()),
                }
            }
            [Token::Number(a), Token::Mark('/'), Token::Number(b)]
                if column.unit.is_some_and(|unit| unit.kind() == Kind::Voltage) =>
            {
                both(text, (a, "V"), (b, "V"))
            }
            [Token::Number(a), Token::Mark('/' | ','), Token::Number(b), Token::Word(unit)] => {
                both(text, (a, unit), (b, unit))
            }
            [Token::Number(a), Token::Word(a_unit), Token::Mark('/' | ','), Token::Number(b), Token::Word(b_unit)] => {
                both(text, (a, a_unit), (b, b_unit))
            }
            [Token::Broken(reason), ..] => Reading::bad(reason.clone()),
            [Token::Number(_), ..] => Reading::bad(format!("`{text}` holds more than a voltage")),
            _ => Reading::bad(format!("`{text}` is not a voltage")),
        }
    })
}

/// Surge voltages are 1.1 to 1.3 times the rated voltage (IEC 60384-4: 1.15 up to 315 V, 1.1 above; 1.25 to 1.3 at low voltages is
/// common practice).
fn is_surge(rated: &Number, surge: &Number) -> bool {
    match (rated.value(), surge.value()) {
        (Some(rated), Some(surge)) => (1.08..=1.35).contains(&(surge / rated)),
        _ => false,
    }
}

/// The surge voltage in brackets behind a rated voltage, V: `6.3 (8)`.
pub(crate) fn surge_in_brackets(text: &str, column: &Column) -> Option<f64> {
    let column = Column { unit: Some(Unit::Volt), ..*column };
    let (before, behind) = text.split_once('(')?;
    let (inside, _) = behind.split_once(')')?;
    let rated = read(before.trim(), &column).value()?;
    let surge = read(inside.trim(), &column).value()?;
    (1.08..=1.35).contains(&(surge / rated)).then_some(surge)
}

/// Two voltages in one cell: which one is meant is open.
fn both(text: &str, a: (&Number, &str), b: (&Number, &str)) -> Reading<f64> {
    match (with_word(text, a.0, a.1), with_word(text, b.0, b.1)) {
        (Reading::Value(a), Reading::Value(b)) => choose("two voltages in one cell", vec![a, b]),
        (bad @ Reading::Bad { .. }, _) | (_, bad) => bad,
    }
}

fn with_word(text: &str, number: &Number, word: &str) -> Reading<f64> {
    match Unit::parse(word).filter(|unit| unit.kind() == Kind::Voltage) {
        Some(unit) => in_unit(number, unit),
        None => Reading::bad(format!("`{word}` in `{text}` is no unit of voltage")),
    }
}

/// A number with its unit, also for the reader of descriptions.
pub(crate) fn in_unit(number: &Number, unit: Unit) -> Reading<f64> {
    if unit == Unit::VoltAc {
        return Reading::bad("an alternating voltage is not the rated voltage of an electrolytic capacitor");
    }
    match unit
        .exponent()
        .and_then(|exponent| number.shifted(exponent))
        .filter(|&value| value > 0.0 && value <= LARGEST_V)
    {
        Some(value) => Reading::Value(value),
        None => Reading::bad("a rated voltage must be above zero and at most 10 kV"),
    }
}

fn coded(digit: &Number, letter: &str) -> Option<f64> {
    of_code(&format!("{}{}", digit.digits(), letter))
}

/// The voltage of a two-character code, V.
pub(crate) fn of_code(code: &str) -> Option<f64> {
    let code = Some(code.trim()).filter(|code| code.len() == 2)?;
    words::stands_for("voltage codes", &code.to_ascii_uppercase())?.parse().ok()
}

/// The voltage of a code, where a person said whether such figures are codes.
pub(crate) fn answered_code(code: &str, answer: Option<bool>) -> Reading<f64> {
    match (answer, of_code(code)) {
        (Some(true), Some(volts)) => Reading::Value(volts),
        (None, Some(volts)) => ask(Doubt::VoltageCodes, vec![volts]),
        _ => Reading::bad(format!("`{code}` is not a voltage")),
    }
}

/// `6.3 V`.
pub fn print(rated_v: f64) -> String {
    format!("{rated_v} V")
}
