//! A table and its mapping made ready for reading: what is known about each column before a cell is read.

use super::field::Field;
use super::mapping::{ColumnMeaning, Mapping};
use super::pairs::{self, Pairs};
use super::shape::{self, samples};
use super::words;
use crate::files::cell::count;
use crate::files::cell::header::hints;
use crate::files::cell::number::column_decimal;
use crate::files::cell::order::{column_order, header_order};
use crate::files::cell::unit::{Kind, Unit};
use crate::files::cell::{Column, Decimal, Order, text, voltage};
use crate::files::datasheet::FROM_SHEET;
use crate::files::table::{Row, Table};

/// A column in use.
#[derive(Debug, Clone)]
pub(super) struct Prepared {
    /// Index of the cell in a row.
    pub at: usize,
    pub header: String,
    pub field: Field,
    /// What bare numbers in it mean.
    pub column: Column,
    /// Its decimal mark may not be that of the file.
    pub unlike_file: bool,
    /// What is known about cells such as `2200/25`.
    pub pairs: Option<Pairs>,
    /// Its pairs stand among the words of texts.
    pub of_texts: bool,
    /// Three bare digits are the code of a capacitance, since other cells have units; or its voltages are codes.
    pub codes: bool,
}

/// The columns in use.
#[derive(Debug, Clone)]
pub(super) struct Columns {
    pub used: Vec<Prepared>,
    /// A person's word whether figures such as `1C` are codes of voltages.
    pub voltage_codes: Option<bool>,
    /// The same of the letters of old Czech lists.
    pub czech_letters: Option<bool>,
    /// Frequencies at which the text around the table says that ripple currents hold, Hz, each with the text.
    pub ripple_hz: Vec<(f64, String)>,
}

impl Columns {
    pub(super) fn of(table: &Table, mapping: &Mapping) -> Self {
        let meanings: Vec<Option<(Field, ColumnMeaning)>> = table
            .header
            .iter()
            .map(|header| {
                if header == FROM_SHEET && mapping.from_sheet != Some(true) {
                    return None;
                }
                let meaning = *mapping.column(header)?;
                Some((meaning.field?, meaning))
            })
            .collect();
        let file_decimal = mapping.decimal.unwrap_or_else(|| file_decimal(table, &meanings));
        let said = length_unit_said(table);
        let milli_open = milli_open(table);
        let used = table.header.iter().enumerate().filter_map(|(at, header)| {
            let (field, meaning) = (*meanings.get(at)?)?;
            let cells = samples(table, at);
            let of_file = said.filter(|_| field.kind() == Some(Kind::Length) || field == Field::Size);
            let has_unit = || hints(header).units.iter().any(|unit| unit.kind() == Kind::Length);
            let meaning = ColumnMeaning { unit: meaning.unit.or(of_file.filter(|_| !has_unit())), ..meaning };
            let mut column = prepare(header, field, &meaning, mapping, file_decimal, &cells);
            column.milli_open = milli_open;
            let sized = matches!(field, Field::Size | Field::Footprint | Field::Value | Field::Description);
            if sized && column.order == Order::Unknown && header_order(header) == Order::Unknown {
                // Pin headers and boxes have sizes, too: what comes first is said by the rows of capacitors.
                let of_capacitors = cells_of_capacitors(table, at, &meanings);
                column.order = column_order(of_capacitors, &column);
            }
            let unlike_file = column.decimal == Decimal::Unknown && file_decimal != Decimal::Unknown;
            let valued = matches!(field, Field::Value | Field::Capacitance);
            let of_texts = field == Field::Description && table.found.header_line.is_some();
            let pairs = if valued || field == Field::Description {
                let in_texts = cells.iter().copied().filter_map(|cell| pair_in(field, of_texts, cell));
                let cells: Vec<&str> = in_texts.collect();
                pairs::of_column(header, &cells, &column).filter(|_| !cells.is_empty())
            } else {
                None
            };
            let volts = |cell: &str| voltage::of_code(cell).is_some();
            let codes = if field == Field::RatedV {
                // `1V` alone is one volt; among `1C` and `1E` it is a code.
                shape::share(&cells, volts) >= 0.8 && cells.iter().any(|cell| !cell.ends_with(['V', 'v']))
            } else {
                valued && column.unit.is_none() && cells.iter().any(|cell| shape::tells_capacitance(cell))
            };
            Some(Prepared { at, header: header.clone(), field, column, unlike_file, pairs, of_texts, codes })
        });
        let of_ripple =
            table.preamble.iter().chain(&table.trailing).filter(|note| note.text.to_lowercase().contains("ripple"));
        let ripple_hz = of_ripple.filter_map(|note| Some((hints(&note.text).hz?, note.text.clone())));
        Self {
            used: used.collect(),
            voltage_codes: mapping.voltage_codes,
            czech_letters: mapping.czech_letters,
            ripple_hz: ripple_hz.collect(),
        }
    }

    pub(super) fn of_field(&self, field: Field) -> impl Iterator<Item = &Prepared> {
        self.used.iter().filter(move |column| column.field == field)
    }

    pub(super) fn has(&self, field: Field) -> bool {
        self.of_field(field).next().is_some()
    }

    /// The first cell of `field` that says something.
    pub(super) fn text<'a>(&self, row: &'a [String], field: Field) -> Option<&'a str> {
        let cells = self.of_field(field).filter_map(|column| row.get(column.at)).map(|cell| cell.trim());
        cells.into_iter().find(|cell| !crate::files::cell::clean::is_nothing(cell))
    }

    /// The word that says a position is left empty; units are none, and what columns of fitted parts say is read there.
    pub(super) fn not_fitted(&self, row: &[String]) -> Option<&'static str> {
        let other = |at: usize| {
            self.used.iter().any(|c| c.at == at && matches!(c.field, Field::CapacitanceUnit | Field::Fitted))
        };
        let cells = row.iter().enumerate().filter(|(at, _)| !other(*at)).map(|(_, cell)| cell.as_str());
        words::not_fitted(&cells.collect::<Vec<_>>())
    }

    /// The cells of a row that hold words of its kind.
    pub(super) fn words<'a>(&self, row: &'a [String]) -> Vec<&'a str> {
        use Field::{Capacitance, Description, Footprint, Mounting, Size, Type, Value};
        let wordy = [Value, Capacitance, Type, Description, Footprint, Size, Mounting];
        let used = self.used.iter().filter(|column| wordy.contains(&column.field));
        let mut said = Vec::new();
        for (field, cell) in used.filter_map(|column| Some((column.field, row.get(column.at)?.trim()))) {
            let of_type = if field == Type { words::type_code(cell) } else { None };
            said.extend(Some(of_type.unwrap_or(cell)).filter(|cell| !cell.is_empty()));
            if matches!(field, Value | Description) {
                said.extend(words::code_in(cell));
            }
        }
        said
    }
}

impl Prepared {
    /// The part of a cell that may be a pair such as `2200/25`: in texts about an electrolytic one of its words.
    pub(super) fn pair_in<'a>(&self, cell: &'a str) -> Option<&'a str> {
        pair_in(self.field, self.of_texts, cell)
    }
}

fn pair_in(field: Field, of_texts: bool, cell: &str) -> Option<&str> {
    let word = if field == Field::Description { pairs::in_text(cell) } else { None };
    word.or((!of_texts).then_some(cell))
}

/// The unit of lengths that a sentence before or behind the table gives: `Measurements are in inches.`
fn length_unit_said(table: &Table) -> Option<Unit> {
    let notes = table.preamble.iter().chain(&table.trailing);
    let mut found = notes.filter_map(|note| {
        let lower = note.text.to_lowercase();
        let mut spoken = lower.split(|c: char| !c.is_alphabetic());
        // The `in` of `in inches` is a word.
        let unit_of = |word: &str| Unit::parse(word).filter(|unit| unit.kind() == Kind::Length && word != "in");
        let unit = spoken.find_map(unit_of)?;
        words::list("lengths").any(|what| lower.contains(what)).then_some(unit)
    });
    let first = found.next()?;
    found.all(|other| other == first).then_some(first)
}

/// Whether a file writes `mF` and nothing that would tell it from the microfarad: no microfarad, no `4m7`; or writes it where a
/// millifarad would store more than boards do, as `20 mF 450V`.
fn milli_open(table: &Table) -> bool {
    let cells = || table.rows.iter().take(shape::ROWS).flat_map(|row| &row.cells).chain(&table.header);
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let milli =
        |cell: &String| cell.match_indices("mF").any(|(at, _)| digit(cell[..at].trim_end().chars().next_back()));
    let micro = |cell: &String| {
        let lower = cell.to_lowercase();
        let between = |at: usize| digit(lower[..at].chars().next_back()) && digit(lower[at + 1..].chars().next());
        ["µ", "μ", "uf", "mfd", "мк"].iter().any(|unit| lower.contains(unit))
            || lower.match_indices(['m', 'u']).any(|(at, _)| between(at))
    };
    let huge = |row: &Row| {
        /// More than cans on boards store, J (our bound, no source).
        const MOST_J: f64 = 250.0;
        let found = row.cells.iter().any(milli).then(|| text::find(&row.cells.join(" "), &Column::default()));
        let stored_j =
            found.and_then(|found| Some(0.5e-6 * found.capacitance_uf.value()? * found.rated_v.value()?.powi(2)));
        stored_j.is_some_and(|stored_j| stored_j > MOST_J)
    };
    cells().any(milli) && (!cells().any(micro) || table.rows.iter().take(shape::ROWS).any(huge))
}

/// The cells of a column in the rows whose designators are those of capacitors; all cells where there are no designators.
fn cells_of_capacitors<'t>(table: &'t Table, at: usize, meanings: &[Option<(Field, ColumnMeaning)>]) -> Vec<&'t str> {
    let designators = meanings.iter().position(|of| matches!(of, Some((Field::Designator, _))));
    let Some(designators) = designators else { return samples(table, at) };
    let of_capacitor = |row: &&Row| row.cells.get(designators).is_none_or(|cell| shape::names_capacitors(cell));
    let rows = table.rows.iter().take(shape::ROWS).filter(of_capacitor);
    rows.filter_map(|row| row.cells.get(at)).map(|cell| cell.trim()).collect()
}

fn is_quantity(field: Field) -> bool {
    use Field::{F1k, F10k, F50, F100k, F120, F300, Price, Rotation, Stock};
    field.kind().is_some() || [Price, Stock, Rotation, F50, F120, F300, F1k, F10k, F100k].contains(&field)
}

/// The decimal mark on which all columns with figures agree.
fn file_decimal(table: &Table, meanings: &[Option<(Field, ColumnMeaning)>]) -> Decimal {
    let figures = |at: &usize| matches!(meanings.get(*at), Some(Some((field, _))) if is_quantity(*field));
    let cells = (0..table.header.len()).filter(figures).flat_map(|at| samples(table, at));
    column_decimal(cells)
}

fn prepare(
    header: &str,
    field: Field,
    meaning: &ColumnMeaning,
    mapping: &Mapping,
    file: Decimal,
    cells: &[&str],
) -> Column {
    let counted = if field == Field::Stock { count::column_decimal(cells) } else { Decimal::Unknown };
    let decimal = match (meaning.decimal.or(mapping.decimal), is_quantity(field)) {
        (Some(decimal), _) => decimal,
        (None, _) if counted != Decimal::Unknown => counted,
        (None, true) => match column_decimal(cells.iter().copied()) {
            // `1,210` among 865 and 405 is no figure with three decimals, whatever the mark of the other columns.
            Decimal::Unknown if groups_among_integers(cells, file) || thousandfold(field, header, cells, file) => {
                Decimal::Unknown
            }
            Decimal::Unknown => file,
            known => known,
        },
        (None, false) => file,
    };
    // `Size ØDxL(mm)`: the hints read the unit, whatever the column measures.
    let said = hints(header);
    let mut column = match field.kind() {
        Some(kind) => said.column(kind, header, decimal),
        None => Column { decimal, hz: said.hz, temp_c: said.temp_c, ..Column::default() },
    };
    if field.kind() == Some(Kind::Share) && field != Field::TanDelta && column.unit.is_none() {
        column.unit = share_unit(cells);
    }
    if matches!(field, Field::Size | Field::Footprint) && column.unit.is_none() && header.to_lowercase().contains("mm")
    {
        column.unit = Some(Unit::Millimetre);
    }
    if column.unit.is_none() {
        column.unit = length_unit(field, cells);
    }
    if column.unit.is_none() {
        // `Ripple current 100 Hz 105 °C A`: the unit is the last word.
        let last = header.split_whitespace().last().filter(|last| *last != header).and_then(Unit::parse);
        column.unit = last.filter(|unit| Some(unit.kind()) == field.kind());
    }
    if column.unit.is_none() && matches!(field, Field::Ripple | Field::Endurance) {
        // `A rms`: a unit among the words.
        let words = header.split(|c: char| !c.is_alphanumeric()).filter_map(Unit::parse);
        let units: Vec<Unit> = words.filter(|unit| Some(unit.kind()) == field.kind()).collect();
        column.unit = if let [one] = units.as_slice() { Some(*one) } else { None };
    }
    column.unit = meaning.unit.or(column.unit);
    column.hz = meaning.hz.or(column.hz);
    column.temp_c = meaning.temp_c.or(column.temp_c);
    column.order = mapping.size_order.unwrap_or_else(|| header_order(header));
    column
}

/// Whether the mark before three digits makes figures that no part has, a thousandth of what parts have: ripple currents of a few
/// milliamperes, endurances of a few hours.
fn thousandfold(field: Field, header: &str, cells: &[&str], file: Decimal) -> bool {
    const RIPPLE_LEAST_MA: f64 = 5.0;
    const ENDURANCE_LEAST_H: f64 = 100.0;
    let Some(mark) = file.mark() else { return false };
    let least = match field {
        Field::Ripple if hints(header).units.contains(&Unit::Milliampere) => RIPPLE_LEAST_MA,
        Field::Endurance => ENDURANCE_LEAST_H,
        _ => return false,
    };
    cells.iter().any(|cell| {
        let figure: String = cell.trim().chars().take_while(|c| c.is_ascii_digit() || *c == mark).collect();
        let grouped = figure.split_once(mark).is_some_and(|(_, behind)| behind.len() == 3);
        grouped && figure.replace(mark, ".").parse().is_ok_and(|value: f64| value < least)
    })
}

/// Whether a column of plain integers has cells in which the decimal mark of the file stands before three digits, as a thousands mark
/// would: then nothing says which it is.
fn groups_among_integers(cells: &[&str], file: Decimal) -> bool {
    let Some(mark) = file.mark() else { return false };
    let number = |cell: &str| -> String {
        cell.trim().chars().take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ',')).collect()
    };
    let numbers: Vec<String> = cells.iter().map(|cell| number(cell)).filter(|number| !number.is_empty()).collect();
    let grouped = |number: &&String| {
        let mut groups = number.split(mark);
        let first = groups.next().unwrap_or_default();
        let behind: Vec<&str> = groups.collect();
        (1..=3).contains(&first.len()) && !first.starts_with('0') && behind.len() == 1 && behind[0].len() == 3
    };
    let integer = |number: &&String| number.chars().all(|c| c.is_ascii_digit()) && number.len() >= 2;
    numbers.iter().any(|number| grouped(&number)) && numbers.iter().any(|number| integer(&number))
}

/// Whether the bare figures of a tolerance column are percent or shares of one: no electrolytic has a tolerance of 2000 % or of 0.2 %.
fn share_unit(cells: &[&str]) -> Option<Unit> {
    let figures: Vec<f64> = cells.iter().filter_map(|cell| cell.trim().replace(',', ".").parse().ok()).collect();
    if figures.iter().any(|figure| *figure > 3.0) {
        Some(Unit::Percent)
    } else if !figures.is_empty() && figures.iter().all(|figure| (0.03..=1.0).contains(figure)) {
        Some(Unit::Ratio)
    } else {
        None
    }
}

/// The unit of bare dimensions of bodies and leads: that of the other cells of the column, else the only one in which all figures are
/// dimensions of cans that exist (a can of 10 mil or 10 inch does not).
fn length_unit(field: Field, cells: &[&str]) -> Option<Unit> {
    let possible_mm = match field {
        Field::Diameter | Field::DiameterMax => 2.5..=120.0,
        Field::Height | Field::HeightMax => 3.0..=260.0,
        Field::Pitch => 1.0..=60.0,
        _ => return None,
    };
    // No list gives bodies in mils without saying so.
    let units = [Unit::Millimetre, Unit::Inch];
    let lower: Vec<String> = cells.iter().map(|cell| cell.to_lowercase()).collect();
    let says = |cell: &String, unit: Unit| {
        cell.trim_end().ends_with(unit.symbol()) || (unit == Unit::Inch && cell.contains('"'))
    };
    let written: Vec<Unit> = units.into_iter().filter(|unit| lower.iter().any(|cell| says(cell, *unit))).collect();
    if let [one] = written.as_slice() {
        return Some(*one);
    }
    let figures: Vec<f64> = lower.iter().filter_map(|cell| cell.trim().replace(',', ".").parse().ok()).collect();
    let fits = |unit: &Unit| {
        let mm = if *unit == Unit::Inch { 25.4 } else { 1.0 };
        figures.iter().filter(|figure| **figure > 0.0).all(|figure| possible_mm.contains(&(figure * mm)))
    };
    let fitting: Vec<Unit> = units.into_iter().filter(fits).collect();
    match fitting.as_slice() {
        [one] if !figures.is_empty() && written.is_empty() => Some(*one),
        _ => None,
    }
}
