//! Headings between the tables of a page (`## 25 V`, `Series QX`, `### Polymer`): what they say holds for the tables below them, until a
//! heading of the same or a higher level.

use std::collections::HashMap;

use super::belonging::{technology_of, titled};
use super::blocks::{BOARDS, voltages_of_heading};
use super::detect::detect;
use super::field::{Field, Target};
use super::naming::named;
use super::shape;
use super::words::{Kind, heads_boards, kind};
use crate::files::designators;
use crate::files::table::{Note, Table};

/// What headings can say, with the header of the column it becomes.
const SAYS: [(Field, &str); 4] = [
    (Field::RatedV, "Rated voltage (from the headings)"),
    (Field::SurgeV, "Surge voltage (from the headings)"),
    (Field::Series, "Series (from the headings)"),
    (Field::Type, "Type (from the headings)"),
];

/// Level of a line without heading marks: below all headings.
const PLAIN: usize = 9;

/// Turns what the headings over tables of parts say into columns; a page with a single table keeps its headings as a preamble.
pub(super) fn spread(tables: &mut [Table]) {
    if tables.len() < 2 {
        return;
    }
    // What holds now, by field, with the level of its heading.
    let mut holds: [Option<(usize, String)>; SAYS.len()] = Default::default();
    let mut told: Vec<[Option<String>; SAYS.len()]> = Vec::new();
    for table in tables.iter() {
        for note in &table.preamble {
            take(&note.text, &mut holds);
        }
        told.push(holds.clone().map(|fact| fact.map(|(_, text)| text)));
    }
    for (at, (field, header)) in SAYS.into_iter().enumerate() {
        // All tables get the column, so that those with the same header are still one list.
        let is_open = |table: &Table| valued(table) && (field == Field::Type || of_parts(table)) && !has(table, field);
        if !told.iter().zip(tables.iter()).any(|(told, table)| told[at].is_some() && is_open(table)) {
            continue;
        }
        for (table, told) in tables.iter_mut().zip(&told).filter(|(table, _)| is_open(table)) {
            table.header.push(header.to_owned());
            let text = told[at].clone().unwrap_or_default();
            if !text.is_empty() {
                let line = table.found.header_line.unwrap_or(1);
                let note = format!("the heading above says {}: {text}", field.label());
                table.notes.push(Note { line, text: note });
            }
            table.rows.iter_mut().for_each(|row| row.cells.push(text.clone()));
        }
    }
    // What a heading of one table says is not about the others.
    tables.iter_mut().for_each(|table| table.preamble.clear());
}

/// Names the titles among the rows in a column of their own where the same designators stand below several of them: whether they are
/// boards is then asked.
pub(super) fn boards(mut table: Table) -> Table {
    let is_designator = |name: &String| named(name, Target::Positions).is_some_and(|(of, _)| of == Field::Designator);
    let headless = table.found.header_line.is_none();
    let named_in = |at: &usize| shape::numbered(&shape::samples(&table, *at), 0.6);
    let by_cells = || (0..table.header.len()).find(named_in).filter(|_| headless);
    let Some(at) = table.header.iter().position(is_designator).or_else(by_cells) else { return table };
    if table.header.iter().any(|name| heads_boards(name)) {
        return table;
    }
    // Without a header the first title stands before all rows.
    let before = table.preamble.last().filter(|_| table.found.header_line.is_none());
    let mut title = before.map_or_else(String::new, |note| note.text.clone());
    let mut below: HashMap<String, String> = HashMap::new();
    let mut twice = false;
    let mut of_rows = Vec::with_capacity(table.rows.len());
    for row in &table.rows {
        if let Some(text) = shape::title(&row.cells).or_else(|| assembly(&row.cells, at)) {
            if kind(&[text]) == Kind::Unsaid {
                text.clone_into(&mut title);
            }
        } else {
            for name in designators::read(&row.cells[at], None).refs {
                twice |= *below.entry(name).or_insert_with(|| title.clone()) != title;
            }
        }
        of_rows.push(title.clone());
    }
    if twice {
        table.header.push(BOARDS.to_owned());
        for (row, title) in table.rows.iter_mut().zip(of_rows) {
            let is_title = shape::is_remark(&row.cells) || assembly(&row.cells, at).is_some();
            row.cells.push(if is_title { String::new() } else { title });
        }
    }
    table
}

/// The text of a row that names an assembly and no part of it: `1 | 900-110 | PCB ASSY POWER | 1 |`.
fn assembly(cells: &[String], designators: usize) -> Option<&str> {
    let names_board = |cell: &&String| cell.split(|c: char| !c.is_alphanumeric()).any(heads_boards);
    let blank = cells.get(designators).is_none_or(|cell| cell.trim().is_empty());
    cells.iter().filter(|_| blank).find(names_board).map(|cell| cell.trim())
}

fn fields(table: &Table) -> impl Iterator<Item = Field> {
    table.header.iter().filter_map(|name| named(name, Target::Parts)).map(|(field, _)| field)
}

fn has(table: &Table, field: Field) -> bool {
    fields(table).any(|of| of == field)
}

fn valued(table: &Table) -> bool {
    has(table, Field::Capacitance) || has(table, Field::Value)
}

fn of_parts(table: &Table) -> bool {
    detect(table).mapping.target == Target::Parts
}

/// Takes the facts of one heading.
fn take(line: &str, holds: &mut [Option<(usize, String)>; SAYS.len()]) {
    let text = line.trim_matches(|c: char| matches!(c, '#' | '=' | '*' | '\'' | ':') || c.is_whitespace());
    let marks = line.trim_start().chars().take_while(|c| matches!(c, '#' | '=')).count();
    let level = if marks == 0 { PLAIN } else { marks };
    if marks > 0 {
        for fact in holds.iter_mut() {
            if fact.as_ref().is_some_and(|(of, _)| *of >= level) {
                *fact = None;
            }
        }
    }
    if let Some((rated, surge)) = voltages_of_heading(text) {
        holds[0] = Some((level, rated));
        holds[1] = (!surge.is_empty()).then_some((level, surge));
    }
    if let Some(series) = series(text) {
        holds[2] = Some((level, series));
    }
    if technology_of(std::iter::once(text)).is_some() || titled(text) || names_family(text) {
        holds[3] = Some((level, text.to_owned()));
    }
}

/// `Ceramic`, `Film caps`, `Tantalum and film capacitors`: a family, and not a board of a film projector.
fn names_family(text: &str) -> bool {
    let lower = text.to_lowercase();
    let short = lower.split_whitespace().count() <= 2;
    let capacitors = ["capacitor", " caps", "kondensator", "condensa"].iter().any(|word| lower.contains(word));
    (short || capacitors) && matches!(kind(&[text]), Kind::Ours { .. } | Kind::Other { .. })
}

/// `Series QX`, `QX series, 105 °C`, `Baureihe QX`.
fn series(text: &str) -> Option<String> {
    let words: Vec<&str> = text
        .split(|c: char| c.is_whitespace() || matches!(c, ',' | ':' | '(' | ')'))
        .filter(|w| !w.is_empty())
        .collect();
    let at = words.iter().position(|word| {
        matches!(word.to_lowercase().as_str(), "series" | "serie" | "baureihe" | "série" | "seria" | "reihe")
    })?;
    // A name has capitals or digits, as no other word beside it has.
    let name = |word: &&&str| {
        (1..=8).contains(&word.chars().count())
            && word.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '-')
            && word.chars().any(|c| c.is_ascii_uppercase())
    };
    let before = at.checked_sub(1).and_then(|at| words.get(at)).filter(name);
    words.get(at + 1).filter(name).or(before).map(|word| (*word).to_owned())
}

#[cfg(test)]
#[path = "../../../tests/within/import_headings.rs"]
mod tests;
