//! Which record is the header, and how much a block looks like a table.

use super::{Block, Record};

/// Longest preamble: the header stands at the latest in the line after it.
pub const PREAMBLE_MOST: usize = 20;

/// Letters and digits of a header name in lower case: `Cap (µF)` and `cap_uf` are the same name.
pub(super) fn plain(name: &str) -> String {
    name.chars()
        .flat_map(char::to_lowercase)
        .map(|c| if matches!(c, '\u{B5}' | '\u{3BC}') { 'u' } else { c })
        .filter(|c| c.is_alphanumeric())
        .collect()
}

/// How many names of a header are known.
pub(super) fn hits(header: &[String], known: &[&str]) -> usize {
    let known: Vec<String> = known.iter().map(|name| plain(name)).collect();
    header.iter().filter(|name| known.contains(&plain(name))).count()
}

/// Whether a cell looks like a figure or a value rather than a name.
pub(super) fn is_value(cell: &str) -> bool {
    let digits = cell.chars().filter(char::is_ascii_digit).count();
    let letters = cell.chars().filter(|c| c.is_alphabetic()).count();
    cell.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.') || c == '±') && digits > 0
        || digits > letters
}

/// How much a record looks like a header row: known names count most, values count against it. `None` if it cannot be one.
fn row_score(record: &Record, next: Option<&Record>, known: &[String]) -> Option<f64> {
    let cells: Vec<&str> =
        record.cells.iter().map(|cell| cell.trim_start_matches('#').trim()).filter(|cell| !cell.is_empty()).collect();
    let names: Vec<String> = cells.iter().map(|cell| plain(cell)).collect();
    let exact = names.iter().filter(|name| known.contains(name)).count();
    let partly = names
        .iter()
        .filter(|name| {
            !known.contains(name)
                && name.len() <= 60
                && known.iter().any(|word| word.len() >= 4 && name.starts_with(word.as_str()))
        })
        .count();
    let values = cells.iter().filter(|cell| is_value(cell)).count();
    let texts = cells.len() - values;
    let long = cells.iter().filter(|cell| cell.len() > 80).count();
    let values_below = next.is_some_and(|next| next.cells.iter().any(|cell| is_value(cell)));
    // Without a known name, only a full row of names over a row with values is taken for a header.
    let generic = cells.len() >= 2
        && values == 0
        && long == 0
        && values_below
        && next.is_some_and(|next| next.cells.len().abs_diff(record.cells.len()) <= 2);
    if cells.is_empty() || (exact + partly == 0 && !generic) {
        return None;
    }
    let score = 4.0 * exact as f64 + 1.5 * partly as f64 + 0.25 * texts as f64 - values as f64 - 2.0 * long as f64
        + if generic { 1.0 } else { 0.0 };
    (score > 0.0).then_some(score)
}

/// The header among the first lines and its score.
pub(super) fn find(records: &[Record], known: &[&str]) -> Option<(usize, f64)> {
    let known: Vec<String> = known.iter().map(|name| plain(name)).filter(|name| !name.is_empty()).collect();
    let mut best: Option<(usize, f64)> = None;
    for (at, record) in records.iter().enumerate().take_while(|(_, record)| record.line <= PREAMBLE_MOST + 1) {
        if let Some(score) = row_score(record, records.get(at + 1), &known)
            && best.is_none_or(|(_, before)| score > before)
        {
            best = Some((at, score));
        }
    }
    best
}

/// How much a block looks like a table: its header, and how many rows have the header's width. Zero for a single column.
pub(super) fn table_score(block: &Block, known: &[&str]) -> f64 {
    let found = block.header.map(|at| (at, 1.0)).or_else(|| find(&block.records, known));
    let rows = &block.records[found.map_or(0, |(at, _)| at + 1).min(block.records.len())..];
    let width = found.and_then(|(at, _)| block.records.get(at)).or(rows.first()).map_or(0, |record| record.cells.len());
    if width < 2 {
        return 0.0;
    }
    // Rows may end early, their last cells being empty, but a row of one cell was not split at all.
    let fitting = rows.iter().filter(|row| (2..=width).contains(&row.cells.len())).count();
    let consistent = if rows.is_empty() { 0.5 } else { fitting as f64 / rows.len() as f64 };
    let score = found.map_or(0.0, |(_, score)| score);
    (1.0 + score + 0.1 * width.min(30) as f64) * (0.1 + consistent)
}
