//! Tables of web pages, which spreadsheets also save under a workbook's name.

use super::delimited::Collector;
use super::types::{Block, Layout, Limits, Separator, TableError};

/// Signs that pages write as words.
const SIGNS: [(&str, &str); 14] = [
    ("nbsp", " "),
    ("lt", "<"),
    ("gt", ">"),
    ("quot", "\""),
    ("apos", "'"),
    ("micro", "µ"),
    ("mu", "µ"),
    ("Omega", "Ω"),
    ("ohm", "Ω"),
    ("deg", "°"),
    ("plusmn", "±"),
    ("times", "×"),
    ("Oslash", "Ø"),
    ("amp", "&"),
];

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
    let mut pieces = text.split('<');
    line += pieces.next().map_or(0, |before| before.matches('\n').count());
    for piece in pieces {
        let (tag, behind) = piece.split_once('>').unwrap_or((piece, ""));
        let name = tag.split(|c: char| c.is_whitespace() || c == '/').find(|name| !name.is_empty()).unwrap_or_default();
        let opens = !tag.starts_with('/');
        match name.to_ascii_lowercase().as_str() {
            "td" | "th" | "tr" | "table" => row.extend(cell.take().map(|cell| plain(&cell))),
            "br" | "p" | "div" => push(&mut cell, " "),
            _ => {}
        }
        match name.to_ascii_lowercase().as_str() {
            "td" | "th" if opens => cell = Some(String::new()),
            "tr" | "table" => {
                collector.take(row_line, false, row.iter().map(String::as_str))?;
                row.clear();
                row_line = line;
                if name.eq_ignore_ascii_case("table") {
                    blocks.extend(block(std::mem::replace(&mut collector, Collector::new(limits))));
                }
            }
            _ => {}
        }
        push(&mut cell, behind);
        line += piece.matches('\n').count();
    }
    row.extend(cell.map(|cell| plain(&cell)));
    collector.take(row_line, false, row.iter().map(String::as_str))?;
    blocks.extend(block(collector));
    if blocks.is_empty() { Err(TableError::NoMarkup) } else { Ok(blocks) }
}

fn push(cell: &mut Option<String>, text: &str) {
    if let Some(cell) = cell {
        cell.push_str(text);
    }
}

fn block(collector: Collector<'_>) -> Option<Block> {
    let records = collector.records;
    (!records.is_empty()).then_some(Block {
        records,
        header: None,
        separator: Separator::Markup,
        layout: Layout::Html,
        above: Vec::new(),
        notes: Vec::new(),
    })
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
    numbered.or_else(|| SIGNS.iter().find(|(known, _)| *known == name).map(|(_, sign)| (*sign).to_owned()))
}
