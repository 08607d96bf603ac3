//! Tables without ruling lines: rows of chunks of text with the same gaps between them.

use super::lattice::{Lattice, Region};
use super::page::{Rect, Word};

/// Widest gap within a chunk, in sizes of its letters.
const GAP: f32 = 0.75;
/// Fewest chunks of a row.
const CHUNKS_MIN: usize = 3;
/// Fewest rows of a table.
const ROWS_MIN: usize = 3;
/// Most lines of a header.
const HEADER_MAX: usize = 6;
/// Most words that are looked at: tables without lines are no longer than a page.
const WORDS_MAX: usize = 20_000;

/// A line of text in chunks.
struct Line {
    base: f32,
    size: f32,
    chunks: Vec<(Rect, Vec<Word>)>,
}

/// Words on one base line, marks raised or lowered a little included, from left to right.
pub(super) fn lines(words: &[Word]) -> Vec<Vec<Word>> {
    let mut sorted: Vec<&Word> = words.iter().filter(|word| word.turn == 0).take(WORDS_MAX).collect();
    sorted.sort_by(|a, b| a.base.total_cmp(&b.base));
    let mut lines: Vec<Vec<Word>> = Vec::new();
    for word in sorted {
        let near = |last: &&mut Vec<Word>| {
            last.last().is_some_and(|before| word.base - before.base <= 0.45 * word.size.max(before.size))
                && last.first().is_some_and(|first| word.base - first.base <= 0.6 * word.size.max(first.size))
        };
        match lines.last_mut().filter(near) {
            Some(line) => line.push(word.clone()),
            None => lines.push(vec![word.clone()]),
        }
    }
    lines.iter_mut().for_each(|line| line.sort_by(|a, b| a.rect.x0.total_cmp(&b.rect.x0)));
    lines
}

/// The words of a line in chunks with wide gaps between them.
pub(super) fn chunks(line: &[Word]) -> Vec<(Rect, Vec<Word>)> {
    let mut chunks: Vec<(Rect, Vec<Word>)> = Vec::new();
    for word in line {
        match chunks.last_mut().filter(|(rect, _)| word.rect.x0 - rect.x1 <= GAP * word.size) {
            Some((rect, words)) => {
                *rect = rect.with(word.rect);
                words.push(word.clone());
            }
            None => chunks.push((word.rect, vec![word.clone()])),
        }
    }
    chunks
}

/// The tables among words that belong to no ruled one.
pub(super) fn of(words: &[Word]) -> Vec<Lattice> {
    let lines = line_chunks(words);
    let mut tables = Vec::new();
    let mut at = 0;
    while at < lines.len() {
        let end = at + lines[at..].iter().take_while(|line| is_row(line)).count();
        let end = (at + 1..end).find(|&next| is_apart(&lines[next - 1], &lines[next])).unwrap_or(end);
        if end - at >= ROWS_MIN {
            tables.extend(table(&lines, at, end));
        }
        at = end.max(at + 1);
    }
    tables
}

fn line_chunks(words: &[Word]) -> Vec<Line> {
    let line = |words: Vec<Word>| Line {
        base: words.iter().map(|word| word.base).sum::<f32>() / words.len() as f32,
        size: words.iter().map(|word| word.size).fold(0.0, f32::max),
        chunks: chunks(&words),
    };
    lines(words).into_iter().map(line).collect()
}

fn is_apart(above: &Line, below: &Line) -> bool {
    below.base - above.base > 3.5 * below.size.max(above.size)
}

/// Figures in most chunks.
fn is_row(line: &Line) -> bool {
    let figure = |chunk: &&(Rect, Vec<Word>)| {
        let text: String = chunk.1.iter().map(|word| word.text.as_str()).collect();
        text.contains(|c: char| c.is_ascii_digit()) || text.chars().all(|c| "-–—―*".contains(c))
    };
    line.chunks.len() >= CHUNKS_MIN && line.chunks.iter().filter(figure).count() * 3 >= line.chunks.len() * 2
}

/// The table of all words between column lines that somebody drew.
pub(super) fn by_columns(words: &[Word], edges: &[f32]) -> Option<Lattice> {
    let columns: Vec<(f32, f32)> = edges.windows(2).map(|pair| (pair[0], pair[1])).collect();
    let mut lines: Vec<Line> = line_chunks(words);
    // A chunk over a line is parted by it, word for word.
    for line in &mut lines {
        let words = std::mem::take(&mut line.chunks).into_iter().flat_map(|(_, words)| words);
        for word in words {
            let column = |rect: Rect| columns.iter().position(|column| rect.middle().0 < column.1);
            match line.chunks.last_mut().filter(|(rect, _)| column(*rect) == column(word.rect)) {
                Some((rect, words)) => {
                    *rect = rect.with(word.rect);
                    words.push(word);
                }
                None => line.chunks.push((word.rect, vec![word])),
            }
        }
    }
    assembled(&lines, &columns)
}

fn table(lines: &[Line], from: usize, to: usize) -> Option<Lattice> {
    let mut spans: Vec<(f32, f32)> =
        lines[from..to].iter().flat_map(|line| &line.chunks).map(|(rect, _)| (rect.x0, rect.x1)).collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut columns: Vec<(f32, f32)> = Vec::new();
    for (x0, x1) in spans {
        match columns.last_mut().filter(|last| x0 - last.1 <= 1.0) {
            Some(last) => last.1 = last.1.max(x1),
            None => columns.push((x0, x1)),
        }
    }
    if columns.len() < CHUNKS_MIN {
        return None;
    }
    let mut top = from;
    while top > 0
        && from - top < HEADER_MAX
        && !is_apart(&lines[top - 1], &lines[top])
        && spans_columns(&lines[top - 1], &columns)
    {
        top -= 1;
    }
    assembled(&lines[top..to], &columns)
}

/// The lattice of lines whose chunks stand over columns.
fn assembled(lines: &[Line], columns: &[(f32, f32)]) -> Option<Lattice> {
    let edges = edges(columns);
    let mut regions: Vec<Region> = Vec::new();
    let mut fields = Vec::new();
    for (row, line) in lines.iter().enumerate() {
        let (y0, y1) = (line.base - 0.8 * line.size, line.base + 0.25 * line.size);
        let mut own: Vec<Option<usize>> = vec![None; columns.len()];
        for (rect, words) in &line.chunks {
            let (first, last) = covered(*rect, columns, &edges);
            let free = own[first..=last].iter().all(Option::is_none);
            if let (false, Some(region)) = (free, own[first].map(|at| &mut regions[at])) {
                region.words.extend(words.iter().cloned());
                continue;
            }
            own[first..=last].fill(Some(regions.len()));
            let rect = Rect { x0: edges[first], y0, x1: edges[last + 1], y1 };
            regions.push(Region { columns: (first, last + 1), rows: (row, row + 1), rect, words: words.clone() });
        }
        let mut indices = Vec::new();
        for (column, region) in own.into_iter().enumerate() {
            indices.push(region.unwrap_or(regions.len()));
            if region.is_none() {
                let rect = Rect { x0: edges[column], y0, x1: edges[column + 1], y1 };
                regions.push(Region { columns: (column, column + 1), rows: (row, row + 1), rect, words: Vec::new() });
            }
        }
        fields.push(indices);
    }
    let rect = regions.iter().map(|region| region.rect).reduce(Rect::with)?;
    Some(Lattice { rect, fields, regions, ruled: false })
}

/// Whether a line can belong to a header over the columns: at least two chunks, each over the columns.
fn spans_columns(line: &Line, columns: &[(f32, f32)]) -> bool {
    let (Some(first), Some(last)) = (columns.first(), columns.last()) else { return false };
    let inside = line.chunks.iter().all(|(rect, _)| rect.x1 > first.0 - 20.0 && rect.x0 < last.1 + 20.0);
    inside && line.chunks.len() >= 2 && !is_row(line)
}

/// Half-way between neighbouring columns.
fn edges(columns: &[(f32, f32)]) -> Vec<f32> {
    let mut edges = vec![columns.first().map_or(0.0, |first| first.0 - 2.0)];
    edges.extend(columns.windows(2).map(|pair| (pair[0].1 + pair[1].0) / 2.0));
    edges.push(columns.last().map_or(0.0, |last| last.1 + 2.0));
    edges
}

/// First and last column a chunk stands over: those it overlaps, else the one whose edges it lies between.
fn covered(rect: Rect, columns: &[(f32, f32)], edges: &[f32]) -> (usize, usize) {
    let over = |&at: &usize| columns[at].0 < rect.x1 - 1.0 && columns[at].1 > rect.x0 + 1.0;
    let all: Vec<usize> = (0..columns.len()).filter(over).collect();
    if let (Some(&first), Some(&last)) = (all.first(), all.last()) {
        return (first, last);
    }
    let middle = rect.middle().0;
    let at = edges.iter().skip(1).position(|&edge| middle < edge).unwrap_or(columns.len() - 1);
    (at.min(columns.len() - 1), at.min(columns.len() - 1))
}
