//! A board's parts list becomes positions.

use std::collections::HashMap;
use std::path::Path;

use super::answer::Answer;
use super::asking;
use super::belonging::{Belonging, FileSays, titled};
use super::columns::Columns;
use super::every_row::complete_numbers;
use super::field::Field;
use super::figures::RowFigures;
use super::fitted::{Fitted, Without};
use super::lines;
use super::mapping::Mapping;
use super::others;
use super::part_number;
use super::report::{Choice, Report};
use super::rows::{self, NO_SIZE, Rows, shown};
use super::settle::Trouble;
use super::shape::{is_capacitance, is_counter, is_voltage};
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

/// What stands between the first and the last of a range in Italian and Spanish, between two in Czech and Polish.
const TO_OR_AND: &str = "a";

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
/// `goes_on` is told now and then how many rows are read, and ends the reading by saying no: then there is no result.
pub fn positions(
    table: &Table,
    mapping: &Mapping,
    file: &Path,
    goes_on: &dyn Fn(usize) -> bool,
) -> Option<PositionsImport> {
    let columns = Columns::of(table, mapping);
    let electrolytic = table.preamble.iter().any(|note| titled(&note.text));
    let says = FileSays {
        electrolytic,
        bare: is_bare(&columns) || lines::is_list(table),
        technology: mapping.every_row.technology,
        titled: false,
        unsaid: mapping.unsaid_are_electrolytic,
    };
    let mut import = Import {
        rows: Rows::new(table, mapping, &columns, file, says),
        fitted: Fitted::of(table, &columns, mapping),
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
    rows::each(table, mapping, goes_on, |row| import.row(row))?;
    asking::whose_esr(&mut import.rows.questions, mapping, table);
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
            || field.is_of_sale()
    };
    let volts = has(Field::RatedV) || columns.used.iter().any(|column| column.pairs.is_some());
    has(Field::Designator) && volts && columns.used.iter().all(|column| plain(column.field))
}

struct Import<'a> {
    rows: Rows<'a>,
    fitted: Fitted,
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
        let settled = self.rows.mapping.settled(self.rows.header, &row.cells);
        let (cells, line) = (settled.as_deref().unwrap_or(row.cells.as_slice()), row.line);
        let columns = self.rows.columns;
        if !self.rows.says_something(cells, line, false) {
            return;
        }
        let shown = shown(cells);
        let elsewhere = self.rows.mapping.only_board.as_deref().and_then(|only| {
            let (_, board) = self.board(cells)?;
            (board != only).then(|| format!("on the board {board}"))
        });
        if let Some(reason) = elsewhere {
            return self.rows.report.put_aside(line, &shown, "on another board", &reason);
        }
        let mut trouble = Trouble::default();
        let quantity = self.rows.reader().one(cells, &mut trouble, Field::Quantity, number::read);
        // A small whole number, or none.
        let quantity = quantity.and_then(|n| n.to_string().parse().ok()).filter(|n| *n < 1_000_000);
        let cell = columns
            .of_field(Field::Designator)
            .filter_map(|column| cells.get(column.at))
            .map(|cell| cell.trim())
            .find(|cell| !cell.is_empty());
        let mut found = cell.map(|cell| designators::read(cell, quantity)).unwrap_or_default();
        if let Some(cell) = cell.filter(|_| found.unclear == [TO_OR_AND]) {
            found = self.range_or_pair(cell, quantity, line).unwrap_or(found);
        }
        let counted = columns.of_field(Field::Designator).any(|column| is_counter(&column.header));
        for name in found.refs.iter_mut().filter(|name| counted && name.bytes().all(|c| c.is_ascii_digit())) {
            name.insert(0, 'C');
            found.notes.clear();
            self.rows.remark(BY_COUNT);
        }
        let heading = self.rows.heading.clone();
        let words = self.rows.words(cells, heading.as_deref());
        let mut figures = self.rows.reader().read(cells);
        if !is_candidate(&found, &words, &figures) {
            if self.other(others::kind(&found.refs, &words), cells, &found.refs, quantity, line) {
                return;
            }
            let what = found.refs.first().map(|name| format!("not a capacitor ({name})"));
            let what = what.unwrap_or_else(|| "no designator and no capacitance".to_owned());
            return self.rows.report.put_aside(line, &shown, "not a capacitor", &what);
        }
        let none = quantity == Some(0) && found.count() > 0;
        let mark = columns.not_fitted(cells).map(|mark| format!("not fitted (`{mark}`)"));
        if let Some(why) = mark.or_else(|| none.then(|| "not fitted (a quantity of 0)".to_owned())) {
            return self.rows.report.put_aside(line, &shown, "not fitted", &why);
        }
        match self.fitted.without(cells, line, &mut self.rows.questions) {
            Some(Without::LeftOut(why)) => return self.rows.report.put_aside(line, &shown, "not fitted", &why),
            Some(Without::Open(why)) => return self.rows.report.refuse(line, "(row)", &shown, why),
            None => {}
        }
        let (technology, remark) = match self.rows.belonging(&found.refs, &words, &figures) {
            Belonging::Keep { technology, remark } => (technology, remark),
            Belonging::Aside { group: FILM, .. }
                if self.other(Some(OtherKind::FilmCapacitor), cells, &found.refs, quantity, line) =>
            {
                return;
            }
            Belonging::Aside { group, reason } => return self.rows.report.put_aside(line, &shown, group, &reason),
            Belonging::Ask => return self.rows.ask_kind(cells, &words, figures.trouble, line),
        };
        figures.leave_doubtful_esr(columns.has(Field::Esr));
        let mut can = std::mem::take(&mut figures.can);
        can.technology = technology;
        can.mounting = words::mounting(&words).or(self.rows.mapping.every_row.mounting);
        complete_numbers(&mut can, &self.rows.mapping.every_row);
        figures.trouble.drop_impossible(CAN_NUMBERS, can.numbers_mut());
        if let Some(number) = columns.text(cells, Field::PartNumber) {
            self.rows.by_number(number, &mut can, &mut figures.trouble);
            let unknown = can.rated_v.is_none() || can.capacitance_uf.is_none();
            if unknown && self.rows.mapping.part_number_codes != Some(true) && part_number::codes(number).is_some() {
                part_number::ask(&mut self.rows.questions, number, line);
            }
        }
        figures.trouble.cells.append(&mut trouble.cells);
        for word in &found.unclear {
            figures.trouble.leave(Field::Designator, word, "no designator: what it means among them is not known");
        }
        self.count(&found, quantity, line, cell.unwrap_or_default());
        let mut valued = self.rows.reader().cells(cells, |of| matches!(of, Field::Value | Field::Description));
        let several = valued.find_map(|(_, cell)| Some((words::times(cell)?, cell)));
        if let Some((times, cell)) = several.filter(|(times, _)| *times != found.count()) {
            let told = [format!("{times} capacitors or sections ({cell})"), format!("{} designators", found.count())];
            self.rows.report.differ(line, "count against designators", told, "each designator is one of them");
        }
        self.no_voltage += usize::from(can.rated_v.is_none());
        self.no_value += usize::from(can.capacitance_uf.is_none());
        self.rows.lacks(&can, line);
        self.rows.remark(remark);
        self.rows.remark(figures.sizeless.then_some(NO_SIZE));
        let read_from = figures.trouble.origin(&self.rows.report.file, line);
        let original = Original { label: self.label(cells), can, read_from, ..Original::default() };
        let names = self.names(&found, quantity, line);
        let mut taken = 0;
        let mut left: Vec<(String, String, bool)> = Vec::new();
        for name in names {
            self.ask_boards(&name, cells, line);
            match self.push(&name, original.clone(), line) {
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
            self.rows.report.no_mounting += usize::from(original.can.mounting.is_none());
            asking::conditions(&mut self.rows.questions, columns, cells, &original.can, line);
        }
        self.left_out(line, &shown, taken, left);
        figures.leave_measured();
        self.rows.list(figures.trouble, line, taken > 0);
        for note in found.notes {
            self.rows.report.notes.push(format!("line {line}: {note}"));
        }
    }

    /// `C1 a C4` where the row's count says whether it is a range; else that is asked.
    fn range_or_pair(&mut self, cell: &str, quantity: Option<usize>, line: usize) -> Option<Designators> {
        let spelled = ["..", ","].map(|joint| {
            let words = cell.split_whitespace().map(|word| if word == TO_OR_AND { joint } else { word });
            words.collect::<Vec<_>>().join(" ")
        });
        let meant = spelled.iter().map(|text| (designators::read(text, None), text));
        let meant: Vec<(Designators, &String)> = meant.collect();
        let same = meant[0].0.refs == meant[1].0.refs;
        if let Some(at) = meant.iter().position(|(of, _)| same || Some(of.count()) == quantity) {
            return meant.into_iter().nth(at).map(|(of, _)| of);
        }
        let column = self.rows.columns.of_field(Field::Designator).next()?.header.clone();
        let what = "is what stands around `a` the first and the last of a range?";
        self.rows.questions.ask(&column, what, cell, line, || {
            let answer = |text: &String| Answer::at(["cells", &column, cell], text.as_str());
            meant.iter().map(|(of, text)| Choice::new(of.refs.join(", "), answer(text))).collect()
        });
        None
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
        let Some(kind) = kind.filter(|_| self.rows.columns.not_fitted(cells).is_none()) else {
            return false;
        };
        *self.rows.report.others.entry(kind).or_default() += 1;
        let wanted = self.rows.mapping.other_parts.contains(&kind);
        if wanted {
            let mut trouble = Trouble::default();
            let parts = others::parts(&self.rows.reader(), cells, kind, (refs, quantity), &mut trouble);
            self.rows.list(trouble, line, true);
            self.others.extend(parts.into_iter().map(|part| (line as u64, part)));
            self.kept_rows += 1;
        }
        wanted
    }

    /// Quantity against designators; order lists count spares, so the designators win and the difference is said.
    fn count(&mut self, found: &Designators, quantity: Option<usize>, line: usize, cell: &str) {
        let marked = found.refs.is_empty() && found.unnumbered == 1;
        let Some(quantity) = quantity.filter(|&n| found.count() > 0 && n != found.count() && !marked) else { return };
        let told = [format!("quantity {quantity}"), format!("{} designators ({cell})", found.count())];
        self.rows.report.differ(line, "quantity against designators", told, "the designators are used");
    }

    /// What stands on the part, as far as the file says.
    fn label(&self, cells: &[String]) -> Option<String> {
        let mut parts: Vec<&str> = Vec::new();
        for field in [Field::Value, Field::Capacitance, Field::RatedV, Field::PartNumber] {
            for column in self.rows.columns.of_field(field) {
                let cell = cells.get(column.at).map_or("", |cell| cell.trim());
                if !is_nothing(cell) && !parts.contains(&cell) {
                    parts.push(cell);
                }
            }
        }
        if parts.is_empty() {
            parts.extend(self.rows.columns.text(cells, Field::Description));
        }
        (!parts.is_empty()).then(|| parts.join(" ").chars().take(120).collect())
    }

    fn names(&mut self, found: &Designators, quantity: Option<usize>, line: usize) -> Vec<String> {
        let mut names: Vec<String> =
            found.refs.iter().filter(|name| designators::is_capacitor(name) != Some(false)).cloned().collect();
        for other in found.refs.iter().filter(|name| designators::is_capacitor(name) == Some(false)) {
            self.rows.report.list(
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
        let is_named = |header: &&String| match &self.rows.mapping.boards {
            Some(column) => self.rows.mapping.same_column(header, column),
            None => words::heads_boards(header),
        };
        let at = self.rows.header.iter().position(|header| is_named(&header))?;
        // A value is no board's name, whatever stands over it.
        let valued =
            self.rows.mapping.boards.is_none() && (is_voltage(cells.get(at)?) || is_capacitance(cells.get(at)?));
        if valued {
            return None;
        }
        Some((self.rows.header[at].as_str(), cells.get(at)?.trim()))
    }

    /// A column that surely names boards, several of them for many positions, is asked about once.
    fn ask_named_boards(&mut self) {
        let open = self.rows.mapping.boards.is_none() && self.boards.len() > 1;
        let column = self.rows.header.iter().find(|header| words::heads_boards(header));
        let column = column.filter(|column| open && words::surely_heads_boards(column));
        let (Some(column), Some(name)) = (column, self.boards.first()) else { return };
        // Names that come once or twice are remarks rather than boards.
        let many = self.boards.len() * 2 <= self.board_of.len();
        if many && !self.rows.questions.is_open(column) {
            let line = self.lines.values().map(|(line, _)| *line).min().unwrap_or(1);
            asking::boards(&mut self.rows.questions, column, &self.boards, name, line);
        }
    }

    /// The same designator under two names of what may be boards is asked about.
    fn ask_boards(&mut self, name: &str, cells: &[String], line: usize) {
        let Some((column, board)) = self.board(cells).map(|(column, board)| (column.to_owned(), board.to_owned()))
        else {
            return;
        };
        if board.is_empty() || self.rows.mapping.boards.is_some() {
            return;
        }
        if !self.boards.contains(&board) {
            self.boards.push(board.clone());
        }
        let earlier = self.board_of.entry(name.to_owned()).or_insert_with(|| board.clone()).clone();
        if earlier != board {
            asking::boards(&mut self.rows.questions, &column, &self.boards, &board, line);
        }
    }

    /// Adds a position; `Err` says where the reference stands already, and whether with the same figures.
    fn push(&mut self, name: &str, original: Original, line: usize) -> Result<(), (String, bool)> {
        if let Some(&(earlier, at)) = self.lines.get(name) {
            let same = self.positions.get(at).is_some_and(|(_, position)| position.original.can == original.can);
            let stands = format!("stands already in line {earlier} with");
            let reason = if same {
                format!("{stands} the same figures")
            } else {
                format!("{stands} other figures; those of line {earlier} are used")
            };
            return Err((reason, same));
        }
        self.lines.insert(name.to_owned(), (line, self.positions.len()));
        let (reference, role) = (name.to_owned(), Some(Role::Decoupling));
        let position = Position { reference, role, role_assumed: true, original, ..Position::default() };
        self.positions.push((line as u64, position));
        Ok(())
    }

    /// References of a row that stand in an earlier one, or a row that gave no position at all.
    fn left_out(&mut self, line: usize, shown: &str, taken: usize, left: Vec<(String, String, bool)>) {
        let repeats_only = left.iter().all(|(_, _, same)| *same);
        match (taken, left.first()) {
            (0, None) => self.rows.report.put_aside(line, shown, "no position", "names no position of a capacitor"),
            (0, Some((_, reason, _))) if repeats_only => self.rows.report.put_aside(line, shown, "duplicate", reason),
            (taken, _) => {
                self.rows.report.refused += usize::from(taken == 0);
                for (name, reason, same) in left {
                    self.rows.report.cells_not_used += usize::from(taken > 0 && !same);
                    self.rows.report.list(line, Field::Designator.label(), &name, reason);
                }
            }
        }
    }

    fn finish(mut self) -> PositionsImport {
        self.ask_named_boards();
        let report = &mut self.rows.report;
        if self.rows.columns.of_field(Field::Designator).next().is_none() {
            report.notes.push("no column of designators: the positions are numbered C?1, C?2 and so on".to_owned());
        } else if self.unnamed > 0 {
            report.notes.push(format!(
                "{}: no designator in the file, called C?1 to C?{}",
                counted(self.unnamed, "position", "positions"),
                self.unnamed
            ));
        }
        for (rows, unknown) in [(self.no_voltage, "rated voltage"), (self.no_value, "capacitance that can be read")] {
            if rows > 0 {
                let kept = counted(rows, "kept row gives", "kept rows give");
                report.notes.push(format!("{kept} no {unknown}: it stays unknown"));
            }
        }
        if !self.positions.is_empty() {
            report.notes.push(format!(
                "the role of {} is \"decoupling, assumed\": set what they do, it decides how far the capacitance may differ",
                counted(self.positions.len(), "position", "positions")
            ));
        }
        let report = self.rows.finish(self.kept_rows);
        PositionsImport { positions: self.positions, others: self.others, report }
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
