//! A lattice of cells as a table: names over columns, rows below them, and the place of every cell on the page.

use super::lattice::Lattice;
use super::marks::{self, TextLine};
use super::page::Rect;
use crate::domain::style::counted;

/// Most rows that a header has.
const HEADER_MAX: usize = 8;
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

/// A lattice with the text of its regions.
struct Read<'a> {
    lattice: &'a Lattice,
    lines: Vec<Vec<TextLine>>,
}

impl Read<'_> {
    fn text(&self, row: usize, column: usize) -> String {
        marks::header(&self.lines[self.lattice.fields[row][column]])
    }

    fn columns(&self) -> usize {
        self.lattice.fields.first().map_or(0, Vec::len)
    }

    /// The columns the region of a field covers.
    fn span(&self, row: usize, column: usize) -> (usize, usize) {
        self.lattice.regions[self.lattice.fields[row][column]].columns
    }
}

/// The table of a lattice.
pub(super) fn of(lattice: &Lattice) -> Grid {
    let lines = lattice.regions.iter().map(|region| marks::lines(&region.words)).collect();
    let read = Read { lattice, lines };
    let rows = lattice.fields.len();
    let texts: Vec<Vec<String>> =
        (0..rows).map(|row| (0..read.columns()).map(|column| read.text(row, column)).collect()).collect();
    let titles = (0..rows.min(HEADER_MAX)).take_while(|&row| is_title(&read, row)).count();
    let body_row = (titles..rows.min(titles + HEADER_MAX)).find(|&row| is_body(&read, row)).unwrap_or(rows);
    // A line over all columns between header and rows is about the rows.
    let over_rows = (titles + 1..body_row).rev().take_while(|&row| is_title(&read, row)).count();
    let first = body_row - over_rows;
    let mut grid = Grid { rect: lattice.rect, texts, ..Grid::default() };
    grid.above = (0..titles).map(|row| read.text(row, 0)).filter(|text| !text.is_empty()).collect();
    if first > titles {
        grid.header = header(&read, titles, first, &mut grid.above);
        grid.header_marks = (0..read.columns()).map(|column| header_marks(&read, column, titles, first)).collect();
    }
    for row in first..rows {
        body(&read, row, &mut grid);
    }
    grid.columns = (0..read.columns()).map(|column| sides(lattice, column)).collect();
    tidy(&mut grid);
    if !lattice.ruled {
        (0..grid.header.len().min(2)).for_each(|column| labels(&mut grid, column));
    }
    side_by_side(&mut grid);
    figures(&mut grid);
    codes(&mut grid);
    grid
}

/// Left and right side of a column: those of its narrowest cell.
fn sides(lattice: &Lattice, column: usize) -> (f32, f32) {
    let rects = lattice.fields.iter().map(|row| lattice.regions[row[column]].rect);
    let narrowest = rects.min_by(|a, b| a.width().total_cmp(&b.width())).unwrap_or_default();
    (narrowest.x0, narrowest.x1)
}

/// A single text over all columns.
fn is_title(read: &Read, row: usize) -> bool {
    let (from, to) = read.span(row, 0);
    from == 0 && to == read.columns()
}

/// `820`, `*820`, `±20`, `5×11`; a dash stands for a figure that is not there.
pub(super) fn is_figure(text: &str) -> bool {
    let text = marks::apart(text).0;
    let bare = text.trim_start_matches(['±', '+', '<', '>', '≤', '≥', '≦', '≧', '(', '~', 'φ', 'Φ', 'ø', 'Ø']);
    bare.starts_with(|c: char| c.is_ascii_digit()) || is_dash(&text)
}

fn is_dash(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|c| "-–—―−─".contains(c))
}

/// Letters and digits in one word, as part numbers are.
fn is_code(text: &str) -> bool {
    let word = text.trim();
    word.len() >= 6
        && word.split_whitespace().count() <= 2
        && word.chars().filter(char::is_ascii_digit).count() >= 2
        && word.starts_with(|c: char| c.is_ascii_alphanumeric())
        && word.chars().filter(|c| c.is_ascii_uppercase()).count() >= 2
}

/// Whether a row holds figures under a header.
fn is_body(read: &Read, row: usize) -> bool {
    let mut distinct: Vec<usize> = read.lattice.fields[row].clone();
    distinct.dedup();
    let texts: Vec<String> = distinct.iter().map(|&at| marks::header(&read.lines[at])).collect();
    let filled: Vec<&String> = texts.iter().filter(|text| !text.is_empty()).collect();
    let figures = filled.iter().filter(|text| is_figure(text) || is_code(text)).count();
    if filled.len() < 2 || figures * 2 < filled.len() {
        return false;
    }
    let first = &read.lattice.regions[read.lattice.fields[row][0]];
    if texts[0].is_empty() {
        // Voltages over the columns of a table without a word in its corner look like figures, too.
        let sized = |text: &&String| text.chars().any(|c| matches!(c, 'x' | 'X' | '×' | '*')) && is_figure(text);
        return first.rows.0 >= row && filled.iter().any(|text| sized(text) || is_code(text));
    }
    let label = is_figure(&texts[0]) || is_code(&texts[0]);
    label && (first.rows.0 == row || first.rows.0 >= 1)
}

/// Names of the columns: the texts above each other. Titles over a whole table of voltages go to `above`.
fn header(read: &Read, from: usize, to: usize, above: &mut Vec<String>) -> Vec<String> {
    let mut names: Vec<Vec<String>> = vec![Vec::new(); read.columns()];
    for row in from..to {
        for (column, name) in names.iter_mut().enumerate() {
            let (first, last) = read.span(row, column);
            let again = row > from && read.lattice.fields[row - 1][column] == read.lattice.fields[row][column];
            let text = read.text(row, column);
            if again || text.is_empty() {
                continue;
            }
            let below = |column: usize| {
                (row + 1..to).map(|below| read.text(below, column)).find(|text| !text.is_empty()).unwrap_or_default()
            };
            // A text over voltages: they name the column, and what stands over all of them names the table.
            let over_figures = last - first >= 2 && !is_figure(&text) && (first..last).all(|at| is_figure(&below(at)));
            if over_figures && last - first + 2 >= read.columns() {
                if column == first {
                    above.push(text);
                }
                continue;
            }
            if over_figures {
                name.push(text);
                continue;
            }
            // A figure comes first, whatever stands over it.
            let is_first = text.starts_with(|c: char| c.is_ascii_digit()) && row > from && !name.is_empty();
            let place = if is_first { 0 } else { name.len() };
            name.insert(place, text);
        }
    }
    names.into_iter().map(|texts| texts.join(" ")).collect()
}

/// The marks at the lowest text over a column that has any.
fn header_marks(read: &Read, column: usize, from: usize, to: usize) -> String {
    let marks = |row: usize| -> String {
        read.lines[read.lattice.fields[row][column]].iter().map(|line| line.marks.as_str()).collect()
    };
    (from..to).rev().map(marks).find(|marks| !marks.is_empty()).unwrap_or_default()
}

/// The cells of one row of a lattice: one row, or one for each of the lines that stand in several of its cells.
fn body(read: &Read, row: usize, grid: &mut Grid) {
    let columns = read.columns();
    if is_title(read, row) {
        // A line of text between the rows is said once.
        let mut cells = vec![Cell::default(); columns];
        cells[0] = Cell { text: read.text(row, 0), rect: read.lattice.regions[read.lattice.fields[row][0]].rect };
        grid.rows.push(cells);
        return;
    }
    let bases = sub_rows(read, row);
    // Under voltages a single figure beside two is one part, not two.
    let matrix = grid.header.iter().filter(|name| is_figure(name)).count() * 2 > grid.header.len();
    for at in 0..bases.len().max(1) {
        let mut cells = Vec::new();
        for column in 0..columns {
            let index = read.lattice.fields[row][column];
            let (region, lines) = (&read.lattice.regions[index], &read.lines[index]);
            let own: Vec<&TextLine> = match bases.get(at) {
                // A cell with a single line is one for all the lines beside it.
                Some(&base) if lines.len() > 1 => {
                    lines.iter().filter(|line| (line.base - base).abs() <= 0.5 * line.size).collect()
                }
                _ if matrix && at > 0 && column > 0 => Vec::new(),
                _ => lines.iter().collect(),
            };
            let rect = match (own.as_slice(), bases.len() > 1) {
                ([line], true) => {
                    Rect { y0: line.base - 0.85 * line.size, y1: line.base + 0.3 * line.size, ..region.rect }
                }
                _ => region.rect,
            };
            let texts: Vec<String> = own
                .iter()
                .map(|line| {
                    if line.marks.is_empty() { line.text.clone() } else { format!("{} \u{2}{}", line.text, line.marks) }
                })
                .collect();
            // A code in brackets under its figure belongs to it.
            cells.push(Cell { text: texts.join("\n").replace("\n(", " (").replace("\n（", " ("), rect });
        }
        grid.rows.push(cells);
    }
}

/// Base lines of the rows within a row; empty where it is one.
fn sub_rows(read: &Read, row: usize) -> Vec<f32> {
    let mut fields: Vec<usize> = read.lattice.fields[row].clone();
    fields.dedup();
    let single = |index: &&usize| {
        let region = &read.lattice.regions[**index];
        region.rows == (row, row + 1)
    };
    let cells: Vec<&Vec<TextLine>> = fields.iter().filter(single).map(|&index| &read.lines[index]).collect();
    let several: Vec<&&Vec<TextLine>> = cells.iter().filter(|lines| lines.len() > 1).collect();
    let Some(most) = several.iter().max_by_key(|lines| lines.len()) else { return Vec::new() };
    let aligned = |lines: &Vec<TextLine>| {
        lines.iter().all(|line| most.iter().any(|other| (line.base - other.base).abs() <= 0.5 * line.size))
    };
    // Lines of one kind are figures of several parts; of several kinds they are several figures of one.
    let alike = |lines: &Vec<TextLine>| {
        let kind = |line: &TextLine| {
            let text = &line.text;
            (is_figure(text), text.contains(['x', '×', 'X']), is_code(text))
        };
        let mut kinds: Vec<_> = lines.iter().filter(|line| !is_dash(&line.text)).map(kind).collect();
        kinds.dedup();
        kinds.len() <= 1
    };
    let first_column = read.lines[read.lattice.fields[row][0]].len();
    let labelled = first_column == most.len();
    // Two figures in every cell of the table are two meanings, not two parts.
    let everywhere = read.lattice.fields.len() > 2
        && cells
            .iter()
            .skip(1)
            .filter(|lines| !lines.is_empty())
            .all(|lines| lines.len() == most.len() || lines.iter().all(|line| is_dash(&line.text)))
        && !labelled
        && uniform(read, most.len());
    if several.len() < 2 || everywhere || !several.iter().all(|lines| aligned(lines) && alike(lines)) {
        return Vec::new();
    }
    most.iter().map(|line| line.base).collect()
}

/// Whether nearly every filled cell with figures has the same number of lines.
fn uniform(read: &Read, count: usize) -> bool {
    let (mut same, mut all) = (0, 0);
    for row in 0..read.lattice.fields.len() {
        let mut fields: Vec<usize> = read.lattice.fields[row].iter().skip(1).copied().collect();
        fields.dedup();
        for lines in fields
            .iter()
            .map(|&index| &read.lines[index])
            .filter(|lines| lines.first().is_some_and(|line| is_figure(&line.text) && !is_dash(&line.text)))
        {
            all += 1;
            same += usize::from(lines.len() == count);
        }
    }
    same * 10 >= all * 8
}

/// Drops columns and rows without any text, and repetitions of the header between the rows.
fn tidy(grid: &mut Grid) {
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
fn labels(grid: &mut Grid, column: usize) {
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
fn side_by_side(grid: &mut Grid) {
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

/// A column headed `Rated voltage (code)` has codes in brackets behind its voltages; which letters makers use is no figure.
fn codes(grid: &mut Grid) {
    for (column, name) in grid.header.iter().enumerate() {
        let plain = name.to_lowercase().replace('（', "(").replace('）', ")");
        if !(plain.contains("volt") && plain.contains("code")) {
            continue;
        }
        for cell in grid.rows.iter_mut().filter_map(|row| row.get_mut(column)) {
            let Some(at) = cell.text.find(['(', '（']).filter(|&at| at > 0) else { continue };
            if cell.text[at..].chars().count() <= 4 && cell.text.trim_end().ends_with([')', '）']) {
                cell.text.truncate(at);
                cell.text.truncate(cell.text.trim_end().len());
            }
        }
    }
}

/// Footnote marks leave the figures and become a column of their own.
fn figures(grid: &mut Grid) {
    let mut all: Vec<String> = Vec::new();
    for row in &mut grid.rows {
        let mut found = String::new();
        for cell in row.iter_mut() {
            let lines: Vec<String> = cell
                .text
                .split('\n')
                .map(|line| {
                    let (text, raised) = line.split_once(" \u{2}").unwrap_or((line, ""));
                    let (text, beside) = marks::apart(text);
                    for mark in [raised, beside.as_str()] {
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
        row.push(Cell { text, rect });
    }
}
