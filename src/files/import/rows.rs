//! What a list of parts and the parts list of a board have in common: a row on its way from cells to the question whether it is ours.

use std::collections::{BTreeMap, HashSet};
use std::path::Path;

use super::answer::Answer;
use super::asking;
use super::belonging::{Belonging, FileSays, belonging};
use super::columns::{Columns, Prepared};
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
    table: &'a Table,
    /// Figures that rows lack, with their lines.
    pub missing: HashSet<(Field, usize)>,
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
/// Blank cells of columns that repeat what stands above have it.
pub(super) fn each(
    table: &Table,
    mapping: &Mapping,
    goes_on: &dyn Fn(usize) -> bool,
    mut take: impl FnMut(&Row),
) -> Option<()> {
    let repeats = |name: &String| mapping.column(name).is_some_and(|of| of.repeats == Some(true));
    let repeating: Vec<usize> = (0..table.header.len()).filter(|&at| repeats(&table.header[at])).collect();
    let mut above: Vec<String> = vec![String::new(); table.header.len()];
    for (at, row) in table.rows.iter().enumerate() {
        if at % ROWS_BETWEEN == 0 && !goes_on(at) {
            return None;
        }
        if repeating.is_empty() || shape::is_remark(&row.cells) {
            take(row);
            continue;
        }
        let mut row = row.clone();
        for &at in &repeating {
            if row.cells[at].trim().is_empty() {
                row.cells[at].clone_from(&above[at]);
            }
            above[at].clone_from(&row.cells[at]);
        }
        take(&row);
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
        let figures =
            |at: usize| shape::samples(table, at).iter().any(|cell| cell.contains(|c: char| c.is_ascii_digit()));
        let tells = |of: &Prepared| tell.contains(&of.field) && (of.field != Field::Type || figures(of.at));
        if !columns.used.iter().any(tells) && !table.rows.is_empty() {
            let choices = || {
                let figure = |cell: &str| cell.contains(|c: char| c.is_ascii_digit());
                let free = |at: &usize| columns.used.iter().all(|used| used.at != *at);
                let fits = |at: &usize| free(at) && shape::share(&shape::samples(table, *at), figure) >= 0.5;
                let names = (0..table.header.len()).filter(fits).map(|at| &table.header[at]);
                names.map(|name| Choice::new(name, Answer::means(name, Some(Field::Value)))).collect()
            };
            questions.ask("", "which column gives the capacitance?", &table.header.join(" | "), 1, choices);
        }
        asking::which_of_two(&mut questions, mapping, table, mapping.target);
        Self {
            columns,
            header: &table.header,
            table,
            missing: HashSet::new(),
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

    /// Asks whether blank cells of the column of a field repeat what stands above, where rows lack its figure for that.
    fn ask_repeats(&mut self, field: Field) {
        let mut of_field = self.columns.of_field(field);
        let (Some(column), None) = (of_field.next(), of_field.next()) else { return };
        let cell = |row: &'a Row| row.cells.get(column.at).map_or("", String::as_str);
        let rows: Vec<&Row> = self.table.rows.iter().filter(|row| !shape::is_remark(&row.cells)).collect();
        let blanks: Vec<_> = rows.iter().filter(|row| cell(row).trim().is_empty()).collect();
        let missing = blanks.iter().filter(|row| self.missing.contains(&(field, row.line))).count();
        let said = self.mapping.column(&column.header).is_none_or(|of| of.repeats.is_some());
        let starts = rows.first().is_some_and(|row| !cell(row).trim().is_empty());
        if said || !starts || missing < 2 || blanks.len() * 5 < rows.len() {
            return;
        }
        let mut above = "";
        for row in rows {
            if !cell(row).trim().is_empty() {
                above = cell(row);
            } else if self.missing.contains(&(field, row.line)) {
                let what = "do blank cells of this column repeat the one above?";
                self.questions.ask(&column.header, what, above, row.line, || {
                    Choice::yes_or_no(["columns", &column.header, "repeats"], ["yes", "no"])
                });
            }
        }
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

    /// Notes which figures a row lacks.
    pub(super) fn lacks(&mut self, can: &Can, line: usize) {
        let lacking = [
            (Field::Capacitance, can.capacitance_uf),
            (Field::Value, can.capacitance_uf),
            (Field::RatedV, can.rated_v),
        ];
        self.missing.extend(lacking.into_iter().filter(|(_, value)| value.is_none()).map(|(field, _)| (field, line)));
    }

    /// Counts a row that is kept with something uncertain.
    pub(super) fn remark(&mut self, remark: impl Into<Option<&'static str>>) {
        remark.into().into_iter().for_each(|remark| *self.remarks.entry(remark).or_default() += 1);
    }

    /// What has to be said, when all rows are read.
    pub(super) fn finish(mut self, kept: usize) -> Report {
        [Field::Capacitance, Field::Value, Field::RatedV].into_iter().for_each(|field| self.ask_repeats(field));
        let told = |(remark, rows)| format!("{}: {remark}", counted(rows, "row", "rows"));
        self.report.notes.extend(self.remarks.into_iter().map(told));
        self.report.kept = kept;
        self.report.questions = self.questions.finish();
        self.report
    }
}
