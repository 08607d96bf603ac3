//! What a list of parts and the parts list of a board have in common: a row on its way from cells to the question whether it is ours.

use std::collections::BTreeMap;
use std::path::Path;

use super::answer::Answer;
use super::asking;
use super::belonging::{Belonging, FileSays, belonging};
use super::columns::Columns;
use super::field::Field;
use super::figures::{Reader, RowFigures};
use super::mapping::Mapping;
use super::part_number;
use super::report::{Choice, Questions, Report};
use super::settle::Trouble;
use super::shape;
use super::words;
use crate::domain::Can;
use crate::domain::style::counted;
use crate::files::cell::clean::is_nothing;
use crate::files::table::{Row, Table};

/// Rows read between two looks at whether the reading is still wanted.
const ROWS_BETWEEN: usize = 1024;

/// The group of rows that are no parts.
pub(super) const REMARK: &str = "title or remark";

/// Remark on rows with a footprint that was of no use.
pub(super) const NO_SIZE: &str = "the footprint's name has figures, and none is understood as a dimension";

/// The rows of a table and what has to be said about them.
pub(super) struct Rows<'a> {
    pub columns: &'a Columns,
    pub header: &'a [String],
    pub mapping: &'a Mapping,
    pub says: FileSays,
    pub report: Report,
    pub questions: Questions,
    /// The last heading among the rows, where it says a kind of capacitor.
    pub heading: Option<String>,
    /// Rows kept with something uncertain: remark and count.
    remarks: BTreeMap<&'static str, usize>,
}

/// Gives the rows of a table one by one; `None` when `goes_on`, told now and then how many are read, said no.
pub(super) fn each(table: &Table, goes_on: &dyn Fn(usize) -> bool, mut take: impl FnMut(&Row)) -> Option<()> {
    for (at, row) in table.rows.iter().enumerate() {
        if at % ROWS_BETWEEN == 0 && !goes_on(at) {
            return None;
        }
        take(row);
    }
    Some(())
}

/// The first cells of a row, to show it by.
pub(super) fn shown(cells: &[String]) -> String {
    cells.iter().filter(|cell| !cell.is_empty()).take(6).cloned().collect::<Vec<_>>().join(" | ")
}

impl<'a> Rows<'a> {
    pub(super) fn new(
        table: &'a Table,
        mapping: &'a Mapping,
        columns: &'a Columns,
        file: &Path,
        says: FileSays,
    ) -> Self {
        let mut questions = Questions::default();
        if let Some(doubt) = &table.found.encoding_doubt {
            let what = "which encoding has this file? Two are as likely; say it, in the shell by --encoding";
            questions.ask("", what, doubt, 1, Vec::new);
        }
        let tell = [Field::Capacitance, Field::Value, Field::Description, Field::Type, Field::PartNumber];
        if !tell.iter().any(|field| columns.has(*field)) && !table.rows.is_empty() {
            let choices = || {
                let figure = |cell: &str| cell.contains(|c: char| c.is_ascii_digit());
                let free = |at: &usize| columns.used.iter().all(|used| used.at != *at);
                let fits = |at: &usize| free(at) && shape::share(&shape::samples(table, *at), figure) >= 0.5;
                let names = (0..table.header.len()).filter(fits).map(|at| &table.header[at]);
                names.map(|name| Choice::new(name, Answer::means(name, Some(Field::Value)))).collect()
            };
            questions.ask("", "which column gives the capacitance?", &table.header.join(" | "), 1, choices);
        }
        Self {
            columns,
            header: &table.header,
            mapping,
            says,
            report: Report::of(table, file),
            questions,
            heading: None,
            remarks: BTreeMap::new(),
        }
    }

    pub(super) fn reader(&self) -> Reader<'a> {
        Reader { columns: self.columns }
    }

    /// Whether a row is more than blanks, a title or a total; else it is put aside.
    pub(super) fn says_something(&mut self, cells: &[String], line: usize, total: bool) -> bool {
        let blank = cells.iter().all(|cell| is_nothing(cell));
        let (group, why) = match blank {
            true => ("blank row", "nothing but blanks"),
            false if total => (REMARK, "a total"),
            false if shape::is_remark(cells) => (REMARK, "a single cell of text: a title or a remark"),
            false => return true,
        };
        if !blank {
            self.heading = words::heading(cells);
        }
        self.report.put_aside(line, &shown(cells), group, why);
        false
    }

    /// The words of a row; a heading among the rows says what kind those below it are, where they do not say it themselves.
    pub(super) fn words<'c>(&self, cells: &'c [String], heading: Option<&'c str>) -> Vec<&'c str> {
        let mut words = self.columns.words(cells);
        words.extend(heading.filter(|_| words::kind(&words) == words::Kind::Unsaid));
        words
    }

    /// Whether a row with these designators, words and figures is an electrolytic.
    pub(super) fn belonging(&self, names: &[String], words: &[&str], figures: &RowFigures) -> Belonging {
        let unsaid = asking::answered(self.mapping, names, words, figures.can.capacitance_uf);
        belonging(words, figures, FileSays { unsaid, ..self.says })
    }

    /// Asks about a row of which nothing says whether it is an electrolytic.
    pub(super) fn ask_kind(&mut self, cells: &[String], words: &[&str], trouble: Trouble, line: usize) {
        let shown = shown(cells);
        asking::kind(&mut self.questions, words, &shown, line);
        self.list(trouble, line, false);
        self.report.refuse(line, "(row)", &shown, "open question: nothing says whether it is an electrolytic");
    }

    /// Puts the trouble of a row into the report.
    pub(super) fn list(&mut self, trouble: Trouble, line: usize, kept: bool) {
        trouble.report(line, kept, &mut self.report, &mut self.questions);
    }

    /// Compares figures with the code in a part number, and takes them from it where a person said that it may be.
    pub(super) fn by_number(&self, number: &str, can: &mut Can, trouble: &mut Trouble) {
        part_number::check(number, can, trouble);
        if self.mapping.part_number_codes == Some(true) {
            part_number::fill(number, can, trouble);
        }
    }

    /// Counts a row that is kept with something uncertain.
    pub(super) fn remark(&mut self, remark: impl Into<Option<&'static str>>) {
        remark.into().into_iter().for_each(|remark| *self.remarks.entry(remark).or_default() += 1);
    }

    /// What has to be said, when all rows are read.
    pub(super) fn finish(mut self, kept: usize) -> Report {
        let told = |(remark, rows)| format!("{}: {remark}", counted(rows, "row", "rows"));
        self.report.notes.extend(self.remarks.into_iter().map(told));
        self.report.kept = kept;
        self.report.questions = self.questions.finish();
        self.report
    }
}
