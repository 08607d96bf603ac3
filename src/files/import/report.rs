//! What has to be said about an import: what was kept, skipped, refused, asked, contradicted.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::answer::Answer;
use super::field::Field;
use crate::domain::OtherKind;
use crate::domain::schema::spoken;
use crate::files::table::Table;
use crate::files::{Rejected, Unused};

/// A possible answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// What it means, with the example: `mA: 0.045 A`.
    pub label: String,
    /// What the mapping is to say.
    pub answer: Answer,
}

impl Choice {
    pub(super) fn new(label: impl Into<String>, answer: Answer) -> Self {
        Self { label: label.into(), answer }
    }

    pub(super) fn yes_or_no<const N: usize>(path: [&str; N], [yes, no]: [&str; 2]) -> Vec<Self> {
        [(true, yes), (false, no)].map(|(is, label)| Self::new(label, Answer::at(path, is))).into()
    }

    pub(super) fn yes(answer: Answer) -> Vec<Self> {
        vec![Self::new("yes", answer)]
    }
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
    /// Rows that became positions of which nothing says how they are fixed to the board.
    pub no_mounting: usize,
    /// Rows that are other parts, by kind; they are kept where their kind is wanted, else skipped.
    pub others: BTreeMap<OtherKind, usize>,
}

impl Report {
    /// That of a table of which no row is read yet.
    pub(super) fn of(table: &Table, file: &Path) -> Self {
        let notes = table.notes.iter().map(|note| format!("line {}: {}", note.line, note.text)).collect();
        let rows = table.rows.len() + table.unread.len();
        let mut report = Self { file: file.to_owned(), rows, notes, ..Self::default() };
        for note in &table.unread {
            let why = "its cells run over their columns: nothing says where each ends";
            report.refuse(note.line, "(row)", &note.text, why);
        }
        report
    }

    /// Something was kept, nothing was refused, no cell was left out and no question is open: everything else was skipped with a reason.
    pub fn clean(&self) -> bool {
        let kept = self.kept > 0 || self.set_aside.iter().any(|set| set.reason != "title or remark");
        kept && self.refused == 0
            && self.cells_not_used == 0
            && self.contradictions.is_empty()
            && self.questions.is_empty()
    }

    /// The rows of other parts in words: `3 relay, 2 fuse`.
    pub fn others_in_words(&self) -> String {
        let word = |(kind, rows): (&OtherKind, &usize)| format!("{rows} {}", spoken((*kind).into()));
        self.others.iter().map(word).collect::<Vec<_>>().join(", ")
    }

    /// Rows skipped, all reasons together.
    pub fn set_aside_rows(&self) -> usize {
        self.set_aside.iter().map(|set| set.rows).sum()
    }

    pub(super) fn list(&mut self, line: usize, field: &str, value: &str, reason: impl Into<String>) {
        self.rejected.push(Rejected::new(&self.file, line as u64, field, value, reason));
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
        let listed = Rejected::new(&self.file, line as u64, "(row)", value, format!("skipped: {reason}"));
        self.rejected.push(Rejected { unused: Unused::Skipped, ..listed });
    }

    /// Two places that say different things.
    pub(super) fn contradict(&mut self, found: Contradiction) {
        let reason = format!("contradiction: {} against {}; {}", found.first, found.second, found.done);
        self.list(usize::try_from(found.line).unwrap_or_default(), &found.field, &found.first, reason);
        self.contradictions.push(found);
    }

    /// Two counts of a row that differ.
    pub(super) fn differ(&mut self, line: usize, field: &str, [first, second]: [String; 2], done: &str) {
        let (field, done) = (field.to_owned(), done.to_owned());
        self.contradict(Contradiction { line: line as u64, field, first, second, done });
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
        self.ask_of(1, (column, what), example, line, choices);
    }

    /// The same, of many rows at once.
    pub(super) fn ask_of(
        &mut self,
        rows: usize,
        (column, what): (&str, &str),
        example: &str,
        line: usize,
        choices: impl FnOnce() -> Vec<Choice>,
    ) {
        let key = (column.to_owned(), what.to_owned());
        self.0.entry(key).and_modify(|question| question.rows += rows).or_insert_with(|| Question {
            column: column.to_owned(),
            what: what.to_owned(),
            example: example.to_owned(),
            rows,
            line: line as u64,
            choices: choices(),
        });
    }

    /// Whether something is asked about a column.
    pub(super) fn is_open(&self, column: &str) -> bool {
        self.0.keys().any(|(of, _)| of == column)
    }

    pub(super) fn finish(self) -> Vec<Question> {
        let mut questions: Vec<Question> = self.0.into_values().collect();
        questions.sort_by_key(|question| std::cmp::Reverse(question.rows));
        questions
    }
}
