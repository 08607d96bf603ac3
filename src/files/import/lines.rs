//! Lists that are no tables: one position a line, as people write them in letters and forums (`C401 - 1000uF 16V`), or as text that was
//! copied out of a table comes (`1 2 Cap Elect 2200uF 50V Radial C1,C2`).

use super::field::Target;
use super::naming::named;
use super::pairs;
use super::shape::{is_capacitance, is_designators, is_voltage};
use crate::files::cell::unit::Unit;
use crate::files::cell::{Column, Reading, text};
use crate::files::designators::{self, is_capacitor};
use crate::files::table::{Note, Row, Separator, Table};

/// Share of the lines that must begin with a designator, in tenths.
const TENTHS: usize = 5;

/// What the columns of such a list are called; the third stands only where some line counts its parts.
const HEADER: [&str; 3] = ["Designator", "Description", "Quantity"];

/// Whether a table was taken apart from lines.
pub(super) fn is_list(table: &Table) -> bool {
    table.found.header_line.is_none()
        && table.header.len() >= 2
        && HEADER.iter().zip(&table.header).all(|(a, b)| a == b)
}

/// Takes lines apart into designators and what is said about them; any other table comes back as it is.
pub(super) fn split(mut table: Table) -> Table {
    let blanks = table.found.separator == Separator::Blanks;
    let whole = |cells: &[String]| {
        let filled: Vec<&str> = cells.iter().map(String::as_str).filter(|cell| !cell.is_empty()).collect();
        if blanks {
            return filled.join(" ");
        }
        // `0,1 µF`: the comma that parted the cells was a decimal comma.
        filled.into_iter().fold(String::new(), |whole, cell| {
            let inside =
                whole.ends_with(|c: char| c.is_ascii_digit()) && cell.starts_with(|c: char| c.is_ascii_digit());
            let mark = if whole.is_empty() {
                ""
            } else if inside {
                ","
            } else {
                ", "
            };
            whole + mark + cell
        })
    };
    // `1 2 Cap Elect 470uF 25V C1`: a line of the list, though `Cap` heads columns.
    let head = table.found.header_line.map(|line| (line, whole(&table.header)));
    let head_is_line = head.as_ref().is_some_and(|(_, head)| taken_apart(head).is_some_and(|said| told(&said.text)));
    let named = table.header.iter().any(|name| named(name, Target::Positions).is_some());
    if is_of_cells(&table) {
        return table;
    }
    let mut lines: Vec<(usize, String)> = table.rows.iter().map(|row| (row.line, whole(&row.cells))).collect();
    if head.is_some() && named && !head_is_line || !is_of_lines(&table, &lines) {
        part_single_cells(&mut table);
        return table;
    }
    // What a table has before and behind its rows may be lines of the list.
    lines.extend(table.preamble.iter().chain(&table.trailing).map(|note| (note.line, note.text.clone())));
    lines.extend(head);
    lines.sort_by_key(|(line, _)| *line);
    let parts: Vec<Option<Said>> = lines.iter().map(|(_, text)| taken_apart(text)).collect();
    let found = parts.iter().flatten().count();
    let said = lines.iter().filter(|(_, text)| !text.starts_with('#')).count();
    if found == 0 || found * 10 < said * TENTHS || (found == 1 && said > 1) {
        return table;
    }
    let counted = parts.iter().flatten().any(|said| said.quantity.is_some());
    (table.rows, table.preamble, table.trailing) = (Vec::new(), Vec::new(), Vec::new());
    for ((line, text), parts) in lines.into_iter().zip(parts) {
        match parts {
            Some(Said { names, text, quantity }) => {
                let quantity = counted.then(|| quantity.unwrap_or_default());
                table.rows.push(Row { line, cells: [names, text].into_iter().chain(quantity).collect() });
            }
            None => table.preamble.push(Note { line, text }),
        }
    }
    table.header = HEADER.iter().take(if counted { 3 } else { 2 }).map(|&name| name.to_owned()).collect();
    table.found.header_line = None;
    let text = format!(
        "a list of lines, not a table: {found} of them begin or end with designators, {} others are text",
        table.preamble.len()
    );
    table.notes.push(Note { line: table.rows.first().map_or(1, |row| row.line), text });
    table
}

/// Takes rows of a table without header apart that fill nothing but the first cell: `C5-C8 (4 off) 470uF 35V`.
fn part_single_cells(table: &mut Table) {
    let headless = table.found.header_line.is_none() && table.header.len() > 1;
    for row in table.rows.iter_mut().filter(|row| headless && row.cells[1..].iter().all(String::is_empty)) {
        if let Some(Said { names, text, .. }) = taken_apart(&row.cells[0]).filter(|said| told(&said.text)) {
            (row.cells[0], row.cells[1]) = (names, text);
        }
    }
}

/// Whether designators and values stand in cells of their own in nearly every row, whatever heads them.
fn is_of_cells(table: &Table) -> bool {
    let each = |fits: &dyn Fn(&str) -> bool| {
        (0..table.header.len()).any(|at| {
            let fitting = table.rows.iter().filter(|row| row.cells.get(at).is_some_and(|cell| fits(cell)));
            // One row may be a header of unknown words.
            table.rows.len() > 1 && (fitting.count() + 1) * 10 >= table.rows.len() * 9
        })
    };
    table.found.separator != Separator::Blanks
        && table.header.len() > 2
        && each(&is_designators)
        && each(&is_capacitance)
        && each(&is_voltage)
}

/// Whether the rows of a table say more as whole lines than as cells.
fn is_of_lines(table: &Table, lines: &[(usize, String)]) -> bool {
    let blanks = table.found.separator == Separator::Blanks;
    let count = |fits: &dyn Fn(&Row, &str) -> bool| {
        table.rows.iter().zip(lines).filter(|(row, (_, whole))| fits(row, whole)).count()
    };
    let first = |row: &Row| row.cells.first().cloned().unwrap_or_default();
    let last = |row: &Row| row.cells.iter().rfind(|cell| !cell.is_empty()).cloned().unwrap_or_default();
    // A dash between blanks is no cell of a table.
    let dashed = count(&|row, _| row.cells.get(1).is_some_and(|cell| matches!(cell.as_str(), "-" | "–" | ":" | "=")));
    let single = count(&|row, _| row.cells.iter().filter(|cell| !cell.is_empty()).count() <= 1);
    // `1000 mfd, 25 v` is in no single cell.
    let in_lines = count(&|_, whole| told(whole));
    let in_cells = count(&|row, _| row.cells.iter().any(|cell| told(cell)));
    // A separator that parts all designators from what is said about them is one.
    let parted = count(&|row, whole| taken_apart(whole).is_some_and(|said| is_same(&first(row), &said.names)));
    let spread = if parted * 2 <= table.rows.len() || (blanks && in_cells == 0) { in_lines } else { 0 };
    let ending = count(&|row, whole| behind(whole).is_some_and(|said| blanks || !is_same(&last(row), &said.names)));
    dashed.max(single).max(spread).max(ending) * 10 >= table.rows.len() * TENTHS
}

/// Whether a cell holds these designators and no others.
fn is_same(cell: &str, names: &str) -> bool {
    is_designators(cell) && designators::read(cell, None).refs == designators::read(names, None).refs
}

/// Whether a text says a capacitance, or a pair such as `470/40`.
fn told(text: &str) -> bool {
    let found = text::find(text, &Column::default()).capacitance_uf;
    matches!(found, Reading::Value(_) | Reading::Ambiguous { .. }) || text.split_whitespace().any(pairs::is_pair)
}

/// A line of a list taken apart.
#[derive(Debug, PartialEq, Eq)]
struct Said {
    names: String,
    text: String,
    quantity: Option<String>,
}

/// `C401 - 1000uF 16V`, `C12/C13: 2200/25`, `2x 470uF 25V (C3, C4)`: the designators and the rest.
fn taken_apart(line: &str) -> Option<Said> {
    let line = line.trim().trim_start_matches(['-', '*', '•', '>', '–']).trim_start();
    let line = ["[ ]", "[x]", "[X]"].iter().find_map(|tick| line.strip_prefix(tick)).unwrap_or(line).trim_start();
    before(line).or_else(|| behind(line))
}

/// The designators in front of a line, behind the number of the item and the quantity.
fn before(line: &str) -> Option<Said> {
    let (quantity, line) = counted(line);
    let joined = letter_apart(line);
    let (name, rest) = joined.as_deref().unwrap_or(line).split_once([' ', ':', '\t', '='])?;
    let (name, rest) = more_names(name, rest);
    let names = name.trim_end_matches([',', ';', '-', '&', '+', ' ', '.']);
    let is_lead = |c: char| c.is_whitespace() || matches!(c, '-' | '–' | ':' | '=' | '…');
    let rest = rest.trim_start_matches(is_lead);
    let rest = if rest.starts_with("..") { rest.trim_start_matches(|c| c == '.' || is_lead(c)) } else { rest };
    let numbered = names.chars().any(|c| c.is_ascii_digit());
    (numbered && !rest.is_empty() && is_designators(names)).then(|| Said {
        names: names.to_owned(),
        text: rest.trim_end().to_owned(),
        quantity,
    })
}

/// `C 101  Elko 100 uF` with the letter at its number.
fn letter_apart(line: &str) -> Option<String> {
    let (letter, rest) = line.split_once(' ')?;
    let rest = rest.trim_start();
    let digits = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    let apart = (1..=2).contains(&letter.len()) && letter.bytes().all(|c| c.is_ascii_uppercase());
    let unit = rest[digits..].split_whitespace().next().is_some_and(|word| Unit::parse(word).is_some());
    let numbered = (1..=4).contains(&digits) && rest[digits..].starts_with([' ', ':', ',', '\t']) && !unit;
    (apart && numbered).then(|| format!("{letter}{rest}"))
}

/// The designators of capacitors behind a line that says a capacitance.
fn behind(line: &str) -> Option<Said> {
    let (quantity, line) = counted(line.trim());
    let line = line.trim_end_matches([')', ']', ' ', '.', ',', ';']);
    let is_name = |word: &str| {
        let word = word.trim_end_matches([',', ';']);
        word.starts_with(|c: char| c.is_ascii_alphabetic())
            && word.ends_with(|c: char| c.is_ascii_alphanumeric())
            && word.chars().any(|c| c.is_ascii_digit())
            && is_designators(word)
    };
    let mut names_at = line.len();
    for (mark_at, mark) in line.rmatch_indices([' ', '\t', ':', '(', '[']) {
        let at = mark_at + mark.len();
        let word = &line[at..names_at].trim_end();
        let joint = matches!(*word, "" | "&" | "and" | "und" | "et" | "-" | "to" | "bis") && names_at < line.len();
        if !joint && !is_name(word) {
            break;
        }
        names_at = at;
        if matches!(mark, ":" | "(" | "[") {
            break;
        }
    }
    let names = line[names_at..].trim_start_matches(|c: char| !c.is_alphanumeric());
    let text = line[..names_at].trim_end_matches([' ', '\t', ':', '(', '[', '-', '–', '=', ',']);
    let ours = designators::read(names, None).refs.iter().any(|name| is_capacitor(name) == Some(true));
    (ours && told(text)).then(|| Said { names: names.to_owned(), text: text.to_owned(), quantity })
}

/// The quantity in front of a line (`2x`, or the last of an item's number and a count), and the rest.
fn counted(line: &str) -> (Option<String>, &str) {
    const NUMBERS_MOST: usize = 2;
    let (mut quantity, mut rest, mut numbers) = (None, line, 0);
    while numbers < NUMBERS_MOST
        && let Some((word, behind)) = rest.split_once([' ', '\t'])
    {
        let times = word.strip_suffix(['x', 'X', '×']);
        let digits = times.unwrap_or(word.trim_end_matches(['.', ')']));
        let whole = (1..=4).contains(&digits.len()) && digits.bytes().all(|c| c.is_ascii_digit());
        // `470 uF 25 V C1`: a number with its unit.
        let unit = behind.split_whitespace().next().is_some_and(|next| Unit::parse(next).is_some());
        if !whole || unit {
            break;
        }
        numbers += 1;
        (quantity, rest) =
            ((times.is_some() || numbers == NUMBERS_MOST).then(|| digits.to_owned()), behind.trim_start());
        if times.is_some() {
            break;
        }
    }
    (quantity, rest)
}

/// `C101, C102 & C103 - 10000uF`: the names of a list that stand in front of the rest.
fn more_names<'a>(name: &str, rest: &'a str) -> (String, &'a str) {
    let (mut names, mut rest) = (name.to_owned(), rest);
    loop {
        let next = rest.trim_start();
        let (word, behind) = next.split_once(' ').unwrap_or((next, ""));
        let range = designators::is_range(word).then_some(("..", behind));
        let signed = ["&", "+"].iter().find_map(|sign| Some((", ", next.strip_prefix(sign)?)));
        let spoken = designators::is_and(word).then_some((", ", behind));
        let open = (word == "a").then_some((" a ", behind));
        let (joint, next) =
            range.or(signed).or(spoken).or(open).map_or(("", next), |(joint, next)| (joint, next.trim_start()));
        let end = next.find([' ', ':', ',', ';', '\t', '=']).unwrap_or(next.len());
        let (word, behind) = next.split_at(end);
        let listed = !joint.is_empty() || names.ends_with([',', ';']);
        let is_name = word.chars().any(|c| c.is_ascii_digit()) && is_designators(word) && !behind.trim().is_empty();
        if !listed || !is_name {
            return (names, rest);
        }
        let joint = if joint.is_empty() { ", " } else { joint };
        names = format!("{}{joint}{word}", names.trim_end_matches([',', ';']));
        rest = behind;
        if let Some(behind) = rest.trim_start().strip_prefix([',', ';']) {
            names.push(',');
            rest = behind;
        }
    }
}

#[cfg(test)]
#[path = "../../../tests/within/import_lines.rs"]
mod tests;
