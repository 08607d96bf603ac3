//! Tables of two axes: voltages over the columns, capacitances before the rows (or the other way round), and in each cell a size, a ripple
//! current, a part number. Such a table is unfolded into one row for each cell, and then read like any list.
//!
//! What the cells mean comes from the words over the table or from the cells themselves; where nothing says it, the column is left
//! without a meaning and every row is refused with that reason.

use super::field::{Field, Target};
use super::naming::named;
use super::pairs::VOLTAGES;
use super::shape::{is_number, share};
use crate::files::cell::clean::is_nothing;
use crate::files::cell::header::hints;
use crate::files::cell::order::header_order;
use crate::files::cell::unit::{Kind, Unit};
use crate::files::cell::{Column, Order, Reading, esr, ripple, size, voltage};
use crate::files::table::{Layout, Note, Row, Table};

/// Header of cells whose meaning nothing says.
pub(super) const CELLS: &str = "cells of the table";
/// Why rows with such cells are refused, and what to do.
pub(super) const UNSAID: &str = "a table of capacitances against voltages whose cells nothing explains: say what they are, here or in a line over the table, \
     for instance `Ripple current (mA rms, 105 °C, 120 Hz)`";

/// Most rows that unfolding may give.
const MOST_ROWS: usize = 200_000;
/// Most figures in a cell that are told apart.
const MOST_PIECES: usize = 4;

/// Whether bare figures over columns are voltages when all are such; 220 alone is a capacitance.
fn is_rated(volts: f64) -> bool {
    VOLTAGES.contains(&volts) || [2.0, 220.0].contains(&volts)
}

/// A column that stands under a figure of the axis.
struct Under {
    at: usize,
    value: f64,
    kind: Option<Kind>,
    /// The figure as written, with its unit.
    figure: String,
    /// What the column holds, in the second line of the header.
    rest: String,
}

/// `16 V`, `6,3V (0J)`, `WV 10`, `25 DxL`, `100 µF`.
fn under(at: usize, name: &str) -> Option<Under> {
    let name = name.trim();
    let digits = name.find(|c: char| c.is_ascii_digit())?;
    let before: String = name[..digits].chars().filter(|c| c.is_alphanumeric()).collect();
    if before.chars().count() > 4 || !(before.is_empty() || is_voltage_word(&before)) {
        return None;
    }
    let text = &name[digits..];
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ','))).unwrap_or(text.len());
    let value = text[..end].replace(',', ".").parse::<f64>().ok().filter(|value| *value > 0.0)?;
    let mut rest = text[end..].trim_start();
    let letters = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
    let mut kind = (!before.is_empty()).then_some(Kind::Voltage);
    let mut figure = text[..end].to_owned();
    match Unit::parse(&rest[..letters]).map(Unit::kind) {
        Some(found @ (Kind::Voltage | Kind::Capacitance)) => {
            kind = Some(found);
            figure = format!("{figure} {}", &rest[..letters]);
            rest = &rest[letters..];
        }
        // A unit alone under a voltage says what the column holds.
        Some(Kind::Current | Kind::Resistance) | None => {}
        Some(_) => return None,
    }
    let code = rest.trim_start().strip_prefix('(').and_then(|code| code.split_once(')'));
    if let Some((_, behind)) = code.filter(|(code, _)| voltage::of_code(code.trim()).is_some()) {
        (kind, rest) = (Some(Kind::Voltage), behind);
    }
    // A number behind a repeated name, and a code without brackets.
    let numbered = rest.trim_end().strip_suffix(')').and_then(|rest| rest.rsplit_once('('));
    let rest = numbered.filter(|(_, of)| of.bytes().all(|b| b.is_ascii_digit())).map_or(rest, |(rest, _)| rest);
    let first = rest.split_whitespace().next().filter(|code| code.len() == 2 && voltage::of_code(code) == Some(value));
    let rest = first.map_or(rest, |code| &rest.trim_start()[code.len()..]);
    let rest = rest.trim_matches(|c: char| c.is_whitespace() || matches!(c, '-' | ':' | '/' | ','));
    Some(Under { at, value, kind, figure, rest: rest.to_owned() })
}

fn is_voltage_word(word: &str) -> bool {
    matches!(word.to_lowercase().as_str(), "v" | "wv" | "vdc" | "wvdc" | "vr" | "ur" | "un" | "u" | "rv")
}

/// What stands before the rows.
#[derive(Clone, Copy, PartialEq)]
enum Rows {
    Capacitances,
    Voltages,
}

/// A table of two axes unfolded; `None` for any other table.
pub(super) fn unfolded(table: &Table) -> Option<Table> {
    let axis: Vec<Under> = table.header.iter().enumerate().filter_map(|(at, name)| under(at, name)).collect();
    let before: Vec<usize> = (0..table.header.len()).filter(|at| axis.iter().all(|column| column.at != *at)).collect();
    let mut values: Vec<f64> = axis.iter().map(|column| column.value).collect();
    values.dedup();
    let rising = values.is_sorted_by(|a, b| a < b);
    if values.len() < 2 || !rising || before.is_empty() || table.rows.len().saturating_mul(values.len()) > MOST_ROWS {
        return None;
    }
    let (rows, label) = rows_of(table, &before, &axis)?;
    let context = context(table, label);
    let groups: Vec<Vec<&Under>> =
        values.iter().map(|value| axis.iter().filter(|column| column.value == *value).collect()).collect();
    let mut rests: Vec<&str> = Vec::new();
    axis.iter().for_each(|column| rests.extend(Some(column.rest.as_str()).filter(|rest| !rests.contains(rest))));
    let blocks: Vec<Block> = rests.iter().map(|rest| Block::new(table, &axis, rest, &context)).collect();

    let mut header: Vec<String> = before.iter().map(|&at| table.header[at].clone()).collect();
    let place = before.iter().position(|&at| at == label)?;
    header[place] = row_header(&table.header[label], rows, &context);
    header.push(column_header(&axis, rows, &context));
    header.extend(blocks.iter().flat_map(|block| block.header.iter().cloned()));
    let (mut unfolded, mut texts) = (Vec::new(), Vec::new());
    for row in &table.rows {
        let cell = |at: usize| row.cells.get(at).map_or("", String::as_str);
        // Titles between the rows have no capacitance and no cells.
        if before.iter().chain(axis.iter().map(|column| &column.at)).filter(|&&at| !cell(at).is_empty()).count() < 2 {
            let text = row.cells.iter().filter(|cell| !cell.is_empty()).cloned().collect::<Vec<_>>().join(" ");
            texts.push(Note { line: row.line, text: format!("a line of text inside the table: {text}") });
            continue;
        }
        for group in &groups {
            let mut cells: Vec<String> = before.iter().map(|&at| cell(at).to_owned()).collect();
            cells.push(group[0].figure.clone());
            for block in &blocks {
                cells.extend(
                    block.cells(&joined(row, group.iter().copied().filter(|column| column.rest == block.rest))),
                );
            }
            unfolded.push(Row { line: row.line, cells });
        }
    }
    let mut out = Table { header, rows: unfolded, ..table.clone() };
    let text = format!(
        "a table of {} columns of {} against rows of {}: read as one row for each cell",
        values.len(),
        if rows == Rows::Capacitances { "voltages" } else { "capacitances" },
        if rows == Rows::Capacitances { "capacitances" } else { "voltages" },
    );
    out.notes.append(&mut texts);
    out.notes.push(Note { line: table.found.header_line.unwrap_or(1), text });
    Some(out)
}

/// What the rows are, and the column that says which; `None` when this is a list with another meaning.
fn rows_of(table: &Table, before: &[usize], axis: &[Under]) -> Option<(Rows, usize)> {
    let field = |at: usize| named(&table.header[at], Target::Parts).map(|(field, _)| field);
    let with =
        |wanted: &[Field]| before.iter().copied().find(|&at| field(at).is_some_and(|field| wanted.contains(&field)));
    let designators =
        before.iter().any(|&at| matches!(named(&table.header[at], Target::Positions), Some((Field::Designator, _))));
    if designators || with(&[Field::PartNumber, Field::Price, Field::Ripple, Field::Size]).is_some() {
        return None;
    }
    let kind = match axis.iter().filter_map(|column| column.kind).collect::<Vec<_>>().as_slice() {
        [] => None,
        [first, others @ ..] if others.iter().all(|other| other == first) => Some(*first),
        _ => return None,
    };
    let all_voltages = axis.iter().all(|column| is_rated(column.value));
    let corner = table.header[before[0]].to_lowercase();
    let corner_both = {
        let words: Vec<&str> = corner.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
        let volt = words.iter().any(|word| is_voltage_word(word) || word.starts_with("volt") || *word == "spannung");
        let farad = words.iter().any(|word| {
            word.starts_with("cap") || word.starts_with("kapaz") || matches!(*word, "c" | "uf" | "µf" | "μf" | "f")
        });
        volt && farad
    };
    let cells = |at: usize| super::shape::samples(table, at);
    let farads = with(&[Field::Capacitance, Field::Value]).filter(|_| !corner_both);
    let volts = with(&[Field::RatedV]).filter(|_| !corner_both);
    match (farads, volts, kind) {
        (Some(at), None, Some(Kind::Voltage)) => Some((Rows::Capacitances, at)),
        (Some(at), None, None) if all_voltages => Some((Rows::Capacitances, at)),
        // Impedance ratios stand against voltages, too, with words before their rows.
        (None, Some(at), Some(Kind::Capacitance) | None)
            if share(&cells(at), |cell| cell.starts_with(|c: char| c.is_ascii_digit())) > 0.5 =>
        {
            Some((Rows::Voltages, at))
        }
        // `Voltage | 10V | 16V` over `22uF | ...`: the corner names the axis over the columns.
        (None, Some(at), Some(Kind::Voltage)) if share(&cells(at), is_capacitance_or_number) > 0.8 => {
            Some((Rows::Capacitances, at))
        }
        (None, None, Some(Kind::Voltage)) if share(&cells(before[0]), is_capacitance_or_number) > 0.8 => {
            Some((Rows::Capacitances, before[0]))
        }
        // Printed tables may have no word in their corner; figures that no voltages are, such as 0.1 and 22000, are capacitances.
        (None, None, None)
            if table.found.layout == Layout::Printed
                && table.header[before[0]].starts_with("column ")
                && all_voltages
                && share(&cells(before[0]), is_number) > 0.99
                && share(&cells(before[0]), is_voltage) < 0.5 =>
        {
            Some((Rows::Capacitances, before[0]))
        }
        (None, None, None) if corner_both && all_voltages => {
            // Both axes could be voltages: then the name written first is that of the rows.
            let of_rows = cells(before[0]);
            let rows_voltages = share(&of_rows, is_voltage) > 0.99;
            let volts_first =
                corner.trim_start().starts_with(['v', 'w', 'u']) && !corner.trim_start().starts_with("uf");
            Some((if rows_voltages && volts_first { Rows::Voltages } else { Rows::Capacitances }, before[0]))
        }
        (None, None, Some(Kind::Capacitance) | None) if corner_both => Some((Rows::Voltages, before[0])),
        _ => None,
    }
}

/// A figure that capacitors are rated at.
fn is_voltage(cell: &str) -> bool {
    let bare = cell.trim_end_matches(['V', 'v', ' ']).replace(',', ".");
    bare.parse().is_ok_and(is_rated)
}

fn is_capacitance_or_number(cell: &str) -> bool {
    is_number(cell) || super::shape::is_capacitance(cell)
}

/// The words over the table and in its corner, also taken apart at marks outside brackets.
fn context(table: &Table, label: usize) -> Vec<String> {
    let lines = table.preamble.iter().map(|note| note.text.as_str()).chain([table.header[label].as_str()]);
    let mut texts: Vec<String> = Vec::new();
    for line in lines {
        let line = line.trim_start_matches('#').trim();
        texts.push(line.to_owned());
        let own = parts(line, &['/', ';', '|', '\\', ':']);
        texts.extend(own.iter().filter(|part| **part != line).map(|part| (*part).to_owned()));
    }
    texts.retain(|text| !text.is_empty() && text.chars().count() <= 120);
    texts
}

/// A unit of `kind` somewhere in the context, when only one is there.
fn unit_in(context: &[String], kind: Kind) -> Option<Unit> {
    let mut units: Vec<Unit> = Vec::new();
    for unit in context.iter().flat_map(|text| hints(text).units).filter(|unit| unit.kind() == kind) {
        if !units.contains(&unit) {
            units.push(unit);
        }
    }
    if let [one] = units[..] { Some(one) } else { None }
}

fn capacitance_header(context: &[String]) -> String {
    unit_in(context, Kind::Capacitance)
        .map_or_else(|| "Capacitance".to_owned(), |unit| format!("Capacitance ({})", unit.symbol()))
}

fn row_header(own: &str, rows: Rows, context: &[String]) -> String {
    let wanted = if rows == Rows::Capacitances { Field::Capacitance } else { Field::RatedV };
    match named(own, Target::Parts) {
        Some((field, _)) if field == wanted && !own.contains(['\\', '/']) => own.to_owned(),
        _ if rows == Rows::Capacitances => capacitance_header(context),
        _ => "Rated voltage (V)".to_owned(),
    }
}

fn column_header(axis: &[Under], rows: Rows, context: &[String]) -> String {
    if rows == Rows::Capacitances {
        return "Rated voltage (V)".to_owned();
    }
    if axis.iter().all(|column| column.kind == Some(Kind::Capacitance)) {
        "Capacitance".to_owned()
    } else {
        capacitance_header(context)
    }
}

/// What stands under one figure, the cells of its columns below each other.
fn joined<'a>(row: &Row, columns: impl Iterator<Item = &'a Under>) -> String {
    let cells: Vec<&str> = columns.filter_map(|column| row.cells.get(column.at)).map(String::as_str).collect();
    if cells.iter().all(|cell| is_nothing(cell)) { String::new() } else { cells.join("\n") }
}

/// The columns that one kind of cell becomes.
struct Block<'a> {
    rest: &'a str,
    header: Vec<String>,
}

impl<'a> Block<'a> {
    fn new(table: &Table, axis: &[Under], rest: &'a str, context: &[String]) -> Self {
        let columns: Vec<&Under> = axis.iter().filter(|column| column.rest == rest).collect();
        let own: Vec<&[&Under]> = columns.chunk_by(|a, b| a.value == b.value).collect();
        let texts = table.rows.iter().flat_map(|row| own.iter().map(|group| joined(row, group.iter().copied())));
        let filled: Vec<String> = texts.filter(|cell| !is_nothing(cell)).collect();
        let count = filled.iter().map(|cell| pieces(cell).len()).max().unwrap_or(1);
        let even = count <= MOST_PIECES && filled.iter().all(|cell| pieces(cell).len() == count);
        let names: Vec<&str> = rest.split([' ', '/']).filter(|name| !name.is_empty()).collect();
        if even && count > 1 && names.len() == count {
            return Self { rest, header: names.into_iter().map(|name| named_rest(name, context)).collect() };
        }
        if !rest.is_empty() {
            return Self { rest, header: vec![named_rest(rest, context)] };
        }
        if !even {
            return Self { rest, header: vec![CELLS.to_owned()] };
        }
        let split: Vec<Vec<&str>> = filled.iter().map(|cell| pieces(cell)).collect();
        let sizes: Vec<bool> = (0..count).map(|at| looks(&column(&split, at)) == Looks::Sizes).collect();
        let legend = legend(table, &sizes);
        let numbers = (0..count).filter(|&at| looks(&column(&split, at)) == Looks::Numbers).count();
        let mut header: Vec<String> = Vec::new();
        for at in 0..count {
            let mut name = match looks(&column(&split, at)) {
                Looks::Sizes if told_order(context) == Order::DiameterFirst => "Size DxL (mm)".to_owned(),
                Looks::Sizes if told_order(context) == Order::HeightFirst => "Size LxD (mm)".to_owned(),
                Looks::Sizes => "Size (mm)".to_owned(),
                Looks::Ripples => told(context, Field::Ripple).unwrap_or_else(|| "Ripple current".to_owned()),
                Looks::Resistances => told(context, Field::Esr).unwrap_or_else(|| "ESR".to_owned()),
                Looks::PartNumbers => "Part number".to_owned(),
                Looks::Numbers if legend.is_some() => {
                    legend.as_ref().map_or_else(String::new, |names| names[at].clone())
                }
                Looks::Numbers if numbers == 1 => told_figures(context).unwrap_or_else(|| CELLS.to_owned()),
                Looks::Numbers | Looks::Unclear => CELLS.to_owned(),
            };
            while header.contains(&name) {
                name.push_str(", second");
            }
            header.push(name);
        }
        Self { rest, header }
    }

    /// The cells of one field of the table, one for each column.
    fn cells(&self, cell: &str) -> Vec<String> {
        if self.header.len() == 1 {
            return vec![cell.to_owned()];
        }
        let parts = if is_nothing(cell) { Vec::new() } else { pieces(cell) };
        (0..self.header.len()).map(|at| parts.get(at).map_or_else(String::new, |part| (*part).to_owned())).collect()
    }
}

/// What each of several figures in a cell is, in their order, where the words around the table name as many: `Case size φD×L (mm) /
/// Impedance (Ω) / Ripple current (mA)`, in one line.
fn legend(table: &Table, sizes: &[bool]) -> Option<Vec<String>> {
    const MEANT: [Field; 5] = [Field::Size, Field::Ripple, Field::Esr, Field::TanDelta, Field::Leakage];
    let of = |note: &Note| {
        let mut all: Vec<(Field, String)> = Vec::new();
        for part in parts(&note.text, &['/', ';', ',']) {
            match named(part, Target::Parts).map(|(field, _)| field).filter(|field| MEANT.contains(field)) {
                Some(field) => all.push((field, part.to_owned())),
                // Conditions belong to the name before them.
                None => all.last_mut().into_iter().for_each(|(_, name)| *name = format!("{name}, {part}")),
            }
        }
        let differ = (1..all.len()).all(|at| all[..at].iter().all(|(field, _)| *field != all[at].0));
        // The order is told only where the sizes stand where it says.
        let placed = all.iter().map(|(field, _)| *field == Field::Size).eq(sizes.iter().copied());
        (sizes.len() > 1 && differ && placed).then(|| all.into_iter().map(|(_, name)| name).collect())
    };
    table.preamble.iter().find_map(of)
}

/// A text taken apart at marks outside brackets and at `and`.
fn parts<'a>(line: &'a str, marks: &[char]) -> Vec<&'a str> {
    let (mut parts, mut depth, mut start) = (Vec::new(), 0_i32, 0);
    for (at, c) in line.char_indices() {
        let and = line[at..].starts_with(" and ");
        match c {
            '(' | '[' => depth += 1,
            ')' | ']' => depth -= 1,
            c if depth <= 0 && (and || marks.contains(&c)) => {
                parts.push(line[start..at].trim());
                start = at + if and { 5 } else { c.len_utf8() };
            }
            _ => {}
        }
    }
    parts.push(line[start..].trim());
    parts.retain(|part| !part.is_empty());
    parts
}

/// `5×11 / 130`, `5x11 (130)`, two lines in one cell.
fn pieces(cell: &str) -> Vec<&str> {
    let parts: Vec<&str> =
        cell.split(['/', '\n', ';', '|', '(', ')']).map(str::trim).filter(|part| !part.is_empty()).collect();
    if parts.is_empty() { vec![cell] } else { parts }
}

fn column<'a>(split: &[Vec<&'a str>], at: usize) -> Vec<&'a str> {
    split.iter().filter_map(|parts| parts.get(at).copied()).collect()
}

#[derive(PartialEq)]
enum Looks {
    Sizes,
    Ripples,
    Resistances,
    PartNumbers,
    Numbers,
    Unclear,
}

fn looks(cells: &[&str]) -> Looks {
    const MOST: f64 = 0.9;
    let open = Column { order: Order::DiameterFirst, ..Column::default() };
    let is_size = |cell: &str| match size::read(cell, &open) {
        Reading::Value(size) => size.diameter_mm.is_some() && size.height_mm.is_some(),
        Reading::Ambiguous { options, .. } => options.iter().all(|size| size.height_mm.is_some()),
        _ => false,
    };
    let part_number = |cell: &str| {
        let has = |of: fn(&char) -> bool| cell.chars().any(|c| of(&c));
        cell.len() >= 5 && !cell.contains(' ') && has(char::is_ascii_alphabetic) && has(char::is_ascii_digit)
    };
    let is_ripple = |cell: &str| matches!(ripple::read(cell, &open), Reading::Value(_));
    let is_resistance = |cell: &str| matches!(esr::read(cell, &open), Reading::Value(_));
    let all = [
        (Looks::Numbers, &is_number as &dyn Fn(&str) -> bool),
        (Looks::Sizes, &is_size),
        (Looks::Ripples, &is_ripple),
        (Looks::Resistances, &is_resistance),
        (Looks::PartNumbers, &part_number),
    ];
    let found = all.into_iter().find(|(_, looks)| !cells.is_empty() && share(cells, looks) >= MOST);
    found.map_or(Looks::Unclear, |(looks, _)| looks)
}

fn told_order(context: &[String]) -> Order {
    context.iter().map(|text| header_order(text)).find(|order| *order != Order::Unknown).unwrap_or(Order::Unknown)
}

/// The text over the table that names `field` with a unit or a condition.
fn told(context: &[String], field: Field) -> Option<String> {
    let says = |text: &&String| {
        let found = hints(text);
        named(text, Target::Parts).is_some_and(|(of, _)| of == field)
            && (found.hz.is_some() || found.units.iter().any(|unit| Some(unit.kind()) == field.kind()))
    };
    // The shortest is the text about this figure and nothing else.
    context.iter().filter(says).min_by_key(|text| (hints(text).hz.is_none(), text.chars().count())).cloned()
}

/// What bare figures in the cells are: the one thing with a unit that the words over the table name.
fn told_figures(context: &[String]) -> Option<String> {
    let found: Vec<String> = [Field::Ripple, Field::Esr, Field::TanDelta, Field::Leakage, Field::Endurance]
        .into_iter()
        .filter_map(|field| told(context, field))
        .collect();
    if let [one] = found.as_slice() { Some(one.clone()) } else { None }
}

/// A name under the axis; one without unit and condition takes those of the text over the table that speaks of the same figure.
fn named_rest(rest: &str, context: &[String]) -> String {
    let own = hints(rest);
    let field = named(rest, Target::Parts).map(|(field, _)| field);
    // `Ripple A`: the unit is the last word.
    let last = rest
        .split_whitespace()
        .last()
        .and_then(Unit::parse)
        .filter(|unit| field.and_then(Field::kind) == Some(unit.kind()));
    let bare = own.units.is_empty() && own.hz.is_none() && last.is_none();
    match field {
        Some(Field::Size) if header_order(rest) == Order::Unknown && told_order(context) != Order::Unknown => {
            let order = if told_order(context) == Order::DiameterFirst { "DxL" } else { "LxD" };
            format!("{rest} {order}")
        }
        Some(field) if bare && field != Field::Size => told(context, field).unwrap_or_else(|| rest.to_owned()),
        Some(field @ (Field::Ripple | Field::Esr)) if own.hz.is_none() => {
            let said = told(context, field).filter(|text| hints(text).hz.is_some());
            said.map_or_else(|| rest.to_owned(), |said| format!("{rest} ({said})"))
        }
        _ => rest.to_owned(),
    }
}
