//! A board's parts list becomes positions.

use std::collections::HashMap;
use std::path::Path;

use super::asking;
use super::belonging::{Belonging, FileSays, belonging, titled};
use super::columns::{Columns, Prepared};
use super::every_row::complete_numbers;
use super::field::Field;
use super::figures::{Reader, RowFigures};
use super::fitted::{Fitted, Without};
use super::lines;
use super::mapping::Mapping;
use super::others;
use super::part_number;
use super::parts::ROWS_BETWEEN;
use super::propose::is_counter;
use super::report::{Contradiction, Questions, Report};
use super::settle::Trouble;
use super::shape;
use super::words;
use crate::domain::style::counted;
use crate::domain::{CAN_NUMBERS, Original, OtherKind, OtherPart, Position, Role};
use crate::files::cell::clean::is_nothing;
use crate::files::cell::number;
use crate::files::designators::{self, Designators};
use crate::files::table::{Row, Table};

/// The group of rows skipped because they are film capacitors.
const FILM: &str = "film";
/// Most positions taken from one row without designators.
const MOST_UNNAMED: usize = 500;

/// Remark on positions that a list only counts.
const BY_COUNT: &str = "the list counts its rows: they are named C1, C2 and so on by these numbers";

/// The positions of one file and what has to be said about it.
#[derive(Debug, Clone, Default)]
pub struct PositionsImport {
    /// The positions, each with its line in the file; references are unique.
    pub positions: Vec<(u64, Position)>,
    /// Other parts of the kinds the mapping wants, each with its line.
    pub others: Vec<(u64, OtherPart)>,
    /// What was kept, skipped, refused and asked.
    pub report: Report,
}

/// Reads a table as the parts list of a board. Roles are left "decoupling, assumed" for a person to set.
#[must_use]
pub fn positions(table: &Table, mapping: &Mapping, file: &Path) -> PositionsImport {
    positions_while(table, mapping, file, &|_| true).unwrap_or_default()
}

/// The same; `goes_on` is told now and then how many rows are read, and ends the reading by saying no.
#[must_use]
pub fn positions_while(
    table: &Table,
    mapping: &Mapping,
    file: &Path,
    goes_on: &dyn Fn(usize) -> bool,
) -> Option<PositionsImport> {
    let columns = Columns::of(table, mapping);
    let electrolytic = table.preamble.iter().any(|note| titled(&note.text));
    let mut import = Import {
        reader: Reader { columns: &columns },
        columns: &columns,
        fitted: Fitted::of(table, &columns, mapping),
        header: &table.header,
        mapping,
        says: FileSays {
            electrolytic,
            bare: is_bare(&columns) || lines::is_list(table),
            technology: mapping.every_row.technology,
            titled: false,
            unsaid: mapping.unsaid_are_electrolytic,
        },
        report: Report { file: file.to_owned(), rows: table.rows.len(), ..Report::default() },
        heading: None,
        questions: Questions::default(),
        remarks: HashMap::new(),
        lines: HashMap::new(),
        boards: Vec::new(),
        board_of: HashMap::new(),
        unnamed: 0,
        positions: Vec::new(),
        others: Vec::new(),
        kept_rows: 0,
        no_voltage: 0,
        no_value: 0,
    };
    import.report.notes.extend(table.notes.iter().map(|note| format!("line {}: {}", note.line, note.text)));
    for (at, row) in table.rows.iter().enumerate() {
        if at % ROWS_BETWEEN == 0 && !goes_on(at) {
            return None;
        }
        import.row(row);
    }
    Some(import.finish())
}

/// A list of designators, capacitances and voltages and nothing that could say what kind they are.
fn is_bare(columns: &Columns) -> bool {
    let has = |field| columns.of_field(field).next().is_some();
    let plain = |field| {
        use Field::{Capacitance, Designator, Quantity, RatedV, Rotation, Side, Value, X, Y};
        use Field::{Diameter, Fitted, Height, LeadDiameter, Pitch, Size, TempMax};
        matches!(field, Designator | Value | Capacitance | RatedV | Quantity | X | Y | Rotation | Side)
            || matches!(field, Fitted | Diameter | Height | LeadDiameter | Pitch | Size | TempMax)
    };
    let volts = has(Field::RatedV) || columns.used.iter().any(|column| column.pairs.is_some());
    has(Field::Designator) && volts && columns.used.iter().all(|column| plain(column.field))
}

struct Import<'a> {
    reader: Reader<'a>,
    columns: &'a Columns,
    fitted: Fitted,
    header: &'a [String],
    mapping: &'a Mapping,
    says: FileSays,
    report: Report,
    /// The last heading among the rows, where it says a kind of capacitor.
    heading: Option<String>,
    questions: Questions,
    remarks: HashMap<&'static str, usize>,
    /// Line in which a reference stands, and its place among the positions.
    lines: HashMap<String, (usize, usize)>,
    /// Names under a column that may name boards, and the first under which each designator stands.
    boards: Vec<String>,
    board_of: HashMap<String, String>,
    unnamed: usize,
    positions: Vec<(u64, Position)>,
    others: Vec<(u64, OtherPart)>,
    kept_rows: usize,
    no_voltage: usize,
    no_value: usize,
}

impl Import<'_> {
    #[expect(clippy::too_many_lines, reason = "one row from its cells to its positions, step by step")]
    fn row(&mut self, row: &Row) {
        let settled = self.mapping.settled(self.header, &row.cells);
        let (cells, line) = (settled.as_deref().unwrap_or(row.cells.as_slice()), row.line);
        let shown = cells.iter().filter(|cell| !cell.is_empty()).take(6).cloned().collect::<Vec<_>>().join(" | ");
        if cells.iter().all(|cell| is_nothing(cell)) {
            return self.report.put_aside(line, &shown, "blank row", "nothing but blanks");
        }
        if shape::is_remark(cells) {
            self.heading = words::heading(cells);
            return self.report.put_aside(
                line,
                &shown,
                "title or remark",
                "a single cell of text: a title or a remark",
            );
        }
        let elsewhere = self.mapping.only_board.as_deref().and_then(|only| {
            let (_, board) = self.board(cells)?;
            (board != only).then(|| format!("on the board {board}"))
        });
        if let Some(reason) = elsewhere {
            return self.report.put_aside(line, &shown, "on another board", &reason);
        }
        let mut trouble = Trouble::default();
        let quantity = self.reader.one(cells, &mut trouble, line, Field::Quantity, number::read);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "checked to be a small whole number"
        )]
        let quantity = quantity.filter(|n| *n >= 0.0 && *n < 1e6 && n.fract() == 0.0).map(|n| n as usize);
        let cell = self
            .columns
            .of_field(Field::Designator)
            .filter_map(|column| cells.get(column.at))
            .map(|cell| cell.trim())
            .find(|cell| !cell.is_empty());
        let mut found = cell.map(|cell| designators::read(cell, quantity)).unwrap_or_default();
        let counted = self.columns.of_field(Field::Designator).any(|column| is_counter(&column.header));
        for name in found.refs.iter_mut().filter(|name| counted && name.bytes().all(|c| c.is_ascii_digit())) {
            name.insert(0, 'C');
            found.notes.clear();
            *self.remarks.entry(BY_COUNT).or_default() += 1;
        }
        let mut words = self.columns.words(cells);
        // A heading among the rows says what kind those below it are, where they do not say it themselves.
        let heading = self.heading.clone().filter(|_| words::kind(&words) == words::Kind::Unsaid);
        words.extend(heading.as_deref());
        let mut figures = self.reader.read(cells, line);
        if !is_candidate(&found, &words, &figures) {
            if self.other(others::kind(&found.refs, &words), cells, &found.refs, quantity, line) {
                return;
            }
            let what = found
                .refs
                .first()
                .map_or("no designator and no capacitance".to_owned(), |name| format!("not a capacitor ({name})"));
            return self.report.put_aside(line, &shown, "not a capacitor", &what);
        }
        if let Some(mark) = self.columns.not_fitted(cells) {
            return self.report.put_aside(line, &shown, "not fitted", &format!("not fitted (`{mark}`)"));
        }
        if quantity == Some(0) && found.count() > 0 {
            return self.report.put_aside(line, &shown, "not fitted", "not fitted (a quantity of 0)");
        }
        match self.fitted.without(cells, line, &mut self.questions) {
            Some(Without::LeftOut(why)) => return self.report.put_aside(line, &shown, "not fitted", &why),
            Some(Without::Open(why)) => return self.report.refuse(line, "(row)", &shown, why),
            None => {}
        }
        let unsaid = asking::answered(self.mapping, &found.refs, &words, figures.can.capacitance_uf);
        let (technology, remark) = match belonging(&words, &figures, FileSays { unsaid, ..self.says }) {
            Belonging::Keep { technology, remark } => (technology, remark),
            Belonging::Aside { group: FILM, .. }
                if self.other(Some(OtherKind::FilmCapacitor), cells, &found.refs, quantity, line) =>
            {
                return;
            }
            Belonging::Aside { group, reason } => return self.report.put_aside(line, &shown, group, &reason),
            Belonging::Ask => {
                asking::kind(&mut self.questions, &words, &shown, line);
                figures.trouble.report(line, false, &mut self.report, &mut self.questions);
                return self.report.refuse(
                    line,
                    "(row)",
                    &shown,
                    "open question: nothing says whether it is an electrolytic",
                );
            }
        };
        figures.leave_doubtful_esr(self.columns.has(Field::Esr));
        let mut can = std::mem::take(&mut figures.can);
        can.technology = technology;
        can.mounting = words::mounting(&words).or(self.mapping.every_row.mounting);
        complete_numbers(&mut can, &self.mapping.every_row);
        figures.trouble.drop_impossible(CAN_NUMBERS, can.numbers_mut());
        if let Some(number) = self.columns.text(cells, Field::PartNumber) {
            part_number::check(number, &can, &mut figures.trouble, line);
            if self.mapping.part_number_codes == Some(true) {
                part_number::fill(number, &mut can, &figures.trouble);
            } else if (can.rated_v.is_none() || can.capacitance_uf.is_none()) && part_number::codes(number).is_some() {
                part_number::ask(&mut self.questions, number, line);
            }
        }
        for (field, cell, reason) in trouble.cells.drain(..) {
            figures.trouble.cells.push((field, cell, reason));
        }
        self.count(&found, quantity, line, cell.unwrap_or_default());
        let told = |(column, cell): (&Prepared, &'_ str)| {
            let valued = matches!(column.field, Field::Value | Field::Description);
            Some((words::times(cell).filter(|_| valued)?, cell.to_owned()))
        };
        let several = self.reader.cells(cells).find_map(told);
        if let Some((times, cell)) = several
            && found.count() != times
        {
            let places = found.count();
            let text =
                format!("line {line}: `{cell}`: {times} capacitors or sections at {places} designators; each is one");
            self.report.notes.push(text);
        }
        self.no_voltage += usize::from(can.rated_v.is_none());
        self.no_value += usize::from(can.capacitance_uf.is_none());
        if let Some(remark) = remark {
            *self.remarks.entry(remark).or_default() += 1;
        }
        let label = self.label(cells);
        let read_from = figures.trouble.origin(&self.report.file, line);
        let names = self.names(&found, quantity, line);
        let mut taken = 0;
        let mut left: Vec<(String, String, bool)> = Vec::new();
        for name in names {
            self.ask_boards(&name, cells, line);
            let mut original = Original { label: label.clone(), can: can.clone(), ..Original::default() };
            original.read_from.clone_from(&read_from);
            match self.push(name.clone(), original, line) {
                Ok(()) => {
                    taken += 1;
                    let pushed = self.positions.last_mut().filter(|_| found.count() == 1);
                    pushed.into_iter().for_each(|(_, position)| position.measured = figures.measured.take());
                }
                Err((reason, same)) => left.push((name, reason, same)),
            }
        }
        self.kept_rows += usize::from(taken > 0);
        if taken > 0 {
            asking::conditions(&mut self.questions, self.columns, cells, &can, line);
        }
        self.left_out(line, &shown, taken, left);
        figures.leave_measured();
        figures.trouble.report(line, taken > 0, &mut self.report, &mut self.questions);
        for note in found.notes {
            self.report.notes.push(format!("line {line}: {note}"));
        }
    }

    /// Takes a row in as other parts where their kind is wanted; counts them in any case.
    fn other(
        &mut self,
        kind: Option<OtherKind>,
        cells: &[String],
        refs: &[String],
        quantity: Option<usize>,
        line: usize,
    ) -> bool {
        let Some(kind) = kind.filter(|_| self.columns.not_fitted(cells).is_none()) else {
            return false;
        };
        *self.report.others.entry(kind).or_default() += 1;
        let wanted = self.mapping.other_parts.contains(&kind);
        if wanted {
            let parts = others::parts(self.columns, cells, kind, refs, quantity);
            self.others.extend(parts.into_iter().map(|part| (line as u64, part)));
            self.kept_rows += 1;
        }
        wanted
    }

    /// Quantity against designators; order lists count spares, so the designators win and the difference is said.
    fn count(&mut self, found: &Designators, quantity: Option<usize>, line: usize, cell: &str) {
        let marked = found.refs.is_empty() && found.unnumbered == 1;
        let Some(quantity) = quantity.filter(|&n| found.count() > 0 && n != found.count() && !marked) else { return };
        let contradiction = Contradiction {
            line: line as u64,
            field: "quantity against designators".to_owned(),
            first: format!("quantity {quantity}"),
            second: format!("{} designators ({cell})", found.count()),
            done: "the designators are used".to_owned(),
        };
        self.report.list(
            line,
            &contradiction.field,
            &contradiction.first,
            format!("contradiction: {} against {}", contradiction.first, contradiction.second),
        );
        self.report.contradictions.push(contradiction);
    }

    /// What stands on the part, as far as the file says.
    fn label(&self, cells: &[String]) -> Option<String> {
        let mut parts: Vec<&str> = Vec::new();
        for field in [Field::Value, Field::Capacitance, Field::RatedV, Field::PartNumber] {
            for column in self.columns.of_field(field) {
                let cell = cells.get(column.at).map_or("", |cell| cell.trim());
                if !is_nothing(cell) && !parts.contains(&cell) {
                    parts.push(cell);
                }
            }
        }
        if parts.is_empty() {
            parts.extend(self.columns.text(cells, Field::Description));
        }
        (!parts.is_empty()).then(|| parts.join(" ").chars().take(120).collect())
    }

    fn names(&mut self, found: &Designators, quantity: Option<usize>, line: usize) -> Vec<String> {
        let mut names: Vec<String> =
            found.refs.iter().filter(|name| designators::is_capacitor(name) != Some(false)).cloned().collect();
        for other in found.refs.iter().filter(|name| designators::is_capacitor(name) == Some(false)) {
            self.report.list(
                line,
                Field::Designator.label(),
                other,
                "not a capacitor's designator in a row of capacitors; left out",
            );
        }
        // `C?` with a quantity of two are two.
        let marked = found.refs.is_empty() && found.unnumbered == 1;
        let nameless = match found.count() {
            0 => quantity.unwrap_or(1),
            _ if marked => quantity.unwrap_or(1).max(1),
            _ => found.unnumbered,
        };
        let nameless = nameless.min(MOST_UNNAMED);
        for _ in 0..nameless {
            self.unnamed += 1;
            names.push(format!("C?{}", self.unnamed));
        }
        names
    }

    /// The board of a row, where a column may name boards, or the person says that it does.
    fn board<'r>(&self, cells: &'r [String]) -> Option<(&str, &'r str)> {
        let is_named = |header: &&String| match &self.mapping.boards {
            Some(column) => self.mapping.same_column(header, column),
            None => words::heads_boards(header),
        };
        let at = self.header.iter().position(|header| is_named(&header))?;
        Some((self.header[at].as_str(), cells.get(at)?.trim()))
    }

    /// The same designator under two names of what may be boards is asked about.
    fn ask_boards(&mut self, name: &str, cells: &[String], line: usize) {
        let Some((column, board)) = self.board(cells).map(|(column, board)| (column.to_owned(), board.to_owned()))
        else {
            return;
        };
        if board.is_empty() || self.mapping.boards.is_some() {
            return;
        }
        if !self.boards.contains(&board) {
            self.boards.push(board.clone());
        }
        let earlier = self.board_of.entry(name.to_owned()).or_insert_with(|| board.clone()).clone();
        if earlier != board {
            asking::boards(&mut self.questions, &column, &self.boards, &board, line);
        }
    }

    /// Adds a position; `Err` says where the reference stands already, and whether with the same figures.
    fn push(&mut self, name: String, original: Original, line: usize) -> Result<(), (String, bool)> {
        if let Some(&(earlier, at)) = self.lines.get(&name) {
            let same = self.positions.get(at).is_some_and(|(_, position)| position.original.can == original.can);
            return Err(if same {
                (format!("stands already in line {earlier} with the same figures"), true)
            } else {
                let reason =
                    format!("stands already in line {earlier} with other figures; those of line {earlier} are used");
                (reason, false)
            });
        }
        self.lines.insert(name.clone(), (line, self.positions.len()));
        let role = Some(Role::Decoupling);
        let position = Position { reference: name, role, role_assumed: true, original, ..Position::default() };
        self.positions.push((line as u64, position));
        Ok(())
    }

    /// References of a row that stand in an earlier one, or a row that gave no position at all.
    fn left_out(&mut self, line: usize, shown: &str, taken: usize, left: Vec<(String, String, bool)>) {
        let repeats_only = left.iter().all(|(_, _, same)| *same);
        match (taken, left.first()) {
            (0, None) => self.report.put_aside(line, shown, "no position", "names no position of a capacitor"),
            (0, Some((_, reason, _))) if repeats_only => self.report.put_aside(line, shown, "duplicate", reason),
            (0, Some(_)) => {
                self.report.refused += 1;
                for (name, reason, _) in left {
                    self.report.list(line, Field::Designator.label(), &name, reason);
                }
            }
            _ => {
                for (name, reason, same) in left {
                    self.report.cells_not_used += usize::from(!same);
                    self.report.list(line, Field::Designator.label(), &name, reason);
                }
            }
        }
    }

    fn finish(mut self) -> PositionsImport {
        let report = &mut self.report;
        if self.columns.of_field(Field::Designator).next().is_none() {
            report.notes.push("no column of designators: the positions are numbered C?1, C?2 and so on".to_owned());
        } else if self.unnamed > 0 {
            report.notes.push(format!(
                "{}: no designator in the file, called C?1 to C?{}",
                counted(self.unnamed, "position", "positions"),
                self.unnamed
            ));
        }
        if self.no_voltage > 0 {
            report.notes.push(format!("{} kept rows give no rated voltage: it stays unknown", self.no_voltage));
        }
        if self.no_value > 0 {
            report
                .notes
                .push(format!("{} kept rows give no capacitance that can be read: it stays unknown", self.no_value));
        }
        if !self.positions.is_empty() {
            report.notes.push(format!(
                "the role of {} is \"decoupling, assumed\": set what they do, it decides how far the capacitance may differ",
                counted(self.positions.len(), "position", "positions")
            ));
        }
        let mut remarks: Vec<_> = self.remarks.into_iter().collect();
        remarks.sort_unstable();
        report
            .notes
            .extend(remarks.into_iter().map(|(remark, rows)| format!("{}: {remark}", counted(rows, "row", "rows"))));
        report.kept = self.kept_rows;
        report.questions = self.questions.finish();
        PositionsImport { positions: self.positions, others: self.others, report: self.report }
    }
}

/// Whether a row can be about a capacitor at all: by its designators, else by a capacitance in it.
fn is_candidate(found: &Designators, words: &[&str], figures: &RowFigures) -> bool {
    let says: Vec<Option<bool>> = found.refs.iter().map(|name| designators::is_capacitor(name)).collect();
    if says.contains(&Some(true)) {
        return true;
    }
    let ours = matches!(
        words::kind(words),
        words::Kind::Ours { .. } | words::Kind::Other { .. } | words::Kind::Polarised { .. }
    );
    let other = says.iter().all(|say| *say == Some(false)) && !says.is_empty();
    !other && (figures.can.capacitance_uf.is_some() || ours)
}
