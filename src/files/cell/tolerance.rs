//! Tolerance of the capacitance, in percent.

use super::scan::{Join, Token, not_understood, scan};
use super::unit::Unit;
use super::{Column, Decimal, Doubt, Reading, choose, decide};

/// A tolerance as written; both figures are positive distances from the nominal value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    /// Below nominal, percent.
    pub minus_pct: f64,
    /// Above nominal, percent.
    pub plus_pct: f64,
}

/// Tolerance letters of IEC 60062, in percent below and above. From memory.
const LETTERS: [(&str, f64, f64); 9] = [
    ("F", 1.0, 1.0),
    ("G", 2.0, 2.0),
    ("J", 5.0, 5.0),
    ("K", 10.0, 10.0),
    ("M", 20.0, 20.0),
    ("N", 30.0, 30.0),
    ("Q", 10.0, 30.0),
    ("T", 10.0, 50.0),
    ("Z", 20.0, 80.0),
];

/// Widest tolerance read, in percent above; below, 100 % is nothing left.
const WIDEST_PCT: f64 = 300.0;

impl Tolerance {
    fn new(minus_pct: f64, plus_pct: f64) -> Option<Self> {
        let possible = minus_pct >= 0.0
            && plus_pct >= 0.0
            && minus_pct < 100.0
            && plus_pct <= WIDEST_PCT
            && minus_pct + plus_pct > 0.0;
        possible.then_some(Tolerance { minus_pct, plus_pct })
    }
}

/// Reads a tolerance. A bare number is percent or a share of one as the column says; if it does not and both are possible, it is asked.
pub fn read(text: &str, column: &Column) -> Reading<Tolerance> {
    decide(text, column, |text, decimal| match figures(text, decimal) {
        Err(reason) => Reading::Bad { reason },
        Ok(Figures::Letter(minus_pct, plus_pct)) => Reading::Value(Tolerance { minus_pct, plus_pct }),
        Ok(Figures::Numbers { minus, plus, percent }) => {
            let refuse = || Reading::bad(format!("`{text}` is not a possible tolerance"));
            let in_percent = Tolerance::new(minus, plus);
            let in_share = Tolerance::new(percent_of(minus), percent_of(plus));
            match column.unit {
                _ if percent => in_percent.map_or_else(refuse, Reading::Value),
                Some(Unit::Percent) => in_percent.map_or_else(refuse, Reading::Value),
                Some(Unit::Ratio) => in_share.map_or_else(refuse, Reading::Value),
                _ => choose(
                    Doubt::Unit("tolerance in percent or as a share of one".to_owned()),
                    in_percent.into_iter().chain(in_share).collect(),
                ),
            }
        }
    })
}

/// The tolerance in a description: the figures before a sign of percent with their own signs, `+50-10%`, `-20% +80%`. Two that differ are none.
pub(crate) fn in_text(text: &str, decimal: Decimal) -> Reading<Tolerance> {
    let mut rest = text.replace("PCT", "%").replace("pct", "%");
    let mut found: Option<Tolerance> = None;
    while let Some(end) = rest.rfind('%') {
        let start = start_of(&rest[..end]);
        let figures = &rest[start..end];
        if figures.contains(|c: char| c.is_ascii_digit()) {
            let read = match self::figures(figures, decimal) {
                Ok(Figures::Numbers { minus, plus, .. }) => Tolerance::new(minus, plus),
                Ok(Figures::Letter(..)) | Err(_) => None,
            };
            let Some(read) = read else { return Reading::bad(format!("`{figures}%` is not a possible tolerance")) };
            if found.replace(read).is_some_and(|other| other != read) {
                return Reading::bad("the percentages are not one tolerance");
            }
        }
        rest.truncate(start);
    }
    found.map_or(Reading::Nothing, Reading::Value)
}

/// Where the figures that end a text begin: before the last one its sign, and before that another that has one.
fn start_of(text: &str) -> usize {
    let mut start = text.len();
    loop {
        let number = text[..start].trim_end_matches([' ', '%', ',']);
        let signs = number.trim_end_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ','));
        let before = signs.trim_end_matches([' ', '+', '-', '±', '/']);
        let signed = signs[before.len()..].contains(['+', '-', '±']);
        if number.len() == signs.len() || start < text.len() && !signed {
            return start;
        }
        // `16V-20%`: a dash after a word parts, it is no sign.
        let parts = signs[before.len()..] == *"-" && before.ends_with(char::is_alphabetic);
        start = before.len() + usize::from(parts);
        if !signed || parts || !before.trim_end_matches(',').ends_with(|c: char| c.is_ascii_digit() || c == '%') {
            return start;
        }
    }
}

/// A share of one in percent, without the noise of binary fractions.
fn percent_of(share: f64) -> f64 {
    format!("{share}e2").parse().unwrap_or(f64::INFINITY)
}

enum Figures {
    Letter(f64, f64),
    Numbers { minus: f64, plus: f64, percent: bool },
}

fn figures(text: &str, decimal: Decimal) -> Result<Figures, String> {
    let (mut numbers, mut percent, mut letter) = (Vec::<(f64, bool, bool)>::new(), false, None);
    let mut mark = ' ';
    for token in scan(text, decimal, Join::Never) {
        // `+80-20%`: the minus behind a figure is its sign where the one before has a plus.
        let minus = mark == '-' && numbers.last().is_some_and(|(.., plus)| *plus);
        mark = if let Token::Mark(mark) = token { mark } else { ' ' };
        match token {
            Token::Number(number) => {
                let value = number.value().ok_or_else(|| format!("`{text}` is out of range"))?;
                numbers.push((value.abs(), number.negative || minus, number.plus));
            }
            Token::Word(word) => match LETTERS.iter().find(|(name, ..)| *name == word) {
                Some(&(_, minus, plus)) if letter.is_none() => letter = Some((minus, plus)),
                _ if Unit::parse(&word) == Some(Unit::Percent) => percent = true,
                _ => return Err(not_understood(&word, text)),
            },
            Token::Broken(reason) => return Err(reason),
            Token::Mark('±' | '+' | '-' | '/' | ',' | '(' | ')' | '~' | '≤' | '.') => {}
            Token::Mark(mark) => return Err(not_understood(&mark.to_string(), text)),
        }
    }
    // "+/-20 %" and "+-20%" leave a minus sign on the only number; a lone "-20 %" or "+20 %" has one side only.
    let both_sides =
        text.contains('±') || text.replace(' ', "").contains("+/-") || text.replace(' ', "").contains("+-");
    let (minus, plus) = match (numbers.as_slice(), letter) {
        ([], Some((minus, plus))) => return Ok(Figures::Letter(minus, plus)),
        (&[(value, negative, positive)], _) if both_sides || (!negative && !positive) => (value, value),
        (&[(value, true, _)], None) => (value, 0.0),
        (&[(value, _, true)], None) => (0.0, value),
        (&[(a, true, _), (b, false, _)], None) => (a, b),
        (&[(a, false, _), (b, true, _)], None) => (b, a),
        _ => return Err(format!("`{text}` is not a tolerance")),
    };
    if letter.is_some_and(|expected| percent && expected != (minus, plus)) {
        return Err(format!("letter and figure of `{text}` differ"));
    }
    Ok(Figures::Numbers { minus, plus, percent })
}

/// `±20 %`, or `-20 % +80 %`.
pub fn print(tolerance: &Tolerance) -> String {
    if tolerance.minus_pct == tolerance.plus_pct {
        format!("±{} %", tolerance.plus_pct)
    } else {
        format!("-{} % +{} %", tolerance.minus_pct, tolerance.plus_pct)
    }
}
