//! A parts list becomes parts for the catalogue.

use std::collections::HashMap;
use std::path::Path;

use super::belonging::{Belonging, FileSays, belonging, titled};
use super::columns::Columns;
use super::field::Field;
use super::figures::{Reader, RowFigures};
use super::mapping::{EveryRow, Mapping};
use super::part_number::{Codes, codes};
use super::report::{Choice, Contradiction, Questions, Report, Setting};
use super::trade;
use super::words;
use crate::domain::{CAN_NUMBERS, EnduranceBasis, Part};
use crate::files::cell::clean::is_nothing;
use crate::files::cell::{capacitance, temperature, voltage};
use crate::files::table::{Row, Table};

/// Rows read between two looks at whether the reading is still wanted.
pub(super) const ROWS_BETWEEN: usize = 1024;

/// The parts of one file and what has to be said about it.
#[derive(Debug, Clone, Default)]
pub struct PartsImport {
    /// The parts, each with its line in the file; part numbers are unique within the file.
    pub parts: Vec<(u64, Part)>,
    /// What was kept, set aside, refused and asked.
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
        mapping,
        says: file_says(table, mapping, &columns, file),
        stem: file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned()),
        report: Report { file: file.to_owned(), rows: table.rows.len(), ..Report::default() },
        questions: Questions::default(),
        remarks: HashMap::new(),
        named: 0,
        parts: Vec::new(),
    };
    import.report.notes.extend(table.notes.iter().map(|note| format!("line {}: {}", note.line, note.text)));
    if columns.used.is_empty() {
        import.report.notes.push("no column is used: none of the headers is known".to_owned());
    }
    for (at, row) in table.rows.iter().enumerate() {
        if at % ROWS_BETWEEN == 0 && !goes_on(at) {
            return None;
        }
        import.row(row);
    }
    Some(import.finish())
}

/// Columns that only lists of electrolytics have, a title, or the person's own words.
fn file_says(table: &Table, mapping: &Mapping, columns: &Columns, file: &Path) -> FileSays {
    let has = |field| columns.of_field(field).next().is_some();
    let of_electrolytics =
        [Field::Ripple, Field::TanDelta, Field::Endurance, Field::F120].into_iter().any(has) && has(Field::Capacitance);
    let title = file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().replace(['_', '-'], " "));
    let in_preamble = table.preamble.iter().any(|note| titled(&note.text));
    let electrolytic = of_electrolytics || titled(&title) || in_preamble;
    FileSays {
        electrolytic,
        technology: mapping.every_row.technology,
        bare: false,
        unsaid: mapping.unsaid_are_electrolytic,
    }
}

struct Import<'a> {
    reader: Reader<'a>,
    columns: &'a Columns,
    mapping: &'a Mapping,
    says: FileSays,
    stem: String,
    report: Report,
    questions: Questions,
    /// Rows kept with something uncertain: remark and count.
    remarks: HashMap<&'static str, usize>,
    /// Parts named by their figures because the file has no number for them.
    named: usize,
    parts: Vec<(u64, Part)>,
}

impl Import<'_> {
    fn row(&mut self, row: &Row) {
        let (cells, line) = (row.cells.as_slice(), row.line);
        let shown = || cells.iter().filter(|cell| !cell.is_empty()).take(6).cloned().collect::<Vec<_>>().join(" | ");
        if cells.iter().all(|cell| is_nothing(cell)) {
            return self.report.put_aside(line, &shown(), "blank row", "nothing but blanks");
        }
        let words = self.columns.words(cells);
        let mut figures = self.reader.read(cells, line);
        if self.is_not_made(cells, &figures) {
            return self.report.put_aside(
                line,
                &shown(),
                "not made",
                "nothing but value and voltage: this combination is not made",
            );
        }
        let (technology, remark) = match belonging(&words, &figures, self.says) {
            Belonging::Keep { technology, remark } => (technology, remark),
            Belonging::Aside { group, reason } => return self.report.put_aside(line, &shown(), group, &reason),
            Belonging::Ask => {
                self.questions.ask("", "are capacitors electrolytics whose kind nothing says?", &shown(), line, || {
                    [(true, "yes, keep them"), (false, "no, set them aside")]
                        .map(|(answer, label)| Choice { label: label.to_owned(), setting: Setting::Unsaid(answer) })
                        .into()
                });
                figures.trouble.report(line, false, &mut self.report, &mut self.questions);
                return self.report.refuse(
                    line,
                    "(row)",
                    &shown(),
                    "open question: nothing says whether it is an electrolytic",
                );
            }
        };
        let mut part = self.texts(cells);
        part.can = std::mem::take(&mut figures.can);
        part.can.technology = technology;
        part.can.mounting = words::mounting(&words).or(self.mapping.every_row.mounting);
        part.status = self.status(cells, &words);
        trade::read(&self.reader, cells, &mut part, &mut figures.trouble, line);
        if let Some(basis) = self.columns.text(cells, Field::EnduranceBasis) {
            part.can.endurance_basis = EnduranceBasis::NAMES
                .iter()
                .find(|(_, name)| name.eq_ignore_ascii_case(basis))
                .map(|&(basis, _)| basis);
        }
        complete(&mut part, &self.mapping.every_row);
        self.check_number(&mut part, &mut figures, line);
        check_ripple(&mut part, &mut figures, line);
        for (value, field) in part.can.numbers_mut().into_iter().zip(CAN_NUMBERS) {
            if let Some(figure) = *value
                && let Some(expected) = field.bounds.complaint(figure)
            {
                *value = None;
                figures.trouble.cells.push((Field::Value, format!("{} {figure}", field.name), expected.to_owned()));
            }
        }
        let missing = [(part.can.capacitance_uf, Field::Capacitance), (part.can.rated_v, Field::RatedV)];
        if let Some((_, field)) = missing.into_iter().find(|(value, _)| value.is_none()) {
            let why = figures.trouble.reason(field, field.label());
            let (cell, reason) = why.unwrap_or_else(|| (String::new(), self.absence(field, &part)));
            let cell = if cell.is_empty() { shown() } else { cell };
            figures.trouble.report(line, false, &mut self.report, &mut self.questions);
            return self.report.refuse(line, field.label(), &cell, reason);
        }
        if part.part_number.is_empty() {
            self.name(&mut part);
        }
        if let Some(remark) = remark {
            *self.remarks.entry(remark).or_default() += 1;
        }
        self.ask_conditions(cells, &part, line, &figures);
        figures.trouble.report(line, true, &mut self.report, &mut self.questions);
        self.parts.push((line as u64, part));
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
            )
        };
        let others = self.columns.used.iter().filter(|column| !figure(column.field));
        let others: Vec<&str> = others.filter_map(|column| cells.get(column.at)).map(|cell| cell.trim()).collect();
        let one_column = self.columns.of_field(Field::Capacitance).next().is_some();
        one_column
            && others.len() >= 2
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

    /// The codes in the part number against the figures of the row; they may fill a gap only when a person said so.
    fn check_number(&self, part: &mut Part, figures: &mut RowFigures, line: usize) {
        let Some(Codes { rated_v, capacitance_uf }) = codes(&part.part_number) else { return };
        let differs = |own: Option<f64>, code: f64| own.is_some_and(|own| (own - code).abs() > 0.01 * code);
        let mut flag = |field: Field, own: String, code: String| {
            figures.trouble.contradictions.push(Contradiction {
                line: line as u64,
                field: format!("part number against {}", field.label()),
                first: own,
                second: format!("{code} (code in {})", part.part_number),
                done: "the cell is used, check the part number".to_owned(),
            });
        };
        if differs(part.can.rated_v, rated_v) {
            flag(Field::RatedV, voltage::print(part.can.rated_v.unwrap_or_default()), voltage::print(rated_v));
        }
        if differs(part.can.capacitance_uf, capacitance_uf) {
            flag(
                Field::Capacitance,
                capacitance::print(part.can.capacitance_uf.unwrap_or_default()),
                capacitance::print(capacitance_uf),
            );
        }
        if self.mapping.part_number_codes == Some(true) {
            let untouched = |field: Field| figures.trouble.reason(field, field.label()).is_none();
            if part.can.rated_v.is_none() && untouched(Field::RatedV) {
                part.can.rated_v = Some(rated_v);
            }
            if part.can.capacitance_uf.is_none() && untouched(Field::Capacitance) {
                part.can.capacitance_uf = Some(capacitance_uf);
            }
        }
    }

    /// Conditions without which a figure cannot be used: asked once for the column.
    fn ask_conditions(&mut self, cells: &[String], part: &Part, line: usize, figures: &RowFigures) {
        let column =
            |field| self.columns.of_field(field).next().map_or_else(String::new, |column| column.header.clone());
        let cell = |field| self.columns.text(cells, field).unwrap_or_default().to_owned();
        let at = |name: &str, header: String| {
            let name = name.to_owned();
            move || -> Vec<Choice> {
                [(100.0, "100 Hz"), (120.0, "120 Hz"), (100e3, "100 kHz")]
                    .map(|(hz, label)| {
                        let setting = if header.is_empty() {
                            Setting::EveryRow(name.clone(), hz)
                        } else {
                            Setting::Hz(header.clone(), hz)
                        };
                        Choice { label: label.to_owned(), setting }
                    })
                    .into()
            }
        };
        if part.can.ripple_a.is_some() && part.can.ripple_hz.is_none() {
            let header = column(Field::Ripple);
            let what = "frequency of the ripple current; until it is given the ripple is unknown";
            self.questions.ask(&header, what, &cell(Field::Ripple), line, at("ripple_hz", header.clone()));
        }
        if part.can.esr_mohm.is_some() && part.can.esr_hz.is_none() {
            let header = column(Field::Esr);
            let what = "frequency of the ESR; until it is given the ESR is unknown";
            self.questions.ask(&header, what, &cell(Field::Esr), line, at("esr_hz", header.clone()));
        }
        if part.can.temp_max_c.is_none()
            && let Some(temp_c) = figures.ripple_temp_c
        {
            let what = "upper temperature, which no column gives; the ripple current is rated at";
            let choices = || {
                vec![Choice {
                    label: temperature::print(temp_c),
                    setting: Setting::EveryRow("temp_max_c".into(), temp_c),
                }]
            };
            self.questions.ask(&column(Field::Ripple), what, &temperature::print(temp_c), line, choices);
        }
    }

    fn absence(&mut self, field: Field, part: &Part) -> String {
        let Some(found) = codes(&part.part_number) else { return format!("no {} in any column", field.label()) };
        let figure = if field == Field::RatedV {
            voltage::print(found.rated_v)
        } else {
            capacitance::print(found.capacitance_uf)
        };
        self.questions.ask(
            "",
            "may rated voltage and capacitance be taken from the code in the part number?",
            &part.part_number,
            0,
            || vec![Choice { label: "yes".into(), setting: Setting::PartNumberCodes(true) }],
        );
        format!("no {} in any column; the code in the part number would mean {figure}", field.label())
    }

    /// A part without number is named by what it is, so that it can be chosen and looked up before it is ordered.
    fn name(&mut self, part: &mut Part) {
        if !part.supplier_part_number.is_empty() {
            part.part_number = part.supplier_part_number.clone();
            return;
        }
        self.named += 1;
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
        if self.named > 0 {
            self.report.notes.push(format!(
                "{} parts have no number in the file and are named by their figures; find the maker's number before ordering",
                self.named
            ));
        }
        let mut remarks: Vec<_> = self.remarks.into_iter().collect();
        remarks.sort_unstable();
        self.report.notes.extend(remarks.into_iter().map(|(remark, rows)| format!("{rows} rows: {remark}")));
        let parts = drop_duplicates(self.parts, &mut self.report);
        self.report.kept = parts.len();
        self.report.questions = self.questions.finish();
        PartsImport { parts, report: self.report }
    }
}

/// A ripple current rated at another ambient than the upper temperature is not the rating the methods mean.
fn check_ripple(part: &mut Part, figures: &mut RowFigures, line: usize) {
    let (Some(at), Some(max), Some(ripple_a)) = (figures.ripple_temp_c, part.can.temp_max_c, part.can.ripple_a) else {
        return;
    };
    if (at - max).abs() > 0.5 {
        part.can.ripple_a = None;
        figures.trouble.contradictions.push(Contradiction {
            line: line as u64,
            field: Field::Ripple.label().to_owned(),
            first: format!("{ripple_a} A at {}", temperature::print(at)),
            second: format!("upper temperature {}", temperature::print(max)),
            done: "the ripple current is not used".to_owned(),
        });
    }
}

/// Of several rows with a part number the last is used; the others are listed.
fn drop_duplicates(parts: Vec<(u64, Part)>, report: &mut Report) -> Vec<(u64, Part)> {
    let last: HashMap<String, u64> = parts.iter().map(|(line, part)| (part.part_number.clone(), *line)).collect();
    let (kept, dropped): (Vec<_>, Vec<_>) =
        parts.into_iter().partition(|(line, part)| last.get(&part.part_number) == Some(line));
    for (line, part) in &dropped {
        let later = last.get(&part.part_number).copied().unwrap_or_default();
        let line = usize::try_from(*line).unwrap_or_default();
        report.put_aside(
            line,
            &part.part_number,
            "duplicate",
            &format!("stands again in line {later}; the later row is used"),
        );
    }
    kept
}

/// Values for every row, where the row itself says nothing.
fn complete(part: &mut Part, every: &EveryRow) {
    for (own, all) in [
        (&mut part.maker, &every.maker),
        (&mut part.series, &every.series),
        (&mut part.supplier, &every.supplier),
        (&mut part.currency, &every.currency),
    ] {
        if let (true, Some(text)) = (own.is_empty(), all) {
            own.clone_from(text);
        }
    }
    part.can.endurance_basis = part.can.endurance_basis.or(every.endurance_basis);
    complete_numbers(&mut part.can, every);
}

/// Numbers for every row, where the row itself says nothing.
pub(super) fn complete_numbers(can: &mut crate::domain::Can, every: &EveryRow) {
    let (ripple, esr) = (can.ripple_a.is_some(), can.esr_mohm.is_some());
    for (value, field) in can.numbers_mut().into_iter().zip(CAN_NUMBERS) {
        // A frequency without its figure would say nothing.
        let useful = match field.name {
            "ripple_hz" => ripple,
            "esr_hz" => esr,
            _ => true,
        };
        if useful && value.is_none() {
            *value = every.numbers.get(field.name).copied();
        }
    }
}
