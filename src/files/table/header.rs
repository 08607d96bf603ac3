//! Which record is the header, and how much a block looks like a table.

use hashbrown::HashSet;

use super::types::{Block, Record};

/// Longest preamble: the header stands at the latest in the line after it.
pub const PREAMBLE_MOST: usize = 20;

/// Longest name that may begin like a known one, bytes.
const PARTLY_LONGEST: usize = 60;

/// Lines below a title within which its table begins.
const TITLE_BEFORE: usize = 8;

/// Letters and digits of a header name in lower case: `Cap (µF)` and `cap_uf` are the same name.
pub(super) fn plain(name: &str) -> String {
    name.chars()
        .flat_map(char::to_lowercase)
        .map(|c| match c {
            '\u{B5}' | '\u{3BC}' => 'u',
            '×' => 'x',
            c => c,
        })
        .filter(|c| c.is_alphanumeric())
        .collect()
}

/// Header names the caller can use, made comparable once: every line of every file is compared with them.
#[derive(Debug, Clone, Default)]
pub struct Known {
    names: HashSet<String>,
}

/// Shortest name that says something as the beginning of a longer one, bytes.
const BEGINNING_SHORTEST: usize = 4;

impl Known {
    /// From names as people write them.
    pub fn new<'a>(names: impl IntoIterator<Item = &'a str>) -> Self {
        Self { names: names.into_iter().map(plain).filter(|name| !name.is_empty()).collect() }
    }

    /// Whether a comparable name is one of them.
    fn has(&self, name: &str) -> bool {
        self.names.contains(name)
    }

    /// Whether a header is one of them.
    pub(super) fn knows_exactly(&self, header: &str) -> bool {
        self.has(&plain(header))
    }

    /// Whether a header is one of them, or begins like one (`Pojemność [µF]`).
    pub(super) fn knows(&self, header: &str) -> bool {
        let name = plain(header);
        self.has(&name) || (name.len() <= PARTLY_LONGEST && self.begins(&name))
    }

    /// Whether a comparable name begins like one of them: one of its own beginnings is a name.
    fn begins(&self, name: &str) -> bool {
        let ends = name.char_indices().map(|(at, _)| at).skip_while(|at| *at < BEGINNING_SHORTEST).chain([name.len()]);
        ends.into_iter().any(|end| end >= BEGINNING_SHORTEST && self.names.contains(&name[..end]))
    }
}

/// How many names of a header are known.
pub(super) fn hits(header: &[String], known: &Known) -> usize {
    header.iter().filter(|name| known.has(&plain(name))).count()
}

/// Whether a cell looks like a figure or a value rather than a name.
pub(super) fn is_value(cell: &str) -> bool {
    let digits = cell.chars().filter(char::is_ascii_digit).count();
    let letters = cell.chars().filter(|c| c.is_alphabetic()).count();
    cell.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.') || c == '±') && digits > 0
        || digits > letters
}

/// The number at the beginning of a cell of an axis, and what follows it: `16 V`, `6,3V (0J)`, `25`.
fn axis_figure(cell: &str) -> Option<(f64, &str)> {
    let end = cell.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ','))).unwrap_or(cell.len());
    let value = cell[..end].replace(',', ".").parse::<f64>().ok().filter(|value| *value > 0.0)?;
    // Only a code in brackets has a digit behind the figure: `6.3V (0J)`.
    let rest = cell[end..].trim();
    let before_code = rest.split('(').next().unwrap_or_default();
    (!before_code.contains(|c: char| c.is_ascii_digit())).then_some((value, rest))
}

/// A name over the first column and rising figures over the others (`µF | 10 V | 16 V | 25 V`): the head of a table of two axes. The
/// figures may stand over several columns each; then blanks follow them.
pub(super) fn is_axis(cells: &[String]) -> bool {
    let Some(first) = cells.iter().position(|cell| axis_figure(cell).is_some()) else { return false };
    let name = |cell: &String| cell.chars().any(char::is_alphabetic) && !cell.chars().any(|c| c.is_ascii_digit());
    if first == 0 || first > 3 || !cells[..first].iter().any(name) {
        return false;
    }
    let figures: Vec<Option<(f64, &str)>> =
        cells[first..].iter().filter(|cell| !cell.is_empty()).map(|cell| axis_figure(cell)).collect();
    let letters = |text: &str| text.chars().take_while(|c| c.is_alphabetic()).collect::<String>();
    figures.len() >= 2
        && figures.iter().all(Option::is_some)
        && figures.iter().flatten().all(|(_, rest)| letters(rest) == letters(figures[0].unwrap_or((0.0, "")).1))
        && figures.iter().flatten().map(|(value, _)| *value).is_sorted_by(|a, b| a < b)
}

/// How much a record looks like a header row: known names count most, values count against it. `None` if it cannot be one.
fn row_score(record: &Record, next: Option<&Record>, known: &Known) -> Option<f64> {
    let cells: Vec<&str> =
        record.cells.iter().map(|cell| cell.trim_start_matches('#').trim()).filter(|cell| !cell.is_empty()).collect();
    let names: Vec<String> = cells.iter().map(|cell| plain(cell)).collect();
    let exact = names.iter().filter(|name| known.has(name)).count();
    let partly =
        names.iter().filter(|name| !known.has(name) && name.len() <= PARTLY_LONGEST && known.begins(name)).count();
    let values = cells.iter().filter(|cell| is_value(cell)).count();
    // `C1  1000 mfd, 25 v`: a row of a list, though `v` is a name of columns.
    let numbered = |cell: &str| {
        let cell = cell.split([',', '-', '/', ' ', ':', '=']).next().unwrap_or_default();
        let letters = cell.chars().take_while(char::is_ascii_uppercase).count();
        (1..=2).contains(&letters) && cell.len() > letters && cell[letters..].chars().all(|c| c.is_ascii_digit())
    };
    if values > 0 && cells.first().is_some_and(|cell| numbered(cell)) {
        return None;
    }
    let texts = cells.len() - values;
    let long = cells.iter().filter(|cell| cell.len() > 80).count();
    let values_below = next.is_some_and(|next| next.cells.iter().any(|cell| is_value(cell)));
    // Without a known name, only a full row of names over a row with values is taken for a header.
    let generic = cells.len() >= 2
        && values == 0
        && long == 0
        && values_below
        && next.is_some_and(|next| next.cells.len() >= 2 && next.cells.len().abs_diff(record.cells.len()) <= 2);
    let axis = is_axis(&record.cells) && next.is_some();
    // `470uF 35V x 12`: a row, though `x` is a name of columns.
    if !axis && cells.first().is_some_and(|cell| is_value(cell)) && exact * 2 < cells.len() {
        return None;
    }
    if cells.is_empty() || (exact + partly == 0 && !generic && !axis) {
        return None;
    }
    let score = 4.0 * exact as f64 + 1.5 * partly as f64 + 0.25 * texts as f64 - values as f64 - 2.0 * long as f64
        + if generic { 1.0 } else { 0.0 }
        + if axis { values as f64 + 2.0 } else { 0.0 };
    (score > 0.0).then_some(score)
}

/// The header among the first lines and its score.
pub(super) fn find(records: &[Record], known: &Known) -> Option<(usize, f64)> {
    let mut best: Option<(usize, f64)> = None;
    for (at, record) in records.iter().enumerate().take_while(|(_, record)| record.line <= PREAMBLE_MOST + 1) {
        // A line of text over a table of several columns is its title, also with a comma in it.
        let axis_below =
            records.get(at + 1).is_some_and(|below| below.cells.len() > record.cells.len() && is_axis(&below.cells));
        let title = axis_below
            || record.cells.len() == 1
                && records[at + 1..].iter().take(TITLE_BEFORE).any(|below| below.cells.len() > 1);
        if let Some(score) = row_score(record, records.get(at + 1), known).filter(|_| !title)
            && best.is_none_or(|(_, before)| score > before)
        {
            best = Some((at, score));
        }
    }
    best
}

/// How much a block looks like a table: its header, and how many rows have the header's width. Zero for a single column.
pub(super) fn table_score(block: &Block, known: &Known) -> f64 {
    let found = block.header.map(|at| (at, 1.0)).or_else(|| find(&block.records, known));
    let rows = &block.records[found.map_or(0, |(at, _)| at + 1).min(block.records.len())..];
    // Without a header, titles over the table may be shorter than its rows.
    let usual = || {
        let mut widths: Vec<usize> = rows.iter().map(|row| row.cells.len()).collect();
        widths.sort_unstable();
        widths.get(widths.len() / 2).copied().unwrap_or(0)
    };
    let width = found.and_then(|(at, _)| block.records.get(at)).map_or_else(usual, |record| record.cells.len());
    if width < 2 {
        return 0.0;
    }
    // Rows may end early, their last cells being empty, but a row of one cell was not split at all.
    let fitting = rows.iter().filter(|row| (2..=width).contains(&row.cells.len())).count();
    let consistent = if rows.is_empty() { 0.5 } else { fitting as f64 / rows.len() as f64 };
    let score = found.map_or(0.0, |(_, score)| score);
    (1.0 + score + 0.1 * width.min(30) as f64) * (0.1 + consistent)
}

/// Whether the rows of a block have the same number of cells, at least three, but for a title or two.
pub(super) fn is_regular(block: &Block) -> bool {
    let widths: Vec<usize> = block.records.iter().map(|record| record.cells.len()).collect();
    let widest = widths.iter().copied().max().unwrap_or(0);
    let full = widths.iter().filter(|&&width| width + 1 >= widest).count();
    widest >= 3 && full * 10 >= widths.len() * 6
}

/// Whether the header of a block has a name that is known.
pub(super) fn knows(block: &Block, known: &Known) -> bool {
    let header = block.header.or_else(|| find(&block.records, known).map(|(at, _)| at));
    header.and_then(|at| block.records.get(at)).is_some_and(|record| hits(&record.cells, known) > 0)
}
