//! What stands around a table on its page: titles over it, legends below it, the notes its marks point to.

use super::page::Rect;
use super::rows::Grid;
use super::text::is_figure;

/// Largest distance of a title from its table, in points.
const TITLE_PT: f32 = 40.0;
/// Most lines of text around a table that are kept with it.
pub(super) const LINES_MAX: usize = 12;

/// Adds to the names of columns and to figures what their footnotes say of frequency and temperature: `*2` and
/// `*2: Ripple current (100 kHz / +105 °C)`.
pub(super) fn conditions(grid: &mut Grid, lines: &[(Rect, String)]) {
    let condition = |marks: &str, most: usize| {
        let own = lines.iter().find_map(|(_, text)| {
            let behind = text.trim_start().strip_prefix(marks)?;
            behind.starts_with(|c: char| !c.is_alphanumeric()).then_some(behind)
        });
        // Several notes may stand in one line.
        let within = || lines.iter().find_map(|(_, text)| text.split_once(&format!(" {marks} "))?.1.split(". ").next());
        let note = own.or_else(within)?;
        let inner = note.split_once('(').and_then(|(_, inner)| inner.rsplit_once(')')).map_or(note, |(inner, _)| inner);
        let inner = inner.trim_matches(|c: char| c.is_whitespace() || matches!(c, ':' | ')' | '.'));
        let about = inner.contains("Hz") || inner.contains('℃') || inner.contains("°C");
        (inner.chars().count() <= most && about).then(|| inner.to_owned())
    };
    let marks = std::mem::take(&mut grid.header_marks);
    for (name, marks) in grid.header.iter_mut().zip(marks).filter(|(_, marks)| !marks.is_empty()) {
        if let Some(inner) = condition(&marks, 40) {
            *name = format!("{name} ({inner})");
        }
    }
    // A figure that holds under another condition than its column is not that of its column.
    let conditional = |name: &String| {
        let name = name.to_lowercase();
        ["ripple", "esr", "imped", "tan", "ma", "mω"].iter().any(|word| name.contains(word))
    };
    for row in &mut grid.rows {
        let cells = row.iter_mut().zip(&grid.header).filter(|(_, name)| conditional(name)).map(|(cell, _)| cell);
        for cell in cells.filter(|cell| !cell.marks.is_empty() && is_figure(&cell.text)) {
            if let Some(inner) = condition(&cell.marks, 80) {
                cell.text = format!("{} under another condition: {inner}", cell.text);
            }
        }
    }
}

/// The lines of text close above a table.
pub(super) fn above(lines: &[(Rect, String)], table: Rect) -> Vec<String> {
    let near = |rect: &Rect| {
        let gap = table.y0 - rect.y1;
        (-4.0..=TITLE_PT).contains(&gap) && rect.x1 > table.x0 - TITLE_PT && rect.x0 < table.x1
    };
    lines.iter().filter(|(rect, _)| near(rect)).map(|(_, text)| text.clone()).take(LINES_MAX).collect()
}

/// The lines close below a table that say what stands in its cells.
pub(super) fn legends(lines: &[(Rect, String)], table: Rect) -> impl Iterator<Item = String> {
    let near = move |rect: &Rect| (-4.0..=TITLE_PT).contains(&(rect.y0 - table.y1));
    let says = |text: &str| {
        let lower = text.to_lowercase();
        let unit = ["mm", "(ma", "ma ", "marms", "ω"].iter().any(|unit| lower.contains(unit));
        unit && ["size", "ripple", "impedance", "esr", "d×l", "dxl"].iter().any(|word| lower.contains(word))
    };
    lines.iter().filter(move |(rect, text)| near(rect) && says(text)).map(|(_, text)| text.clone()).take(LINES_MAX)
}
