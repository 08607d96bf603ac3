//! A table, and its rows once its header is known: what is blank or said twice goes, labels are spread, codes and footnote marks leave the
//! figures.

use super::page::Rect;
use super::text::{apart, code_uf, is_code, is_figure};
use crate::domain::style::counted;

/// Header of the column that footnote marks become.
pub(super) const MARKS: &str = "Footnote marks";
/// Put where a label of several rows stands so that it may belong to the rows above as well: no figure, and not blank either.
pub(super) const UNCLEAR: &str = "(unclear which rows this label belongs to)";

/// A cell of a table.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Cell {
    /// What is printed in it.
    pub text: String,
    /// Where, on its page.
    pub rect: Rect,
    /// Footnote marks at it.
    pub marks: String,
}

/// A table on one page.
#[derive(Debug, Clone, Default)]
pub(super) struct Grid {
    pub(super) rect: Rect,
    /// Empty where the table goes on from the page before.
    pub(super) header: Vec<String>,
    pub(super) rows: Vec<Vec<Cell>>,
    /// Titles over all columns, within the table.
    pub(super) above: Vec<String>,
    pub(super) notes: Vec<String>,
    /// Footnote marks at the names of the columns.
    pub(super) header_marks: Vec<String>,
    /// Left and right side of every column, in points.
    pub(super) columns: Vec<(f32, f32)>,
    /// All its rows as they stand, header and titles included.
    pub(super) texts: Vec<Vec<String>>,
}

impl Grid {
    /// Whether most of its columns are headed by figures: voltages over sizes or currents.
    pub(super) fn is_matrix(&self) -> bool {
        self.header.iter().filter(|name| is_figure(name)).count() * 2 > self.header.len()
    }
}

/// Drops columns and rows without any text, and repetitions of the header between the rows.
pub(super) fn tidy(grid: &mut Grid) {
    /// A column between the two lines of a double ruling.
    const NARROW_PT: f32 = 6.0;
    let width = grid.rows.iter().map(Vec::len).max().unwrap_or(0);
    let side = |at: usize| grid.columns.get(at).map_or(0.0, |sides| sides.1 - sides.0);
    let kept: Vec<usize> = (0..width)
        .filter(|&at| {
            let named = grid.header.get(at).is_some_and(|name| !name.is_empty()) && side(at) > NARROW_PT;
            named || grid.rows.iter().any(|row| row.get(at).is_some_and(|cell| !cell.text.is_empty()))
        })
        .collect();
    grid.header = kept.iter().filter_map(|&at| grid.header.get(at).cloned()).collect();
    grid.header_marks = kept.iter().filter_map(|&at| grid.header_marks.get(at).cloned()).collect();
    grid.columns = kept.iter().filter_map(|&at| grid.columns.get(at).copied()).collect();
    for row in &mut grid.rows {
        *row = kept.iter().filter_map(|&at| row.get(at).cloned()).collect();
    }
    let header = grid.header.clone();
    let is_header = |row: &Vec<Cell>| {
        !header.is_empty() && row.iter().zip(&header).all(|(cell, name)| cell.text.replace('\n', " ") == *name)
    };
    grid.rows.retain(|row| row.iter().any(|cell| !cell.text.is_empty()) && !is_header(row));
}

/// Labels of several rows each, in a table without lines: they stand at the first of their rows or in the middle of them.
pub(super) fn labels(grid: &mut Grid, column: usize) {
    let filled: Vec<usize> = (0..grid.rows.len()).filter(|&row| !grid.rows[row][column].text.is_empty()).collect();
    let rows = grid.rows.len();
    if filled.is_empty() || (rows - filled.len()) * 10 < rows * 3 {
        return;
    }
    // In the middle: each group ends as far below its label as it begins above.
    let mut start = 0;
    let mut middles = Vec::new();
    for &at in &filled {
        let end = (at >= start).then(|| 2 * at - start + 1);
        let Some(end) = end.filter(|end| *end <= rows) else { break };
        middles.push((start, end, at));
        start = end;
    }
    let centred = middles.len() == filled.len() && start == rows;
    let tops: Vec<(usize, usize, usize)> = filled
        .iter()
        .enumerate()
        .map(|(index, &at)| (at, filled.get(index + 1).copied().unwrap_or(rows), at))
        .collect();
    let groups = match (filled[0] == 0, centred) {
        (true, false) => tops,
        (false, true) => middles,
        _ => {
            for row in grid.rows.iter_mut().filter(|row| row[column].text.is_empty()) {
                UNCLEAR.clone_into(&mut row[column].text);
            }
            return grid.notes.push(format!("{}: which rows a label belongs to cannot be told", grid.header[column]));
        }
    };
    for (from, to, at) in groups {
        let cell = grid.rows[at][column].clone();
        grid.rows[from..to].iter_mut().for_each(|row| row[column] = cell.clone());
    }
}

/// The same names twice side by side are one table after the other.
pub(super) fn side_by_side(grid: &mut Grid) {
    let width = grid.header.len();
    let times = (2..=4).rev().find(|times| {
        let part = width / times;
        width.is_multiple_of(*times) && part >= 2 && grid.header.chunks(part).all(|names| names == &grid.header[..part])
    });
    let Some(times) = times else { return };
    let part = width / times;
    grid.header.truncate(part);
    grid.columns.truncate(part);
    let rows = std::mem::take(&mut grid.rows);
    for nth in 0..times {
        for row in &rows {
            let cells: Vec<Cell> = row.iter().skip(nth * part).take(part).cloned().collect();
            if cells.iter().any(|cell| !cell.text.is_empty()) {
                grid.rows.push(cells);
            }
        }
    }
}

/// A column headed `Rated voltage (code)` has codes in brackets behind its voltages, which letters makers use is no figure; so have
/// capacitances their three digits: `100 (101)`.
pub(super) fn codes(grid: &mut Grid) {
    // A column of such codes beside the capacitances is no column of part numbers.
    for column in 1..grid.header.len() {
        let uf = |row: &Vec<Cell>| row.get(column - 1).and_then(|cell| cell.text.parse().ok());
        let code = |row: &Vec<Cell>| row.get(column).and_then(|cell| code_uf(&cell.text));
        if !grid.rows.is_empty() && grid.rows.iter().all(|row| code(row).is_some() && code(row) == uf(row)) {
            "Capacitance code".clone_into(&mut grid.header[column]);
        }
    }
    for (column, name) in grid.header.iter().enumerate() {
        let plain = name.to_lowercase().replace('（', "(").replace('）', ")");
        let of_volts = plain.contains("volt") && plain.contains("code");
        for cell in grid.rows.iter_mut().filter_map(|row| row.get_mut(column)) {
            let Some(at) = cell.text.find(['(', '（']).filter(|&at| at > 0) else { continue };
            let inner = cell.text[at..].trim_matches(['(', ')', '（', '）', ' ']);
            let of_value = cell.text[..at].trim().parse().is_ok_and(|value: f64| code_uf(inner) == Some(value));
            if (of_value || of_volts && inner.chars().count() <= 2) && cell.text.trim_end().ends_with([')', '）']) {
                cell.text.truncate(at);
                cell.text.truncate(cell.text.trim_end().len());
            }
        }
    }
}

/// Footnote marks leave the figures and become a column of their own.
pub(super) fn figures(grid: &mut Grid) {
    let mut all: Vec<String> = Vec::new();
    for row in &mut grid.rows {
        let mut found = String::new();
        for cell in row.iter_mut() {
            let lines: Vec<String> = std::mem::take(&mut cell.text)
                .split('\n')
                .map(|line| {
                    let (text, raised) = line.split_once(" \u{2}").unwrap_or((line, ""));
                    // A mark at the end of a part number stands for a code that is left open.
                    let (text, beside) = if is_code(text) && !text.contains(char::is_whitespace) {
                        (text.to_owned(), String::new())
                    } else {
                        apart(text)
                    };
                    for mark in [raised, beside.as_str()] {
                        cell.marks.push_str(mark);
                        if !mark.is_empty() && !found.contains(mark) {
                            found.push_str(mark);
                        }
                    }
                    text
                })
                .collect();
            cell.text = lines.join("\n");
        }
        all.push(found);
    }
    if all.iter().all(String::is_empty) || grid.header.is_empty() {
        return;
    }
    let marked = all.iter().filter(|marks| !marks.is_empty()).count();
    let rows = counted(marked, "row has", "rows have");
    grid.notes.push(format!("{rows} footnote marks, taken off their figures: see the notes beside the table"));
    grid.header.push(MARKS.to_owned());
    grid.columns.push((f32::MAX, f32::MAX));
    for (row, text) in grid.rows.iter_mut().zip(all) {
        let rect = row.first().map(|cell| cell.rect).unwrap_or_default();
        row.push(Cell { text, rect, ..Cell::default() });
    }
}

/// Under voltages, rows that say in a column of their own what they hold, such as `Case size` and `Ripple current` for each capacitance,
/// become one with a line for each.
pub(super) fn kinds(grid: &mut Grid) {
    let Some(axis) = grid.header.iter().position(|name| is_figure(name)).filter(|&at| at >= 2) else { return };
    if grid.header.len() < axis + 2 || !grid.header[axis..].iter().all(|name| is_figure(name) || name == MARKS) {
        return;
    }
    let at = axis - 1;
    let kind = |row: &Vec<Cell>| row[at].text.replace('\n', " ");
    let label = |row: &Vec<Cell>| row[..at].iter().map(|cell| cell.text.clone()).collect::<Vec<_>>();
    let groups: Vec<&[Vec<Cell>]> = grid.rows.chunk_by(|a, b| label(a) == label(b)).collect();
    let kinds: Vec<String> = groups.first().map_or_else(Vec::new, |rows| rows.iter().map(kind).collect());
    let same = |rows: &&[Vec<Cell>]| rows.iter().map(kind).eq(kinds.iter().cloned());
    let named = kinds.iter().all(|kind| !is_figure(kind) && kind.contains(char::is_alphabetic));
    if kinds.len() < 2 || !named || !groups.iter().all(same) {
        return;
    }
    let joined = |rows: &[Vec<Cell>]| {
        let mut row = rows[0].clone();
        for (column, cell) in row.iter_mut().enumerate().skip(axis) {
            let texts: Vec<&str> = rows.iter().map(|row| row[column].text.as_str()).collect();
            let last = rows.last().map_or(cell.rect, |row| row[column].rect);
            *cell = Cell { text: texts.join("\n").trim().to_owned(), rect: cell.rect.with(last), ..Cell::default() };
        }
        row.remove(at);
        row
    };
    grid.rows = groups.into_iter().map(joined).collect();
    grid.header.remove(at);
    grid.columns.remove(at);
    grid.above.push(kinds.join(" / "));
}
