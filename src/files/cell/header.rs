//! What a column header says about the cells below it: unit, frequency, temperature.

use super::clean::clean;
use super::digits::Number;
use super::scan::{Join, Token, scan};
use super::unit::{Kind, Unit};
use super::{Column, Decimal, order};

/// What a header gives away.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Hints {
    /// Units of the values, in the order written; conditions such as `120Hz` are not among them. Two capacitance units mean that the
    /// header does not decide.
    pub units: Vec<Unit>,
    /// Frequency the values hold at, Hz.
    pub hz: Option<f64>,
    /// Temperature the values hold at, °C.
    pub temp_c: Option<f64>,
}

impl Hints {
    /// The column knowledge for values of one kind: the unit only if the header names exactly one of that kind.
    pub fn column(&self, kind: Kind, header: &str, decimal: Decimal) -> Column {
        let mut units = self.units.iter().filter(|unit| unit.kind() == kind);
        let unit = match (units.next(), units.next()) {
            (Some(&unit), None) => Some(unit),
            _ => None,
        };
        Column {
            decimal,
            unit,
            hz: self.hz,
            temp_c: self.temp_c,
            order: order::header_order(header),
            milli_open: false,
        }
    }
}

/// Reads the hints of a header: `Rated ripple current (mArms/105°C, 120Hz)`, `Ripple_100kHz_A`, `Cap_uF`, `Center-X(mil)`, `WV (V dc )`.
pub fn hints(header: &str) -> Hints {
    let mut hints = Hints::default();
    // A sign whose letter a data sheet does not say hides neither unit nor frequency beside it.
    let Ok(mut header) = clean(&header.replace('\u{FFFD}', " ")) else { return hints };
    if header.contains(" Hz") {
        header = header.replace("k Hz", "kHz").replace("K Hz", "kHz");
    }
    // The words of the name itself are no units: only what stands in brackets, behind `_`, `,`, `/` or a number, or at the end.
    let tokens = scan(&header, Decimal::Dot, Join::Never);
    let mut number: Option<Number> = None;
    for (at, token) in tokens.iter().enumerate() {
        match token {
            Token::Number(found) => number = Some(found.clone()),
            Token::Word(word) => {
                let unit = Unit::parse(word);
                match (unit, number.take()) {
                    (Some(unit), Some(number)) if unit.kind() == Kind::Frequency => {
                        hints.hz = unit.exponent().and_then(|exponent| number.shifted(exponent)).filter(|&hz| hz > 0.0);
                    }
                    (Some(Unit::Celsius), Some(number)) => hints.temp_c = number.value(),
                    (Some(unit), None) if stands_as_unit(&tokens, at, word) && !hints.units.contains(&unit) => {
                        hints.units.push(unit);
                    }
                    _ => {}
                }
            }
            _ => number = None,
        }
    }
    hints
}

/// Single letters and short words are units only where units stand: not as the first word of a header.
fn stands_as_unit(tokens: &[Token], at: usize, word: &str) -> bool {
    let first = at == 0;
    let single = word.chars().count() == 1 && word != "%" && word != "\"" && word != "Ω";
    if !single {
        return !first
            || word.len() > 1
                && !matches!(
                    word.to_lowercase().as_str(),
                    "min" | "in" | "mr" | "deg" | "voltage" | "wv" | "year" | "std"
                );
    }
    // "Temp_Max_C", "Ripple_100kHz_A", "(A)", "(V dc)": behind a bracket or separator, and not in front of another name.
    !first
        && matches!(tokens[at - 1], Token::Mark('(' | '[' | '_' | ',' | '/'))
        && matches!(tokens.get(at + 1), None | Some(Token::Mark(')' | ']' | ',' | '/' | '@') | Token::Word(_)))
        && !matches!(word, "p" | "n" | "m" | "r" | "R" | "H" | "P" | "N" | "M" | "K" | "°")
}
