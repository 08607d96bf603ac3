//! What has to be said about an import: what was kept, skipped, refused, asked, contradicted.

use std::collections::BTreeMap;
use std::path::PathBuf;

use super::field::Field;
use super::mapping::Mapping;
use crate::domain::schema::spoken;
use crate::domain::{EnduranceBasis, OtherKind};
use crate::files::Rejected;
use crate::files::cell::unit::Unit;
use crate::files::cell::{Decimal, Order};

/// A change of the mapping that answers a question.
#[derive(Debug, Clone, PartialEq)]
pub enum Setting {
    /// Unit of bare numbers of a column.
    Unit(String, Unit),
    /// Frequency the figures of a column hold at, Hz.
    Hz(String, f64),
    /// Decimal mark of a column that may not be that of the file.
    ColumnDecimal(String, Decimal),
    /// Decimal mark of the file.
    Decimal(Decimal),
    /// Order of two bare dimensions.
    SizeOrder(Order),
    /// A figure for every row that does not say it, by the name of the catalogue's column.
    EveryRow(String, f64),
    /// Whether rows whose kind nothing says are electrolytics.
    Unsaid(bool),
    /// Whether the code in the part number may be used.
    PartNumberCodes(bool),
    /// Whether figures of a data sheet's other tables hold for the rows.
    FromSheet(bool),
    /// What was applied in the endurance test.
    Basis(EnduranceBasis),
    /// What a column holds.
    Means(String, Field),
    /// Do not use a column.
    Ignore(String),
    /// What a cell of a column means.
    Cell(String, String, String),
    /// Whether rows of a designator, with a text or in a range of values are electrolytics.
    Electrolytic(String, bool),
    /// The column of the variant that the board is.
    Variant(String),
    /// Whether figures such as 1C and 1E are codes of voltages.
    VoltageCodes(bool),
    /// Whether M and G are units of old Czech lists.
    CzechLetters(bool),
    /// The column that names boards, empty for none, and the one that is read.
    Boards(String, Option<String>),
}

impl Setting {
    /// Changes the mapping.
    pub fn apply(&self, mapping: &mut Mapping) {
        match self {
            Self::Unit(column, unit) => mapping.column_mut(column).unit = Some(*unit),
            Self::Hz(column, hz) => mapping.column_mut(column).hz = Some(*hz),
            Self::ColumnDecimal(column, decimal) => mapping.column_mut(column).decimal = Some(*decimal),
            Self::Decimal(decimal) => mapping.decimal = Some(*decimal),
            Self::SizeOrder(order) => mapping.size_order = Some(*order),
            Self::EveryRow(name, value) => {
                mapping.every_row.numbers.insert(name.clone(), *value);
            }
            Self::Unsaid(answer) => mapping.unsaid_are_electrolytic = Some(*answer),
            Self::PartNumberCodes(answer) => mapping.part_number_codes = Some(*answer),
            Self::FromSheet(answer) => mapping.from_sheet = Some(*answer),
            Self::Basis(basis) => mapping.every_row.endurance_basis = Some(*basis),
            Self::Means(column, field) => mapping.column_mut(column).field = Some(*field),
            Self::Ignore(column) => mapping.column_mut(column).field = None,
            Self::Cell(column, cell, meant) => {
                mapping.cells.entry(column.clone()).or_default().insert(cell.clone(), meant.clone());
            }
            Self::Electrolytic(of, answer) => _ = mapping.electrolytic.insert(of.clone(), *answer),
            Self::Variant(column) => mapping.variant = Some(column.clone()),
            Self::VoltageCodes(answer) => mapping.voltage_codes = Some(*answer),
            Self::CzechLetters(answer) => mapping.czech_letters = Some(*answer),
            Self::Boards(column, only) => {
                mapping.boards = Some(column.clone());
                mapping.only_board.clone_from(only);
            }
        }
    }

    /// Where the answer stands in a mapping file.
    #[must_use]
    pub fn in_file(&self) -> String {
        match self {
            Self::Unit(column, unit) => format!("columns.\"{column}\".unit = \"{}\"", unit.symbol()),
            Self::Hz(column, hz) => format!("columns.\"{column}\".hz = {hz}"),
            Self::ColumnDecimal(column, decimal) => {
                format!(
                    "columns.\"{column}\".decimal = \"{}\"",
                    if *decimal == Decimal::Comma { "comma" } else { "dot" }
                )
            }
            Self::Decimal(decimal) => {
                format!("decimal = \"{}\"", if *decimal == Decimal::Comma { "comma" } else { "dot" })
            }
            Self::SizeOrder(order) => {
                let word = if *order == Order::HeightFirst { "height_first" } else { "diameter_first" };
                format!("size_order = \"{word}\"")
            }
            Self::EveryRow(name, value) => format!("every_row.{name} = {value}"),
            Self::Unsaid(answer) => format!("unsaid_are_electrolytic = {answer}"),
            Self::PartNumberCodes(answer) => format!("part_number_codes = {answer}"),
            Self::FromSheet(answer) => format!("from_sheet = {answer}"),
            Self::Basis(basis) => {
                let word: &str = basis.into();
                format!("every_row.endurance_basis = \"{word}\"")
            }
            Self::Means(column, field) => {
                let word = serde_json::to_value(field).ok().and_then(|value| value.as_str().map(str::to_owned));
                format!("columns.\"{column}\".field = \"{}\"", word.unwrap_or_default())
            }
            Self::Ignore(column) => format!("columns.\"{column}\".field = null"),
            Self::Cell(column, cell, meant) => format!("cells.\"{column}\".\"{cell}\" = \"{meant}\""),
            Self::Electrolytic(of, answer) => format!("electrolytic.\"{of}\" = {answer}"),
            Self::Variant(column) => format!("variant = \"{column}\""),
            Self::VoltageCodes(answer) => format!("voltage_codes = {answer}"),
            Self::CzechLetters(answer) => format!("czech_letters = {answer}"),
            Self::Boards(column, None) => format!("boards = \"{column}\""),
            Self::Boards(column, Some(board)) => format!("boards = \"{column}\" with only_board = \"{board}\""),
        }
    }
}

/// A possible answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// What it means, with the example: `mA: 0.045 A`.
    pub label: String,
    /// What to set.
    pub setting: Setting,
}

/// Something nothing in the file decides; a person has to.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Header of the column it is about; empty when it is about the whole file.
    pub column: String,
    /// The open question.
    pub what: String,
    /// An example cell.
    pub example: String,
    /// Rows it concerns.
    pub rows: usize,
    /// Line of the first of them, from 1.
    pub line: u64,
    /// Possible answers; empty when only the file itself can be corrected.
    pub choices: Vec<Choice>,
}

/// Two places of a row that say different things.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Contradiction {
    /// Line, from 1.
    pub line: u64,
    /// What they are about.
    pub field: String,
    /// The first: value and where it stands.
    pub first: String,
    /// The second.
    pub second: String,
    /// What was done about it.
    pub done: String,
}

/// Rows that are not ours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetAside {
    /// Kind and reason: `ceramic`, `not a capacitor`.
    pub reason: String,
    /// How many rows.
    pub rows: usize,
    /// Their lines in the file, from 1.
    pub lines: Vec<u64>,
}

/// Everything that has to be said about one file.
#[derive(Debug, Clone, Default)]
pub struct Report {
    /// The file.
    pub file: PathBuf,
    /// Rows read.
    pub rows: usize,
    /// Rows that became parts or positions, or placed one.
    pub kept: usize,
    /// Rows that gave no part or position because a question is open, or that are contradictory or unreadable.
    pub refused: usize,
    /// Cells not used of rows that were kept.
    pub cells_not_used: usize,
    /// Rows skipped, by reason.
    pub set_aside: Vec<SetAside>,
    /// Open questions.
    pub questions: Vec<Question>,
    /// Contradictions.
    pub contradictions: Vec<Contradiction>,
    /// Every row and cell that was not used, with line and reason.
    pub rejected: Vec<Rejected>,
    /// Remarks, one sentence each.
    pub notes: Vec<String>,
    /// Rows that are other parts, by kind; they are kept where their kind is wanted, else skipped.
    pub others: BTreeMap<OtherKind, usize>,
}

impl Report {
    /// Something was kept, nothing was refused, no cell was left out and no question is open: everything else was skipped with a reason.
    #[must_use]
    pub fn clean(&self) -> bool {
        let kept = self.kept > 0 || self.set_aside.iter().any(|set| set.reason != "title or remark");
        kept && self.refused == 0
            && self.cells_not_used == 0
            && self.contradictions.is_empty()
            && self.questions.is_empty()
    }

    /// The rows of other parts in words: `3 relay, 2 fuse`.
    #[must_use]
    pub fn others_in_words(&self) -> String {
        let word = |(kind, rows): (&OtherKind, &usize)| format!("{rows} {}", spoken((*kind).into()));
        self.others.iter().map(word).collect::<Vec<_>>().join(", ")
    }

    /// Rows skipped, all reasons together.
    #[must_use]
    pub fn set_aside_rows(&self) -> usize {
        self.set_aside.iter().map(|set| set.rows).sum()
    }

    pub(super) fn list(&mut self, line: usize, field: &str, value: &str, reason: impl Into<String>) {
        self.rejected.push(Rejected {
            file: self.file.clone(),
            line: line as u64,
            field: field.to_owned(),
            value: value.to_owned(),
            reason: reason.into(),
        });
    }

    /// A row that could not be used.
    pub(super) fn refuse(&mut self, line: usize, field: &str, value: &str, reason: impl Into<String>) {
        self.refused += 1;
        self.list(line, field, value, reason);
    }

    /// A row that is not ours.
    pub(super) fn put_aside(&mut self, line: usize, value: &str, group: &str, reason: &str) {
        match self.set_aside.iter_mut().find(|set| set.reason == group) {
            Some(set) => {
                set.rows += 1;
                set.lines.push(line as u64);
            }
            None => {
                self.set_aside.push(SetAside { reason: group.to_owned(), rows: 1, lines: vec![line as u64] });
            }
        }
        self.list(line, "(row)", value, format!("skipped: {reason}"));
    }

    /// A cell of a row that was kept.
    pub(super) fn leave_cell(&mut self, line: usize, field: Field, value: &str, reason: impl Into<String>) {
        self.cells_not_used += 1;
        self.list(line, field.label(), value, reason);
    }
}

/// Collects questions: the same question about the same column is one with a count.
#[derive(Debug, Default)]
pub(super) struct Questions(BTreeMap<(String, String), Question>);

impl Questions {
    pub(super) fn ask(
        &mut self,
        column: &str,
        what: &str,
        example: &str,
        line: usize,
        choices: impl FnOnce() -> Vec<Choice>,
    ) {
        let key = (column.to_owned(), what.to_owned());
        self.0.entry(key).and_modify(|question| question.rows += 1).or_insert_with(|| Question {
            column: column.to_owned(),
            what: what.to_owned(),
            example: example.to_owned(),
            rows: 1,
            line: line as u64,
            choices: choices(),
        });
    }

    pub(super) fn finish(self) -> Vec<Question> {
        let mut questions: Vec<Question> = self.0.into_values().collect();
        questions.sort_by_key(|question| std::cmp::Reverse(question.rows));
        questions
    }
}
