//! Columns kept apart by blanks: fixed width, or words in a row.

use std::ops::Range;

use super::delimited::Collector;
use super::header;
use super::header::Known;
use super::types::{Block, Layout, Note, Options, Record, Separator, TableError};

/// Longest line that can be a row of fixed columns, in characters.
const LONGEST_LINE: usize = 4000;

struct Line<'a> {
    number: usize,
    after_gap: bool,
    text: &'a str,
}

pub(super) fn block(text: &str, known: &Known, options: &Options) -> Result<Block, TableError> {
    let lines = lines(text);
    let at = match options.header_line {
        Some(0) => None,
        Some(number) => {
            Some(lines.iter().position(|line| line.number == number).ok_or(TableError::NoSuchHeader { line: number })?)
        }
        None => find_header(&lines, known),
    };
    let mut collector = Collector::new(&options.limits);
    let first = at.unwrap_or(0);
    for line in &lines[..first] {
        collector.take(line.number, line.after_gap, [line.text.trim()])?;
    }
    let header_at = collector.records.len();
    // A `#` in front of the header is a comment mark; a blank in its place keeps the columns aligned.
    let head = at.map(|at| lines[at].text.replacen('#', " ", lines[at].text.chars().take_while(|&c| c == '#').count()));
    let body: Vec<&Line> =
        lines[first + usize::from(at.is_some())..].iter().filter(|line| !is_rule(line.text)).collect();
    // Among rows with figures and without a header, a line without any is a title.
    let figures = |line: &&Line| line.text.contains(|c: char| c.is_ascii_digit());
    let mostly = at.is_none() && body.iter().copied().filter(|line| figures(line)).count() * 2 > body.len();
    let is_title = |line: &&Line| mostly && !figures(line);
    let ruler = at.and_then(|at| lines.get(at + 1)).map(|line| line.text).filter(|text| is_ruler(text));
    let columns = match ruler {
        Some(ruler) => Columns { cuts: gaps(ruler), aligned: true, spans: Vec::new() },
        None => Columns::new(
            head.as_deref(),
            &body.iter().copied().filter(|line| !is_title(line)).collect::<Vec<_>>(),
            known,
        ),
    };
    if let (Some(at), Some(head)) = (at, head.as_deref()) {
        let cells = columns.header(head);
        collector.take(lines[at].number, lines[at].after_gap, cells.iter().map(String::as_str))?;
    }
    let mut unread = Vec::new();
    for line in body {
        let cells = if line.text.starts_with('#') || is_title(&line) {
            Some(vec![line.text.trim().to_owned()])
        } else {
            columns.split(line.text)
        };
        // Page headings stand again among the rows.
        let page = || lines[..first].iter().any(|known| without_figures(known.text) == without_figures(line.text));
        match cells.or_else(|| page().then(|| vec![line.text.to_owned()])) {
            Some(cells) => collector.take(line.number, line.after_gap, cells.iter().map(String::as_str))?,
            None => unread.push(Note { line: line.number, text: line.text.trim().to_owned() }),
        }
    }
    let header = at.map(|_| header_at).filter(|&at| at < collector.records.len());
    Ok(Block { header, unread, ..Block::of(collector.records, Separator::Blanks, Layout::FixedWidth) })
}

fn lines(text: &str) -> Vec<Line<'_>> {
    let mut lines = Vec::new();
    let mut after_gap = false;
    for (at, text) in text.lines().enumerate() {
        if text.trim().is_empty() {
            after_gap = true;
        } else {
            lines.push(Line { number: at + 1, after_gap, text: text.trim_end() });
            after_gap = false;
        }
    }
    lines
}

fn without_figures(text: &str) -> String {
    text.chars().filter(|c| !c.is_ascii_digit()).collect()
}

/// A line drawn under the header.
fn is_rule(text: &str) -> bool {
    text.chars().all(|c| matches!(c, '-' | '=' | '_' | '+' | ' ' | '|')) && text.contains(['-', '=', '_'])
}

/// A rule with a piece for each column: `-----  ---  ----`.
fn is_ruler(text: &str) -> bool {
    is_rule(text) && !text.contains(['+', '|']) && pieces(text, 1).len() >= 3
}

/// The blank runs between the pieces of a ruler.
fn gaps(ruler: &str) -> Vec<Range<usize>> {
    pieces(ruler, 1).windows(2).map(|pair| pair[0].end..pair[1].start).collect()
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_string).collect()
}

/// Cells kept apart by at least two blanks or a tab.
fn wide(text: &str) -> Vec<String> {
    text.replace('\t', "  ").split("  ").map(str::trim).filter(|cell| !cell.is_empty()).map(str::to_string).collect()
}

/// Places of the pieces that at least `blanks` blanks keep apart, in characters.
fn pieces(text: &str, blanks: usize) -> Vec<Range<usize>> {
    let mut pieces: Vec<Range<usize>> = Vec::new();
    for (at, c) in text.chars().enumerate() {
        if c.is_whitespace() {
            continue;
        }
        match pieces.last_mut() {
            Some(last) if at - last.end < blanks => last.end = at + 1,
            _ => pieces.push(at..at + 1),
        }
    }
    pieces
}

fn find_header(lines: &[Line], known: &Known) -> Option<usize> {
    let records = |split: fn(&str) -> Vec<String>| -> Vec<Record> {
        lines
            .iter()
            .filter(|line| !is_rule(line.text))
            .take(header::PREAMBLE_MOST + 2)
            .map(|line| Record {
                line: line.number,
                after_gap: line.after_gap,
                cells: split(line.text.trim_start_matches('#')),
            })
            .collect()
    };
    // A sentence over the table has many words, a header has mostly names.
    let by_words = records(words);
    let names = |(at, _): &(usize, f64)| {
        let cells = &by_words[*at].cells;
        {
            let hits = header::hits(cells, known);
            hits * 3 >= cells.len() && (hits > 1 || cells.len() < 3)
        }
    };
    // A single cell is a title.
    let by_cells = records(wide);
    let several = |(at, _): &(usize, f64)| by_cells[*at].cells.len() > 1;
    let candidates = [header::find(&by_cells, known).filter(several), header::find(&by_words, known).filter(names)];
    let (at, _) = candidates.into_iter().flatten().max_by(|a, b| a.1.total_cmp(&b.1))?;
    // Rules above the header are no records.
    let number = by_words.get(at)?.line;
    lines.iter().position(|line| line.number == number)
}

/// Where the columns lie.
struct Columns {
    /// Blank runs between the columns, in characters.
    cuts: Vec<Range<usize>>,
    /// Whether the cuts give as many columns as the header has names.
    aligned: bool,
    /// Where the words of each column lie in rows that have one word per name; empty if names are not single words.
    spans: Vec<Range<usize>>,
}

impl Columns {
    fn new(head: Option<&str>, body: &[&Line], known: &Known) -> Self {
        // A second line of names under the first, which may stand over several columns.
        let under = body.first().map(|line| line.text).filter(|text| !text.contains(|c: char| c.is_ascii_digit()));
        let over = head.zip(under).map(|(head, under)| overlaid(head, under));
        let rows: Vec<&str> = body
            .iter()
            .map(|line| line.text)
            .filter(|text| !text.starts_with('#') && text.chars().count() <= LONGEST_LINE)
            .collect();
        let mut cuts = cuts(over.as_deref().or(head), &rows);
        cuts.extend(head.into_iter().flat_map(|head| glued(head, &rows, known)));
        cuts.sort_by_key(|cut| (cut.start, cut.end));
        // Without a header the first row says how many words a row has, unless wider gaps show the columns.
        let words = |row: &&str| pieces(row, 1).len();
        let even = rows.len() > 1 && rows.iter().all(|row| words(row) == words(&rows[0]));
        let model = head.or(rows.first().copied().filter(|_| cuts.is_empty() || even));
        let is_cut = |piece: &Range<usize>| cuts.iter().any(|cut| piece.start < cut.start && cut.end < piece.end);
        let mut spans: Vec<Range<usize>> = model.map(|model| pieces(model, 1)).unwrap_or_default();
        if spans.iter().any(is_cut) {
            spans.clear();
        }
        let fitting: Vec<Vec<Range<usize>>> =
            rows.iter().map(|row| pieces(row, 1)).filter(|pieces| pieces.len() == spans.len()).collect();
        if spans.len() < 2 || fitting.len() * 2 < rows.len() {
            return Columns { cuts, aligned: true, spans: Vec::new() };
        }
        for row in &fitting {
            for (span, piece) in spans.iter_mut().zip(row) {
                *span = span.start.min(piece.start)..span.end.max(piece.end);
            }
        }
        let aligned = model.is_some_and(|model| cut(model, &cuts).len() == spans.len());
        Columns { cuts, aligned, spans }
    }

    fn header(&self, head: &str) -> Vec<String> {
        if self.spans.is_empty() { cut(head, &self.cuts) } else { words(head) }
    }

    /// The cells of a row; `None` where they run over their columns and nothing says where each ends.
    fn split(&self, row: &str) -> Option<Vec<String>> {
        // Rows of different lengths that nothing aligns: only wide gaps separate.
        if self.cuts.is_empty() && self.spans.is_empty() {
            return Some(wide(row));
        }
        if self.aligned && self.fits(row) {
            let cells = cut(row, &self.cuts);
            // `C5, C6, C7100uF`: a list that goes on in the next column.
            let chars: Vec<char> = row.chars().collect();
            let blank = |at: &usize| chars.get(*at).is_none_or(|c| c.is_whitespace());
            let close = |gap: &Range<usize>| (0..gap.end).rev().take_while(blank).count() < 2;
            let runs_on = cells
                .iter()
                .zip(&cells[1..])
                .zip(&self.cuts)
                .any(|((cell, next), gap)| cell.ends_with(',') && !next.is_empty() && close(gap));
            return Some(cells).filter(|_| !runs_on);
        }
        let split = words(row);
        if !self.spans.is_empty() && split.len() == self.spans.len() {
            return Some(split);
        }
        let few = |cells: &Vec<String>| cells.len() * 2 <= self.cuts.len() + 1;
        self.by_place(row).or_else(|| Some(wide(row)).filter(few)).or_else(|| self.at_starts(row))
    }

    /// A row whose cells fill their columns: cut where the columns begin, as long as no word or figure is cut.
    fn at_starts(&self, row: &str) -> Option<Vec<String>> {
        let chars: Vec<char> = row.chars().collect();
        let kind = |at: usize| chars.get(at).map(|c| (c.is_alphabetic(), c.is_numeric(), c.is_whitespace()));
        let whole = |gap: &Range<usize>| gap.end == 0 || kind(gap.end) != kind(gap.end - 1) || kind(gap.end).is_none();
        let starts: Vec<Range<usize>> = self.cuts.iter().map(|gap| gap.end..gap.end).collect();
        starts.iter().all(whole).then(|| cut(row, &starts))
    }

    /// The pieces of a row that lacks some, each in the column it overlaps most; `None` if two want the same column.
    fn by_place(&self, row: &str) -> Option<Vec<String>> {
        let chars: Vec<char> = row.chars().collect();
        let mut cells = vec![String::new(); self.spans.len()];
        let mut next = 0;
        for piece in pieces(row, 2) {
            let overlap = |span: &Range<usize>| span.end.min(piece.end).saturating_sub(span.start.max(piece.start));
            let at = (0..self.spans.len()).rev().max_by_key(|&at| overlap(&self.spans[at]))?;
            if at < next || overlap(&self.spans[at]) == 0 {
                return None;
            }
            cells[at] = chars[piece].iter().collect();
            next = at + 1;
        }
        Some(cells)
    }

    /// Whether every gap between the columns is blank in this row.
    fn fits(&self, row: &str) -> bool {
        let mut gaps = self.cuts.iter().peekable();
        for (at, c) in row.chars().enumerate() {
            while gaps.next_if(|gap| gap.end <= at).is_some() {}
            match gaps.peek() {
                Some(gap) if gap.contains(&at) && !c.is_whitespace() => return false,
                None => break,
                _ => {}
            }
        }
        true
    }
}

/// The first text with what stands of the second under its blanks.
fn overlaid(first: &str, second: &str) -> String {
    let (mut a, mut b) = (first.chars(), second.chars());
    let next = || match (a.next(), b.next()) {
        (Some(a), Some(b)) if a.is_whitespace() => Some(b),
        (a, b) => a.or(b),
    };
    std::iter::from_fn(next).collect()
}

/// Runs of character columns that are blank in the header and in (nearly) all rows.
fn cuts(head: Option<&str>, rows: &[&str]) -> Vec<Range<usize>> {
    let mut filled: Vec<usize> = Vec::new();
    for row in rows {
        for (at, c) in row.chars().enumerate() {
            if at >= filled.len() {
                filled.resize(at + 1, 0);
            }
            filled[at] += usize::from(!c.is_whitespace());
        }
    }
    let head: Vec<char> = head.unwrap_or_default().chars().take(LONGEST_LINE).collect();
    let allowed = rows.len() / 20;
    let width = filled.len().max(head.len());
    let blank = |at: usize| {
        filled.get(at).is_none_or(|&count| count <= allowed) && head.get(at).is_none_or(|c| c.is_whitespace())
    };
    let wide_header = wide(&head.iter().collect::<String>()).len() >= 2;
    let mut cuts = Vec::new();
    let mut at = (0..width).find(|&at| !blank(at)).unwrap_or(width);
    while at < width {
        let start = (at..width).find(|&at| blank(at)).unwrap_or(width);
        let end = (start..width).find(|&at| !blank(at)).unwrap_or(width);
        if end < width {
            // A single blank inside a header name (`Mid X`) is no column where the others are kept apart by wider gaps, unless
            // the rows have something on both sides of it (`Qty Value`).
            let names_run = |at: usize| head.get(at).is_some_and(|c| !c.is_whitespace());
            let rows_run = |at: usize| filled.get(at).is_some_and(|&count| count > allowed);
            let word_end = (end..width).find(|&at| !names_run(at)).unwrap_or(width);
            let inside_name = wide_header
                && end - start == 1
                && start > 0
                && names_run(start - 1)
                && names_run(end)
                && !(end..word_end).any(rows_run);
            // A gap between two columns needs a name on its right; without a header it needs two blanks.
            let next_gap = (end..width).find(|&at| blank(at)).unwrap_or(width);
            let named = if head.is_empty() { end - start >= 2 } else { (end..next_gap).any(names_run) };
            if named && !inside_name {
                cuts.push(start..end);
            }
        }
        at = end;
    }
    cuts
}

/// Where a word of the header is several known names without a blank between them (`PosArtikelnr.`) and the rows part there.
fn glued(head: &str, rows: &[&str], known: &Known) -> Vec<Range<usize>> {
    let chars: Vec<char> = head.chars().take(LONGEST_LINE).collect();
    let known = |at: Range<usize>| {
        let name: String = chars[at].iter().collect();
        known.knows_exactly(&name) || ["Nr", "Nr.", "No", "No."].contains(&name.as_str())
    };
    let apart = |at: usize| {
        let kind = |c: char| (c.is_alphabetic(), c.is_numeric());
        let part = |row: &&&str| {
            let mut beside = row.chars().skip(at - 1);
            let (before, behind) = (beside.next().unwrap_or(' '), beside.next().unwrap_or(' '));
            before.is_whitespace() || kind(before) != kind(behind)
        };
        rows.iter().filter(part).count() * 4 >= rows.len() * 3
    };
    let mut cuts = Vec::new();
    for word in pieces(head, 1).into_iter().filter(|word| word.end <= chars.len()) {
        let mut start = word.start;
        while !known(start..word.end)
            && let Some(at) =
                (start + 1..word.end).rev().find(|&at| chars[at].is_uppercase() && known(start..at) && apart(at))
        {
            cuts.push(at..at);
            start = at;
        }
        // What is left over is no name: the word is one after all.
        if !known(start..word.end) {
            cuts.retain(|cut: &Range<usize>| cut.start <= word.start);
        }
    }
    cuts
}

fn cut(text: &str, cuts: &[Range<usize>]) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut gaps = cuts.iter().peekable();
    for (at, c) in text.chars().enumerate() {
        while gaps.next_if(|gap| gap.end <= at).is_some() {
            cells.push(String::new());
        }
        if let Some(cell) = cells.last_mut() {
            cell.push(if c == '\t' { ' ' } else { c });
        }
    }
    cells.iter().map(|cell| bare(cell.trim()).to_string()).collect()
}

/// A cell without the quotation marks around it.
fn bare(cell: &str) -> &str {
    match cell.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')) {
        Some(inner) if !inner.contains('"') => inner,
        _ => cell,
    }
}
