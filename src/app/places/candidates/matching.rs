//! Whether a row of the table is what the filter asks for.

use super::columns::{COLUMNS, Subject, Text};
use super::filter::{Clause, Filter, Op, Test};
use super::quantity::Unit;
use crate::app::candidates::Rows;
use crate::domain::{Catalog, Outcome, PartId};

/// Figures that differ less than this share were written as the same decimal.
const ROUNDING: f64 = 1e-6;

/// Whether a row holds every clause.
pub(crate) fn holds(filter: &Filter, rows: &Rows, catalog: &Catalog, row: usize) -> bool {
    filter.clauses.iter().all(|clause| clause_holds(clause, rows, catalog, row))
}

fn clause_holds(clause: &Clause, rows: &Rows, catalog: &Catalog, row: usize) -> bool {
    clause.any.iter().any(|test| test_holds(test, rows, catalog, row)) != clause.negated
}

fn test_holds(test: &Test, rows: &Rows, catalog: &Catalog, row: usize) -> bool {
    let Some(id) = rows.id(row) else { return false };
    match test {
        Test::Anywhere { text, number } => {
            contains(text, catalog, id)
                || number.is_some_and(|(value, unit)| is_called_by(value, unit, catalog, id))
                || rows.verdict(row).word() == text
        }
        Test::Text { text, contains, op } => {
            let own = text.of(catalog, id);
            let found = if contains.is_empty() { own.is_empty() } else { has(own, contains) };
            found == (*op == Op::Same)
        }
        Test::Number { column, op, limit } => compares(number(*column, rows, catalog, row), *op, *limit),
        Test::Between { column, low, high } => {
            let own = number(*column, rows, catalog, row);
            compares(own, Op::AtLeast, *low) && compares(own, Op::AtMost, *high)
        }
        Test::NotKnown { column } => number(*column, rows, catalog, row).is_nan(),
        Test::Outcome { column, op, outcome } => {
            outcome_in(*column, rows, row).is_some_and(|own| outcome_compares(own, *op, *outcome))
        }
    }
}

/// The number a row has in a column; NaN where it has none.
pub(crate) fn number(column: usize, rows: &Rows, catalog: &Catalog, row: usize) -> f64 {
    match COLUMNS[column].subject {
        Subject::Number(quantity, _) => quantity.in_row(rows, catalog, row),
        _ => f64::NAN,
    }
}

/// The outcome a row has in a column.
pub(crate) fn outcome_in(column: usize, rows: &Rows, row: usize) -> Option<Outcome> {
    match COLUMNS[column].subject {
        Subject::Verdict => Some(rows.verdict(row)),
        Subject::Check(check) => rows.outcome(check, row),
        _ => None,
    }
}

/// Comparisons the way a person makes them who writes decimals; nothing holds for a number that is not known.
fn compares(own: f64, op: Op, limit: f64) -> bool {
    if own.is_nan() {
        return false;
    }
    let same = own == limit || (own - limit).abs() <= ROUNDING * limit.abs();
    match op {
        Op::Same => same,
        Op::Other => !same,
        Op::AtMost => same || own < limit,
        Op::AtLeast => same || own > limit,
        Op::Less => !same && own < limit,
        Op::More => !same && own > limit,
    }
}

fn outcome_compares(own: Outcome, op: Op, limit: Outcome) -> bool {
    match op {
        Op::Same => own == limit,
        Op::Other => own != limit,
        Op::AtMost => own <= limit,
        Op::AtLeast => own >= limit,
        Op::Less => own < limit,
        Op::More => own > limit,
    }
}

/// Whether some text of a part contains `needle`, which is in lower case.
fn contains(needle: &str, catalog: &Catalog, id: PartId) -> bool {
    const ALL: [Text; 6] = [Text::Number, Text::Maker, Text::Series, Text::Technology, Text::Mounting, Text::Status];
    ALL.into_iter().any(|text| has(text.of(catalog, id), needle))
}

/// Whether `text` contains `needle`, which is in lower case.
fn has(text: &str, needle: &str) -> bool {
    // Without a copy and a byte at a time: this runs for every text of a million parts.
    let Some((&first, rest)) = needle.as_bytes().split_first() else { return true };
    if !text.is_ascii() || !needle.is_ascii() {
        return text.to_lowercase().contains(needle);
    }
    let text = text.as_bytes();
    let last = text.len().saturating_sub(rest.len());
    (0..last).any(|at| {
        text[at].to_ascii_lowercase() == first && text[at + 1..at + 1 + rest.len()].eq_ignore_ascii_case(rest)
    })
}

/// Whether one of the figures a part is called by is this number.
fn is_called_by(value: f64, unit: Option<Unit>, catalog: &Catalog, id: PartId) -> bool {
    let (columns, row) = (catalog.columns(), id.0 as usize);
    let figures = [
        (Unit::Microfarad, columns.capacitance_uf.get(row)),
        (Unit::Volt, columns.rated_v.get(row)),
        (Unit::Celsius, columns.temp_max_c.get(row)),
        (Unit::Millimetre, columns.diameter_mm.get(row)),
        (Unit::Millimetre, columns.height_mm.get(row)),
        (Unit::Ampere, columns.ripple_a.get(row)),
    ];
    // Without a unit, amperes are not meant: nobody calls a part by them.
    let meant = |own: Unit| unit.map_or(own != Unit::Ampere, |unit| unit == own);
    figures.into_iter().any(|(own, figure)| meant(own) && figure.is_some_and(|f| compares(f, Op::Same, value)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_on_the_limit_is_at_most_and_not_below() {
        let third = f64::from(0.1f32);
        assert!(compares(third, Op::AtMost, 0.1) && compares(third, Op::Same, 0.1));
        assert!(!compares(third, Op::Less, 0.1) && !compares(third, Op::More, 0.1));
        assert!(compares(0.11, Op::More, 0.1) && !compares(0.11, Op::AtMost, 0.1));
    }

    #[test]
    fn a_figure_that_is_not_known_compares_with_nothing() {
        for op in [Op::Less, Op::AtMost, Op::More, Op::AtLeast, Op::Same, Op::Other] {
            assert!(!compares(f64::NAN, op, 1.0));
        }
        assert!(compares(f64::INFINITY, Op::More, 1.0));
    }

    #[test]
    fn words_are_found_in_upper_and_lower_case() {
        assert!(has("SKARN-400", "skarn") && has("Größe", "größe") && !has("SKARN", "skarn-"));
        assert!(!has("", "a") && has("", "") && has("SKARN", "n") && has("SKARN", "skarn") && !has("KARN", "skarn"));
    }
}
