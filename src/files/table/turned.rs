//! Tables that do not run from a header down: rows that are fields with a column for each part, and lines of `name: value`.

use super::delimited::Collector;
use super::header::{Known, is_value};
use super::types::{Block, Layout, Limits, Note, Record, Separator, TableError};

/// Fewest names in a first column that is a header.
const NAMES_LEAST: usize = 3;
/// Longest name before a colon, bytes.
const NAME_LONGEST: usize = 40;

/// Whether enough of these names are known to be a header, in tenths of all.
fn are_names<'a>(names: impl Iterator<Item = &'a str>, known: &Known, tenths: usize) -> bool {
    let (known, all) = names.fold((0, 0), |(of, all), name| (of + usize::from(known.knows(name)), all + 1));
    known >= NAMES_LEAST && known * 10 >= all * tenths
}

/// Turns a table round whose rows are fields and whose columns are parts; any other comes back as it is.
pub(super) fn turned(block: Block, known: &Known) -> Block {
    let wide = |record: &&Record| record.cells.len() > 1;
    let names = || block.records.iter().filter(wide).map(|record| record.cells[0].as_str());
    let width = block.records.iter().map(|record| record.cells.len()).max().unwrap_or(0);
    let heads = |record: &Record| record.cells.iter().skip(1).any(|cell| known.knows(cell) && !is_value(cell));
    let sure = width > 1 && names().all(|name| !is_value(name)) && are_names(names(), known, 6);
    if !sure || block.records.iter().filter(wide).any(heads) {
        return block;
    }
    let (fields, titles): (Vec<Record>, Vec<Record>) = block.records.into_iter().partition(|record| wide(&record));
    let line = fields.first().map_or(1, |record| record.line);
    let column = |at: usize| {
        let cells = fields.iter().map(|field| field.cells.get(at).cloned().unwrap_or_default()).collect();
        Record { line, after_gap: false, cells }
    };
    let (mut above, mut notes) = (block.above, block.notes);
    above.extend(titles.iter().map(|title| Note { line: title.line, text: title.cells.concat() }));
    notes.push(Note { line, text: "its rows are fields and its columns parts: it is read turned round".to_owned() });
    Block { records: (0..width).map(column).collect(), header: Some(0), above, notes, ..block }
}

/// Records written as lines of `name: value`, one below the other; `None` where the text is something else.
pub(super) fn keyed(text: &str, known: &Known, limits: &Limits) -> Result<Option<Block>, TableError> {
    let lines = || text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty());
    let pair = |line: &str| {
        let (name, value) = line.trim_start_matches([' ', '\t', '-', '*', '•']).split_once(':')?;
        let (name, value) = (name.trim().to_owned(), value.trim().trim_matches('"').to_owned());
        let named = !name.is_empty() && name.len() <= NAME_LONGEST && !name.contains([',', ';', '|', '\t']);
        (named && !value.contains('\t')).then_some((name, value))
    };
    let pairs: Vec<(usize, (String, String))> = lines().filter_map(|(at, line)| Some((at + 1, pair(line)?))).collect();
    let mut header: Vec<&str> = Vec::new();
    pairs.iter().for_each(|(_, (name, _))| {
        if !header.contains(&name.as_str()) {
            header.push(name);
        }
    });
    let again = pairs.iter().filter(|(_, (name, _))| Some(&name.as_str()) == header.first()).count();
    if again < 2 || pairs.len() * 10 < lines().count() * 8 || !are_names(header.iter().copied(), known, 6) {
        return Ok(None);
    }
    let mut collector = Collector::new(limits);
    collector.take(1, false, header.iter().copied())?;
    for record in pairs.chunk_by(|_, (_, (next, _))| Some(&next.as_str()) != header.first()) {
        let cell = |name: &&str| record.iter().find(|(_, (of, _))| of == name).map_or("", |(_, (_, value))| value);
        collector.take(record[0].0, false, header.iter().map(cell))?;
    }
    let block = Block::of(collector.records, Separator::Markup, Layout::Structured);
    Ok(Some(Block { header: Some(0), ..block }))
}
