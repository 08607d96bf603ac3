//! Lists that are no tables: one position a line, as people write them in letters and forums (`C401 - 1000uF 16V`).

use super::field::{Field, Target};
use super::naming::named;
use super::shape::is_designators;
use crate::files::cell::{Column, Reading, text};
use crate::files::table::{Note, Row, Separator, Table};

/// Share of the lines that must begin with a designator, in tenths.
const TENTHS: usize = 5;

/// What the columns of such a list are called.
const HEADER: [&str; 2] = ["Designator", "Description"];

/// Whether a table was taken apart from lines.
pub(super) fn is_list(table: &Table) -> bool {
    table.found.header_line.is_none() && table.header == HEADER
}

/// Joins rows that hold nothing but more designators to the row above, whose list ends in a comma, as printed lists break them.
pub(super) fn joined(mut table: Table) -> Table {
    let is_designator = |name: &String| named(name, Target::Positions).is_some_and(|(of, _)| of == Field::Designator);
    let Some(at) = table.header.iter().position(is_designator) else { return table };
    let mut joined = 0;
    let mut rows: Vec<Row> = Vec::with_capacity(table.rows.len());
    for row in std::mem::take(&mut table.rows) {
        let alone = row.cells.iter().enumerate().all(|(of, cell)| (of == at) != cell.is_empty());
        match rows.last_mut().and_then(|above| above.cells.get_mut(at)) {
            Some(list) if alone && list.ends_with(',') && is_designators(&row.cells[at]) => {
                list.push(' ');
                list.push_str(&row.cells[at]);
                joined += 1;
            }
            _ => rows.push(row),
        }
    }
    // A last row of one cell was taken for a remark behind the table.
    while let (Some(list), Some(note)) = (rows.last_mut().and_then(|row| row.cells.get_mut(at)), table.trailing.first())
        && list.ends_with(',')
        && is_designators(&note.text)
    {
        list.push(' ');
        list.push_str(&note.text);
        joined += 1;
        table.trailing.remove(0);
    }
    table.rows = rows;
    if joined > 0 {
        let text = format!("{joined} rows of designators alone belong to the row above, whose list ends in a comma");
        table.notes.push(Note { line: table.found.header_line.unwrap_or(1), text });
    }
    table
}

/// Takes lines apart into designators and what is said about them; any other table comes back as it is.
pub(super) fn split(mut table: Table) -> Table {
    let headed = table.found.header_line.is_some();
    if headed && table.header.iter().any(|name| named(name, Target::Positions).is_some()) {
        return table;
    }
    let blanks = table.found.separator == Separator::Blanks;
    let between = if blanks { " " } else { ", " };
    let whole = |row: &Row| row.cells.iter().filter(|cell| !cell.is_empty()).cloned().collect::<Vec<_>>().join(between);
    // A dash between blanks is no cell of a table.
    let dash = |row: &&Row| row.cells.get(1).is_some_and(|cell| matches!(cell.as_str(), "-" | "–" | ":" | "="));
    let one_cell = |row: &&Row| row.cells.iter().filter(|cell| !cell.is_empty()).count() <= 1;
    let (dashed, single) = (table.rows.iter().filter(dash).count(), table.rows.iter().filter(one_cell).count());
    // `1000 mfd, 25 v` is in no single cell.
    let told = |text: &str| matches!(text::find(text, &Column::default()).capacitance_uf, Reading::Value(_));
    let in_lines = table.rows.iter().filter(|row| told(&whole(row))).count();
    let in_cells = table.rows.iter().filter(|row| row.cells.iter().any(|cell| told(cell))).count();
    // A separator that never parts a designator from what is said about it is none.
    let alone = table.rows.iter().filter(|row| row.cells.first().is_some_and(|cell| is_designators(cell))).count();
    let alone = alone * 2 > table.rows.len();
    let spread = if !alone || (blanks && in_cells == 0) { in_lines } else { 0 };
    if dashed.max(single).max(spread) * 10 < table.rows.len() * TENTHS {
        return table;
    }
    // What a table has before and behind its rows may be lines of the list.
    let notes = table.preamble.iter().chain(&table.trailing).map(|note| (note.line, note.text.clone()));
    let mut lines: Vec<(usize, String)> = table.rows.iter().map(|row| (row.line, whole(row))).chain(notes).collect();
    lines.sort_by_key(|(line, _)| *line);
    let parts: Vec<Option<(String, String)>> = lines.iter().map(|(_, text)| taken_apart(text)).collect();
    let found = parts.iter().flatten().count();
    if found < 2 || found * 10 < lines.len() * TENTHS {
        return table;
    }
    (table.rows, table.preamble, table.trailing) = (Vec::new(), Vec::new(), Vec::new());
    for ((line, text), parts) in lines.into_iter().zip(parts) {
        match parts {
            Some((name, said)) => table.rows.push(Row { line, cells: vec![name, said] }),
            None => table.preamble.push(Note { line, text }),
        }
    }
    table.header = HEADER.map(str::to_owned).to_vec();
    table.found.header_line = None;
    let text = format!(
        "a list of lines, not a table: {found} of them begin with designators, {} others are text",
        table.preamble.len()
    );
    table.notes.push(Note { line: table.rows.first().map_or(1, |row| row.line), text });
    table
}

/// `C401 - 1000uF 16V`, `C12/C13: 2200/25`: the designators and the rest.
fn taken_apart(line: &str) -> Option<(String, String)> {
    let (name, rest) =
        line.trim().trim_start_matches(['-', '*', '•']).trim_start().split_once([' ', ':', '\t', '='])?;
    let (name, rest) = more_names(name, rest);
    let name = name.trim_end_matches([',', ';', '-', '&', '+', ' ']);
    let rest = rest.trim_start_matches(|c: char| c.is_whitespace() || matches!(c, '-' | '–' | ':' | '='));
    let numbered = name.chars().any(|c| c.is_ascii_digit());
    (numbered && !rest.is_empty() && is_designators(name)).then(|| (name.to_owned(), rest.trim_end().to_owned()))
}

/// `C101, C102 & C103 - 10000uF`: the names of a list that stand in front of the rest.
fn more_names<'a>(name: &str, rest: &'a str) -> (String, &'a str) {
    let (mut names, mut rest) = (name.to_owned(), rest);
    loop {
        let next = rest.trim_start();
        let (joint, next) = ["&", "+", "and ", "und "]
            .iter()
            .find_map(|word| next.strip_prefix(word).map(|next| (true, next.trim_start())))
            .unwrap_or((false, next));
        let end = next.find([' ', ':', ',', ';', '\t', '=']).unwrap_or(next.len());
        let (word, behind) = next.split_at(end);
        let listed = joint || names.ends_with([',', ';']);
        let is_name = word.chars().any(|c| c.is_ascii_digit()) && is_designators(word) && !behind.trim().is_empty();
        if !listed || !is_name {
            return (names, rest);
        }
        names = format!("{}, {word}", names.trim_end_matches([',', ';']));
        rest = behind;
        if let Some(behind) = rest.trim_start().strip_prefix([',', ';']) {
            names.push(',');
            rest = behind;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::import::synonyms::known;
    use crate::files::table::{self, Options};

    fn split_of(text: &str) -> Table {
        split(table::read(text.as_bytes(), known(), &Options::default()).unwrap())
    }

    // Hand-made list.
    #[test]
    fn a_list_of_designators_broken_over_rows_is_one() {
        let text = "Item,Quantity,Reference,Value\n1,3,\"C4,C5,\",22uF/35V\n,,C6,\n2,2,\"C7,\",10uF\n,,C8,\n";
        let table = joined(table::read(text.as_bytes(), known(), &Options::default()).unwrap());
        let names: Vec<&str> = table.rows.iter().map(|row| row.cells[2].as_str()).collect();
        assert_eq!(names, ["C4,C5, C6", "C7, C8"]);
    }

    // Hand-made lines.
    #[test]
    fn several_designators_in_front_of_a_line_are_all_taken() {
        for (line, names, said) in [
            ("C101, C102 - 10000uF 63V", "C101, C102", "10000uF 63V"),
            ("C1, C2 & C3: 47uF, 50V", "C1, C2, C3", "47uF, 50V"),
            ("C4 and C5 = 10uF", "C4, C5", "10uF"),
            ("C7, 47uF", "C7", "47uF"),
        ] {
            assert_eq!(taken_apart(line), Some((names.to_owned(), said.to_owned())), "{line}");
        }
    }

    // Hand-made lists.
    #[test]
    fn a_list_of_a_letter_becomes_designators_and_texts() {
        let table = split_of(
            "Caps for my monitor:\n\nC401 - 1000uF 16V\nC402 - 47uF 25V\nC405: 4.7uF 50V NP (bipolar)\n\nGood luck!\n",
        );
        let rows: Vec<&[String]> = table.rows.iter().map(|row| row.cells.as_slice()).collect();
        assert!(rows.contains(&["C401".to_owned(), "1000uF 16V".to_owned()].as_slice()), "{rows:?}");
        assert!(rows.contains(&["C405".to_owned(), "4.7uF 50V NP (bipolar)".to_owned()].as_slice()), "{rows:?}");
    }

    #[test]
    fn a_table_stays_a_table() {
        for text in ["C1,470uF,25V\nC2,100uF,50V\n", "Ref Value\nC1 470uF\nC2 100uF\n", "just words\nand more words\n"]
        {
            let before = table::read(text.as_bytes(), known(), &Options::default()).unwrap();
            assert_eq!(split(before.clone()).header, before.header, "{text}");
        }
    }
}
