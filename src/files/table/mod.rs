//! Tables of any make, texts and sheets of workbooks: from bytes to a header and rows of cells, with everything that was detected said and
//! open to be overruled.
//!
//! Cells are text; what they mean is the business of `cell`. Nothing is dropped without a note: preamble and trailing metadata are kept
//! beside the rows, ragged rows are padded or widened, repeated header names are numbered.

mod assemble;
mod decode;
mod delimited;
mod fixed;
mod header;
mod html;
mod markup;
mod sheet;
mod structured;
mod turned;
mod two_lines;
mod types;

use std::borrow::Cow;

use super::csv_rows;

pub use header::{Known, PREAMBLE_MOST};
pub use sheet::read_sheet;
use types::Block;
pub use types::{Detection, Encoding, Layout, Limits, Note, Options, Row, Separator, Table, TableError};

/// Reads the table of a file; of several Markdown or wiki tables the one whose header fits `known` best, with a note about the others.
/// `known` are header names the caller can use; they decide which line is the header and which separator is right.
///
/// # Errors
/// When the bytes hold no table, or more than the limits allow.
pub fn read(bytes: &[u8], known: &Known, options: &Options) -> Result<Table, TableError> {
    let mut tables = read_all(bytes, known, options)?;
    let score = |table: &Table| header::hits(&table.header, known) * 1_000_000 + table.rows.len().min(999_999);
    let best =
        (0..tables.len()).max_by_key(|&at| (score(&tables[at]), std::cmp::Reverse(at))).ok_or(TableError::Empty)?;
    let others: Vec<String> = (0..tables.len())
        .filter(|&at| at != best)
        .filter_map(|at| tables[at].found.header_line)
        .map(|line| line.to_string())
        .collect();
    let mut table = tables.swap_remove(best);
    if !others.is_empty() {
        let text = format!("{} more tables in this file, at lines {}", others.len(), others.join(", "));
        table.notes.push(Note { line: 1, text });
    }
    Ok(table)
}

/// The text of a file that an instrument wrote, lines ending with a line feed, and what has to be said of its encoding; `known` are words it
/// may hold.
pub fn text<'b>(bytes: &'b [u8], known: &Known) -> (Cow<'b, str>, Vec<String>) {
    let marked = encoding_rs::Encoding::for_bom(bytes).is_some();
    let (encoding, said, doubt) = if marked { (Encoding::Utf8, None, None) } else { decode::guess(bytes, known) };
    let Some(said) = said else { return (csv_rows::decode(bytes), Vec::new()) };
    let text = decode::text_of(bytes, encoding).0.replace("\r\n", "\n").replace('\r', "\n");
    let doubt = doubt.map(|doubt| format!("Another encoding is as likely: {doubt}."));
    (text.into(), [Some(format!("{said}.")), doubt].into_iter().flatten().collect())
}

/// Reads every table of a file: several only for Markdown and wiki pages.
///
/// # Errors
/// As [`read`].
pub fn read_all(bytes: &[u8], known: &Known, options: &Options) -> Result<Vec<Table>, TableError> {
    let decoded = decode::decode(bytes, known, options)?;
    read_decoded(&decoded, known, options)
}

/// Reads the tables of text that is already decoded, as pasted.
///
/// # Errors
/// As [`read`].
pub fn read_text(text: &str, known: &Known, options: &Options) -> Result<Vec<Table>, TableError> {
    read_all(text.as_bytes(), known, &Options { encoding: Some(Encoding::Utf8), ..*options })
}

fn read_decoded(decoded: &decode::Decoded, known: &Known, options: &Options) -> Result<Vec<Table>, TableError> {
    if options.separator.is_none() && structured::is_structured(&decoded.text) && !html::is_html(&decoded.text) {
        let block = structured::block(&decoded.text, known, &options.limits)?;
        return Ok(vec![assemble::table(block, decoded, known, options)?]);
    }
    let plain = options.separator.is_none() && options.header_line.is_none();
    if let Some(block) = plain.then(|| turned::keyed(&decoded.text, known, &options.limits)).transpose()?.flatten() {
        return Ok(vec![assemble::table(block, decoded, known, options)?]);
    }
    let with_bars = options.separator.map_or_else(|| delimited::with_bars(&decoded.text), |_| None);
    let text = with_bars.as_deref().unwrap_or(decoded.text.as_str());
    let said = options.separator.or(with_bars.as_ref().map(|_| Separator::Pipe));
    let (separator, whole) = said.map_or_else(|| detect_separator(text, known, options), |said| (said, None));
    let blocks = match separator {
        _ if whole.is_some() => whole.into_iter().collect(),
        Separator::Markup if html::is_html(text) => html::blocks(text, &options.limits)?,
        Separator::Markup => markup::blocks(text, &options.limits)?,
        Separator::Blanks => vec![fixed::block(text, known, options)?],
        _ => vec![delimited::block(text, separator, &options.limits)?],
    };
    let turned = |block| if plain { turned::turned(block, known) } else { block };
    blocks.into_iter().map(|block| assemble::table(turned(block), decoded, known, options)).collect()
}

/// The separator under which the beginning of the text looks most like a table, with that table where the beginning is all there is.
fn detect_separator(text: &str, known: &Known, options: &Options) -> (Separator, Option<Block>) {
    if html::is_html(text) || markup::is_markup(text) {
        return (Separator::Markup, None);
    }
    if let Some(separator) = delimited::declared(text) {
        return (separator, None);
    }
    let sample = beginning(text);
    let mut best = (0.0, Separator::Comma, None);
    let mut regular = false;
    for separator in [Separator::Comma, Separator::Tab, Separator::Semicolon, Separator::Pipe, Separator::Blanks] {
        let block = match separator {
            Separator::Blanks => fixed::block(sample, known, &Options { header_line: None, ..*options }),
            // What nothing separates is no table.
            _ if !sample.as_bytes().contains(&delimited::byte(separator)) => continue,
            _ => delimited::block(sample, separator, &options.limits),
        };
        let Ok(block) = block else { continue };
        // Blanks stand inside cells, too: where another separator gives a regular table, they separate only under a known header.
        if separator == Separator::Blanks && regular && !header::knows(&block, known) {
            continue;
        }
        regular |= separator != Separator::Blanks && header::is_regular(&block);
        // Blanks are everywhere; they are the separator only if nothing else is.
        let weight = if separator == Separator::Blanks { 0.7 } else { 1.0 };
        let score = header::table_score(&block, known) * weight;
        if score > best.0 {
            best = (score, separator, Some(block));
        }
    }
    let (_, separator, block) = best;
    let whole = sample.len() == text.len() && (separator != Separator::Blanks || options.header_line.is_none());
    (separator, block.filter(|_| whole))
}

/// The first lines of the text: enough to see a preamble and some rows.
fn beginning(text: &str) -> &str {
    const LINES: usize = 120;
    const BYTES: usize = 256 << 10;
    let end = text.match_indices('\n').nth(LINES).map_or(text.len(), |(at, _)| at + 1);
    let mut end = end.min(BYTES).min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    &text[..end]
}
