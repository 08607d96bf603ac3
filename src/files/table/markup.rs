//! Tables in Markdown and wiki pages.

use super::delimited::Collector;
use super::html;
use super::types::{Block, Layout, Limits, Note, Separator, TableError};

/// A row of dashes between header and body (`|---|:--:|`, `--- | ---`), also the borders of a drawn table (`+====+`).
fn is_rule(line: &str) -> bool {
    let line = line.trim();
    let marks = |text: &str| {
        !text.is_empty() && text.chars().all(|c| matches!(c, '-' | '=' | ':')) && text.contains(['-', '='])
    };
    if line.starts_with('+') {
        return line.len() >= 3 && line.trim_matches('+').split('+').all(marks);
    }
    line.contains('|') && line.trim_matches('|').split('|').all(|cell| marks(cell.trim()))
}

fn is_wiki(line: &str) -> bool {
    let line = line.trim();
    line.starts_with("{|")
        || (line.starts_with("||") && line.len() > 4)
        || (line.starts_with('^') && line.ends_with('^') && line.len() > 2)
}

/// Whether the text holds a Markdown or wiki table.
pub(super) fn is_markup(text: &str) -> bool {
    let mut before = "";
    for line in text.lines() {
        if is_wiki(line) || (is_rule(line) && (before.contains('|') || line.trim_start().starts_with('+'))) {
            return true;
        }
        before = line;
    }
    false
}

/// Every table of the page, in order.
pub(super) fn blocks(text: &str, limits: &Limits) -> Result<Vec<Block>, TableError> {
    let lines: Vec<&str> = text.lines().collect();
    let mut blocks = Vec::new();
    let mut at = 0;
    let mut above: Vec<Note> = Vec::new();
    while at < lines.len() {
        let before = blocks.len();
        if is_heading(lines[at]) {
            above.push(Note { line: at + 1, text: lines[at].trim().to_owned() });
        }
        let end = if lines[at].trim_start().starts_with("{|") {
            let end =
                (at + 1..lines.len()).find(|&end| lines[end].trim_start().starts_with("|}")).unwrap_or(lines.len());
            blocks.extend(media_wiki(&lines, at, end, limits)?);
            end + 1
        } else {
            let end = (at..lines.len()).find(|&end| !is_row(lines[end])).unwrap_or(lines.len());
            let table = &lines[at..end];
            if table.len() >= 2 && table.iter().any(|line| is_rule(line) || is_wiki(line)) {
                blocks.extend(piped(table, at + 1, limits)?);
            }
            end.max(at + 1)
        };
        if let Some(block) = blocks.get_mut(before) {
            block.above = std::mem::take(&mut above);
        }
        at = end;
    }
    if blocks.is_empty() { Err(TableError::NoMarkup) } else { Ok(blocks) }
}

/// A line with the marks of a heading, in bold, or of few words: other lines between tables are prose.
fn is_heading(line: &str) -> bool {
    const WORDS_MOST: usize = 4;
    let line = line.trim();
    let marked = line.starts_with(['#', '=']) || (line.starts_with("**") && line.trim_end_matches(':').ends_with("**"));
    let short = line.split_whitespace().count() <= WORDS_MOST && !line.ends_with('.') && !line.starts_with(['-', '>']);
    !line.is_empty() && !is_row(line) && (marked || short)
}

fn is_row(line: &str) -> bool {
    line.contains('|') || is_rule(line) || is_wiki(line)
}

/// Rows of `| a | b |`, `a | b`, `|| a || b ||` or `^ a ^ b ^`.
fn piped(lines: &[&str], first_line: usize, limits: &Limits) -> Result<Option<Block>, TableError> {
    let wiki = lines.iter().any(|line| is_wiki(line));
    let mut collector = Collector::new(limits);
    for (at, line) in lines.iter().enumerate().filter(|(_, line)| !is_rule(line)) {
        let cells = pipe_cells(line.trim());
        collector.take(first_line + at, false, cells.iter().map(String::as_str))?;
    }
    Ok(finish(collector, if wiki { Layout::Wiki } else { Layout::Markdown }))
}

fn finish(collector: Collector<'_>, layout: Layout) -> Option<Block> {
    let records = collector.records;
    (!records.is_empty()).then(|| Block { header: Some(0), ..Block::of(records, Separator::Markup, layout) })
}

fn pipe_cells(line: &str) -> Vec<String> {
    let caret = line.starts_with('^');
    let line = line.replace("||", "|");
    let mut cells = vec![String::new()];
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '\\' if chars.peek() == Some(&'|') => {
                chars.next();
                push(&mut cells, '|');
            }
            '|' => cells.push(String::new()),
            '^' if caret => cells.push(String::new()),
            c => push(&mut cells, c),
        }
    }
    // The outer marks make an empty cell at either end.
    if line.starts_with(['|', '^']) {
        cells.remove(0);
    }
    cells.iter().map(|cell| plain(cell)).collect()
}

fn push(cells: &mut [String], c: char) {
    if let Some(cell) = cells.last_mut() {
        cell.push(c);
    }
}

/// `{| ... |-` rows, `!` header cells and `|` cells, one or several (`||`, `!!`) per line.
fn media_wiki(lines: &[&str], start: usize, end: usize, limits: &Limits) -> Result<Option<Block>, TableError> {
    let mut collector = Collector::new(limits);
    let (mut row, mut below): (Vec<String>, Vec<html::Above>) = (Vec::new(), Vec::new());
    let mut row_line = start + 2;
    for (at, line) in lines.iter().enumerate().take(end).skip(start + 1) {
        let line = line.trim();
        if line.starts_with("|-") {
            if !row.is_empty() {
                html::from_above(&mut row, &mut below);
            }
            collector.take(row_line, false, row.iter().map(String::as_str))?;
            row.clear();
            row_line = at + 2;
        } else if line.starts_with("|+") {
            // A caption.
        } else if let Some(cells) = line.strip_prefix(['|', '!']) {
            let separated = if line.starts_with('!') { cells.replace("!!", "||") } else { cells.to_string() };
            // `style="..." | text`: attributes stand before a single bar.
            for cell in separated.split("||") {
                let (said, text) = cell.rsplit_once('|').unwrap_or(("", cell));
                let span = (line.starts_with('!'), html::attribute(said, "colspan"), html::attribute(said, "rowspan"));
                html::spread(&plain(text), span, &mut row, &mut below);
            }
        } else if let Some(cell) = row.last_mut() {
            cell.push(' ');
            cell.push_str(line);
        }
    }
    if !row.is_empty() {
        html::from_above(&mut row, &mut below);
    }
    collector.take(row_line, false, row.iter().map(String::as_str))?;
    Ok(finish(collector, Layout::Wiki))
}

/// A cell without emphasis, code marks, links and line breaks of the markup.
fn plain(cell: &str) -> String {
    let mut text = cell
        .replace("**", "")
        .replace("'''", "")
        .replace('`', "")
        .replace("<br>", " ")
        .replace("<br/>", " ")
        .replace("<br />", " ");
    // [text](address) becomes its text; bounded by the number of brackets.
    let mut from = 0;
    while let Some(middle) = text.get(from..).and_then(|rest| rest.find("](")).map(|at| at + from) {
        let (Some(open), Some(close)) = (text[..middle].rfind('['), text[middle..].find(')').map(|at| at + middle))
        else {
            from = middle + 2;
            continue;
        };
        let label = text[open + 1..middle].to_string();
        text.replace_range(open..=close, &label);
        from = open + label.len();
    }
    text.trim().to_string()
}
