//! Tables without ruling lines: rows of chunks of text with the same gaps between them.

use super::lattice::{Lattice, Region};
use super::page::{Rect, Ruling, Word};
use super::text::is_banner;

/// Widest gap within a chunk, in sizes of its letters.
const GAP: f32 = 0.75;
/// Widest blank between words, in sizes of their letters.
const BLANK: f32 = 0.45;
/// Fewest chunks of a row.
const CHUNKS_MIN: usize = 3;
/// Fewest rows of a table.
const ROWS_MIN: usize = 3;
/// Most lines of a header.
const HEADER_MAX: usize = 12;
/// Share of a table's width from which a line across parts its header from what is above it.
const ACROSS: f32 = 0.6;
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
        // Raised and lowered marks hang on the largest letters and draw no other line to these.
        let near = |line: &&mut Vec<Word>| {
            let largest = line.iter().rev().max_by(|a, b| a.size.total_cmp(&b.size));
            largest.is_some_and(|main| word.base - main.base <= 0.45 * word.size.max(main.size))
        };
        match lines.last_mut().filter(near) {
            Some(line) => line.push(word.clone()),
            None => lines.push(vec![word.clone()]),
        }
    }
    lines.iter_mut().for_each(|line| line.sort_by(|a, b| a.rect.x0.total_cmp(&b.rect.x0)));
    lines
}

/// The words of a line in chunks with wide gaps between them; at `edges` of columns less wide ones part them, too.
pub(super) fn chunks(line: &[Word], edges: &[f32]) -> Vec<(Rect, Vec<Word>)> {
    let mut chunks: Vec<(Rect, Vec<Word>)> = Vec::new();
    for word in line {
        let joins = |rect: &Rect| {
            let between = edges.iter().any(|edge| (rect.x1..=word.rect.x0).contains(edge));
            word.rect.x0 - rect.x1 <= if between { BLANK } else { GAP } * word.size
        };
        match chunks.last_mut().filter(|(rect, _)| joins(rect)) {
            Some((rect, words)) => {
                *rect = rect.with(word.rect);
                words.push(word.clone());
            }
            None => chunks.push((word.rect, vec![word.clone()])),
        }
    }
    chunks
}

/// The tables among words that belong to no ruled one; `across` are lines that may part header and rows.
pub(super) fn of(words: &[Word], across: &[Ruling]) -> Vec<Lattice> {
    let lines = line_chunks(words);
    let mut tables = Vec::new();
    let mut at = 0;
    while at < lines.len() {
        // A voltage over rows belongs to them.
        let goes_on = |&at: &usize| {
            let near = at == 0 || !is_apart(&lines[at - 1], &lines[at]);
            let over_rows = || lines[at].is_banner() && lines.get(at + 1).is_some_and(is_row);
            near && (is_row(&lines[at]) || over_rows())
        };
        let first = is_row(&lines[at]) || lines[at].is_banner() && lines.get(at + 1).is_some_and(is_row);
        let end = if first { at + 1 + (at + 1..lines.len()).take_while(goes_on).count() } else { at };
        if lines[at..end].iter().filter(|line| is_row(line)).count() >= ROWS_MIN {
            tables.extend(table(&lines, at, end, across));
        }
        at = end.max(at + 1);
    }
    tables
}

fn line_chunks(words: &[Word]) -> Vec<Line> {
    let line = |words: Vec<Word>| Line {
        base: words.iter().map(|word| word.base).sum::<f32>() / words.len() as f32,
        size: words.iter().map(|word| word.size).fold(0.0, f32::max),
        chunks: chunks(&words, &[]),
    };
    lines(words).into_iter().map(line).collect()
}

impl Line {
    /// `Rated voltage 16 V`, alone on its line.
    fn is_banner(&self) -> bool {
        let [(_, words)] = self.chunks.as_slice() else { return false };
        is_banner(&words.iter().map(|word| word.text.as_str()).collect::<Vec<_>>().join(" "))
    }
}

fn is_apart(above: &Line, below: &Line) -> bool {
    below.base - above.base > 3.5 * below.size.max(above.size)
}

/// Figures in most chunks.
fn is_row(line: &Line) -> bool {
    let figure = |chunk: &&(Rect, Vec<Word>)| {
        let text: String = chunk.1.iter().map(|word| word.text.as_str()).collect();
        // `100 Hz`, `20 °C` are conditions in a header.
        let condition = text.ends_with("Hz") || text.contains(['°', '℃']);
        text.contains(|c: char| c.is_ascii_digit()) && !condition || text.chars().all(|c| "-–—―*".contains(c))
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
    assembled(&lines, &columns, None)
}

fn table(lines: &[Line], from: usize, to: usize, across: &[Ruling]) -> Option<Lattice> {
    let rows = lines[from..to].iter().filter(|line| is_row(line));
    let mut spans: Vec<(f32, f32)> = rows.flat_map(|line| &line.chunks).map(|(rect, _)| (rect.x0, rect.x1)).collect();
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
    let top = under_rule(lines, from, &columns, across).unwrap_or(top);
    assembled(&lines[top..to], &columns, Some(from - top))
}

/// The first line of a header that stands between two lines across the table, the lower one over its first row.
fn under_rule(lines: &[Line], from: usize, columns: &[(f32, f32)], across: &[Ruling]) -> Option<usize> {
    let (left, right) = (columns.first()?.0, columns.last()?.1);
    let over = |rule: &&Ruling| (rule.to.min(right) - rule.from.max(left)) / (right - left) >= ACROSS;
    let first_y = lines[from].base - lines[from].size;
    let mut above: Vec<f32> =
        across.iter().filter(over).map(|rule| rule.at).filter(|at| *at <= first_y + 2.0).collect();
    above.sort_by(|a, b| b.total_cmp(a));
    let lowest = *above.first().filter(|at| first_y - **at < 2.0 * lines[from].size)?;
    let tops = above.iter().filter(|at| lowest - **at > lines[from].size);
    let within = |top: &f32| {
        let start = lines[..from].iter().position(|line| line.base > *top)?;
        let band = &lines[start..from];
        let inside = |line: &Line| line.chunks.iter().all(|(rect, _)| rect.x1 > left - 30.0 && rect.x0 < right + 30.0);
        let sound = band.len() <= HEADER_MAX
            && band.first().is_some_and(|line| line.chunks.len() >= 2)
            && band.iter().all(inside)
            && !band.iter().any(is_row)
            && !band.windows(2).any(|pair| is_apart(&pair[0], &pair[1]));
        sound.then_some(start)
    };
    tops.map_while(within).last()
}

/// The lattice of lines whose chunks stand over columns.
fn assembled(lines: &[Line], columns: &[(f32, f32)], head: Option<usize>) -> Option<Lattice> {
    let edges = edges(columns);
    let mut regions: Vec<Region> = Vec::new();
    let mut fields = Vec::new();
    for (row, line) in lines.iter().enumerate() {
        let words: Vec<Word> = line.chunks.iter().flat_map(|(_, words)| words.iter().cloned()).collect();
        let own = if head.is_some_and(|head| row < head) { chunks(&words, &edges) } else { line.chunks.clone() };
        let (y0, y1) = (line.base - 0.8 * line.size, line.base + 0.25 * line.size);
        let mut taken: Vec<Option<usize>> = vec![None; columns.len()];
        for (rect, words) in &own {
            let banner = line.is_banner() && head.is_some_and(|head| row >= head);
            let (first, last) = if banner { (0, columns.len() - 1) } else { covered(*rect, columns, &edges) };
            let free = taken[first..=last].iter().all(Option::is_none);
            if let (false, Some(region)) = (free, taken[first].map(|at| &mut regions[at])) {
                region.words.extend(words.iter().cloned());
                continue;
            }
            taken[first..=last].fill(Some(regions.len()));
            let rect = Rect { x0: edges[first], y0, x1: edges[last + 1], y1 };
            regions.push(Region { columns: (first, last + 1), rows: (row, row + 1), rect, words: words.clone() });
        }
        let mut indices = Vec::new();
        for (column, region) in taken.into_iter().enumerate() {
            indices.push(region.unwrap_or(regions.len()));
            if region.is_none() {
                let rect = Rect { x0: edges[column], y0, x1: edges[column + 1], y1 };
                regions.push(Region { columns: (column, column + 1), rows: (row, row + 1), rect, words: Vec::new() });
            }
        }
        fields.push(indices);
    }
    let rect = regions.iter().map(|region| region.rect).reduce(Rect::with)?;
    Some(Lattice { rect, fields, regions, ruled: false, head })
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
