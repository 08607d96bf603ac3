//! Prices and price breaks.
//!
//! `"2,963.16"`, `2,963.16000`, `4.700,00`, `€ 0,52`, `US$ 0.31`, `0.52 EUR`. A price of zero is no price.

use super::scan::{Join, Token, not_understood, scan};
use super::{Column, Reading, decide, words};

/// A price as written.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    /// Price of one piece.
    pub amount: f64,
    /// ISO 4217 code where sign or letters give it away; the sign itself where it does not (`$`, `¥`, `kr`).
    pub currency: Option<String>,
}

/// A unit price from a quantity on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PriceBreak {
    /// Least quantity, pieces.
    pub from_qty: u64,
    /// Price of one piece from there on.
    pub unit_price: f64,
}

/// Most breaks read from one cell.
const MOST_BREAKS: usize = 100;

/// Reads a price.
pub fn read(text: &str, column: &Column) -> Reading<Price> {
    decide(text, column, |text, decimal| {
        let mut amount = None;
        let mut currency: Option<String> = None;
        for token in scan(text, decimal, Join::Blanks) {
            match token {
                Token::Number(number) if amount.is_none() => {
                    match number.value().filter(|&value| value > 0.0 && value <= 1e9) {
                        Some(value) => amount = Some(value),
                        None => return Reading::bad(format!("`{text}` is not a price above zero")),
                    }
                }
                Token::Number(_) => return Reading::bad(format!("`{text}` holds more than a price")),
                Token::Broken(reason) => return Reading::Bad { reason },
                Token::Word(word) => match word.as_str() {
                    "each" | "ea" | "pc" | "pcs" | "per" | "piece" | "Stk" | "St" => {}
                    code if sign(code).is_some()
                        || (code.len() == 3 && code.bytes().all(|b| b.is_ascii_uppercase())) =>
                    {
                        let code = sign(code).unwrap_or(code);
                        if currency.replace(code.to_string()).is_some() {
                            return Reading::bad(format!("`{text}` names two currencies"));
                        }
                    }
                    // "US$": the letters say which dollar.
                    "US" | "A" | "C" | "HK" | "NZ" => currency = Some(format!("{word}$")),
                    _ => return Reading::bad(not_understood(&word, text)),
                },
                Token::Mark('$') if currency.as_deref().is_some_and(|code| code.ends_with('$')) => {
                    currency = currency.map(|code| sign(&code).unwrap_or(&code).to_owned());
                }
                Token::Mark(mark) => match sign(mark.to_string().as_str()) {
                    Some(code) if currency.is_none() => currency = Some(code.to_string()),
                    Some(code) if currency.as_deref() == Some("USD") && code == "$" => {}
                    None if matches!(mark, '/' | '.' | ':' | '-') => {}
                    _ => return Reading::bad(not_understood(&mark.to_string(), text)),
                },
            }
        }
        match amount {
            Some(amount) => Reading::Value(Price { amount, currency }),
            None => Reading::bad(format!("no price in `{text}`")),
        }
    })
}

fn sign(text: &str) -> Option<&'static str> {
    words::stands_for("signs of currencies", text)
}

/// The one currency a header names: `Price (EUR)`, `Unit Price(USD)`, `€/pc`, `Unit Price US$`; a bare `$` stays `$`.
pub fn currency_of(header: &str) -> Option<String> {
    let mut found: Vec<&str> = header
        .split(|c: char| !c.is_alphanumeric())
        .filter_map(|word| words::stands_for("currencies", &word.to_ascii_uppercase()))
        .collect();
    let signs = || words::list("signs of currencies").filter_map(|pair| pair.split_once('='));
    if found.is_empty() && header.contains('$') {
        found.extend(signs().find(|(sign, _)| sign.ends_with('$') && header.contains(sign)).map(|(_, code)| code));
    }
    if !header.is_ascii() {
        let said = signs().filter(|(sign, _)| !sign.is_ascii() && header.contains(sign));
        found.extend(said.map(|(_, code)| code));
    }
    found.sort_unstable();
    found.dedup();
    match found.as_slice() {
        [one] => Some((*one).to_owned()),
        // `¥ (CNY)`: the letters say which.
        [code, "¥"] => Some((*code).to_owned()),
        _ => None,
    }
}

/// Reads price breaks: `1:0.52;10:0.40`, `1+ $0.52 | 10+ $0.40`, `1=0,52; 10=0,40`. Quantities must rise.
pub fn read_breaks(text: &str, column: &Column) -> Reading<Vec<PriceBreak>> {
    decide(text, column, |text, decimal| {
        let pairs: Vec<&str> =
            if text.contains([';', '|']) { text.split([';', '|']).collect() } else { text.split(", ").collect() };
        if pairs.len() > MOST_BREAKS {
            return Reading::bad(format!("more than {MOST_BREAKS} price breaks"));
        }
        let mut breaks: Vec<PriceBreak> = Vec::new();
        for pair in pairs.iter().map(|pair| pair.trim()).filter(|pair| !pair.is_empty()) {
            let tokens = scan(pair, decimal, Join::Never);
            let numbers: Vec<_> = tokens
                .iter()
                .filter_map(|token| if let Token::Number(number) = token { Some(number) } else { None })
                .collect();
            let known = tokens.iter().all(|token| match token {
                Token::Number(_) => true,
                Token::Mark(mark) => matches!(mark, ':' | '=' | '+' | '@' | '-') || sign(&mark.to_string()).is_some(),
                Token::Word(word) => {
                    sign(word).is_some() || matches!(word.as_str(), "pcs" | "pc" | "x" | "EUR" | "USD" | "GBP")
                }
                Token::Broken(_) => false,
            });
            let (true, [quantity, price]) = (known, numbers.as_slice()) else {
                return Reading::bad(format!("`{pair}` is not a quantity and a price"));
            };
            let from_qty: Option<u64> = quantity.digits().parse().ok().filter(|&quantity| quantity > 0);
            match (from_qty, price.value().filter(|&price| price > 0.0 && price <= 1e9)) {
                (Some(from_qty), Some(unit_price)) if breaks.last().is_none_or(|last| last.from_qty < from_qty) => {
                    breaks.push(PriceBreak { from_qty, unit_price });
                }
                (Some(_), Some(_)) => return Reading::bad(format!("the quantities of `{text}` do not rise")),
                _ => return Reading::bad(format!("`{pair}` is not a quantity and a price above zero")),
            }
        }
        if breaks.is_empty() { Reading::bad(format!("no price break in `{text}`")) } else { Reading::Value(breaks) }
    })
}
