//! Lists that are no tables: one position a line, as people write them in letters and forums (`C401 - 1000uF 16V`).

use super::shape::is_designators;
use crate::files::table::{Note, Row, Table};

/// Share of the lines that must begin with a designator, in tenths.
const TENTHS: usize = 5;

/// What the columns of such a list are called.
const HEADER: [&str; 2] = ["Designator", "Description"];

/// Whether a table was taken apart from lines.
pub(super) fn is_list(table: &Table) -> bool {
    table.found.header_line.is_none() && table.header == HEADER
}

/// Takes lines apart into designators and what is said about them; any other table comes back as it is.
pub(super) fn split(mut table: Table) -> Table {
    if table.found.header_line.is_some() || table.header.is_empty() {
        return table;
    }
    let whole = |row: &Row| row.cells.iter().filter(|cell| !cell.is_empty()).cloned().collect::<Vec<_>>().join(", ");
    let one_cell =
        table.rows.iter().filter(|row| row.cells.iter().filter(|cell| !cell.is_empty()).count() <= 1).count();
    let parts: Vec<Option<(String, String)>> = table.rows.iter().map(|row| taken_apart(&whole(row))).collect();
    let found = parts.iter().flatten().count();
    if found < 2 || found * 10 < table.rows.len() * TENTHS || one_cell * 10 < table.rows.len() * TENTHS {
        return table;
    }
    for (row, parts) in table.rows.iter_mut().zip(parts) {
        let (name, said) = parts.unwrap_or_else(|| (String::new(), whole(row)));
        row.cells = vec![name, said];
    }
    table.header = HEADER.map(str::to_owned).to_vec();
    let text = format!("a list of lines, not a table: {found} of them begin with designators");
    table.notes.push(Note { line: table.rows.first().map_or(1, |row| row.line), text });
    table
}

/// `C401 - 1000uF 16V`, `C12/C13: 2200/25`: the designators and the rest.
fn taken_apart(line: &str) -> Option<(String, String)> {
    let (name, rest) =
        line.trim().trim_start_matches(['-', '*', '•']).trim_start().split_once([' ', ':', '\t', '='])?;
    let name = name.trim_end_matches([',', ';', '-']);
    let rest = rest.trim_start_matches(|c: char| c.is_whitespace() || matches!(c, '-' | '–' | ':' | '='));
    let numbered = name.chars().any(|c| c.is_ascii_digit());
    (numbered && !rest.is_empty() && is_designators(name)).then(|| (name.to_owned(), rest.trim_end().to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::import::synonyms::known;
    use crate::files::table::{self, Options};

    fn split_of(text: &str) -> Table {
        split(table::read(text.as_bytes(), known(), &Options::default()).unwrap())
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
