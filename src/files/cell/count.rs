//! Whole numbers of pieces among words: `12,345 : In Stock`, `Min: 1 Mult: 1`, `500 / 500`, `2 500 Stk`, `>1000`.

use super::scan::{Join, Token, scan};
use super::{Column, Decimal, Reading, choose, decide};

/// Largest number of pieces read.
const MOST: f64 = 1e9;

/// Reads the whole numbers of a cell in the order written. A mark between groups of three digits is a thousands mark, because pieces
/// have no fractions; `1,5` is refused.
#[must_use]
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
#[must_use]
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
#[must_use]
pub fn first(text: &str, column: &Column) -> Reading<f64> {
    match read(text, column).map(|counts| counts[0]) {
        Reading::Ambiguous { what, options } => choose(&what, options),
        reading => reading,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Hand-made cases.
    #[test]
    fn a_known_decimal_mark_or_another_cell_proves_the_thousands_mark() {
        let column = |decimal| Column { decimal, ..Column::default() };
        assert_eq!(read("15.000", &column(Decimal::Comma)), Reading::Value(vec![15_000.0]));
        assert_eq!(read("15,000", &column(Decimal::Dot)), Reading::Value(vec![15_000.0]));
        assert!(matches!(read("15.000", &column(Decimal::Dot)), Reading::Ambiguous { .. }));
        assert_eq!(column_decimal(&["15.000", "2.500", "120"]), Decimal::Comma);
        assert_eq!(column_decimal(&["15.000", "120", "in stock"]), Decimal::Unknown);
    }

    // Hand-made cases.
    #[test]
    fn pieces_are_whole_whatever_the_mark() {
        for (text, counts) in [
            ("12,345 : In Stock", vec![12_345.0]),
            ("1.234", vec![1234.0]),
            ("2 500 Stk", vec![2500.0]),
            ("Min: 1 Mult: 5", vec![1.0, 5.0]),
            ("500 / 500", vec![500.0, 500.0]),
            (">1000", vec![1000.0]),
            ("100", vec![100.0]),
        ] {
            assert_eq!(read(text, &Column::default()), Reading::Value(counts), "{text}");
        }
        assert_eq!(first("0 : Lead time 12 Weeks", &Column::default()), Reading::Value(0.0));
        assert_eq!(read("—", &Column::default()), Reading::Nothing);
        for text in ["on request", "1.5", "-3.5 pcs"] {
            assert!(matches!(read(text, &Column::default()), Reading::Bad { .. }), "{text}");
        }
    }
}
