//! Which rows of a board's list are fitted, where columns say so: `Fitted`, `DNP`, a column for each variant.

use super::answer::Answer;
use super::columns::{Columns, Prepared};
use super::field::{Field, Target};
use super::mapping::Mapping;
use super::naming::named;
use super::report::{Choice, Questions};
use super::words;
use crate::files::cell::clean::is_nothing;
use crate::files::table::Table;

/// A column that says which rows are fitted.
struct Column {
    at: usize,
    header: String,
    /// It marks what is left out.
    negative: bool,
    /// What a blank means; `None` where nothing says.
    blank: Option<bool>,
    /// Nothing but its cells says that it is such a column.
    unknown: bool,
}

/// The columns that say which rows are fitted, of variants only the chosen one where one is chosen.
pub(super) struct Fitted {
    columns: Vec<Column>,
    /// A person named the column that counts.
    chosen: bool,
}

/// A row that is not taken in.
pub(super) enum Without {
    /// It is not fitted, for this reason.
    LeftOut(String),
    /// A question is open, in words.
    Open(String),
}

fn is_of(list: &str, text: &str) -> bool {
    let marks = |c: char| c.is_whitespace() || ".-_/?()".contains(c);
    let plain = text.to_lowercase().replace(marks, "");
    words::list(list).any(|word| word.replace(marks, "") == plain)
}

/// Whether a mark says that the part is fitted; `None` where it says neither, as `OPT`.
fn says(cell: &str, negative: bool) -> Option<bool> {
    let left_out = words::not_fitted(&[cell]).map(|_| false);
    left_out.or_else(|| is_of("yes", cell).then_some(!negative)).or_else(|| is_of("no", cell).then_some(negative))
}

/// Whether a cell is a mark of such a column.
pub(super) fn is_mark(cell: &str) -> bool {
    says(cell, false).is_some() || is_of("perhaps", cell)
}

/// Whether a cell is `yes` or `no` in some language, spelled out.
pub(super) fn is_yes_or_no(cell: &str) -> bool {
    cell.trim().len() > 1 && (is_of("yes", cell) || is_of("no", cell))
}

impl Column {
    fn of(table: &Table, of: &Prepared) -> Self {
        let negative = is_of("headers of what is left out", &of.header);
        let cells = table.rows.iter().filter_map(|row| row.cells.get(of.at)).filter(|cell| !is_nothing(cell));
        let said: Vec<bool> = cells.filter_map(|cell| says(cell, negative)).collect();
        let blank = match (said.contains(&true), said.contains(&false)) {
            _ if negative => Some(true),
            (true, true) => None,
            // Where only one of the two is marked, a blank is the other.
            (fitted, _) => Some(!fitted),
        };
        let unknown = !negative && named(&of.header, Target::Positions).is_none();
        Self { at: of.at, header: of.header.clone(), negative, blank, unknown }
    }

    fn ask(&self, cell: &str, line: usize, questions: &mut Questions) -> Without {
        let what = format!("are rows marked `{cell}` fitted?");
        let choice = |(label, fitted): (&str, bool)| {
            let meant = if fitted == self.negative { "no" } else { "yes" };
            Choice::new(label, Answer::at(["cells", &self.header, cell], meant))
        };
        questions.ask(&self.header, &what, cell, line, || [("yes", true), ("no", false)].map(choice).into());
        Without::Open(format!("open question about column {}: {what}", self.header))
    }

    fn ask_header(&self, cell: &str, line: usize, questions: &mut Questions) -> Without {
        let what = "does this column say which parts are fitted?";
        questions.ask(&self.header, what, cell, line, || {
            let yes = Choice::new("yes", Answer::at(["variant"], self.header.as_str()));
            vec![yes, Choice::new("no", Answer::means(&self.header, None))]
        });
        Without::Open(format!("open question about column {}: {what}", self.header))
    }
}

impl Fitted {
    pub(super) fn of(table: &Table, columns: &Columns, mapping: &Mapping) -> Self {
        let chosen = |of: &Column| of.negative || mapping.variant.as_ref().is_none_or(|name| *name == of.header);
        let columns = columns.of_field(Field::Fitted).map(|of| Column::of(table, of)).filter(chosen).collect();
        Self { columns, chosen: mapping.variant.is_some() }
    }

    /// Why a row is not taken in, if it is not.
    pub(super) fn without(&self, cells: &[String], line: usize, questions: &mut Questions) -> Option<Without> {
        let (mut somewhere, mut nowhere) = (false, None);
        for column in &self.columns {
            let cell = cells.get(column.at).map_or("", |cell| cell.trim());
            let fitted = if is_nothing(cell) { column.blank } else { says(cell, column.negative) };
            let reason = || Without::LeftOut(format!("not fitted (`{cell}` in the column {})", column.header));
            match fitted {
                None => return Some(column.ask(cell, line, questions)),
                Some(false) if column.unknown && !self.chosen => return Some(column.ask_header(cell, line, questions)),
                Some(false) if column.negative => return Some(reason()),
                Some(false) => nowhere = nowhere.or_else(|| Some(reason())),
                Some(true) => somewhere |= !column.negative,
            }
        }
        if !somewhere || nowhere.is_none() {
            return nowhere;
        }
        let what = "the list has several variants: which of them is the board?";
        questions.ask("", what, "", line, || {
            let names = self.columns.iter().filter(|column| !column.negative).map(|column| column.header.as_str());
            names.map(|name| Choice::new(name, Answer::at(["variant"], name))).collect()
        });
        Some(Without::Open(format!("open question: {what}")))
    }
}
