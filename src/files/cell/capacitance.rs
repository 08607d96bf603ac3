//! Capacitance, in µF.
//!
//! `470UF`, `470 µF`, `470u`, `4u7`, `0F22`, `0.47 mF`, `2200 MFD`, `100nF`, `22 BPuF`. `MF` and `mf` mean microfarad in old lists and
//! millifarad elsewhere: ambiguous, unless the column's unit decides. A bare number takes the column's unit or is ambiguous.

use super::clean::clean;
use super::digits::Number;
use super::scan::{Join, Token, scan};
use super::unit::{Kind, Unit};
use super::{Column, Decimal, Doubt, Reading, ask, choose, decide};

/// Largest capacitance read, in µF: a bank of supercapacitors of 100 kF.
const LARGEST_UF: f64 = 1e11;

/// Reads a capacitance in µF.
pub fn read(text: &str, column: &Column) -> Reading<f64> {
    decide(text, column, |text, decimal| {
        let mut tokens = scan(text, decimal, Join::Blanks);
        // Makers' marks for bipolar parts between number and unit: the family reader takes them.
        tokens.retain_mut(|token| match token {
            Token::Word(word) => {
                match word.strip_prefix("BP").or_else(|| word.strip_prefix("NP")).map(str::to_string) {
                    Some(rest) if rest.is_empty() => false,
                    Some(rest) => {
                        *word = rest;
                        true
                    }
                    None => true,
                }
            }
            _ => true,
        });
        // `(220)`: a data sheet's mark for sizes made on request.
        if let [Token::Mark('('), inside @ .., Token::Mark(')')] = tokens.as_slice() {
            return read_tokens(text, inside, column);
        }
        read_tokens(text, &tokens, column)
    })
}

fn read_tokens(text: &str, tokens: &[Token], column: &Column) -> Reading<f64> {
    match tokens {
        [Token::Number(number)] => in_column(number, column),
        [Token::Number(number), Token::Word(word)] => {
            match Unit::parse(word).filter(|unit| unit.kind() == Kind::Capacitance) {
                Some(unit) => in_unit(number, unit, column),
                None if word == "M" => {
                    Reading::bad(format!("`M` in `{text}` is no unit of capacitance (a tolerance letter?)"))
                }
                None => Reading::bad(format!("`{word}` in `{text}` is no unit of capacitance")),
            }
        }
        [Token::Number(first), Token::Mark('/' | ','), Token::Number(second), Token::Word(word)] => {
            both(text, first, second, word, word, column)
        }
        [Token::Number(first), Token::Word(a), Token::Mark('/' | ','), Token::Number(second), Token::Word(b)] => {
            both(text, first, second, a, b, column)
        }
        [Token::Broken(reason)] | [Token::Broken(reason), Token::Word(_)] => Reading::bad(reason.clone()),
        [Token::Word(word)] if Unit::parse(word).is_some() => {
            Reading::bad(format!("`{text}` is a unit without a number"))
        }
        [Token::Number(_), ..] => Reading::bad(format!("`{text}` holds more than a capacitance")),
        _ => Reading::bad(format!("`{text}` is not a capacitance")),
    }
}

/// Two capacitances in one cell: which one is meant is open.
fn both(text: &str, first: &Number, second: &Number, a: &str, b: &str, column: &Column) -> Reading<f64> {
    let (Some(a), Some(b)) = (Unit::parse(a), Unit::parse(b)) else {
        return Reading::bad(format!("`{text}` holds more than a capacitance"));
    };
    if a.kind() != Kind::Capacitance || b.kind() != Kind::Capacitance {
        return Reading::bad(format!("`{text}` holds more than a capacitance"));
    }
    let mut options = in_unit(first, a, column).possible();
    options.extend(in_unit(second, b, column).possible());
    choose("two capacitances in one cell", options)
}

fn microfarad(number: &Number, unit: Unit) -> Option<f64> {
    let value = number.shifted(unit.exponent()? + 6)?;
    (value > 0.0 && value <= LARGEST_UF).then_some(value)
}

/// A number with its unit, also for the reader of descriptions.
pub(crate) fn in_unit(number: &Number, unit: Unit, column: &Column) -> Reading<f64> {
    let definite = |unit| match microfarad(number, unit) {
        Some(value) => Reading::Value(value),
        None => Reading::bad("a capacitance must be above zero and below 100 kF"),
    };
    let unit = if unit == Unit::Millifarad && column.milli_open { Unit::MicroOrMillifarad } else { unit };
    match (unit, column.unit) {
        (Unit::MicroOrMillifarad, Some(known @ (Unit::Microfarad | Unit::Millifarad))) => definite(known),
        (Unit::MicroOrMillifarad, _) => {
            let options =
                [Unit::Microfarad, Unit::Millifarad].into_iter().filter_map(|unit| microfarad(number, unit)).collect();
            choose(Doubt::MicroOrMilli, options)
        }
        (unit, _) => definite(unit),
    }
}

fn in_column(number: &Number, column: &Column) -> Reading<f64> {
    if let Some(unit) = column.unit.filter(|unit| unit.kind() == Kind::Capacitance) {
        return in_unit(number, unit, column);
    }
    let mut options: Vec<f64> = [Unit::Microfarad, Unit::Nanofarad, Unit::Picofarad, Unit::Millifarad]
        .into_iter()
        .filter_map(|unit| microfarad(number, unit))
        .collect();
    // Three digits may also be the code "two digits and a count of zeros, in pF" (IEC 60062).
    if let [tens @ b'1'..=b'9', ones, zeros] = number.digits().as_bytes()
        && number.is_whole()
        && [ones, zeros].iter().all(|digit| digit.is_ascii_digit())
    {
        let significant = f64::from(tens - b'0') * 10.0 + f64::from(ones - b'0');
        let code = format!("{significant}e{}", i32::from(zeros - b'0') - 6);
        options.extend(code.parse::<f64>().ok().filter(|value| !options.contains(value)));
    }
    if options.is_empty() {
        Reading::bad("a capacitance must be above zero")
    } else {
        ask(Doubt::unit_of("capacitance"), options)
    }
}

/// The capacitance of three digits "two digits and a count of zeros, in pF" (IEC 60062), µF, where they can be nothing else: values as they
/// are sold have no third digit but zero.
pub(crate) fn of_code(text: &str) -> Option<f64> {
    let [b'1'..=b'9', b'0'..=b'9', b'1'..=b'7'] = text.trim().as_bytes() else { return None };
    let (significant, zeros) = text.trim().split_at(2);
    format!("{significant}e{}", zeros.parse::<i32>().ok()? - 6).parse().ok()
}

/// `5M`, `M5`, `2G5`, `50M/350V` in the manner of old Czech lists (M = µF, G = mF; common practice, no source); `None` for anything
/// else. `answer` is a person's word whether the letters are meant so.
pub(crate) fn lettered(text: &str, decimal: Decimal, answer: Option<bool>) -> Option<Reading<f64>> {
    let tokens = scan(&clean(text).ok()?, decimal, Join::Never);
    let of_volt = |word: &str| Unit::parse(word).is_some_and(|unit| unit.kind() == Kind::Voltage);
    let tokens = match tokens.as_slice() {
        [of @ .., Token::Mark('/'), Token::Number(_)] => of,
        [of @ .., Token::Number(_), Token::Word(word)] if of_volt(word) => {
            of.strip_suffix(&[Token::Mark('/')]).unwrap_or(of)
        }
        all => all,
    };
    let (digits, letter) = match tokens {
        [Token::Number(whole), Token::Word(letter)] => (whole.digits().to_owned(), letter),
        [Token::Word(letter), Token::Number(part)] => (format!("0.{}", part.digits()), letter),
        [Token::Number(whole), Token::Word(letter), Token::Number(part)] => {
            (format!("{}.{}", whole.digits(), part.digits()), letter)
        }
        _ => return None,
    };
    let unit = [("M", Unit::Microfarad), ("G", Unit::Millifarad)].into_iter().find(|(name, _)| name == letter)?.1;
    let uf = microfarad(&Number::new(digits, false, false, 0), unit)?;
    Some(match answer {
        Some(true) => Reading::Value(uf),
        Some(false) => Reading::bad(format!("`{letter}` in `{text}` is no unit of capacitance")),
        None => ask(Doubt::CzechLetters, vec![uf]),
    })
}

/// `4.7 µF`: always in µF, with every digit the value has.
pub fn print(capacitance_uf: f64) -> String {
    format!("{capacitance_uf} µF")
}
