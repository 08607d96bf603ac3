//! Whether a row of the table is what the filter asks for.

use std::cmp::Ordering;

use rayon::prelude::*;

use super::columns::{COLUMNS, Subject, Text};
use super::filter::{Filter, Op, Test};
use crate::app::state::Rows;
use crate::domain::{Catalog, Outcome, PartId, Unit};

/// Figures that differ less than this share were written as the same decimal.
const ROUNDING: f64 = 1e-6;

/// A filter made ready for the rows of a table: what goes by the part alone is asked once for each text or part.
pub(crate) struct Ready<'a>(Vec<(Vec<OfRow<'a>>, Negated)>);

type Negated = bool;
/// Whether a row is what is asked for.
type OfRow<'a> = Box<dyn Fn(usize) -> bool + Sync + 'a>;
/// Whether a part is what is asked for.
type OfPart<'a> = Box<dyn Fn(PartId) -> bool + Sync + 'a>;
/// Whether somebody still waits.
type GoesOn<'a> = &'a (dyn Fn() -> bool + Sync);

impl<'a> Ready<'a> {
    /// Asks what can be asked beforehand; `goes_on` tells whether somebody still waits.
    pub(crate) fn new(filter: &'a Filter, rows: Rows<'a>, catalog: &'a Catalog, goes_on: GoesOn) -> Self {
        let test = |test| of_row(test, rows, catalog, goes_on);
        Self(filter.clauses.iter().map(|clause| (clause.any.iter().map(test).collect(), clause.negated)).collect())
    }

    /// Whether a row holds every clause.
    pub(crate) fn holds(&self, row: usize) -> bool {
        self.0.iter().all(|(any, negated)| any.iter().any(|test| test(row)) != *negated)
    }
}

fn of_row<'a>(test: &'a Test, rows: Rows<'a>, catalog: &'a Catalog, goes_on: GoesOn) -> OfRow<'a> {
    let beforehand = (rows.len() * 2 > catalog.len()).then_some(goes_on);
    let by_part = |holds: OfPart<'a>| if beforehand.is_some() { answered(&holds, catalog, goes_on) } else { holds };
    match test {
        Test::Anywhere { text, number } => {
            let holds = by_part(anywhere(text, *number, catalog, beforehand));
            let verdict = Outcome::ALL.into_iter().find(|outcome| outcome.word() == text);
            Box::new(move |row| rows.id(row).is_some_and(&holds) || verdict == Some(rows.verdict(row)))
        }
        Test::Text { text, contains, op } => {
            let found = in_text(*text, contains, catalog, beforehand).unwrap_or_else(|| Box::new(|_| false));
            let (holds, same) = (by_part(found), *op == Op::Same);
            Box::new(move |row| rows.id(row).is_some_and(|id| holds(id) == same))
        }
        Test::Number { column, op, limit } => {
            Box::new(move |row| compares(number(*column, &rows, catalog, row), *op, *limit))
        }
        Test::Between { column, low, high } => Box::new(move |row| {
            let own = number(*column, &rows, catalog, row);
            compares(own, Op::AtLeast, *low) && compares(own, Op::AtMost, *high)
        }),
        Test::NotKnown { column } => Box::new(move |row| number(*column, &rows, catalog, row).is_nan()),
        Test::Outcome { column, op, outcome } => {
            Box::new(move |row| outcome_in(*column, &rows, row).is_some_and(|own| holds(*op, own.cmp(outcome))))
        }
    }
}

/// The same answers, found at once for every part in the order the parts lie in memory: rows lie in another, and a look
/// here and there in a long list costs more than going through all of it.
fn answered<'a>(holds: &OfPart, catalog: &Catalog, goes_on: GoesOn) -> OfPart<'a> {
    const PARTS_PER_TASK: usize = 4096;
    #[expect(clippy::cast_possible_truncation, reason = "a catalogue has at most u32::MAX parts")]
    let count = catalog.len() as u32;
    let answer = |at: u32| (!(at as usize).is_multiple_of(PARTS_PER_TASK) || goes_on()) && holds(PartId(at));
    let answers: Vec<bool> = (0..count).into_par_iter().with_min_len(PARTS_PER_TASK).map(answer).collect();
    Box::new(move |id| answers[id.0 as usize])
}

/// Whether some text of a part contains `needle`, which is in lower case, or it is called by this number.
fn anywhere<'a>(
    needle: &'a str,
    number: Option<(f64, Option<Unit>)>,
    catalog: &'a Catalog,
    beforehand: Option<GoesOn>,
) -> OfPart<'a> {
    const ALL: [Text; 6] = [Text::Number, Text::Maker, Text::Series, Text::Technology, Text::Mounting, Text::Status];
    let texts: Vec<OfPart> = ALL.into_iter().filter_map(|text| in_text(text, needle, catalog, beforehand)).collect();
    Box::new(move |id| {
        texts.iter().any(|holds| holds(id))
            || number.is_some_and(|(value, unit)| is_called_by(value, unit, catalog, id))
    })
}

/// Whether a text of a part contains `needle`, which is in lower case, or is not known where that is empty. Asked once for each of the
/// texts that parts share, and of all part numbers at once where that is said; `None`: no part's does.
fn in_text<'a>(text: Text, needle: &'a str, catalog: &'a Catalog, beforehand: Option<GoesOn>) -> Option<OfPart<'a>> {
    let found = move |own: &str| if needle.is_empty() { own.is_empty() } else { own.to_lowercase().contains(needle) };
    if let Some(shared) = text.shared(catalog) {
        let answers: Vec<bool> = shared.texts.into_iter().map(found).collect();
        return answers.contains(&true).then(|| -> OfPart { Box::new(move |id| answers[(shared.at)(id)]) });
    }
    let Some(goes_on) = beforehand.filter(|_| !needle.is_empty()) else {
        return Some(Box::new(move |id| found(text.of(catalog, id))));
    };
    let answers = catalog.numbers_containing(needle, goes_on);
    answers.contains(&true).then(|| -> OfPart { Box::new(move |id| answers[id.0 as usize]) })
}

/// The number a row has in a column; NaN where it has none.
pub(crate) fn number(column: usize, rows: &Rows, catalog: &Catalog, row: usize) -> f64 {
    match COLUMNS[column].subject {
        Subject::Number(quantity, _) => quantity.in_row(rows, catalog, row),
        _ => f64::NAN,
    }
}

pub(crate) fn outcome_in(column: usize, rows: &Rows, row: usize) -> Option<Outcome> {
    match COLUMNS[column].subject {
        Subject::Verdict => Some(rows.verdict(row)),
        Subject::Check(check) => rows.outcome(check, row),
        _ => None,
    }
}

/// Comparisons the way a person makes them who writes decimals; nothing holds for a number that is not known.
fn compares(own: f64, op: Op, limit: f64) -> bool {
    let same = own == limit || (own - limit).abs() <= ROUNDING * limit.abs();
    !own.is_nan() && holds(op, if same { Ordering::Equal } else { own.total_cmp(&limit) })
}

/// Whether an operator holds for what stands so to the limit.
fn holds(op: Op, own: Ordering) -> bool {
    match op {
        Op::Same => own.is_eq(),
        Op::Other => own.is_ne(),
        Op::AtMost => own.is_le(),
        Op::AtLeast => own.is_ge(),
        Op::Less => own.is_lt(),
        Op::More => own.is_gt(),
    }
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
}
