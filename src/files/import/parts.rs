//! A parts list becomes parts for the catalogue.

use std::collections::{HashMap, HashSet};
use std::path::Path;

use super::asking;
use super::belonging::{self, Belonging, FileSays, belonging, titled};
use super::columns::Columns;
use super::duplicates::{drop_duplicates, tell_apart};
use super::every_row::complete;
use super::field::{Field, Target};
use super::figures::{Reader, RowFigures};
use super::mapping::Mapping;
use super::matrix::{CELLS, UNSAID};
use super::naming;
use super::part_number::{self, codes};
use super::rated_ripple::check_ambient;
use super::report::{Questions, Report};
use super::shape;
use super::trade;
use super::words;
use crate::domain::schema::part_text_complaint;
use crate::domain::style::counted;
use crate::domain::{CAN_NUMBERS, PART_TEXTS, Part, TRADE_NUMBERS, Technology};
use crate::files::cell::clean::is_nothing;
use crate::files::cell::{capacitance, voltage};
use crate::files::entry;
use crate::files::table::{Row, Table};

/// Rows read between two looks at whether the reading is still wanted.
pub(super) const ROWS_BETWEEN: usize = 1024;

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
#[must_use]
pub fn parts(table: &Table, mapping: &Mapping, file: &Path) -> PartsImport {
    parts_while(table, mapping, file, &|_| true).unwrap_or_default()
}

/// The same; `goes_on` is told now and then how many rows are read, and ends the reading by saying no.
#[must_use]
pub fn parts_while(
    table: &Table,
    mapping: &Mapping,
    file: &Path,
    goes_on: &dyn Fn(usize) -> bool,
) -> Option<PartsImport> {
    let columns = Columns::of(table, mapping);
    let mut import = Import {
        reader: Reader { columns: &columns },
        columns: &columns,
        header: &table.header,
        mapping,
        says: file_says(table, mapping, &columns, file),
        stem: file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned()),
        report: Report { file: file.to_owned(), rows: table.rows.len(), ..Report::default() },
        heading: None,
        questions: Questions::default(),
        unexplained: None,
        remarks: HashMap::new(),
        named: HashSet::new(),
        parts: Vec::new(),
    };
    import.report.notes.extend(table.notes.iter().map(|note| format!("line {}: {}", note.line, note.text)));
    import.unexplained = table
        .header
        .iter()
        .position(|name| name == CELLS)
        .filter(|_| mapping.column(CELLS).is_none_or(|meaning| meaning.field.is_none()));
    if columns.used.is_empty() {
        import.report.notes.push("no column is used: none of the headers is known".to_owned());
    }
    for (at, row) in table.rows.iter().enumerate() {
        if at % ROWS_BETWEEN == 0 && !goes_on(at) {
            return None;
        }
        import.row(row);
    }
    asking::title(&mut import.questions, &columns, mapping, &import.parts, table);
    trade::ask_quantity(&mut import.questions, &columns, table);
    asking::sheet(&mut import.questions, mapping, &import.parts, table);
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
    reader: Reader<'a>,
    columns: &'a Columns,
    header: &'a [String],
    mapping: &'a Mapping,
    says: FileSays,
    stem: String,
    report: Report,
    /// The last heading among the rows, where it says a kind of capacitor.
    heading: Option<String>,
    questions: Questions,
    /// Column of cells of a table of two axes whose meaning nothing says.
    unexplained: Option<usize>,
    /// Rows kept with something uncertain: remark and count.
    remarks: HashMap<&'static str, usize>,
    /// Lines of parts named by their figures because the file has no number for them.
    named: HashSet<u64>,
    parts: Vec<(u64, Part)>,
}

impl Import<'_> {
    fn row(&mut self, row: &Row) {
        let settled = self.mapping.settled(self.header, &row.cells);
        let (cells, line) = (settled.as_deref().unwrap_or(row.cells.as_slice()), row.line);
        let shown = || cells.iter().filter(|cell| !cell.is_empty()).take(6).cloned().collect::<Vec<_>>().join(" | ");
        if cells.iter().all(|cell| is_nothing(cell)) {
            return self.report.put_aside(line, &shown(), "blank row", "nothing but blanks");
        }
        let (remark, total) = (shape::is_remark(cells), shape::is_total(cells));
        if remark || total {
            self.heading = words::heading(cells);
            let why = if total { "a total" } else { "a single cell of text: a title or a remark" };
            return self.report.put_aside(line, &shown(), "title or remark", why);
        }
        let unexplained = self.unexplained.and_then(|at| cells.get(at)).filter(|_| !self.says_more_than_values());
        if let Some(cell) = unexplained {
            return self.refuse_unexplained(line, cell, &shown());
        }
        let mut words = self.columns.words(cells);
        // A heading among the rows says what kind those below it are, where they do not say it themselves.
        let heading = self.heading.clone().filter(|_| words::kind(&words) == words::Kind::Unsaid);
        words.extend(heading.as_deref());
        let mut figures = self.reader.read(cells, line);
        if let Some(cell) = self.unexplained.and_then(|at| cells.get(at)).filter(|cell| !is_nothing(cell)) {
            asking::meaning(&mut self.questions, line, cell);
            figures.trouble.cells.push((
                Field::Value,
                cell.clone(),
                "nothing says what this figure of the table means".into(),
            ));
        }
        if self.is_not_made(cells, &figures) {
            return self.report.put_aside(
                line,
                &shown(),
                NOT_MADE,
                "nothing but value and voltage: this combination is not made",
            );
        }
        self.own_names(cells, &mut figures);
        let unsaid = asking::answered(self.mapping, &[], &words, figures.can.capacitance_uf);
        let belongs = match figures.can.technology {
            Some(technology) => Belonging::Keep { technology: Some(technology), remark: None },
            None => belonging(&words, &figures, FileSays { unsaid, ..self.says }),
        };
        let (technology, remark) = match belongs {
            Belonging::Keep { technology, remark } => (technology, remark),
            Belonging::Aside { group, reason } => return self.report.put_aside(line, &shown(), group, &reason),
            Belonging::Ask if self.says_nothing(cells, &figures) => {
                return self.report.put_aside(
                    line,
                    &shown(),
                    "title or remark",
                    "neither part number nor capacitance nor voltage: a total or a remark",
                );
            }
            Belonging::Ask
                if figures.can.capacitance_uf.is_none()
                    && figures.trouble.open.is_empty()
                    && figures.trouble.contradictions.is_empty() =>
            {
                return self.report.refuse(
                    line,
                    Field::Capacitance.label(),
                    &shown(),
                    "no capacitance in any column, and nothing says what the row is",
                );
            }
            Belonging::Ask => {
                asking::kind(&mut self.questions, &words, &shown(), line);
                figures.trouble.report(line, false, &mut self.report, &mut self.questions);
                return self.report.refuse(
                    line,
                    "(row)",
                    &shown(),
                    "open question: nothing says whether it is an electrolytic",
                );
            }
        };
        let mut part = self.part(cells, &words, technology, &mut figures, line);
        figures.trouble.drop_impossible(CAN_NUMBERS, part.can.numbers_mut());
        figures.trouble.drop_impossible(TRADE_NUMBERS, part.trade.numbers_mut());
        if let Some((field, cell, reason)) = self.unusable(&part, &figures, line) {
            let cell = if cell.is_empty() { shown() } else { cell };
            figures.trouble.report(line, false, &mut self.report, &mut self.questions);
            return self.report.refuse(line, field, &cell, reason);
        }
        if part.part_number.is_empty() {
            self.name(&mut part);
            self.named.extend((part.supplier_part_number != part.part_number).then_some(line as u64));
        }
        if let Some(remark) = remark {
            *self.remarks.entry(remark).or_default() += 1;
        }
        asking::conditions(&mut self.questions, self.columns, cells, &part.can, line);
        figures.leave_measured();
        figures.trouble.report(line, true, &mut self.report, &mut self.questions);
        self.parts.push((line as u64, part));
    }

    /// Why a part cannot be listed: field, cell (empty for the whole row) and reason.
    fn unusable(&mut self, part: &Part, figures: &RowFigures, line: usize) -> Option<(&'static str, String, String)> {
        let missing = [(part.can.capacitance_uf, Field::Capacitance), (part.can.rated_v, Field::RatedV)];
        if let Some((_, field)) = missing.into_iter().find(|(value, _)| value.is_none()) {
            let why = figures.trouble.reason(field, field.label());
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
        let mut part = self.texts(cells);
        part.can = std::mem::take(&mut figures.can);
        part.can.technology = technology;
        part.can.mounting = words::mounting(words).or(self.mapping.every_row.mounting);
        part.status = self.status(cells, words);
        trade::read(&self.reader, cells, &mut part, &mut figures.trouble, line);
        part.read_from = figures.trouble.origin(&self.report.file, line).unwrap_or_default();
        if let Some(basis) = self.columns.text(cells, Field::EnduranceBasis) {
            part.can.endurance_basis = basis.parse().ok();
        }
        let factors = self.columns.text(cells, Field::FreqFactors).and_then(|pairs| pairs.parse().ok());
        part.can.ripple_freq_factors = part.can.ripple_freq_factors.or(factors);
        complete(&mut part, &self.mapping.every_row);
        part_number::check(&part.part_number, &part.can, &mut figures.trouble, line);
        if self.mapping.part_number_codes == Some(true) {
            part_number::fill(&part.part_number, &mut part.can, &figures.trouble);
        }
        // Ripple is rated at or below the upper category temperature (IEC 60384-4), so this never promises too much. A rating at
        // 40 or 60 °C is one for a cooler place: parts for less than 85 °C are hardly made (common practice, no source).
        let at_upper = figures.ripple_temp_c.filter(|&at_c| at_c >= 85.0);
        if part.can.temp_max_c.is_none() && part.can.ripple_a.is_some() && at_upper.is_some() {
            part.can.temp_max_c = at_upper;
            *self.remarks.entry(BY_RIPPLE).or_default() += 1;
        }
        check_ambient(&mut part, figures, line);
        part
    }

    /// The figures that stand under their own names.
    fn own_names(&self, cells: &[String], figures: &mut RowFigures) {
        for column in self.columns.of_field(Field::OwnName) {
            let field = self.header.get(column.at).and_then(|header| naming::of_catalogue(header, Target::Parts));
            let (Some(field), Some(cell)) = (field, cells.get(column.at)) else { continue };
            if let Err(reason) = entry::enter(field, &mut figures.can, cell.trim()) {
                figures.trouble.cells.push((Field::OwnName, cell.clone(), reason));
            }
        }
    }

    /// A table of two axes whose cells could be anything: blank ones are combinations that are not made, the others are asked about.
    fn refuse_unexplained(&mut self, line: usize, cell: &str, shown: &str) {
        if is_nothing(cell) {
            return self.report.put_aside(
                line,
                shown,
                NOT_MADE,
                "a blank field of the table: this combination is not made",
            );
        }
        asking::meaning(&mut self.questions, line, cell);
        self.report.refuse(line, CELLS, cell, UNSAID);
    }

    /// Whether some column holds more than capacitance and voltage.
    fn says_more_than_values(&self) -> bool {
        self.columns
            .used
            .iter()
            .any(|column| !matches!(column.field, Field::Capacitance | Field::Value | Field::RatedV))
    }

    /// A row of totals: nothing a part could be known by.
    fn says_nothing(&self, cells: &[String], figures: &RowFigures) -> bool {
        let text = |field| self.columns.text(cells, field).is_some();
        let named =
            [Field::PartNumber, Field::SupplierPartNumber, Field::Description, Field::Value].into_iter().any(text);
        let capacitance = figures.trouble.reason(Field::Capacitance, Field::Capacitance.label()).is_some();
        !self.columns.used.is_empty()
            && !named
            && !capacitance
            && figures.can.capacitance_uf.is_none()
            && figures.can.rated_v.is_none()
    }

    /// A value and a voltage over blank cells in a table whose other rows say more.
    fn is_not_made(&self, cells: &[String], figures: &RowFigures) -> bool {
        let figure = |field| {
            matches!(
                field,
                Field::Capacitance
                    | Field::Value
                    | Field::RatedV
                    | Field::Tolerance
                    | Field::Series
                    | Field::Maker
                    | Field::CapacitanceUnit
                    | Field::Datasheet
                    | Field::FreqFactors
            )
        };
        let others: Vec<_> = self.columns.used.iter().filter(|column| !figure(column.field)).collect();
        let telling = others.iter().all(|column| column.field.kind().is_some() || column.field == Field::PartNumber);
        let others: Vec<&str> =
            others.into_iter().filter_map(|column| cells.get(column.at)).map(|cell| cell.trim()).collect();
        let one_column = self.columns.of_field(Field::Capacitance).next().is_some();
        one_column
            && (others.len() >= 2 || (telling && !others.is_empty()))
            && others.iter().all(|cell| is_nothing(cell))
            && figures.can.ripple_a.is_none()
            && figures.can.diameter_mm.is_none()
    }

    fn texts(&self, cells: &[String]) -> Part {
        let text = |field| self.columns.text(cells, field).unwrap_or_default().to_owned();
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

    fn status(&self, cells: &[String], words: &[&str]) -> Option<crate::domain::Status> {
        let own = self.columns.text(cells, Field::Status).and_then(words::status);
        // Only an end of production is a remark worth believing in a text; "active" there may be anything.
        own.or_else(|| {
            words.iter().find_map(|word| words::status(word).filter(|status| *status != crate::domain::Status::Active))
        })
    }

    fn absence(&mut self, field: Field, part: &Part, line: usize) -> String {
        let Some(found) = codes(&part.part_number) else { return format!("no {} in any column", field.label()) };
        let figure = if field == Field::RatedV {
            voltage::print(found.rated_v)
        } else {
            capacitance::print(found.capacitance_uf)
        };
        part_number::ask(&mut self.questions, &part.part_number, line);
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
        if !self.named.is_empty() {
            self.report.notes.push(format!(
                "{}: no number in the file, named by figures; find the maker's number before ordering",
                counted(self.named.len(), "part", "parts")
            ));
        }
        let mut remarks: Vec<_> = self.remarks.into_iter().collect();
        remarks.sort_unstable();
        self.report
            .notes
            .extend(remarks.into_iter().map(|(remark, rows)| format!("{}: {remark}", counted(rows, "row", "rows"))));
        let parts = drop_duplicates(tell_apart(self.parts, &self.named, &mut self.report), &mut self.report);
        self.report.kept = parts.len();
        self.report.questions = self.questions.finish();
        PartsImport { parts, report: self.report }
    }
}
