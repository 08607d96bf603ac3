//! The small language of the filter: plain words and comparisons, all of which must hold.
//!
//! `105 hybrid`, `h < 20`, `price <= 1`, `d = 8..10`, `ripple = pass`, `maker = halv`, `-obsolete`, `radial|smd`,
//! `"two words"`. What cannot be understood is said in words and left out until it can.

use super::columns::{COLUMNS, Subject, TableColumn, Text};
use super::{quantity::plain, quantity::size_of};
use crate::domain::{Outcome, Unit};

/// How a figure compares.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Op {
    Less,
    AtMost,
    More,
    AtLeast,
    Same,
    /// Not the same.
    Other,
}

/// One thing asked of a candidate.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Test {
    /// Some text of the part contains this, in lower case; or, for a number, one of the figures a part is called by is
    /// that number.
    Anywhere {
        text: String,
        number: Option<(f64, Option<Unit>)>,
    },
    /// The text of a column contains this, in lower case; an empty one is a text not known.
    Text {
        text: Text,
        contains: String,
        op: Op,
    },
    Number {
        column: usize,
        op: Op,
        limit: f64,
    },
    /// A number lies between two others, both included.
    Between {
        column: usize,
        low: f64,
        high: f64,
    },
    NotKnown {
        column: usize,
    },
    /// An outcome compares; better is less.
    Outcome {
        column: usize,
        op: Op,
        outcome: Outcome,
    },
}

/// Tests of which one must hold, or none.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Clause {
    /// Whether none may hold.
    pub negated: bool,
    pub any: Vec<Test>,
}

/// A filter: every clause must hold.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Filter {
    pub clauses: Vec<Clause>,
    /// What could not be understood, in words.
    pub faults: Vec<String>,
}

/// Examples with what they mean, for the person.
pub(crate) const EXAMPLES: &[(&str, &str)] = &[
    ("105 hybrid", "words: in number, maker, series, technology, mounting, status"),
    ("470u 25V", "numbers also as µF, V, °C or mm of the part"),
    ("h < 20", "height below 20 mm; also <= > >= = !="),
    ("life > 10", "more than 10 years of life"),
    ("price <= 1", "at most 1 a piece"),
    ("d = 8..10", "diameter from 8 to 10 mm"),
    ("ripple = pass", "a check: pass, marginal, unknown or fail"),
    ("verdict <= marginal", "pass or marginal: what may be used"),
    ("maker = halv", "a text of one column"),
    ("price = unknown", "a figure that is missing"),
    ("radial|smd", "one or the other"),
    ("-obsolete", "without a word"),
];

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Word(String),
    Quoted(String),
    Op(Op),
    Or,
    Not,
}

fn tokens(text: &str) -> Vec<Token> {
    let mut out = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let starts_anew = out.is_empty() || text[..text.len() - rest.len()].ends_with(char::is_whitespace);
        let after = &rest[first.len_utf8()..];
        if first.is_whitespace() {
            rest = after;
        } else if let Some((op, len)) = operator(rest) {
            out.push(Token::Op(op));
            rest = &rest[len..];
        } else if first == '|' {
            out.push(Token::Or);
            rest = after;
        } else if first == '"' {
            let end = after.find('"').unwrap_or(after.len());
            out.push(Token::Quoted(after[..end].to_owned()));
            rest = after.get(end + 1..).unwrap_or_default();
        } else if first == '-' && starts_anew && after.starts_with(|c: char| c.is_alphabetic() || c == '"') {
            out.push(Token::Not);
            rest = after;
        } else {
            let ends = |(at, c): &(usize, char)| {
                c.is_whitespace() || matches!(c, '|' | '"') || operator(&rest[*at..]).is_some()
            };
            let end = rest.char_indices().find(ends).map_or(rest.len(), |(at, _)| at);
            out.push(Token::Word(rest[..end].to_owned()));
            rest = &rest[end..];
        }
    }
    out
}

/// The operator a text starts with, and its length.
fn operator(text: &str) -> Option<(Op, usize)> {
    const ALL: [(&str, Op); 12] = [
        ("<=", Op::AtMost),
        ("=<", Op::AtMost),
        ("≤", Op::AtMost),
        (">=", Op::AtLeast),
        ("=>", Op::AtLeast),
        ("≥", Op::AtLeast),
        ("!=", Op::Other),
        ("≠", Op::Other),
        ("<", Op::Less),
        (">", Op::More),
        ("=", Op::Same),
        (":", Op::Same),
    ];
    ALL.iter().find(|(sign, _)| text.starts_with(sign)).map(|(sign, op)| (*op, sign.len()))
}

impl Filter {
    /// Reads what was typed. Anything is accepted; what makes no sense is among the faults and asks nothing.
    pub(crate) fn parse(text: &str) -> Self {
        let tokens = tokens(text);
        let mut filter = Self::default();
        let mut rest = &tokens[..];
        while !rest.is_empty() {
            let negated = rest[0] == Token::Not;
            if negated {
                rest = &rest[1..];
            }
            let mut any = Vec::new();
            loop {
                match test(&mut rest) {
                    Ok(test) => any.extend(test),
                    Err(fault) => filter.faults.push(fault),
                }
                if rest.first() == Some(&Token::Or) {
                    rest = &rest[1..];
                } else {
                    break;
                }
            }
            if !any.is_empty() {
                filter.clauses.push(Clause { negated, any });
            }
        }
        filter
    }
}

/// Reads one test and moves on, at least by one token if there is one.
fn test(rest: &mut &[Token]) -> Result<Option<Test>, String> {
    let Some((first, after)) = rest.split_first() else { return Ok(None) };
    *rest = after;
    match (first, after.first()) {
        (Token::Word(name), Some(Token::Op(op))) => {
            *rest = &after[1..];
            compared(name, *op, rest)
        }
        (Token::Word(word), _) => Ok(Some(anywhere(word))),
        (Token::Quoted(text), _) if text.is_empty() => Ok(None),
        (Token::Quoted(text), _) => Ok(Some(Test::Anywhere { text: text.to_lowercase(), number: None })),
        (Token::Op(_), value) => {
            let shown = if let Some(Token::Word(value) | Token::Quoted(value)) = value { value } else { "10" };
            if matches!(value, Some(Token::Word(_) | Token::Quoted(_))) {
                *rest = &after[1..];
            }
            Err(format!("What is to be compared? Write a name in front, such as life > {shown}."))
        }
        (Token::Or | Token::Not, _) => Ok(None),
    }
}

fn anywhere(word: &str) -> Test {
    let number = number(word).and_then(|(value, unit)| match unit {
        "" => Some((value, None)),
        unit => {
            let known = [Unit::Microfarad, Unit::Volt, Unit::Celsius, Unit::Millimetre, Unit::Ampere];
            known.into_iter().find_map(|known| Some((value * size_of(known, unit)?, Some(known))))
        }
    });
    Test::Anywhere { text: word.to_lowercase(), number }
}

/// Reads the value after a name and an operator.
fn compared(name: &str, op: Op, rest: &mut &[Token]) -> Result<Option<Test>, String> {
    let columns: Vec<(usize, &TableColumn)> = TableColumn::named(name).collect();
    let Some(&(_, example)) = columns.last() else {
        if matches!(rest.first(), Some(Token::Word(_) | Token::Quoted(_))) {
            *rest = &rest[1..];
        }
        return Err(unknown_name(name));
    };
    let (value, quoted) = match rest.first() {
        Some(Token::Word(value)) => (value, false),
        Some(Token::Quoted(value)) => (value, true),
        _ => return Err(format!("{name} is compared with what? Write for example {}.", for_example(name, example))),
    };
    *rest = &rest[1..];
    let outcome = Outcome::ALL.into_iter().find(|outcome| outcome.word() == value.to_lowercase());
    let mut fault = None;
    for &(column, shown) in &columns {
        match (shown.subject, outcome) {
            (Subject::Verdict | Subject::Check(_), Some(outcome)) => {
                return Ok(Some(Test::Outcome { column, op, outcome }));
            }
            (Subject::Number(..), Some(Outcome::Unknown)) => return Ok(Some(Test::NotKnown { column })),
            (Subject::Text(text), _) if matches!(op, Op::Same | Op::Other) => {
                let contains = if value == "unknown" && !quoted { String::new() } else { value.to_lowercase() };
                return Ok(Some(Test::Text { text, contains, op }));
            }
            (Subject::Number(_, unit), _) if !quoted => match numeric(column, op, value, unit, rest) {
                Ok(test) => return Ok(Some(test)),
                Err(words) => fault = Some(format!("{name} {words}")),
            },
            _ => {}
        }
    }
    Err(fault.unwrap_or_else(|| match example.subject {
        Subject::Text(_) => format!("{name} is a text: it can only be = or != something."),
        _ => format!("{name} cannot be “{value}”. Write for example {}.", for_example(name, example)),
    }))
}

fn for_example(name: &str, column: &TableColumn) -> String {
    match column.subject {
        Subject::Text(_) => format!("{name} = abc"),
        Subject::Verdict | Subject::Check(_) => format!("{name} = pass"),
        Subject::Number(..) => format!("{name} < 10"),
    }
}

fn unknown_name(name: &str) -> String {
    let names: Vec<&str> = COLUMNS.iter().filter(|column| column.usual).map(|column| column.words[0]).collect();
    format!("“{name}” is no column. There are {} and those of the column chooser.", names.join(", "))
}

fn numeric(column: usize, op: Op, value: &str, unit: Unit, rest: &mut &[Token]) -> Result<Test, String> {
    let (low, high) = match value.split_once("..") {
        Some((low, high)) => (low, Some(high)),
        None => (value, None),
    };
    let last = high.unwrap_or(low);
    let (Some((mut low_value, low_unit)), Some((mut last_value, mut last_unit))) = (number(low), number(last)) else {
        return Err(format!("is compared with a number, not with “{value}”."));
    };
    // A unit may stand apart: `life > 10 years`.
    if last_unit.is_empty()
        && let Some(Token::Word(next)) = rest.first()
        && size_of(unit, next).is_some()
        && !matches!(rest.get(1), Some(Token::Op(_)))
    {
        last_unit = next;
        *rest = &rest[1..];
    }
    let size = |typed: &str| match typed {
        "" => Ok(plain(unit)),
        typed => size_of(unit, typed).ok_or_else(|| match unit.symbol() {
            "" => format!("has no unit; leave out “{typed}”."),
            symbol => format!("is in {symbol}; “{typed}” does not fit."),
        }),
    };
    let last_size = size(last_unit)?;
    last_value *= last_size;
    low_value *= if low_unit.is_empty() { last_size } else { size(low_unit)? };
    match high {
        None => Ok(Test::Number { column, op, limit: last_value }),
        Some(_) if op == Op::Same => {
            Ok(Test::Between { column, low: low_value.min(last_value), high: low_value.max(last_value) })
        }
        Some(_) => Err("goes from one number to another only with =, as in d = 8..10.".to_owned()),
    }
}

/// A number and whatever follows it; a comma counts as a decimal sign. `None` when it does not start with a number.
fn number(text: &str) -> Option<(f64, &str)> {
    let (sign, digits) = match text.strip_prefix(['-', '−']) {
        Some(digits) => (-1.0, digits),
        None => (1.0, text),
    };
    let end = digits.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | ',')).unwrap_or(digits.len());
    let value: f64 = digits[..end].replace(',', ".").parse().ok()?;
    Some((sign * value, &digits[end..]))
}

#[cfg(test)]
#[path = "../../../../tests/window/inside/filter.rs"]
mod tests;
