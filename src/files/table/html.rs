//! Tables of web pages, which spreadsheets also save under a workbook's name.

use super::delimited::Collector;
use super::types::{Block, Layout, Limits, STRUCK, Separator, TableError};
use crate::files::cell::words;

/// Whether the text is a page with a table.
pub(super) fn is_html(text: &str) -> bool {
    let lower = text.get(..text.len().min(1 << 16)).unwrap_or(text).to_ascii_lowercase();
    lower.trim_start().starts_with('<') && lower.contains("<tr") && (lower.contains("<td") || lower.contains("<th"))
}

/// Every table of the page, in order; the text between tables is left out.
pub(super) fn blocks(text: &str, limits: &Limits) -> Result<Vec<Block>, TableError> {
    let mut blocks = Vec::new();
    let mut line = 1;
    let (mut collector, mut row, mut row_line): (_, Vec<String>, _) = (Collector::new(limits), Vec::new(), 1);
    let mut cell: Option<String> = None;
    let (mut span, mut below): (_, Vec<Above>) = ((false, 1, 1), Vec::new());
    let mut pieces = text.split('<');
    line += pieces.next().map_or(0, |before| before.matches('\n').count());
    for piece in pieces {
        let (tag, behind) = piece.split_once('>').unwrap_or((piece, ""));
        let name = tag.split(|c: char| c.is_whitespace() || c == '/').find(|name| !name.is_empty()).unwrap_or_default();
        let opens = !tag.starts_with('/');
        match name.to_ascii_lowercase().as_str() {
            "td" | "th" | "tr" | "table" => {
                if let Some(text) = cell.take() {
                    spread(&plain(&text), span, &mut row, &mut below);
                }
            }
            "br" | "p" | "div" => push(&mut cell, " "),
            "s" | "del" | "strike" => push(&mut cell, STRUCK),
            _ => {}
        }
        match name.to_ascii_lowercase().as_str() {
            "td" | "th" if opens => {
                cell = Some(String::new());
                span = (name.eq_ignore_ascii_case("th"), attribute(tag, "colspan"), attribute(tag, "rowspan"));
            }
            "tr" | "table" => {
                if !row.is_empty() {
                    from_above(&mut row, &mut below);
                }
                collector.take(row_line, false, row.iter().map(String::as_str))?;
                row.clear();
                row_line = line;
                if name.eq_ignore_ascii_case("table") {
                    below.clear();
                    blocks.extend(block(std::mem::replace(&mut collector, Collector::new(limits))));
                }
            }
            _ => {}
        }
        push(&mut cell, behind);
        line += piece.matches('\n').count();
    }
    spread(&plain(&cell.unwrap_or_default()), span, &mut row, &mut below);
    collector.take(row_line, false, row.iter().map(String::as_str))?;
    blocks.extend(block(collector));
    if blocks.is_empty() { Err(TableError::NoMarkup) } else { Ok(blocks) }
}

/// A cell that goes on in the rows below: text, column, rows.
pub(super) type Above = (String, usize, usize);

/// The most columns or rows that one cell is spread over; pages may say any number.
const SPAN_MOST: usize = 200;

/// The number of columns or rows that a cell goes over.
pub(super) fn attribute(tag: &str, name: &str) -> usize {
    let lower = tag.to_ascii_lowercase();
    let value = lower.split_once(name).map_or("", |(_, rest)| rest.trim_start_matches(['=', '"', '\'', ' ']));
    let digits = value.find(|c: char| !c.is_ascii_digit()).unwrap_or(value.len());
    value[..digits].parse().unwrap_or(1).clamp(1, SPAN_MOST)
}

/// Puts what goes on from the rows above into a row, up to the next column of its own.
pub(super) fn from_above(row: &mut Vec<String>, below: &mut Vec<Above>) {
    while let Some(of) = below.iter_mut().find(|(_, column, rows)| *column == row.len() && *rows > 0) {
        row.push(of.0.clone());
        of.2 -= 1;
    }
    below.retain(|(_, _, rows)| *rows > 0);
}

/// Puts a cell into its row, with blanks for the further columns it goes over, and notes what stands below it: the same of a figure,
/// nothing of a name.
pub(super) fn spread(
    text: &str,
    (names, columns, rows): (bool, usize, usize),
    row: &mut Vec<String>,
    below: &mut Vec<Above>,
) {
    from_above(row, below);
    for at in 0..columns {
        let text = if at == 0 { text } else { "" };
        let under = if names { "" } else { text };
        below.push((under.to_owned(), row.len(), rows - 1));
        row.push(text.to_owned());
    }
}

fn push(cell: &mut Option<String>, text: &str) {
    if let Some(cell) = cell {
        cell.push_str(text);
    }
}

fn block(collector: Collector<'_>) -> Option<Block> {
    let records = collector.records;
    (!records.is_empty()).then(|| Block::of(records, Separator::Markup, Layout::Html))
}

/// The text of a cell with its signs as letters and its white space as blanks.
pub(super) fn plain(cell: &str) -> String {
    let mut out = String::with_capacity(cell.len());
    let mut pieces = cell.split('&');
    out.push_str(pieces.next().unwrap_or_default());
    for piece in pieces {
        let sign = piece.split_once(';').and_then(|(name, behind)| Some((letter(name)?, behind)));
        if let Some((letter, behind)) = sign {
            out.push_str(&letter);
            out.push_str(behind);
        } else {
            out.push('&');
            out.push_str(piece);
        }
    }
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn letter(name: &str) -> Option<String> {
    let number = name.strip_prefix('#').and_then(|number| match number.strip_prefix(['x', 'X']) {
        Some(hex) => u32::from_str_radix(hex, 16).ok(),
        None => number.parse().ok(),
    });
    let numbered = number.and_then(char::from_u32).map(String::from);
    numbered.or_else(|| words::stands_for("signs of pages", name).map(|sign| sign.replace("blank", " ")))
}
