//! Whole numbers of pieces among words: `12,345 : In Stock`, `Min: 1 Mult: 1`, `500 / 500`, `2 500 Stk`, `>1000`.

use super::scan::{Join, Token, scan};
use super::{Column, Decimal, Reading, choose, decide};

/// Largest number of pieces read.
const MOST: f64 = 1e9;

/// Reads the whole numbers of a cell in the order written. A mark between groups of three digits is a thousands mark, because pieces
/// have no fractions; `1,5` is refused.
pub fn read(text: &str, column: &Column) -> Reading<Vec<f64>> {
    let whole = whole(text, column);
    // `15.000` where the comma is known to be the decimal mark; a decimal mark before three zeros stays open.
    let mark = match column.decimal {
        Decimal::Dot => '.',
        Decimal::Comma => ',',
        Decimal::Unknown => return whole,
    };
    if matches!(whole, Reading::Ambiguous { .. }) && !text.contains(mark) { decided(text, column) } else { whole }
}

/// Under either decimal mark the number must be whole, which mostly decides.
fn whole(text: &str, column: &Column) -> Reading<Vec<f64>> {
    decided(text, &Column { decimal: Decimal::Unknown, ..*column })
}

fn decided(text: &str, column: &Column) -> Reading<Vec<f64>> {
    decide(text, column, |text, decimal| {
        let mut counts = Vec::new();
        for token in scan(text, decimal, Join::Blanks) {
            match token {
                Token::Number(number) => {
                    match number.value().filter(|n| n.fract() == 0.0 && (0.0..=MOST).contains(n)) {
                        Some(count) => counts.push(count),
                        None => return Reading::bad(format!("`{text}` is not a number of pieces")),
                    }
                }
                Token::Broken(reason) => return Reading::Bad { reason },
                Token::Word(_) | Token::Mark(_) => {}
            }
        }
        if counts.is_empty() { Reading::bad(format!("no number in `{text}`")) } else { Reading::Value(counts) }
    })
}

/// The decimal mark under which every cell of a column is a number of pieces, when it is one only: `2.500` proves `15.000`.
pub fn column_decimal(cells: &[&str]) -> Decimal {
    let fits = |decimal| {
        let column = Column { decimal, ..Column::default() };
        !cells.iter().any(|cell| matches!(decided(cell, &column), Reading::Bad { .. }))
    };
    match (fits(Decimal::Dot), fits(Decimal::Comma)) {
        (true, false) => Decimal::Dot,
        (false, true) => Decimal::Comma,
        _ => Decimal::Unknown,
    }
}

/// The first number of a cell: what is in stock, before the words about when more comes.
pub fn first(text: &str, column: &Column) -> Reading<f64> {
    match read(text, column).map(|counts| counts[0]) {
        Reading::Ambiguous { what, options } => choose(what, options),
        reading => reading,
    }
}
