//! A lattice of cells as a table: names over columns, rows below them, and the place of every cell on the page.

use super::lattice::Lattice;
use super::marks::{self, TextLine};
use super::page::Rect;
use super::rows::{self, Cell, Grid};
use super::text::{is_code, is_dash, is_figure, parted_code};

/// Most rows that a header has.
const HEADER_MAX: usize = 8;
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
    let body_row = lattice.head.map_or(body_row, |head| head.max(titles));
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
    rows::tidy(&mut grid);
    if !lattice.ruled {
        (0..grid.header.len().min(2)).for_each(|column| rows::labels(&mut grid, column));
    }
    rows::side_by_side(&mut grid);
    rows::figures(&mut grid);
    rows::codes(&mut grid);
    rows::kinds(&mut grid);
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
            // The figure of an axis comes first, whatever stands over it.
            let unit = text.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',')).trim_start();
            let of_axis = unit.is_empty() || unit.starts_with(['V', 'v', 'W', 'µ', 'μ', 'u', '(', '（']);
            let is_first = text.starts_with(|c: char| c.is_ascii_digit()) && of_axis && row > from && !name.is_empty();
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
        let rect = read.lattice.regions[read.lattice.fields[row][0]].rect;
        cells[0] = Cell { text: read.text(row, 0), rect, ..Cell::default() };
        grid.rows.push(cells);
        return;
    }
    // Under voltages a single figure beside two is one part, not two.
    let matrix = grid.is_matrix();
    let bases = sub_rows(read, row, matrix);
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
            let text =
                parted_code(&texts).unwrap_or_else(|| texts.join("\n").replace("\n(", " (").replace("\n（", " ("));
            cells.push(Cell { text, rect, ..Cell::default() });
        }
        grid.rows.push(cells);
    }
}

/// Base lines of the rows within a row; empty where it is one.
fn sub_rows(read: &Read, row: usize, matrix: bool) -> Vec<f32> {
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
    // Two figures in every cell under voltages are two meanings, not two parts.
    let everywhere = matrix
        && read.lattice.fields.len() > 2
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
