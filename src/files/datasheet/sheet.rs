//! A whole data sheet: its tables over all pages, and what stands around them.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use super::facts::{self, Multipliers};
use super::grid::{self, Grid};
use super::lattice::Lattice;
use super::page::{FIRST_SIGN, Page, Rect, SIGNS_MAX, Sign, UNKNOWN_SIGN, Word};
use super::{gaps, ink, lattice, marks};
use crate::files::import::{FROM_SHEET, Source, Target};
use crate::files::table::{Note, Row, Table};

pub use super::grid::Cell;

/// Largest distance of a title from its table, in points.
const TITLE_PT: f32 = 40.0;
/// Most lines of text around a table that are kept with it.
const LINES_MAX: usize = 12;

/// A row with its page.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetRow {
    /// Page, from 1.
    pub page: usize,
    /// Its cells, one for each header.
    pub cells: Vec<Cell>,
}

impl SheetRow {
    /// Around all its cells, as high as the least high of them: others may be merged with those of more rows.
    #[must_use]
    pub fn rect(&self) -> Rect {
        let filled = || self.cells.iter().filter(|cell| !cell.text.is_empty()).map(|cell| cell.rect);
        let least = filled().min_by(|a, b| a.height().total_cmp(&b.height())).unwrap_or_default();
        let all = filled().reduce(Rect::with).unwrap_or_default();
        Rect { y0: least.y0, y1: least.y1, ..all }
    }
}

/// A table of a sheet, over as many pages as it takes.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SheetTable {
    /// Its number in the sheet, from 1.
    pub number: usize,
    /// Names of its columns.
    pub header: Vec<String>,
    /// Its rows.
    pub rows: Vec<SheetRow>,
    /// Its outline on each page.
    pub outlines: Vec<(usize, Rect)>,
    /// What stands over it and around it.
    pub around: Vec<String>,
    /// What the reader should know.
    pub notes: Vec<String>,
    columns: Vec<(f32, f32)>,
}

/// What was read of a data sheet.
#[derive(Debug, Clone, Default)]
pub struct Sheet {
    /// Pages of the file.
    pub pages: usize,
    /// All tables, lists of parts or not.
    pub tables: Vec<SheetTable>,
    /// Signs of which the file does not say what letter they are, with the page they stand on first.
    pub signs: Vec<(usize, Sign)>,
    /// What was left out, and why.
    pub notes: Vec<String>,
    lives: Vec<(usize, f64, f64, bool, String)>,
    multipliers: Vec<(usize, Multipliers)>,
}

/// A grid with what stands around it on its page.
struct Found {
    page: usize,
    grid: Grid,
    above: Vec<String>,
    explained: Vec<String>,
}

impl Sheet {
    /// Reads pages that were taken from the file. `letters` says what unknown signs are, by their key.
    #[must_use]
    pub fn of_pages(pages: &[Page], letters: &BTreeMap<String, String>) -> Self {
        let mut sheet = Self { pages: pages.first().map_or(0, |page| page.pages), ..Self::default() };
        let mut found = Vec::new();
        for page in pages {
            if page.scan {
                sheet.notes.push(format!(
                    "page {} is a scan, a picture of text: nothing on it can be read; type its figures or find the original file",
                    page.number
                ));
                continue;
            }
            if page.unseen > 0 {
                sheet.notes.push(format!("page {}: {} letters that cannot be seen are left out", page.number, page.unseen));
            }
            let words = sheet.lettered(page, letters);
            found.extend(sheet.tables_of(page, words));
        }
        sheet.join(found);
        sheet
    }

    /// The words of a page with unknown signs as the letters they are known to be.
    fn lettered(&mut self, page: &Page, letters: &BTreeMap<String, String>) -> Vec<Word> {
        let mut words = page.words.clone();
        for word in &mut words {
            if !word.text.contains(|c| sign_of(c).is_some()) {
                continue;
            }
            let mut text = String::new();
            for c in word.text.chars() {
                match sign_of(c).and_then(|at| page.signs.get(at)) {
                    None => text.push(c),
                    Some(sign) => match letters.get(&sign.key) {
                        Some(letter) => text.push_str(letter),
                        None => text.push(UNKNOWN_SIGN),
                    },
                }
            }
            word.text = text;
        }
        for sign in page.signs.iter().filter(|sign| !letters.contains_key(&sign.key)) {
            if !self.signs.iter().any(|(_, known)| known.key == sign.key) {
                self.signs.push((page.number, sign.clone()));
            }
        }
        words
    }

    fn tables_of(&mut self, page: &Page, words: Vec<Word>) -> Vec<Found> {
        let lettered = Page { words, ..page.clone() };
        let mut lattices = lattice::of(&lettered);
        // Tables within a frame are tables; the frame is none.
        let inner: Vec<Rect> = lattices.iter().map(|lattice| lattice.rect).collect();
        lattices.retain(|lattice| !frames(lattice, &inner));
        let inside = |word: &Word| lattices.iter().any(|lattice| lattice.rect.has(word.rect.middle()));
        let free: Vec<Word> = lettered.words.iter().filter(|word| !inside(word)).cloned().collect();
        lattices.extend(gaps::of(&free));
        let inside = |word: &Word| lattices.iter().any(|lattice| lattice.rect.has(word.rect.middle()));
        let free: Vec<Word> = lettered.words.iter().filter(|word| !inside(word)).cloned().collect();
        let lines: Vec<(Rect, String)> = gaps::lines(&free)
            .iter()
            .flat_map(|line| gaps::chunks(line))
            .map(|(rect, words)| (rect, marks::header(&marks::lines(&words))))
            .collect();
        let mut found = Vec::new();
        for lattice in &lattices {
            let grid = grid::of(lattice);
            let above = above(&lines, grid.rect);
            if self.facts(page.number, &grid, &above) {
                continue;
            }
            let explained = lines.iter().filter(|(_, text)| marks::explains(text)).map(|(_, text)| text.clone());
            let explained = explained.take(LINES_MAX).collect();
            if grid.rows.len() >= 2 || (grid.rows.len() == 1 && grid.header.len() >= 4) {
                found.push(Found { page: page.number, grid, above, explained });
            }
        }
        for (_, text) in &lines {
            self.life(page.number, text);
        }
        found.sort_by(|a, b| {
            let key = |found: &Found| (found.grid.rect.y0, found.grid.rect.x0);
            key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal)
        });
        found
    }

    /// Takes what a table says about all parts; whether it is one of multipliers, and so no list.
    fn facts(&mut self, page: usize, grid: &Grid, above: &[String]) -> bool {
        match facts::multipliers(grid, &above.join(" ")) {
            Some(Ok(found)) => {
                self.multipliers.push((page, found));
                return true;
            }
            Some(Err(why)) => {
                self.notes.push(format!("page {page}: a table of ripple multipliers is not used: {why}; they stay unknown"));
                return true;
            }
            None => {}
        }
        for texts in &grid.texts {
            let mut texts = texts.clone();
            texts.dedup();
            self.life(page, &texts.join(" "));
        }
        false
    }

    fn life(&mut self, page: usize, text: &str) {
        let Some((hours, temp_c, ripple)) = facts::life(text) else { return };
        if !self.lives.iter().any(|known| known.1 == hours && known.2 == temp_c) && self.lives.len() < LINES_MAX {
            self.lives.push((page, hours, temp_c, ripple, text.to_owned()));
        }
    }

    /// Tables with the same header are one; so is one without a header in the columns of the one before.
    fn join(&mut self, found: Vec<Found>) {
        for Found { page, grid, above, explained } in found {
            let rows = |rows: Vec<Vec<Cell>>| rows.into_iter().map(move |cells| SheetRow { page, cells });
            let goes_on = if grid.header.is_empty() {
                self.tables.last_mut().filter(|last| !last.header.is_empty()).and_then(|last| {
                    let order = matched(&last.columns, &grid.columns)?;
                    let rows = grid.rows.iter().map(|row| reordered(row, &order)).collect();
                    Some((last, rows))
                })
            } else {
                let same = self.tables.iter_mut().rev().find(|table| table.header == grid.header);
                same.map(|table| (table, grid.rows.clone()))
            };
            if let Some((table, new)) = goes_on {
                table.rows.extend(rows(new));
                table.outlines.push((page, grid.rect));
                table.notes.extend(grid.notes);
                for text in above.into_iter().chain(explained) {
                    if !table.around.contains(&text) && table.around.len() < LINES_MAX {
                        table.around.push(text);
                    }
                }
                continue;
            }
            let around = above.into_iter().chain(grid.above).chain(explained).collect();
            self.tables.push(SheetTable {
                number: self.tables.len() + 1,
                header: grid.header,
                rows: rows(grid.rows).collect(),
                outlines: vec![(page, grid.rect)],
                around,
                notes: grid.notes,
                columns: grid.columns,
            });
        }
    }

    /// The tables that are lists of parts, each ready for import; and of the others, why they are none.
    #[must_use]
    pub fn sources(&self, path: &Path, only: Option<usize>) -> (Vec<Source>, Vec<String>) {
        let (mut sources, mut others) = (Vec::new(), Vec::new());
        for table in self.tables.iter().filter(|table| only.is_none_or(|only| only == table.number)) {
            if table.header.is_empty() {
                others.push(format!("{}: no header was found over it", table.place()));
                continue;
            }
            let mut source = Source::of_table(path, self.as_list(table, path), Some(Target::Parts));
            source.places = Some(Arc::new(table.clone()));
            if source.is_usable() {
                sources.push(source);
            } else {
                let names: String = source.table.header.join(" | ").chars().take(120).collect();
                others.push(format!("{}: its columns do not give capacitance and voltage ({names})", table.place()));
            }
        }
        (sources, others)
    }

    fn as_list(&self, table: &SheetTable, path: &Path) -> Table {
        let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        let mut header = table.header.clone();
        header.push("Datasheet".to_owned());
        let multipliers = self.multipliers.first().map(|(_, found)| found);
        let hz = multipliers.map_or(&[][..], |found| &found.hz);
        header.extend(hz.iter().map(|hz| format!("{FROM_SHEET} ripple multiplier {} Hz", nearest(*hz))));
        let capacitance = capacitance_column(table);
        let rows = table.rows.iter().enumerate().map(|(at, row)| {
            let mut cells: Vec<String> = row.cells.iter().map(|cell| cell.text.clone()).collect();
            let is_row = cells.iter().filter(|cell| !cell.is_empty()).count() > 1;
            cells.push(if is_row { source_mark(&name, row) } else { String::new() });
            let uf = capacitance.and_then(|(column, unit)| Some(cells.get(column)?.trim().parse::<f64>().ok()? * unit));
            let factors = multipliers.and_then(|found| found.factors(uf)).filter(|_| is_row);
            cells.extend((0..hz.len()).map(|at| {
                factors.and_then(|factors| factors.get(at)).map_or_else(String::new, |factor| factor.to_string())
            }));
            Row { line: at + 2, cells }
        });
        let note = |text: &String| Note { line: 1, text: text.clone() };
        let mut preamble: Vec<Note> = table.around.iter().map(note).collect();
        for (_, hours, temp_c, ..) in &self.lives {
            preamble.push(Note { line: 1, text: format!("Endurance {hours} h at {temp_c} °C") });
        }
        let mut notes: Vec<Note> = table.notes.iter().map(note).collect();
        for (page, .., ripple, text) in &self.lives {
            let with = if *ripple { ", with ripple current" } else { "" };
            notes.push(Note { line: 1, text: format!("page {page} says of the endurance{with}: {text}") });
        }
        if let Some((page, _)) = self.multipliers.first() {
            notes.push(Note { line: 1, text: format!("page {page} has ripple multipliers by frequency") });
        }
        Table::of_sheet(&header, rows.collect(), preamble, notes)
    }
}

impl SheetTable {
    /// `table 2 (pages 2 to 4)`.
    #[must_use]
    pub fn place(&self) -> String {
        let pages = || self.outlines.iter().map(|(page, _)| *page);
        match (pages().min(), pages().max()) {
            (Some(first), Some(last)) if first != last => format!("table {} (pages {first} to {last})", self.number),
            (Some(page), _) => format!("table {} (page {page})", self.number),
            _ => format!("table {}", self.number),
        }
    }

    /// The row of a line of the imported list.
    #[must_use]
    pub fn row(&self, line: usize) -> Option<&SheetRow> {
        self.rows.get(line.checked_sub(2)?)
    }
}

/// Where a part stands, as an address every viewer of PDF files opens at its page: `sheet.pdf#page=2&viewrect=36,120,520,12`, the
/// rectangle as left, top, width and height in points.
fn source_mark(name: &str, row: &SheetRow) -> String {
    let rect = row.rect();
    format!("{name}#page={}&viewrect={:.0},{:.0},{:.0},{:.0}", row.page, rect.x0, rect.y0, rect.width(), rect.height())
}

/// The page and rectangle of such an address, with its file.
#[must_use]
pub fn place_of(mark: &str) -> Option<(&str, usize, Option<Rect>)> {
    let (file, place) = mark.rsplit_once("#page=")?;
    let (page, rect) = place.split_once("&viewrect=").map_or((place, None), |(page, rect)| (page, Some(rect)));
    let sides: Vec<f32> = rect.map(|rect| rect.split(',').filter_map(|side| side.parse().ok()).collect()).unwrap_or_default();
    let rect = match sides.as_slice() {
        &[x0, y0, width, height] => Some(Rect { x0, y0, x1: x0 + width, y1: y0 + height }),
        _ => None,
    };
    Some((file, page.parse().ok()?, rect))
}

fn sign_of(c: char) -> Option<usize> {
    let at = (c as u32).checked_sub(FIRST_SIGN as u32)? as usize;
    (at < SIGNS_MAX).then_some(at)
}

/// The frequency of the catalogue's columns that one of the sheet's stands for: 60 Hz is mains as 50 Hz is, 100 Hz its double as 120 Hz.
fn nearest(hz: f64) -> f64 {
    match hz {
        60.0 => 50.0,
        100.0 => 120.0,
        hz => hz,
    }
}

/// The column with capacitances and its unit in µF.
fn capacitance_column(table: &SheetTable) -> Option<(usize, f64)> {
    let lower = |name: &String| name.to_lowercase();
    let at = table.header.iter().position(|name| lower(name).contains("cap") && !lower(name).contains("code"));
    let unit = |name: &str| if name.contains("nF") || name.contains("mF") || name.contains("pF") { None } else { Some(1.0) };
    let at = at.unwrap_or(0);
    Some((at, unit(table.header.get(at)?)?))
}

/// Whether a lattice is a mere frame around others.
fn frames(lattice: &Lattice, all: &[Rect]) -> bool {
    let within = |rect: &Rect| *rect != lattice.rect && lattice.rect.has((rect.x0, rect.y0)) && lattice.rect.has((rect.x1, rect.y1));
    all.iter().any(within) && lattice.fields.len() * lattice.fields.first().map_or(0, Vec::len) <= 6
}

/// The lines of text close above a table.
fn above(lines: &[(Rect, String)], table: Rect) -> Vec<String> {
    let near = |rect: &Rect| {
        let gap = table.y0 - rect.y1;
        (-4.0..=TITLE_PT).contains(&gap) && rect.x1 > table.x0 - TITLE_PT && rect.x0 < table.x1
    };
    lines.iter().filter(|(rect, _)| near(rect)).map(|(_, text)| text.clone()).take(LINES_MAX).collect()
}

/// For each column of the earlier table the one below it; `None` when the columns are others.
fn matched(earlier: &[(f32, f32)], later: &[(f32, f32)]) -> Option<Vec<Option<usize>>> {
    let over = |a: &(f32, f32), b: &(f32, f32)| (a.1.min(b.1) - a.0.max(b.0)) / (a.1 - a.0).min(b.1 - b.0).max(1.0);
    let order: Vec<Option<usize>> = earlier.iter().map(|a| later.iter().position(|b| over(a, b) > 0.7)).collect();
    let mut used: Vec<usize> = order.iter().flatten().copied().collect();
    used.sort_unstable();
    used.dedup();
    (used.len() == later.len() && used.len() == order.iter().flatten().count()).then_some(order)
}

fn reordered(row: &[Cell], order: &[Option<usize>]) -> Vec<Cell> {
    order.iter().map(|at| at.and_then(|at| row.get(at)).cloned().unwrap_or_default()).collect()
}

/// Reads the pages of a sheet from memory; `only` names one page.
///
/// # Errors
/// In words, when the file is no PDF that can be read.
pub fn pages(bytes: &[u8], only: Option<usize>) -> Result<Vec<Page>, String> {
    let first = ink::read(bytes, only.unwrap_or(1))?;
    let last = if only.is_some() { 1 } else { first.pages.min(super::PAGES_MAX) };
    let mut pages = vec![first];
    for number in 2..=last {
        pages.push(ink::read(bytes, number)?);
    }
    Ok(pages)
}
