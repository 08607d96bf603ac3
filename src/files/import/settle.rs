//! One value from several places of a row, or the trouble with them.

use std::path::Path;

use super::answer::Answer;
use super::columns::Prepared;
use super::field::Field;
use super::report::{Choice, Contradiction, Questions, Report};
use crate::domain::{NumberField, schema};
use crate::files::cell::unit::Unit;
use crate::files::cell::{Doubt, Reading};

/// What happened while a row was read.
#[derive(Debug, Default)]
pub(super) struct Trouble {
    /// Cells not used: field, cell, reason.
    pub cells: Vec<(Field, String, String)>,
    /// Contradictions; their line is set where they are reported.
    pub contradictions: Vec<Contradiction>,
    /// Open questions: column, what, cell, choices.
    pub open: Vec<(String, Field, String, String, Vec<Choice>)>,
    /// Where each figure that is used stands, as `Value: 470uF 35V`.
    pub origins: Vec<(Field, String)>,
}

impl Trouble {
    /// Where the figures of a row stand, in a sentence: `list.csv line 2: capacitance, rated voltage from Value: 470uF 35V`.
    pub(super) fn origin(&self, file: &Path, line: usize) -> Option<String> {
        let mut places: Vec<(&str, Vec<&str>)> = Vec::new();
        for (field, place) in &self.origins {
            match places.iter_mut().find(|(known, _)| known == place) {
                Some((_, fields)) if !fields.contains(&field.label()) => fields.push(field.label()),
                Some(_) => {}
                None => places.push((place, vec![field.label()])),
            }
        }
        let told: Vec<String> =
            places.into_iter().map(|(place, fields)| format!("{} from {place}", fields.join(", "))).collect();
        let name = file.file_name().unwrap_or(file.as_os_str()).to_string_lossy();
        (!told.is_empty()).then(|| schema::cut_to_note(format!("{name} line {line}: {}", told.join("; "))))
    }

    /// A cell that is not used.
    pub(super) fn leave(&mut self, field: Field, cell: &str, reason: &str) {
        self.cells.push((field, cell.to_owned(), reason.to_owned()));
    }

    /// Two places that say different things of a field, and what was done about it.
    pub(super) fn contradict(&mut self, field: &str, first: String, second: String, done: &str) {
        let (field, done) = (field.to_owned(), done.to_owned());
        self.contradictions.push(Contradiction { line: 0, field, first, second, done });
    }

    /// Why a figure is missing, when a question or a contradiction took it.
    pub(super) fn reason(&self, field: Field) -> Option<(String, String)> {
        let open = self.open.iter().find(|(_, of, ..)| *of == field);
        let open = open
            .map(|(column, _, what, cell, _)| (cell.clone(), format!("open question about column {column}: {what}")));
        let against = || {
            let found = self.contradictions.iter().find(|found| found.field == field.label())?;
            Some((found.first.clone(), format!("contradiction: {} against {}", found.first, found.second)))
        };
        let bad =
            || self.cells.iter().find(|(of, ..)| *of == field).map(|(_, cell, reason)| (cell.clone(), reason.clone()));
        open.or_else(against).or_else(bad)
    }

    /// Takes figures away that no part can have, and lists them.
    pub(super) fn drop_impossible<const N: usize>(&mut self, fields: &[NumberField], values: [&mut Option<f64>; N]) {
        for (value, field) in values.into_iter().zip(fields) {
            if let Some(figure) = *value
                && let Some(expected) = field.bounds.complaint(figure)
            {
                *value = None;
                self.leave(Field::Value, &format!("{} {figure}", field.name), expected);
            }
        }
    }

    /// Puts everything into the report; cells of a row that was not kept are listed with the row only.
    pub(super) fn report(self, line: usize, kept: bool, report: &mut Report, questions: &mut Questions) {
        for (column, _, what, cell, choices) in self.open {
            if kept {
                report.cells_not_used += 1;
                report.list(line, &column, &cell, format!("not used: {what}"));
            }
            questions.ask(&column, &what, &cell, line, || choices);
        }
        for found in self.contradictions {
            report.contradict(Contradiction { line: line as u64, ..found });
        }
        if kept {
            for (field, cell, reason) in self.cells {
                report.leave_cell(line, field, &cell, format!("cell not used: {reason}"));
            }
        }
    }
}

/// A value somewhere in a row.
pub(super) struct Candidate<'a, T> {
    pub column: &'a Prepared,
    pub cell: &'a str,
    /// From a column of its own, not from a text.
    pub own: bool,
    pub reading: Reading<T>,
}

/// A question with the answers that a mapping can hold.
pub(super) fn open<T>(
    column: &Prepared,
    cell: &str,
    what: &Doubt,
    options: &[T],
    print: impl Fn(&T) -> String,
) -> (String, Field, String, String, Vec<Choice>) {
    let name = &column.header;
    let shown: Vec<String> = options.iter().map(print).collect();
    let mut by_cell = false;
    let of_column = |key, word: &str| Answer::at(["columns", name, key], word);
    let yes_or_no = |of| Choice::yes_or_no([of], ["yes", "no"]);
    let choices: Vec<Choice> = match what {
        Doubt::DecimalMark => [("dot", "the dot is the decimal mark"), ("comma", "the comma is the decimal mark")]
            .map(|(mark, label)| {
                let of_file = || Answer::at(["decimal"], mark);
                Choice::new(label, if column.unlike_file { of_column("decimal", mark) } else { of_file() })
            })
            .into(),
        Doubt::SizeOrder => {
            [("diameter_first", "the diameter comes first"), ("height_first", "the height comes first")]
                .map(|(order, label)| Choice::new(label, Answer::at(["size_order"], order)))
                .into()
        }
        Doubt::Unit(_) => {
            // In a text, too, it is a capacitance that has no unit.
            let field = if column.field.units().is_empty() { Field::Capacitance } else { column.field };
            field.units().iter().map(|&unit| Choice::new(unit.symbol(), Answer::unit(name, unit))).collect()
        }
        Doubt::MicroOrMilli => [Unit::Microfarad, Unit::Millifarad]
            .map(|unit| Choice::new(format!("MF is {}", unit.symbol()), Answer::unit(name, unit)))
            .into(),
        Doubt::VoltageCodes => yes_or_no("voltage_codes"),
        Doubt::CzechLetters => yes_or_no("czech_letters"),
        Doubt::Cell(_) => {
            by_cell = true;
            let meant = shown.iter().map(|meant| Choice::new(meant, Answer::at(["cells", name, cell], meant.as_str())));
            meant.collect()
        }
    };
    let what = if by_cell && !shown.is_empty() { format!("{what}: {}", shown.join(" or ")) } else { what.to_string() };
    (name.clone(), column.field, what, cell.to_owned(), choices)
}

/// One value from all the places, or the trouble with them.
pub(super) fn settle<T: Clone>(
    trouble: &mut Trouble,
    field: Field,
    candidates: &[Candidate<'_, T>],
    same: impl Fn(&T, &T) -> bool,
    print: impl Fn(&T) -> String,
) -> Option<T> {
    let mut sure: Vec<(&Prepared, &str, &T)> = Vec::new();
    for candidate in candidates {
        if let Reading::Value(value) = &candidate.reading {
            sure.push((candidate.column, candidate.cell, value));
        }
    }
    let open_ones = || {
        candidates.iter().filter_map(|candidate| match &candidate.reading {
            Reading::Ambiguous { what, options } => Some((candidate, what, options)),
            _ => None,
        })
    };
    if let Some(&(column, cell, first)) = sure.first() {
        let differs =
            sure.iter().find(|(_, _, other)| !same(first, other)).map(|&(other_column, other_cell, other)| {
                format!("{} ({}: {other_cell})", print(other), other_column.header)
            });
        // An open cell none of whose meanings is the sure one contradicts it as well; in texts, two figures are often two things.
        let differs = differs.or_else(|| {
            let (against, _, options) = open_ones()
                .find(|(candidate, _, options)| candidate.own && !options.iter().any(|option| same(first, option)))?;
            let meanings: Vec<String> = options.iter().map(&print).collect();
            Some(format!("{} ({}: {})", meanings.join(" or "), against.column.header, against.cell))
        });
        if let Some(second) = differs {
            let first = format!("{} ({}: {cell})", print(first), column.header);
            trouble.contradict(field.label(), first, second, "neither is used");
            return None;
        }
        let first = first.clone();
        trouble.origins.push((field, format!("{}: {cell}", column.header)));
        return Some(first);
    }
    if let Some((candidate, what, options)) = open_ones().next() {
        let asked = open(candidate.column, candidate.cell, what, options, print);
        trouble.open.push((asked.0, field, asked.2, asked.3, asked.4));
        return None;
    }
    for candidate in candidates.iter().filter(|candidate| candidate.own) {
        if let Reading::Bad { reason } = &candidate.reading {
            trouble.leave(field, candidate.cell, reason);
        }
    }
    None
}
