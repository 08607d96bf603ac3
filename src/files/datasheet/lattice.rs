//! Tables by their ruling lines: lines that touch make a lattice, and fields of it without a line between them are one cell.

use std::collections::BTreeMap;

use super::page::{Page, Rect, Ruling, Word};

/// How far ends and lines that meet may lie apart, in points.
const TOUCH_PT: f32 = 2.0;
/// Most lines of each direction that are looked at: the longest.
const LINES_MAX: usize = 2000;
/// Most fields of a lattice.
const FIELDS_MAX: usize = 60_000;
/// Share of a side that must be ruled to part two fields.
const RULED: f32 = 0.6;

/// A cell that covers columns and rows of a lattice, from the first to before the last.
#[derive(Debug, Clone)]
pub(super) struct Region {
    pub(super) columns: (usize, usize),
    pub(super) rows: (usize, usize),
    pub(super) rect: Rect,
    pub(super) words: Vec<Word>,
}

/// A table before header and rows are told apart.
#[derive(Debug, Clone)]
pub(super) struct Lattice {
    pub(super) rect: Rect,
    /// Index into `regions`, by row and column.
    pub(super) fields: Vec<Vec<usize>>,
    pub(super) regions: Vec<Region>,
    /// Whether lines part its rows; else only places do.
    pub(super) ruled: bool,
    /// Rows of its header, where they are known.
    pub(super) head: Option<usize>,
}

/// The lattices of a page that hold words, from top to bottom.
pub(super) fn of(page: &Page) -> Vec<Lattice> {
    let upright = merged(page.rulings.iter().filter(|ruling| ruling.upright));
    let flat = merged(page.rulings.iter().filter(|ruling| !ruling.upright));
    let mut lattices: Vec<Lattice> = components(&upright, &flat)
        .into_iter()
        .filter_map(|(upright, flat)| {
            lattice(&places(&upright, &flat), &places(&flat, &upright), &upright, &flat, &page.words)
        })
        .collect();
    lattices.sort_by(|a, b| a.rect.y0.total_cmp(&b.rect.y0).then(a.rect.x0.total_cmp(&b.rect.x0)));
    lattices
}

/// Puts pieces of one line together and double lines into one.
pub(super) fn merged<'a>(rulings: impl Iterator<Item = &'a Ruling>) -> Vec<Ruling> {
    let mut sorted: Vec<Ruling> = rulings.copied().collect();
    sorted.sort_by(|a, b| a.at.total_cmp(&b.at));
    let mut lines: Vec<Ruling> = Vec::new();
    let mut start = 0;
    while start < sorted.len() {
        let end = sorted[start..].iter().position(|line| line.at - sorted[start].at > TOUCH_PT);
        let end = end.map_or(sorted.len(), |count| start + count);
        let group = &mut sorted[start..end];
        group.sort_by(|a, b| a.from.total_cmp(&b.from));
        let at = group.iter().map(|line| line.at).sum::<f32>() / group.len() as f32;
        let first = lines.len();
        for line in group {
            match lines.get_mut(first..).and_then(<[Ruling]>::last_mut).filter(|last| line.from - last.to <= TOUCH_PT) {
                Some(last) => last.to = last.to.max(line.to),
                None => lines.push(Ruling { at, ..*line }),
            }
        }
        start = end;
    }
    lines.sort_by(|a, b| (b.to - b.from).total_cmp(&(a.to - a.from)));
    lines.truncate(LINES_MAX);
    lines
}

/// Lines that touch, directly or over others.
fn components(upright: &[Ruling], flat: &[Ruling]) -> Vec<(Vec<Ruling>, Vec<Ruling>)> {
    let mut of: Vec<usize> = (0..upright.len() + flat.len()).collect();
    for (i, v) in upright.iter().enumerate() {
        for (j, h) in flat.iter().enumerate() {
            let meets = |at: f32, line: &Ruling| at >= line.from - TOUCH_PT && at <= line.to + TOUCH_PT;
            if meets(h.at, v) && meets(v.at, h) {
                join(&mut of, i, upright.len() + j);
            }
        }
    }
    let mut groups: BTreeMap<usize, (Vec<Ruling>, Vec<Ruling>)> = BTreeMap::new();
    for at in 0..of.len() {
        let group = groups.entry(root(&mut of, at)).or_default();
        match upright.get(at) {
            Some(line) => group.0.push(*line),
            None => group.1.push(flat[at - upright.len()]),
        }
    }
    groups.into_values().filter(|(upright, flat)| !upright.is_empty() && flat.len() >= 2).collect()
}

fn root(of: &mut [usize], mut at: usize) -> usize {
    while of[at] != at {
        of[at] = of[of[at]];
        at = of[at];
    }
    at
}

fn join(of: &mut [usize], a: usize, b: usize) {
    let (a, b) = (root(of, a), root(of, b));
    of[a.max(b)] = a.min(b);
}

/// Places of lines, those close together as one, with the ends of the lines across: a table may be open at its sides.
fn places(lines: &[Ruling], across: &[Ruling]) -> Vec<f32> {
    let mut at: Vec<f32> = lines.iter().map(|line| line.at).collect();
    at.sort_by(f32::total_cmp);
    at.dedup_by(|next, last| *next - *last <= 1.25 * TOUCH_PT);
    // Open sides are as far out as two lines across reach: those over and under the table at least.
    let mut ends = |mut all: Vec<f32>, front: bool| {
        all.sort_by(f32::total_cmp);
        let second = if front { all.get(1) } else { all.len().checked_sub(2).and_then(|at| all.get(at)) };
        let (Some(&end), Some(&first), Some(&last)) = (second, at.first(), at.last()) else { return };
        if front && first - end > 3.0 * TOUCH_PT {
            at.insert(0, end);
        } else if !front && end - last > 3.0 * TOUCH_PT {
            at.push(end);
        }
    };
    ends(across.iter().map(|line| line.from).collect(), true);
    ends(across.iter().map(|line| line.to).collect(), false);
    at
}

fn lattice(xs: &[f32], ys: &[f32], upright: &[Ruling], flat: &[Ruling], words: &[Word]) -> Option<Lattice> {
    let (columns, rows) = (xs.len().checked_sub(1)?, ys.len().checked_sub(1)?);
    if columns < 2 || rows < 1 || columns.saturating_mul(rows) > FIELDS_MAX {
        return None;
    }
    let parted = |lines: &[Ruling], at: f32, from: f32, to: f32| {
        let over = |line: &Ruling| (line.to.min(to) - line.from.max(from)).max(0.0);
        let near = lines.iter().filter(|line| (line.at - at).abs() <= 1.5 * TOUCH_PT);
        near.map(over).sum::<f32>() >= RULED * (to - from)
    };
    let mut of: Vec<usize> = (0..columns * rows).collect();
    for row in 0..rows {
        for column in 0..columns {
            let at = row * columns + column;
            if column + 1 < columns && !parted(upright, xs[column + 1], ys[row], ys[row + 1]) {
                join(&mut of, at, at + 1);
            }
            if row + 1 < rows && !parted(flat, ys[row + 1], xs[column], xs[column + 1]) {
                join(&mut of, at, at + columns);
            }
        }
    }
    let rect = |c: (usize, usize), r: (usize, usize)| Rect { x0: xs[c.0], y0: ys[r.0], x1: xs[c.1], y1: ys[r.1] };
    let mut members: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for at in 0..of.len() {
        members.entry(root(&mut of, at)).or_default().push(at);
    }
    let mut regions = Vec::new();
    let mut fields = vec![vec![0; columns]; rows];
    for members in members.into_values() {
        let ends = |of: &dyn Fn(usize) -> usize| {
            let all = members.iter().map(|&at| of(at));
            (all.clone().min().unwrap_or(0), all.max().unwrap_or(0) + 1)
        };
        let (c, r) = (ends(&|at| at % columns), ends(&|at| at / columns));
        let whole = members.len() == (c.1 - c.0) * (r.1 - r.0);
        let pieces: Vec<((usize, usize), (usize, usize))> = if whole {
            vec![(c, r)]
        } else {
            // No rectangle: a line is missing somewhere, so nothing is merged.
            members.iter().map(|&at| ((at % columns, at % columns + 1), (at / columns, at / columns + 1))).collect()
        };
        for (c, r) in pieces {
            fields[r.0..r.1].iter_mut().for_each(|row| row[c.0..c.1].fill(regions.len()));
            regions.push(Region { columns: c, rows: r, rect: rect(c, r), words: Vec::new() });
        }
    }
    filled(Lattice { rect: rect((0, columns), (0, rows)), fields, regions, ruled: true, head: None }, xs, ys, words)
}

/// Gives every word to the cell its middle lies in; `None` for frames and drawings without words.
fn filled(mut lattice: Lattice, xs: &[f32], ys: &[f32], words: &[Word]) -> Option<Lattice> {
    for word in words.iter().filter(|word| lattice.rect.has(word.rect.middle())) {
        let (x, y) = word.rect.middle();
        let before = |edges: &[f32], at: f32| edges.partition_point(|edge| *edge <= at).saturating_sub(1);
        let region = lattice.fields.get(before(ys, y)).and_then(|row| row.get(before(xs, x)));
        if let Some(region) = region.and_then(|&at| lattice.regions.get_mut(at)) {
            region.words.push(word.clone());
        }
    }
    let filled = lattice.regions.iter().filter(|region| !region.words.is_empty()).count();
    (filled >= 3).then_some(lattice)
}
