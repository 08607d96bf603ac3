//! What the cells of a column look like, whatever its header says.

use super::synonyms::plain;
use super::words;
use crate::files::cell::clean::is_nothing;
use crate::files::cell::{Column, Reading, capacitance, length, number, text, voltage};
use crate::files::designators;
use crate::files::table::Table;

/// Rows looked at; a column that changes its meaning later is no column.
pub(super) const ROWS: usize = 400;

/// The cells of a column that say something, from the first rows.
pub(super) fn samples(table: &Table, at: usize) -> Vec<&str> {
    let cells = table.rows.iter().take(ROWS).filter_map(|row| row.cells.get(at)).map(|cell| cell.trim());
    cells.filter(|cell| !is_nothing(cell)).collect()
}

/// Share of cells for which `fits` holds; 0 for a column without any.
pub(super) fn share(cells: &[&str], fits: impl Fn(&str) -> bool) -> f64 {
    if cells.is_empty() {
        return 0.0;
    }
    cells.iter().filter(|cell| fits(cell)).count() as f64 / cells.len() as f64
}

/// `C1`, `C12A`, `C_S4A1`, `FUZZ1:C1`, `A1C6`, `U$2`, `Cboot`, `C?`: letters and a number, a sheet's or a program's mark and more, a
/// question mark, or a short word that begins with a capacitor's letter. A part number mixes letters and digits longer than that.
pub(super) fn is_designator(name: &str) -> bool {
    let last = designators::own(name);
    let letters = last.chars().take_while(char::is_ascii_alphabetic).count();
    let rest = &last[letters..];
    if rest.is_empty() {
        return last.starts_with('C') && (2..=8).contains(&last.len());
    }
    let digits = rest.chars().take_while(char::is_ascii_digit).count();
    let behind = &rest[digits..];
    let numbered = (1..=5).contains(&digits) && (behind.is_empty() || (behind.len() == 1 && behind.is_ascii()));
    let marked = rest.starts_with(['_', '$', '-', '.'])
        && rest.len() <= 9
        && rest.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '$' | '-' | '.'));
    let dashed = rest.starts_with('-') && letters > 1;
    (1..=4).contains(&letters) && (numbered || (marked && !dashed) || rest == "?")
}

/// Whether a cell is a list of designators.
pub(super) fn is_designators(cell: &str) -> bool {
    if cell.is_ascii() && !cell.contains(|c: char| c.is_ascii_alphabetic() || c == '?') {
        return false;
    }
    let found = designators::read(cell, None);
    let good = found.refs.iter().filter(|name| is_designator(name)).count() + found.unnumbered;
    found.count() > 0 && good * 10 >= found.count() * 8
}

/// Whether some designator of a cell is one of a capacitor, or does not say.
pub(super) fn names_capacitors(cell: &str) -> bool {
    let found = designators::read(cell, None);
    found.refs.is_empty() || found.refs.iter().any(|name| designators::is_capacitor(name) != Some(false))
}

/// `TOTAL`, `Grand total`, `Zwischensumme`: the first cell of a row of sums.
pub(super) fn is_total(cells: &[String]) -> bool {
    let first = cells.iter().map(|cell| cell.trim().to_lowercase()).find(|cell| !cell.is_empty()).unwrap_or_default();
    let ends = |behind: &str| behind.is_empty() || behind.starts_with(' ') || behind == ":";
    words::list("totals").any(|word| first.strip_prefix(word).is_some_and(ends))
}

/// A title, a total or a remark between the rows: a single cell of text in a table of at least three columns.
pub(super) fn is_remark(cells: &[String]) -> bool {
    title(cells).is_some()
}

/// The text of such a row.
pub(super) fn title(cells: &[String]) -> Option<&str> {
    let mut filled = cells.iter().map(|cell| cell.trim()).filter(|cell| !cell.is_empty());
    let (first, second) = (filled.next()?, filled.next());
    let row = first.starts_with(|c: char| c.is_ascii_digit()) && tells_capacitance(first);
    let alone = cells.len() >= 3 && second.is_none() && !row;
    (alone && !is_number(first) && (!is_designators(first) || is_word(first))).then_some(first)
}

/// A word without a digit is a title in a row of its own, whatever letter it begins with: `Control`, `Caps`.
fn is_word(cell: &str) -> bool {
    !cell.contains(|c: char| c.is_ascii_digit() || c == '?')
}

/// A header that counts the rows: `No.`, `Pos`.
pub(super) fn is_counter(header: &str) -> bool {
    matches!(
        plain(header).as_str(),
        "no" | "nr" | "num" | "number" | "pos" | "item" | "id" | "lfdnr" | "posnr" | "序号"
    )
}

/// Whole numbers as some makers name their parts, 1001, 1002, 2203: every cell another.
pub(super) fn bare_numbers(cells: &[&str]) -> bool {
    let mut numbers: Vec<&str> =
        cells.iter().copied().filter(|cell| cell.len() <= 5 && cell.bytes().all(|c| c.is_ascii_digit())).collect();
    let whole = numbers.len() * 10 >= cells.len() * 9 && cells.len() > 1;
    numbers.sort_unstable();
    let all = numbers.len();
    numbers.dedup();
    whole && numbers.len() == all
}

/// A plain number, in any decimal mark.
pub(super) fn is_number(cell: &str) -> bool {
    matches!(number::read(cell, &Column::default()), Reading::Value(_) | Reading::Ambiguous { .. })
}

/// A coordinate: a number with or without a unit of length.
pub(super) fn is_coordinate(cell: &str) -> bool {
    matches!(length::read(cell, &Column::default()), Reading::Value(_) | Reading::Ambiguous { .. })
}

/// A capacitance with its unit.
pub(super) fn is_capacitance(cell: &str) -> bool {
    !is_number(cell)
        && matches!(capacitance::read(cell, &Column::default()), Reading::Value(_) | Reading::Ambiguous { .. })
}

/// `470uF 25V electrolytic`: a text with a capacitance in it.
pub(super) fn tells_capacitance(cell: &str) -> bool {
    let has = |of: fn(&u8) -> bool| cell.bytes().any(|byte| of(&byte));
    // A figure and its unit.
    let may = !cell.is_ascii() || has(u8::is_ascii_digit) && has(u8::is_ascii_alphabetic);
    may && matches!(text::find(cell, &Column::default()).capacitance_uf, Reading::Value(_))
}

/// A voltage with its unit.
pub(super) fn is_voltage(cell: &str) -> bool {
    !is_number(cell) && matches!(voltage::read(cell, &Column::default()), Reading::Value(_) | Reading::Ambiguous { .. })
}

fn says_no_figure(cell: &str) -> bool {
    let found = text::find(cell, &Column::default());
    matches!((found.capacitance_uf, found.rated_v), (Reading::Nothing, Reading::Nothing))
}

/// A name of letters and digits that is no figure and no plain sentence: `KAR1V471MPD`, `AX 2222-011`.
pub(super) fn is_part_number(cell: &str) -> bool {
    let letters = cell.chars().filter(|c| c.is_alphabetic()).count();
    let digits = cell.chars().filter(char::is_ascii_digit).count();
    let figure = || is_number(cell) || is_capacitance(cell) || is_voltage(cell) || is_coordinate(cell);
    letters >= 1
        && digits >= 1
        && (2..=30).contains(&cell.chars().count())
        && cell.split_whitespace().count() <= 3
        && cell.chars().all(|c| c.is_alphanumeric() || " -_./+#□".contains(c))
        && !cell.starts_with(|c: char| c.is_ascii_digit() && cell.contains(['x', '×', '*']) && letters == 1)
        && !figure()
        // `KEL-470U-35` is one name, `470U 35V` two figures.
        && (says_no_figure(cell) || (cell.starts_with(char::is_alphabetic) && !cell.contains(char::is_whitespace)))
}

/// The side a word stands for: `Some(true)` for the bottom.
pub(super) fn side(cell: &str) -> Option<bool> {
    let word: String = cell.chars().filter(|c| c.is_alphanumeric()).collect();
    let is = |side| words::says(side, &word);
    is("bottom side").then_some(true).or_else(|| is("top side").then_some(false))
}

/// Whether a cell names a capacitor on a board.
pub(super) fn capacitors_in(cell: &str) -> bool {
    is_designators(cell)
        && designators::read(cell, None).refs.iter().any(|name| designators::is_capacitor(name) == Some(true))
}

/// Whether the names of a column, at least this share of them, are capacitors' with a number, not words that begin with their letter.
pub(super) fn numbered(cells: &[&str], least: f64) -> bool {
    share(cells, |cell| cell.contains(|c: char| c.is_ascii_digit() || c == '?') && capacitors_in(cell)) >= least
}

#[cfg(test)]
#[path = "../../../tests/within/import_shape.rs"]
mod tests;
