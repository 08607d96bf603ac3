//! Rows copied from a spreadsheet, as changes to positions.

use std::path::Path;
use std::sync::LazyLock;

use super::cell::{Column, Reading, capacitance, text, voltage};
use super::import::other_kind as kind;
use super::table::{self, Known, Options, TableError};
use super::{Rejected, Unused, designators, entry};
use crate::domain::schema::{self, Field, OTHER_PART, PHASE, RIPPLE_LINE};
use crate::domain::{Board, OtherKind, OtherPart, Phase, Position, RippleLine};

/// Most rows taken from one paste.
const ROWS_MAX: usize = 10_000;

/// What came of a paste.
#[derive(Debug, Clone, PartialEq)]
pub struct Pasted {
    /// The board with the rows in it.
    pub board: Board,
    /// Positions and other parts that are new.
    pub added: usize,
    /// Positions and other parts that were there and are changed.
    pub changed: usize,
    /// What each column was taken for, in order: its header and the field.
    pub columns: Vec<(String, &'static str)>,
    /// What was not used.
    pub refused: Vec<Rejected>,
}

/// Names in headers with the fields they mean: of a position, and of those only other parts have.
static NAMES: LazyLock<[Vec<(&str, &str)>; 2]> = LazyLock::new(|| {
    let (positions, others) = include_str!("paste.txt").split_once("[other part]").unwrap_or_default();
    [positions, others].map(|section| {
        let fields = section.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(" = "));
        fields.flat_map(|(field, names)| names.split(" | ").map(move |name| (name, field))).collect()
    })
});

/// The field of a name in a header, among those of a position (0) or of other parts (1).
fn named(of: usize, name: &str) -> Option<&'static str> {
    NAMES[of].iter().find(|(known, _)| *known == name).map(|(_, field)| *field)
}

/// The field of another part by its path or a header.
fn other_field(name: &str) -> Option<&'static Field<OtherPart>> {
    let letters: String = name.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect();
    let path = named(1, &letters).unwrap_or(name);
    let path = if path == "pick" { "replacement.part_number" } else { path };
    OTHER_PART.iter().find(|field| field.path.strip_prefix("other_parts.") == Some(path))
}

/// What kind of other part a row is about, by its designator and its words.
fn other_kind(row: &table::Row, reference: &str) -> Option<OtherKind> {
    let words: Vec<&str> = row.cells.iter().map(String::as_str).filter(|cell| *cell != reference).collect();
    kind(&[reference.to_owned()], &words)
}

/// The field a header names; the unit behind it, in brackets or after a blank, does not matter.
fn field_of(header: &str) -> Option<&'static str> {
    let lower = header.trim().to_lowercase();
    let of_position = schema::of_position().map(|field| field.path);
    let mut paths = of_position.chain(RIPPLE_LINE.iter().map(|f| f.path)).chain(PHASE.iter().map(|f| f.path));
    if let Some(name) = paths.find(|name| *name == lower) {
        return Some(name);
    }
    let bare = lower.split(['(', '[', ',']).next().unwrap_or_default();
    let letters: String = bare.chars().filter(|c| c.is_alphanumeric()).collect();
    let trimmed = ["µf", "uf", "mm", "degc", "°c"].iter().find_map(|unit| letters.strip_suffix(unit));
    named(0, &letters).or_else(|| named(0, trimmed.filter(|rest| !rest.is_empty())?))
}

/// What a column without a header holds, from its cells.
fn guess(cells: &[&str], taken: &[&'static str]) -> Option<&'static str> {
    let filled: Vec<&str> = cells.iter().copied().filter(|cell| !cell.trim().is_empty()).collect();
    let all = |holds: &dyn Fn(&str) -> bool| !filled.is_empty() && filled.iter().all(|cell| holds(cell));
    let free = |name: &'static str| (!taken.contains(&name)).then_some(name);
    let column = Column::default();
    let is_reference = |cell: &str| {
        let found = designators::read(cell, None);
        let digits = cell.chars().any(|c| c.is_ascii_digit());
        found.count() == 1 && digits && cell.starts_with(|c: char| c.is_ascii_alphabetic()) && !cell.contains(' ')
    };
    let is_description = |cell: &str| {
        let found = text::find(cell, &column);
        let read = |reading: &Reading<f64>| matches!(reading, Reading::Value(_));
        read(&found.capacitance_uf) && read(&found.rated_v)
    };
    if all(&is_reference) {
        free("ref")
    } else if all(&|cell| matches!(capacitance::read(cell, &column), Reading::Value(_))) {
        free("original.capacitance_uf")
    } else if all(&|cell| matches!(voltage::read(cell, &column), Reading::Value(_))) {
        free("original.rated_v")
    } else if all(&is_description) {
        free("original.label")
    } else {
        None
    }
}

fn is_header(cells: &[&str]) -> bool {
    let fields: Vec<Option<&str>> = cells.iter().map(|cell| field_of(cell)).collect();
    let known = fields.iter().flatten().count();
    known == fields.len() || known * 2 >= fields.len() && fields.contains(&Some("ref"))
}

/// Puts rows of `text` into a copy of `board`: a known reference is changed, a new one is added, a row without any is refused.
///
/// # Errors
/// When the text holds no table.
pub fn paste(text: &str, board: &Board) -> Result<Pasted, TableError> {
    let first: Vec<&str> = text.lines().next().unwrap_or_default().split('\t').collect();
    let header_line = if is_header(&first) { None } else { Some(0) };
    let known = Known::new(NAMES[0].iter().map(|(name, _)| *name));
    let separator = text.contains('\t').then_some(table::Separator::Tab);
    let options = Options { separator, header_line, ..Options::default() };
    let table = table::read_text(text, &known, &options)?.into_iter().next().ok_or(TableError::Empty)?;
    let mut taken: Vec<&'static str> = Vec::new();
    let mut columns = Vec::new();
    let mut out = Pasted { board: board.clone(), added: 0, changed: 0, columns: Vec::new(), refused: Vec::new() };
    let names_other = |row: &table::Row| row.cells.iter().any(|cell| other_kind(row, cell.trim()).is_some());
    let others = table.rows.iter().any(names_other);
    for (at, header) in table.header.iter().enumerate() {
        let cells: Vec<&str> = table.rows.iter().filter_map(|row| row.cells.get(at)).map(String::as_str).collect();
        let of_others = || other_field(header).filter(|_| others).map(|field| field.path);
        let field = field_of(header).or_else(of_others).filter(|name| !taken.contains(name));
        let field = field.or_else(|| guess(&cells, &taken));
        match field {
            Some(field) => {
                taken.push(field);
                out.columns.push((header.clone(), field));
            }
            None if cells.iter().all(|cell| cell.trim().is_empty()) => {}
            None => {
                let (line, value) = (table.found.header_line.unwrap_or(1), cells.first().copied().unwrap_or_default());
                let reason = "it is not clear what this column holds; give it a header";
                out.refused.push(Rejected { unused: Unused::Unclear, ..refused(line, header, value, reason) });
            }
        }
        columns.push(field);
    }
    for row in table.rows.iter().take(ROWS_MAX) {
        take_row(row, &table.header, &columns, &mut out);
    }
    if let Some(row) = table.rows.get(ROWS_MAX) {
        let reason = format!("only the first {ROWS_MAX} rows were taken");
        out.refused.push(refused(row.line, "", "", reason));
    }
    Ok(out)
}

fn take_row(row: &table::Row, header: &[String], columns: &[Option<&'static str>], out: &mut Pasted) {
    let cell_of = |name: &str| columns.iter().position(|c| *c == Some(name)).and_then(|at| row.cells.get(at));
    let references = cell_of("ref").map(|cell| designators::read(cell, None).refs).unwrap_or_default();
    if references.is_empty() {
        let reason = "the row names no position; a column with references such as C12 is needed";
        out.refused.push(refused(row.line, "ref", &row.cells.join(" "), reason));
        return;
    }
    for (copy, reference) in references.into_iter().enumerate() {
        let at = out.board.positions.iter().position(|p| p.reference == reference);
        let known = out.board.other_parts.iter().position(|part| part.reference == reference);
        let kind = other_kind(row, &reference);
        let told = copy == 0;
        if at.is_none() && (known.is_some() || kind.is_some()) {
            let new = || OtherPart { reference, kind, ..OtherPart::default() };
            let mut part = known.map_or_else(new, |at| out.board.other_parts[at].clone());
            each_cell(row, header, columns, told, &mut out.refused, |name, cell| set_other(&mut part, name, cell));
            put(&mut out.board.other_parts, known, part, &mut out.added, &mut out.changed);
        } else {
            let new = || Position { reference, ..Position::default() };
            let mut position = at.map_or_else(new, |at| out.board.positions[at].clone());
            each_cell(row, header, columns, told, &mut out.refused, |name, cell| set(&mut position, name, cell));
            put(&mut out.board.positions, at, position, &mut out.added, &mut out.changed);
        }
    }
}

/// Puts a changed copy at its place, or a new one at the end.
fn put<T: PartialEq>(list: &mut Vec<T>, at: Option<usize>, item: T, added: &mut usize, changed: &mut usize) {
    match at {
        Some(at) if list[at] != item => {
            list[at] = item;
            *changed += 1;
        }
        Some(_) => {}
        None => {
            list.push(item);
            *added += 1;
        }
    }
}

/// A cell or row of the paste that is not used.
fn refused(line: usize, column: &str, value: &str, reason: impl Into<String>) -> Rejected {
    Rejected::new(Path::new("pasted"), line as u64, column, value, reason)
}

/// Writes every cell of a row but the reference; what is refused is listed where `told`.
fn each_cell(
    row: &table::Row,
    header: &[String],
    columns: &[Option<&'static str>],
    told: bool,
    left: &mut Vec<Rejected>,
    mut write: impl FnMut(&str, &str) -> Result<(), String>,
) {
    for ((column, cell), header) in columns.iter().zip(&row.cells).zip(header) {
        let Some(name) = column.filter(|name| *name != "ref" && !cell.trim().is_empty()) else { continue };
        if let (Err(reason), true) = (write(name, cell.trim()), told) {
            left.push(refused(row.line, header, cell, reason));
        }
    }
}

/// Writes one cell of another part.
fn set_other(part: &mut OtherPart, name: &str, cell: &str) -> Result<(), String> {
    let name = name.strip_prefix("other_parts.").unwrap_or(name);
    let field = other_field(name).ok_or("other parts have no such field")?;
    entry::enter(field, part, cell)
}

/// Writes one cell.
fn set(position: &mut Position, name: &str, cell: &str) -> Result<(), String> {
    fn at<T>(fields: &'static [Field<T>], name: &str) -> Option<&'static Field<T>> {
        fields.iter().find(|field| field.path == name)
    }
    if let Some(field) = schema::of_position().find(|field| field.path == name) {
        entry::enter(field, position, cell)?;
        if name == "original.label" {
            from_label(position, cell);
        }
        return Ok(());
    }
    if let Some(field) = at(RIPPLE_LINE, name) {
        entry::enter(field, &mut RippleLine::default(), cell)?;
        return entry::enter(field, first(&mut position.stress.ripple, RippleLine::default), cell);
    }
    if let Some(field) = at(PHASE, name) {
        entry::enter(field, &mut Phase::default(), cell)?;
        let new = || Phase { share: Some(1.0), ..Phase::default() };
        return entry::enter(field, first(&mut position.stress.phases, new), cell);
    }
    Err("this field cannot be pasted".into())
}

fn first<T>(list: &mut Option<Vec<T>>, new: impl FnOnce() -> T) -> &mut T {
    let list = list.get_or_insert_with(Vec::new);
    if list.is_empty() {
        list.push(new());
    }
    &mut list[0]
}

/// Fills figures that are not entered yet from what is printed on the part, where it says them without doubt.
fn from_label(position: &mut Position, label: &str) {
    let found = text::find(label, &Column::default());
    let can = &mut position.original.can;
    can.capacitance_uf = can.capacitance_uf.or(found.capacitance_uf.value());
    can.rated_v = can.rated_v.or(found.rated_v.value());
    can.temp_max_c = can.temp_max_c.or(found.temperature.value().map(|range| range.max_c));
    if let Some(size) = found.size.value() {
        can.diameter_mm = can.diameter_mm.or(size.diameter_mm);
        can.height_mm = can.height_mm.or(size.height_mm);
    }
}

#[cfg(test)]
#[path = "../../tests/within/paste.rs"]
mod tests;
