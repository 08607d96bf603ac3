//! A parts list becomes parts for the catalogue.

use std::collections::HashSet;
use std::path::Path;

use super::asking;
use super::belonging::{self, Belonging, FileSays, titled};
use super::columns::Columns;
use super::duplicates::{drop_duplicates, tell_apart};
use super::every_row::complete;
use super::field::{Field, Target};
use super::figures::RowFigures;
use super::mapping::Mapping;
use super::matrix::{CELLS, UNSAID};
use super::naming;
use super::part_number::{self, codes};
use super::rated_ripple::check_ambient;
use super::report::Report;
use super::rows::{self, NO_SIZE, REMARK, Rows, shown};
use super::shape;
use super::trade;
use super::words;
use crate::domain::schema::part_text_complaint;
use crate::domain::style::counted;
use crate::domain::{CAN_NUMBERS, PART_TEXTS, Part, Status, TRADE_NUMBERS, Technology};
use crate::files::cell::clean::{self, is_nothing};
use crate::files::cell::{capacitance, voltage};
use crate::files::entry;
use crate::files::table::{Row, Table};

/// Remark on an upper temperature that only the condition of the ripple current gives.
const BY_RIPPLE: &str = "the upper temperature is the one the ripple current is rated at; nothing else gives it";

/// Group of rows for which the maker makes nothing.
const NOT_MADE: &str = "not made";

/// The parts of one file and what has to be said about it.
#[derive(Debug, Clone, Default)]
pub struct PartsImport {
    /// The parts, each with its line in the file; part numbers are unique within the file.
    pub parts: Vec<(u64, Part)>,
    /// What was kept, skipped, refused and asked.
    pub report: Report,
}

/// Reads a table as a list of parts.
/// `goes_on` is told now and then how many rows are read, and ends the reading by saying no: then there is no result.
pub fn parts(table: &Table, mapping: &Mapping, file: &Path, goes_on: &dyn Fn(usize) -> bool) -> Option<PartsImport> {
    let columns = Columns::of(table, mapping);
    let rows = Rows::new(table, mapping, &columns, file, file_says(table, mapping, &columns, file));
    let mut import = Import {
        rows,
        stem: file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned()),
        unexplained: None,
        named: HashSet::new(),
        parts: Vec::new(),
    };
    import.unexplained = table
        .header
        .iter()
        .position(|name| name == CELLS)
        .filter(|_| mapping.column(CELLS).is_none_or(|meaning| meaning.field.is_none()));
    if columns.used.is_empty() {
        import.rows.report.notes.push("no column is used: none of the headers is known".to_owned());
    }
    rows::each(table, mapping, goes_on, |row| import.row(row))?;
    let questions = &mut import.rows.questions;
    asking::title(questions, &columns, mapping, &import.parts, table);
    trade::ask_quantity(questions, &columns, table);
    asking::sheet(questions, mapping, &import.parts, table);
    Some(import.finish())
}

/// Columns that only lists of electrolytics have, a title, or the person's own words.
fn file_says(table: &Table, mapping: &Mapping, columns: &Columns, file: &Path) -> FileSays {
    let has = |field| columns.of_field(field).next().is_some();
    let of_electrolytics = [Field::Ripple, Field::TanDelta, Field::Endurance, Field::F120].into_iter().any(has)
        && (has(Field::Capacitance) || has(Field::Value));
    let title = file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().replace(['_', '-'], " "));
    let in_preamble = table.preamble.iter().any(|note| titled(&note.text));
    let electrolytic = of_electrolytics || titled(&title) || in_preamble;
    let by_title = belonging::technology_of(table.preamble.iter().map(|note| note.text.as_str()));
    FileSays {
        electrolytic,
        technology: mapping.every_row.technology.or(by_title),
        titled: mapping.every_row.technology.is_none() && by_title.is_some(),
        bare: false,
        unsaid: mapping.unsaid_are_electrolytic,
    }
}

struct Import<'a> {
    rows: Rows<'a>,
    /// Name of the file without its ending.
    stem: String,
    /// Column of cells of a table of two axes whose meaning nothing says.
    unexplained: Option<usize>,
    /// Lines of parts named by their figures because the file has no number for them.
    named: HashSet<u64>,
    parts: Vec<(u64, Part)>,
}

impl Import<'_> {
    fn row(&mut self, row: &Row) {
        let settled = self.rows.mapping.settled(self.rows.header, &row.cells);
        let (cells, line) = (settled.as_deref().unwrap_or(row.cells.as_slice()), row.line);
        if !self.rows.says_something(cells, line, shape::is_total(cells)) {
            return;
        }
        let unexplained = self.unexplained.and_then(|at| cells.get(at));
        if let Some(cell) = unexplained.filter(|_| !self.says_more_than_values()) {
            return self.refuse_unexplained(line, cell, &shown(cells));
        }
        let heading = self.rows.heading.clone();
        let words = self.rows.words(cells, heading.as_deref());
        let mut figures = self.rows.reader().read(cells);
        if let Some(cell) = unexplained.filter(|cell| !is_nothing(cell)) {
            asking::meaning(&mut self.rows.questions, line, cell);
            figures.trouble.leave(Field::Value, cell, "nothing says what this figure of the table means");
        }
        if is_not_made(self.rows.columns, cells, &figures) {
            let why = "nothing but value and voltage: this combination is not made";
            return self.rows.report.put_aside(line, &shown(cells), NOT_MADE, why);
        }
        self.own_names(cells, &mut figures);
        let belongs = match figures.can.technology {
            Some(technology) => Belonging::Keep { technology: Some(technology), remark: None },
            None => self.rows.belonging(&[], &words, &figures),
        };
        let (technology, remark) = match belongs {
            Belonging::Keep { technology, remark } => (technology, remark),
            Belonging::Aside { group, reason } => {
                return self.rows.report.put_aside(line, &shown(cells), group, &reason);
            }
            Belonging::Ask if says_nothing(self.rows.columns, cells, &figures) => {
                let why = "neither part number nor capacitance nor voltage: a total or a remark";
                return self.rows.report.put_aside(line, &shown(cells), REMARK, why);
            }
            Belonging::Ask
                if figures.can.capacitance_uf.is_none()
                    && figures.trouble.open.is_empty()
                    && figures.trouble.contradictions.is_empty() =>
            {
                self.rows.lacks(&figures.can, line);
                let why = "no capacitance in any column, and nothing says what the row is";
                return self.rows.report.refuse(line, Field::Capacitance.label(), &shown(cells), why);
            }
            Belonging::Ask => return self.rows.ask_kind(cells, &words, figures.trouble, line),
        };
        let mut part = self.part(cells, &words, technology, &mut figures, line);
        figures.trouble.drop_impossible(CAN_NUMBERS, part.can.numbers_mut());
        figures.trouble.drop_impossible(TRADE_NUMBERS, part.trade.numbers_mut());
        self.rows.lacks(&part.can, line);
        if let Some((field, cell, reason)) = self.unusable(&part, &figures, line) {
            let cell = if cell.is_empty() { shown(cells) } else { cell };
            self.rows.list(figures.trouble, line, false);
            return self.rows.report.refuse(line, field, &cell, reason);
        }
        if part.part_number.is_empty() {
            self.name(&mut part);
            self.named.extend((part.supplier_part_number != part.part_number).then_some(line as u64));
        }
        self.rows.remark(remark);
        self.rows.remark(figures.sizeless.then_some(NO_SIZE));
        asking::conditions(&mut self.rows.questions, self.rows.columns, cells, &part.can, line);
        figures.leave_measured();
        self.rows.list(figures.trouble, line, true);
        self.parts.push((line as u64, part));
    }

    /// Why a part cannot be listed: field, cell (empty for the whole row) and reason.
    fn unusable(&mut self, part: &Part, figures: &RowFigures, line: usize) -> Option<(&'static str, String, String)> {
        let missing = [(part.can.capacitance_uf, Field::Capacitance), (part.can.rated_v, Field::RatedV)];
        if let Some((_, field)) = missing.into_iter().find(|(value, _)| value.is_none()) {
            let why = figures.trouble.reason(field);
            let (cell, reason) = why.unwrap_or_else(|| (String::new(), self.absence(field, part, line)));
            return Some((field.label(), cell, reason));
        }
        if part.part_number.contains('\u{FFFD}') {
            let reason = "a character of the part number is lost: it may be the number of another part";
            return Some((Field::PartNumber.label(), part.part_number.clone(), reason.to_owned()));
        }
        let mut texts = PART_TEXTS.iter().zip(part.texts());
        let (name, why) = texts.find_map(|(name, text)| Some((*name, part_text_complaint(name, text)?)))?;
        Some((name, "(a long text)".to_owned(), why.to_owned()))
    }

    /// The part of a row, with what holds for every row.
    fn part(
        &mut self,
        cells: &[String],
        words: &[&str],
        technology: Option<Technology>,
        figures: &mut RowFigures,
        line: usize,
    ) -> Part {
        let (columns, every_row) = (self.rows.columns, &self.rows.mapping.every_row);
        let mut part = texts(columns, cells);
        part.can = std::mem::take(&mut figures.can);
        part.can.technology = technology;
        part.can.mounting = words::mounting(words).or(every_row.mounting);
        part.status = status(columns, cells, words);
        trade::read(&self.rows.reader(), cells, &mut part, &mut figures.trouble);
        part.read_from = figures.trouble.origin(&self.rows.report.file, line).unwrap_or_default();
        if let Some(basis) = columns.text(cells, Field::EnduranceBasis) {
            part.can.endurance_basis = basis.parse().ok();
        }
        let factors = columns.text(cells, Field::FreqFactors).and_then(|pairs| pairs.parse().ok());
        part.can.ripple_freq_factors = part.can.ripple_freq_factors.or(factors);
        let of_diameter = part.can.diameter_mm.and_then(|mm| self.rows.mapping.endurance_h.get(&mm.to_string()));
        part.can.endurance_h = part.can.endurance_h.or(of_diameter.copied());
        complete(&mut part, every_row);
        self.rows.by_number(&part.part_number, &mut part.can, &mut figures.trouble);
        // Ripple is rated at or below the upper category temperature (IEC 60384-4), so this never promises too much. A rating at
        // 40 or 60 °C is one for a cooler place: parts for less than 85 °C are hardly made (common practice, no source).
        let at_upper = figures.ripple_temp_c.filter(|&at_c| at_c >= 85.0);
        if part.can.temp_max_c.is_none() && part.can.ripple_a.is_some() && at_upper.is_some() {
            part.can.temp_max_c = at_upper;
            self.rows.remark(BY_RIPPLE);
        }
        check_ambient(&mut part, figures);
        part
    }

    /// The figures that stand under their own names.
    fn own_names(&self, cells: &[String], figures: &mut RowFigures) {
        for column in self.rows.columns.of_field(Field::OwnName) {
            let field = self.rows.header.get(column.at).and_then(|header| naming::of_catalogue(header, Target::Parts));
            let (Some(field), Some(cell)) = (field, cells.get(column.at)) else { continue };
            if let Err(reason) = entry::enter(field, &mut figures.can, cell.trim()) {
                figures.trouble.leave(Field::OwnName, cell, &reason);
            }
        }
    }

    /// A table of two axes whose cells could be anything: blank ones are combinations that are not made, the others are asked about.
    fn refuse_unexplained(&mut self, line: usize, cell: &str, shown: &str) {
        if is_nothing(cell) {
            let why = "a blank field of the table: this combination is not made";
            return self.rows.report.put_aside(line, shown, NOT_MADE, why);
        }
        asking::meaning(&mut self.rows.questions, line, cell);
        self.rows.report.refuse(line, CELLS, cell, UNSAID);
    }

    /// Whether some column holds more than capacitance and voltage.
    fn says_more_than_values(&self) -> bool {
        let values = [Field::Capacitance, Field::Value, Field::RatedV];
        self.rows.columns.used.iter().any(|column| !values.contains(&column.field))
    }

    fn absence(&mut self, field: Field, part: &Part, line: usize) -> String {
        let Some(found) = codes(&part.part_number) else { return format!("no {} in any column", field.label()) };
        let figure = if field == Field::RatedV {
            voltage::print(found.rated_v)
        } else {
            capacitance::print(found.capacitance_uf)
        };
        part_number::ask(&mut self.rows.questions, &part.part_number, line);
        format!("no {} in any column; the code in the part number would mean {figure}", field.label())
    }

    /// A part without number is named by what it is, so that it can be chosen and looked up before it is ordered.
    fn name(&mut self, part: &mut Part) {
        if !part.supplier_part_number.is_empty() {
            part.part_number = part.supplier_part_number.clone();
            return;
        }
        let can = &part.can;
        let mut name = if part.series.is_empty() { self.stem.clone() } else { part.series.clone() };
        for text in [can.capacitance_uf.map(|uf| format!("{uf}u")), can.rated_v.map(|volts| format!("{volts}V"))]
            .into_iter()
            .flatten()
        {
            name.push(' ');
            name.push_str(&text);
        }
        if let (Some(diameter), Some(height)) = (can.diameter_mm, can.height_mm.or(can.height_max_mm)) {
            name.push_str(&format!(" {diameter}x{height}"));
        }
        part.part_number = name;
    }

    fn finish(mut self) -> PartsImport {
        let report = &mut self.rows.report;
        if !self.named.is_empty() {
            report.notes.push(format!(
                "{}: no number in the file, named by figures; find the maker's number before ordering",
                counted(self.named.len(), "part", "parts")
            ));
        }
        let parts = drop_duplicates(tell_apart(self.parts, &self.named, report), report);
        PartsImport { report: self.rows.finish(parts.len()), parts }
    }
}

/// A row of totals: nothing a part could be known by.
fn says_nothing(columns: &Columns, cells: &[String], figures: &RowFigures) -> bool {
    let text = |field| columns.text(cells, field).is_some();
    let named = [Field::PartNumber, Field::SupplierPartNumber, Field::Description, Field::Value].into_iter().any(text);
    let capacitance = figures.trouble.reason(Field::Capacitance).is_some();
    !columns.used.is_empty()
        && !named
        && !capacitance
        && figures.can.capacitance_uf.is_none()
        && figures.can.rated_v.is_none()
}

/// A value and a voltage over blank cells in a table whose other rows say more.
fn is_not_made(columns: &Columns, cells: &[String], figures: &RowFigures) -> bool {
    use Field::{Capacitance, CapacitanceUnit, Datasheet, FreqFactors, Maker, RatedV, Series, Tolerance, Value};
    let of_all = [Capacitance, Value, RatedV, Tolerance, Series, Maker, CapacitanceUnit, Datasheet, FreqFactors];
    let others: Vec<_> = columns.used.iter().filter(|column| !of_all.contains(&column.field)).collect();
    let telling = others.iter().all(|column| column.field.kind().is_some() || column.field == Field::PartNumber);
    let others: Vec<&str> =
        others.into_iter().filter_map(|column| cells.get(column.at)).map(|cell| cell.trim()).collect();
    let one_column = columns.of_field(Capacitance).next().is_some();
    one_column
        && (others.len() >= 2 || (telling && !others.is_empty()))
        && others.iter().all(|cell| is_nothing(cell))
        && figures.can.ripple_a.is_none()
        && figures.can.diameter_mm.is_none()
}

/// The part of a row with its texts alone.
pub(super) fn texts(columns: &Columns, cells: &[String]) -> Part {
    let text = |field| clean::narrow(columns.text(cells, field).unwrap_or_default());
    Part {
        part_number: text(Field::PartNumber),
        maker: text(Field::Maker),
        series: text(Field::Series),
        supplier: text(Field::Supplier),
        supplier_part_number: text(Field::SupplierPartNumber),
        datasheet: text(Field::Datasheet),
        currency: text(Field::Currency),
        ..Part::default()
    }
}

fn status(columns: &Columns, cells: &[String], words: &[&str]) -> Option<Status> {
    let own = columns.text(cells, Field::Status).and_then(words::status);
    own.or_else(|| words.iter().find_map(|word| words::status_in_remark(word)))
}
