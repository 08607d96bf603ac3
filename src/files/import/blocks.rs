//! Figures that stand once for several rows, as data sheets print them: a merged cell beside the rows, or a line of text over them
//! (`200 V DC, surge 250 V`). Both become cells of every row they hold for, and a note says so.

use std::collections::HashMap;

use super::field::{Field, Target};
use super::naming::named;
use super::{shape, synonyms, words};
use crate::domain::style::counted;
use crate::files::cell::clean::is_nothing;
use crate::files::cell::unit::Unit;
use crate::files::cell::{Column, Reading, text};
use crate::files::table::{Note, Row, Table};

/// Header of the column that lines of text between the rows become.
const RATED: &str = "Rated voltage (from the lines between the rows)";
/// The same for surge voltages.
const SURGE: &str = "Surge voltage (from the lines between the rows)";
/// Header of the column of titles that may be boards.
pub(super) const BOARDS: &str = "Board";
/// Fewest filled cells of a row of figures.
const ROW_CELLS: usize = 3;

/// Fills what stands once for several rows into all of them; any other table comes back as it is.
pub(super) fn spread(mut table: Table) -> Table {
    let at = |field| table.header.iter().position(|name| named(name, Target::Parts).is_some_and(|(of, _)| of == field));
    let (rated, capacitance) = (at(Field::RatedV), at(Field::Capacitance));
    match (rated, capacitance) {
        (Some(rated), Some(capacitance)) => merged(&mut table, rated, capacitance),
        (None, Some(capacitance)) => lines_between(&mut table, capacitance),
        _ => {}
    }
    table
}

/// Lists that were printed side by side, one below the other: their headers stand again, or without a header their capacitors do.
pub(super) fn below_each_other(mut table: Table) -> Table {
    let base = |name: &str| name.rsplit_once(" (").map_or(name, |(base, _)| base).to_owned();
    let bases: Vec<String> = table.header.iter().map(|name| base(name)).collect();
    let headless = table.found.header_line.is_none();
    let begins = |at: &usize| match bases.first() {
        Some(_) if headless => shape::numbered(&shape::samples(&table, *at), 0.8),
        Some(first) => bases[*at] == *first,
        None => false,
    };
    let starts: Vec<usize> = (0..bases.len()).filter(begins).collect();
    let (Some(0), Some(&width)) = (starts.first().copied(), starts.get(1)) else { return table };
    let even = starts.iter().enumerate().all(|(group, at)| *at == group * width) && bases.len() <= starts.len() * width;
    let same = |at: usize| headless || bases[at] == bases[at % width] || bases[at].starts_with("column ");
    let field = |at: usize| named(&table.header[at], Target::Positions).map(|(field, _)| field);
    let of = |wanted: &[Field]| (0..width).any(|at| field(at).is_some_and(|field| wanted.contains(&field)));
    let list = of(&[Field::Designator, Field::PartNumber]) && of(&[Field::Value, Field::Capacitance]);
    if !even || !(0..bases.len()).all(same) || !(headless && width > 1 || list) {
        return table;
    }
    let rows = std::mem::take(&mut table.rows);
    // The same capacitors in two of them are those of two boards.
    let mut seen: HashMap<&str, usize> = HashMap::new();
    let mut twice = false;
    for (group, row) in (0..starts.len()).flat_map(|group| rows.iter().map(move |row| (group, row))) {
        let name = row.cells.get(group * width).map_or("", |cell| cell.trim());
        twice |= shape::capacitors_in(name) && *seen.entry(name).or_insert(group) != group;
    }
    for group in 0..starts.len() {
        let part = |row: &Row| {
            let mut cells: Vec<String> = row.cells.iter().skip(group * width).take(width).cloned().collect();
            cells.resize(width, String::new());
            Row { line: row.line, cells }
        };
        let board = twice.then(|| format!("list {}", group + 1));
        let filled = rows.iter().map(part).filter(|row| row.cells.iter().any(|cell| !cell.is_empty()));
        table.rows.extend(filled.map(|mut row| {
            row.cells.extend(board.clone());
            row
        }));
    }
    table.header.truncate(width);
    table.header.extend(twice.then(|| BOARDS.to_owned()));
    let text = format!("{} side by side are read one below the other", counted(starts.len(), "list", "lists"));
    table.notes.push(Note { line: table.rows.first().map_or(1, |row| row.line), text });
    table
}

/// Puts the unit that stands in a column of its own behind the figure: `650` under `Ripple`, `mA` under `Ripple unit`.
pub(super) fn with_units(mut table: Table) -> Table {
    let plain: Vec<String> = table.header.iter().map(|name| synonyms::plain(name)).collect();
    for at in 0..plain.len() {
        let ending = ["units", "unit", "einheit", "uom"].iter().find_map(|end| plain[at].strip_suffix(end));
        let of = ending.and_then(|name| plain.iter().position(|of| of == name && !name.is_empty()));
        let Some(of) = of else { continue };
        for row in &mut table.rows {
            let unit = row.cells[at].trim();
            if Unit::parse(unit).is_some() && shape::is_number(&row.cells[of]) {
                row.cells[of] = format!("{} {unit}", row.cells[of].trim());
            }
        }
    }
    table
}

/// Puts what stands above into cells with a ditto mark (`"`, `dito`, `〃`).
pub(super) fn ditto(mut table: Table) -> Table {
    let (mut cells, mut first) = (0, None);
    for at in 1..table.rows.len() {
        let (above, below) = table.rows.split_at_mut(at);
        let (above, row) = (&above[at - 1].cells, &mut below[0]);
        let marked = row.cells.iter_mut().zip(above).filter(|(cell, above)| {
            const LONGEST: usize = 20;
            let word = cell.len() <= LONGEST && !cell.is_empty() && !cell.contains(|c: char| c.is_ascii_digit());
            word && !above.is_empty() && {
                let plain: String = cell.to_lowercase().split_whitespace().collect();
                words::list("as above").any(|word| word == plain)
            }
        });
        for (cell, above) in marked {
            cell.clone_from(above);
            cells += 1;
            first.get_or_insert(row.line);
        }
    }
    if let Some(line) = first {
        let text = format!("{} of the row above, by a ditto mark", counted(cells, "cell has what", "cells have what"));
        table.notes.push(Note { line, text });
    }
    table
}

/// Whether a row has figures: a capacitance and more beside it.
fn has_figures(row: &Row, capacitance: usize) -> bool {
    let filled = |at: usize| row.cells.get(at).is_some_and(|cell| !is_nothing(cell));
    filled(capacitance) && (0..row.cells.len()).filter(|&at| filled(at)).count() >= ROW_CELLS
}

/// A voltage over blanks: the cell was merged in the original. Lists in which a voltage is simply missing have blanks here and there,
/// or the same voltage again below them.
fn merged(table: &mut Table, rated: usize, capacitance: usize) {
    let rows: Vec<usize> = (0..table.rows.len()).filter(|&at| has_figures(&table.rows[at], capacitance)).collect();
    let cell = |at: usize| table.rows[at].cells.get(rated).map_or("", String::as_str);
    let filled: Vec<&str> = rows.iter().map(|&at| cell(at)).filter(|cell| !cell.is_empty()).collect();
    let blanks = rows.len() - filled.len();
    let starts = rows.first().is_some_and(|&at| !cell(at).is_empty());
    let mut different = filled.clone();
    different.sort_unstable();
    different.dedup();
    if !starts || blanks * 10 < rows.len() * 3 || different.len() < filled.len() {
        return;
    }
    let mut above = String::new();
    let mut line = None;
    for at in rows {
        let row = &mut table.rows[at];
        if row.cells[rated].is_empty() {
            row.cells[rated].clone_from(&above);
            line.get_or_insert(row.line);
        } else {
            above.clone_from(&row.cells[rated]);
        }
    }
    let text = format!(
        "{} a blank rated voltage and that of the row above, as from a merged cell",
        counted(blanks, "row has", "rows have")
    );
    table.notes.push(Note { line: line.unwrap_or(1), text });
}

/// Lines of nothing but a voltage, each over the rows it holds for.
fn lines_between(table: &mut Table, capacitance: usize) {
    let told: Vec<Option<(String, String)>> = table.rows.iter().map(voltages_of_line).collect();
    let first_row = table.rows.iter().position(|row| has_figures(row, capacitance));
    let first_line = told.iter().position(Option::is_some);
    // The first such line may stand over the header.
    let over = table.preamble.last().and_then(|note| voltages_of_heading(&note.text));
    if first_row.is_none() || first_line.is_none_or(|line| first_row.is_some_and(|row| line > row)) && over.is_none() {
        return;
    }
    let with_surge = told.iter().flatten().chain(&over).any(|(_, surge)| !surge.is_empty());
    let over_line = over.as_ref().and(table.preamble.last()).map(|note| note.line);
    let mut above = over.unwrap_or_default();
    let mut lines = usize::from(over_line.is_some());
    for (row, told) in table.rows.iter_mut().zip(told) {
        let blank = (String::new(), String::new());
        let (rated, surge) = if let Some(told) = told {
            above = told;
            lines += 1;
            blank
        } else {
            above.clone()
        };
        row.cells.push(rated);
        if with_surge {
            row.cells.push(surge);
        }
    }
    table.header.push(RATED.to_owned());
    if with_surge {
        table.header.push(SURGE.to_owned());
    }
    let text = format!(
        "{} a voltage: it is that of the rows below",
        counted(lines, "line over rows says", "lines over rows say")
    );
    let line = over_line.or(first_line.and_then(|at| table.rows.get(at)).map(|row| row.line));
    table.notes.push(Note { line: line.unwrap_or(1), text });
}

/// The rated and the surge voltage of a line of text: `200 V DC, surge 250 V`, `UR = 350 V DC`, `25 WV`.
fn voltages_of_line(row: &Row) -> Option<(String, String)> {
    let mut filled = row.cells.iter().filter(|cell| !cell.is_empty());
    let (Some(cell), None) = (filled.next(), filled.next()) else { return None };
    voltages_of_text(cell)
}

/// The same of a heading, in which a piece says nothing but the voltage: `QX series, 25 V`, `Rated voltage: 400 V DC`.
pub(super) fn voltages_of_heading(line: &str) -> Option<(String, String)> {
    const WORDS: &str = "v vdc dc wv wvdc volt volts ur un vr \
        rated working voltage nominal range surge nennspannung spannung types";
    let is_voltage = |piece: &&str| {
        let words = piece.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty());
        piece.contains(|c: char| c.is_ascii_digit())
            && words.into_iter().all(|word| WORDS.split(' ').any(|known| known == word.to_lowercase()))
    };
    let line = line.trim_matches(|c: char| !c.is_alphanumeric());
    let mut pieces = line.split([',', ';', '(', ')', '–', '—']).filter(is_voltage);
    let rated = pieces.find(|piece| !piece.to_lowercase().contains("surge"))?;
    let surge =
        line.split([',', ';', '(', ')']).filter(is_voltage).find(|piece| piece.to_lowercase().contains("surge"));
    voltages_of_text(&surge.map_or_else(|| rated.to_owned(), |surge| format!("{rated}, {surge}")))
}

/// The same of a text; `None` when it says more or something else.
pub(super) fn voltages_of_text(cell: &str) -> Option<(String, String)> {
    let volts = |piece: &str| {
        let found = text::find(piece, &Column::default());
        match (found.rated_v, found.capacitance_uf) {
            (Reading::Value(volts), Reading::Nothing) => Some(volts),
            _ => None,
        }
    };
    let mut pieces = cell.split([',', ';', '(']);
    let rated = volts(pieces.next()?)?;
    let surge = pieces.find_map(|piece| if piece.to_lowercase().contains("surge") { volts(piece) } else { None });
    Some((format!("{rated} V"), surge.map(|surge| format!("{surge} V")).unwrap_or_default()))
}

#[cfg(test)]
#[path = "../../../tests/within/import_blocks.rs"]
mod tests;
