//! The small language of the filter: plain words and comparisons, all of which must hold.
//!
//! `105 hybrid`, `h < 20`, `price <= 1`, `d = 8..10`, `ripple = pass`, `maker = halv`, `-obsolete`, `radial|smd`,
//! `"two words"`. What cannot be understood is said in words and left out until it can.

use crate::app::views::candidates::columns::{COLUMNS, Subject, TableColumn, Text};
use crate::app::views::candidates::quantity::Unit;
use crate::domain::Outcome;

/// How a figure compares.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Op {
    /// Less than.
    Less,
    /// At most.
    AtMost,
    /// More than.
    More,
    /// At least.
    AtLeast,
    /// The same.
    Same,
    /// Not the same.
    Other,
}

/// One thing asked of a candidate.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Test {
    /// Some text of the part contains this, in lower case; or, for a number, one of the figures a part is called by is
    /// that number.
    Anywhere { text: String, number: Option<(f64, Option<Unit>)> },
    /// The text of a column contains this, in lower case; an empty one is a text not known.
    Text { text: Text, contains: String, op: Op },
    /// A number compares.
    Number { column: usize, op: Op, limit: f64 },
    /// A number lies between two others, both included.
    Between { column: usize, low: f64, high: f64 },
    /// A number is not known.
    NotKnown { column: usize },
    /// An outcome compares; better is less.
    Outcome { column: usize, op: Op, outcome: Outcome },
}

/// Tests of which one must hold, or none.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Clause {
    /// Whether none may hold.
    pub negated: bool,
    /// The tests.
    pub any: Vec<Test>,
}

/// A filter: every clause must hold.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Filter {
    /// The clauses.
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
            known.into_iter().find_map(|known| Some((value * known.size_of(unit)?, Some(known))))
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
        && unit.size_of(next).is_some()
        && !matches!(rest.get(1), Some(Token::Op(_)))
    {
        last_unit = next;
        *rest = &rest[1..];
    }
    let size = |typed: &str| match typed {
        "" => Ok(unit.plain()),
        typed => unit.size_of(typed).ok_or_else(|| match unit.symbol() {
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
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn one(text: &str) -> Test {
        let mut filter = Filter::parse(text);
        assert_eq!(filter.faults, Vec::<String>::new(), "{text}");
        assert_eq!((filter.clauses.len(), filter.clauses[0].any.len()), (1, 1), "{text}: {filter:?}");
        filter.clauses[0].any.remove(0)
    }

    fn fault(text: &str) -> String {
        let filter = Filter::parse(text);
        assert_eq!(filter.clauses, [], "{text}");
        assert_eq!(filter.faults.len(), 1, "{text}: {:?}", filter.faults);
        filter.faults[0].clone()
    }

    /// The column with this heading.
    fn column(heading: &str) -> usize {
        COLUMNS.iter().position(|c| c.heading == heading).unwrap()
    }

    #[test]
    fn comparisons_need_no_spaces_and_take_any_sign() {
        let height = |op, limit| Test::Number { column: column("H mm"), op, limit };
        for text in ["h<20", "h < 20", "H <20", "height < 20mm", "h < 20 mm", "h<2cm"] {
            assert_eq!(one(text), height(Op::Less, 20.0), "{text}");
        }
        for (sign, op) in
            [("<=", Op::AtMost), ("≤", Op::AtMost), (">=", Op::AtLeast), (">", Op::More), ("!=", Op::Other)]
        {
            assert_eq!(one(&format!("h {sign} 12,5")), height(op, 12.5));
        }
        assert_eq!(one("h:20"), height(Op::Same, 20.0));
        assert_eq!(one("d = 10..8"), Test::Between { column: column("Ø mm"), low: 8.0, high: 10.0 });
    }

    #[test]
    fn figures_of_every_kind_are_compared_in_their_unit() {
        let limit = |text: &str| match one(text) {
            Test::Number { limit, column, .. } => (COLUMNS[column].heading, limit),
            other => panic!("{other:?}"),
        };
        assert_eq!(limit("life > 10"), ("Years", 10.0));
        assert_eq!(limit("life > 10 years"), ("Years", 10.0));
        assert_eq!(limit("price <= 1"), ("Price", 1.0));
        assert_eq!(limit("headroom >= 20"), ("Margin", 0.2));
        assert_eq!(limit("margin >= 20"), ("Margin", 0.2));
        assert_eq!(limit("used < 80 %"), ("Ripple util.", 0.8));
        assert_eq!(limit("c >= 4.7mF"), ("µF", 4700.0));
        assert_eq!(limit("tol <= 20%"), ("± %", 20.0));
        assert_eq!(limit("i > 900mA"), ("Rated A", 0.9));
    }

    #[test]
    fn one_name_is_a_check_or_a_figure_by_what_it_is_compared_with() {
        let ripple = |op, outcome| Test::Outcome { column: column("Ripple check"), op, outcome };
        assert_eq!(one("ripple = pass"), ripple(Op::Same, Outcome::Pass));
        assert_eq!(one("ripple = unknown"), ripple(Op::Same, Outcome::Unknown));
        assert_eq!(one("ripple != fail"), ripple(Op::Other, Outcome::Fail));
        assert_eq!(one("ripple > 1"), Test::Number { column: column("Rated A"), op: Op::More, limit: 1.0 });
        assert_eq!(one("price = unknown"), Test::NotKnown { column: column("Price") });
        let maker = |contains: &str| Test::Text { text: Text::Maker, contains: contains.into(), op: Op::Same };
        assert_eq!(one("maker = Halv"), maker("halv"));
        assert_eq!(one("maker = \"Two Words\""), maker("two words"));
    }

    #[test]
    fn plain_words_are_looked_for_everywhere_and_all_of_them_count() {
        let filter = Filter::parse("105 Hybrid");
        assert_eq!(filter.clauses.len(), 2);
        assert_eq!(filter.clauses[0].any, [Test::Anywhere { text: "105".into(), number: Some((105.0, None)) }]);
        assert_eq!(filter.clauses[1].any, [Test::Anywhere { text: "hybrid".into(), number: None }]);
        let number = |text: &str| match one(text) {
            Test::Anywhere { number, .. } => number,
            other => panic!("{other:?}"),
        };
        assert_eq!(number("470u"), Some((470.0, Some(Unit::Microfarad))));
        assert_eq!(number("25V"), Some((25.0, Some(Unit::Volt))));
        assert_eq!(number("QX-10"), None);
    }

    #[test]
    fn a_word_is_excluded_and_one_of_several_is_enough() {
        let filter = Filter::parse("-obsolete radial|smd");
        assert!(filter.clauses[0].negated && !filter.clauses[1].negated);
        assert_eq!(filter.clauses[1].any.len(), 2);
        // A dash inside a part number, or before a number, excludes nothing.
        assert!(Filter::parse("QX-abc -40").clauses.iter().all(|clause| !clause.negated));
    }

    #[test]
    fn what_cannot_be_understood_is_said_in_words_and_asks_nothing() {
        assert!(fault("h <").contains("h < 10"));
        assert!(fault("< 5").contains("life > 5"));
        assert!(fault("hight < 5").contains("“hight” is no column"));
        assert!(fault("h < abc").contains("compared with a number"));
        assert!(fault("h < 20V").contains("is in mm"));
        assert!(fault("price < 2km").contains("no unit"));
        assert!(fault("maker < x").contains("only be ="));
        assert!(fault("verdict = good").contains("verdict = pass"));
        assert!(fault("h < 8..10").contains("only with ="));
        // The rest still holds.
        let filter = Filter::parse("hybrid h <");
        assert_eq!((filter.clauses.len(), filter.faults.len()), (1, 1));
    }

    #[test]
    fn every_example_in_the_window_is_understood() {
        for (text, _) in EXAMPLES {
            let filter = Filter::parse(text);
            assert!(filter.faults.is_empty() && !filter.clauses.is_empty(), "{text}");
        }
    }

    #[test]
    fn nothing_asks_nothing() {
        for text in ["", "  ", "|", "- |", "\"\"", "\""] {
            assert!(Filter::parse(text).clauses.iter().all(|clause| !clause.any.is_empty()), "{text}");
        }
        assert_eq!(Filter::parse("  "), Filter::default());
    }

    proptest! {
        #[test]
        fn any_text_is_read_without_panic(text in "\\PC*") {
            let _ = Filter::parse(&text);
        }

        #[test]
        fn any_mix_of_the_pieces_is_read_without_panic_and_each_limit_is_a_number(
            pieces in prop::collection::vec(
                prop::sample::select(vec![
                    "h", "life", "ripple", "maker", "<", "=", "≤", "..", "8..10", "-", "|", "\"", " ", "20", "1e9", "unknown",
                    "pass", "mm", "%", "µF", "−5", ",", ":", "x",
                ]),
                0..12,
            ),
        ) {
            for clause in Filter::parse(&pieces.concat()).clauses {
                prop_assert!(!clause.any.is_empty());
                for test in clause.any {
                    if let Test::Number { limit, .. } = test {
                        prop_assert!(limit.is_finite());
                    }
                }
            }
        }

        #[test]
        fn a_limit_is_read_as_it_was_written(value in 0.0..1e6f64) {
            let read = one(&format!("h < {value}"));
            prop_assert_eq!(read, Test::Number { column: column("H mm"), op: Op::Less, limit: value });
        }
    }
}
