//! A whole data sheet: its tables over all pages, and what stands around them.

use std::collections::BTreeMap;

use super::around::LINES_MAX;
use super::facts::{self, Multipliers};
use super::grid;
use super::lattice::Lattice;
use super::page::{FIRST_SIGN, LAST_SIGN, Page, Rect, SIDE_PT_MAX, Sign, UNKNOWN_SIGN, Word};
use super::rows::Grid;
use super::text::{explains, is_banner};
use super::{around, gaps, lattice, marks};
use crate::files::cell::header::hints;

pub use super::rows::Cell;

/// A part of a page where somebody says that a table is.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Area {
    /// Page, from 1.
    pub page: usize,
    /// Where.
    pub rect: Rect,
    /// Places of its column lines from left to right, in points; empty where those found are right.
    pub columns: Vec<f32>,
}

/// Most that lines of a paragraph begin apart, in points.
const PARAGRAPH_PT: f32 = 10.0;

/// A row with its page.
#[derive(Debug, Clone, PartialEq)]
pub struct PrintedRow {
    /// Page, from 1.
    pub page: usize,
    /// Its cells, one for each header.
    pub cells: Vec<Cell>,
}

impl PrintedRow {
    /// Around all its cells, as high as the least high of them: others may be merged with those of more rows.
    pub fn rect(&self) -> Rect {
        let filled = || self.cells.iter().filter(|cell| !cell.text.is_empty()).map(|cell| cell.rect);
        // Labels of several rows stand before the others.
        let least = filled().rev().min_by(|a, b| a.height().round().total_cmp(&b.height().round())).unwrap_or_default();
        let all = filled().reduce(Rect::with).unwrap_or_default();
        Rect { y0: least.y0, y1: least.y1, ..all }
    }
}

/// A table of a sheet, over as many pages as it takes.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PrintedTable {
    /// Its number in the sheet, from 1.
    pub number: usize,
    /// Names of its columns.
    pub header: Vec<String>,
    /// Its rows.
    pub rows: Vec<PrintedRow>,
    /// Its outline on each page.
    pub outlines: Vec<(usize, Rect)>,
    /// What stands over it and around it.
    pub around: Vec<String>,
    /// What the reader should know.
    pub notes: Vec<String>,
    /// Its unknown signs, each with its page and a text it stands in.
    pub signs: Vec<(usize, Sign, String)>,
    pub(super) columns: Vec<(f32, f32)>,
}

/// What was read of a data sheet.
#[derive(Debug, Clone, Default)]
pub struct Datasheet {
    /// Pages of the file.
    pub pages: usize,
    /// All tables, lists of parts or not.
    pub tables: Vec<PrintedTable>,
    /// Signs of which the file does not say what letter they are, with the page they stand on first; the n-th stands in the tables as the
    /// n-th character from [`FIRST_SIGN`].
    pub signs: Vec<(usize, Sign)>,
    /// What was left out, and why.
    pub notes: Vec<String>,
    /// Tables without rows under a header, such as forms.
    pub tables_left: usize,
    pub(super) lives: Vec<Life>,
    /// Texts that give endurances by the diameter of the can.
    pub(super) by_diameter: Vec<String>,
    /// Lines of text that name the ripple current and a frequency.
    pub(super) ripples: Vec<String>,
    pub(super) multipliers: Vec<(usize, Multipliers)>,
}

/// What a sheet says about endurance.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Life {
    pub(super) page: usize,
    pub(super) hours: f64,
    pub(super) temp_c: f64,
    /// Whether the text speaks of ripple current, too.
    pub(super) ripple: bool,
    pub(super) text: String,
}

/// A grid with what stands around it on its page.
struct Found {
    page: usize,
    grid: Grid,
    above: Vec<String>,
    explained: Vec<String>,
}

impl Datasheet {
    /// Reads pages that were taken from the file. `letters` says what unknown signs are, by their key; on pages with `areas`
    /// tables are looked for in these only.
    pub fn of_pages(pages: &[Page], letters: &BTreeMap<String, String>, areas: &[Area]) -> Self {
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
                sheet
                    .notes
                    .push(format!("page {}: {} letters that cannot be seen are left out", page.number, page.unseen));
            }
            let words = sheet.lettered(page, letters);
            let own: Vec<&Area> = areas.iter().filter(|area| area.page == page.number).collect();
            found.extend(sheet.tables_of(page, words, &own));
        }
        sheet.join(found);
        sheet.corners();
        sheet
    }

    /// The words of a page with unknown signs as the letters they are said to be.
    fn lettered(&mut self, page: &Page, letters: &BTreeMap<String, String>) -> Vec<Word> {
        let mut words = page.words.clone();
        for word in words.iter_mut().filter(|word| word.text.contains(|c| sign_of(c).is_some())) {
            let mut text = String::new();
            for c in word.text.chars() {
                match sign_of(c).map(|at| page.signs.get(at)) {
                    None => text.push(c),
                    Some(None) => text.push(UNKNOWN_SIGN),
                    Some(Some(sign)) => match letters.get(&sign.key) {
                        Some(letter) => text.push_str(letter),
                        None => text.push(self.sign(page.number, sign)),
                    },
                }
            }
            word.text = text;
        }
        words
    }

    /// The character that stands for a sign on every page.
    fn sign(&mut self, page: usize, sign: &Sign) -> char {
        let at = self.signs.iter().position(|(_, known)| known.key == sign.key).unwrap_or_else(|| {
            self.signs.push((page, sign.clone()));
            self.signs.len() - 1
        });
        let c = u32::try_from(at).ok().and_then(|at| char::from_u32(FIRST_SIGN as u32 + at));
        c.filter(|c| *c <= LAST_SIGN).unwrap_or(UNKNOWN_SIGN)
    }

    fn tables_of(&mut self, page: &Page, words: Vec<Word>, areas: &[&Area]) -> Vec<Found> {
        let lettered = Page { words, ..page.clone() };
        let lattices = if areas.is_empty() { everywhere(&lettered) } else { within(&lettered, areas) };
        let inside = |word: &Word| lattices.iter().any(|lattice| lattice.rect.has(word.rect.middle()));
        let free: Vec<Word> = lettered.words.iter().filter(|word| !inside(word)).cloned().collect();
        let lines: Vec<(Rect, String)> = gaps::lines(&free)
            .iter()
            .flat_map(|line| gaps::chunks(line, &[]))
            .map(|(rect, words)| (rect, marks::header(&marks::lines(&words))))
            .collect();
        let mut found = Vec::new();
        for lattice in &lattices {
            let mut grid = grid::of(lattice);
            around::conditions(&mut grid, &lines);
            let mut above = around::above(&lines, grid.rect);
            if self.facts(page.number, &grid, &above) {
                continue;
            }
            above.extend(around::legends(&lines, grid.rect));
            let explained = lines.iter().filter(|(_, text)| explains(text)).map(|(_, text)| text.clone());
            let explained = explained.take(LINES_MAX).collect();
            if grid.rows.len() >= 2 || (grid.rows.len() == 1 && grid.header.len() >= 4) {
                found.push(Found { page: page.number, grid, above, explained });
            } else {
                self.tables_left += 1;
            }
        }
        for (at, (rect, text)) in lines.iter().enumerate() {
            self.life(page.number, text);
            let of_ripple = |text: &str| text.to_lowercase().contains("ripple") && hints(text).hz.is_some();
            // A sentence may go on in the next line of its paragraph.
            let below = |other: &&(Rect, String)| {
                let apart = other.0.y0 - rect.y1;
                (other.0.x0 - rect.x0).abs() <= PARAGRAPH_PT && (-2.0..=rect.height()).contains(&apart)
            };
            let both = lines[at + 1..].iter().find(below).filter(|_| !text.ends_with('.'));
            let both = both.map(|(_, next)| (next, format!("{text} {next}")));
            let both = both.filter(|(next, _)| facts::lives(next).is_empty() && !of_ripple(next)).map(|(_, both)| both);
            if let Some(both) = both.as_ref().filter(|_| facts::lives(text).is_empty()) {
                self.life(page.number, both);
            }
            let said = Some(text).filter(|text| of_ripple(text)).or(both.as_ref().filter(|both| of_ripple(both)));
            if let Some(said) = said.filter(|said| !self.ripples.contains(said) && self.ripples.len() < LINES_MAX) {
                self.ripples.push(said.clone());
            }
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
                self.notes
                    .push(format!("page {page}: a table of ripple multipliers is not used: {why}; they stay unknown"));
                return true;
            }
            None => {}
        }
        let joined = |texts: &Vec<String>| {
            let mut texts = texts.clone();
            texts.dedup();
            texts.join(" ")
        };
        // `Endurance at 105 °C` may stand over hours for each diameter.
        let over = grid.texts.first().map_or_else(String::new, joined);
        let by_row = grid.texts.len() > 1 && facts::is_about_life(&over);
        let of_diameters = ["diameter", "φ", "ø"].iter().any(|word| over.to_lowercase().contains(word));
        if by_row
            && of_diameters
            && let Some(&temp_c) = facts::lives(&format!("{over} 1000 h")).first().map(|life| &life.1)
        {
            let rows =
                grid.texts[1..].iter().filter_map(|texts| Some(format!("φ{}: {}", texts.first()?, texts.last()?)));
            let text = format!("Endurance at {temp_c} °C, {}", rows.collect::<Vec<_>>().join(", "));
            self.by_diameter.extend(facts::by_diameter(&text).map(|_| text));
        }
        for texts in &grid.texts {
            let text = joined(texts);
            self.life(page, &if by_row { format!("{over} {text}") } else { text });
        }
        false
    }

    fn life(&mut self, page: usize, text: &str) {
        if !facts::lives(text).is_empty() && facts::by_diameter(text).is_some() && self.by_diameter.len() < LINES_MAX {
            self.by_diameter.push(text.to_owned());
        }
        for (hours, temp_c, ripple) in facts::lives(text) {
            let known = self.lives.iter().any(|life| life.hours == hours && life.temp_c == temp_c);
            if !known && self.lives.len() < LINES_MAX {
                self.lives.push(Life { page, hours, temp_c, ripple, text: text.to_owned() });
            }
        }
    }

    /// Tables with the same header are one; so is one without a header in the columns of the one before.
    fn join(&mut self, found: Vec<Found>) {
        for Found { page, grid, above, explained } in found {
            let rows = |rows: Vec<Vec<Cell>>| rows.into_iter().map(move |cells| PrintedRow { page, cells });
            let goes_on = if grid.header.is_empty() {
                self.tables.last_mut().filter(|last| !last.header.is_empty()).and_then(|last| {
                    let order = matched(&last.columns, &grid.columns)?;
                    let rows = grid.rows.iter().map(|row| reordered(row, &order)).collect();
                    Some((last, rows))
                })
            } else {
                // Two tables of voltages against capacitances under different titles hold different figures.
                let figures = grid.is_matrix();
                let title = |of: &[String]| of.iter().find(|text| !is_banner(text)).cloned();
                // So do lists of one header under different conditions.
                let other = |around: &[String]| {
                    let differs = |of: &dyn Fn(&str) -> Vec<u64>| {
                        let of_all = |texts: &[String]| texts.iter().flat_map(|text| of(text)).collect::<Vec<_>>();
                        let (own, known) = (of_all(&above), of_all(around));
                        !own.is_empty() && !known.is_empty() && !own.iter().all(|figure| known.contains(figure))
                    };
                    figures && title(&above).is_some_and(|own| title(around) != Some(own))
                        || differs(&|text| hints(text).hz.iter().map(|hz| hz.to_bits()).collect())
                        || differs(&|text| facts::lives(text).iter().map(|(hours, ..)| hours.to_bits()).collect())
                };
                let same =
                    self.tables.iter_mut().rev().find(|table| table.header == grid.header && !other(&table.around));
                same.map(|table| (table, grid.rows.clone()))
            };
            // What stands over this part only, such as its voltage, goes on between the rows.
            let mut titles: Vec<(String, Rect)> =
                grid.above.iter().chain(&above).map(|text| (text.clone(), grid.rect)).collect();
            titles.retain(|(text, _)| is_banner(text));
            let title_row = |width: usize| {
                titles.first().map(|(text, rect)| {
                    let mut cells = vec![Cell::default(); width.max(1)];
                    cells[0] = Cell { text: text.clone(), rect: *rect, ..Cell::default() };
                    PrintedRow { page, cells }
                })
            };
            if let Some((table, new)) = goes_on {
                let first = table.rows.len() + usize::from(title_row(0).is_some());
                table.rows.extend(title_row(table.header.len()));
                table.rows.extend(rows(new));
                let carried = table.carried(first);
                table.notes.extend(carried);
                table.outlines.push((page, grid.rect));
                table.notes.extend(grid.notes);
                for text in above.into_iter().chain(explained) {
                    if !table.around.contains(&text) && table.around.len() < LINES_MAX {
                        table.around.push(text);
                    }
                }
                continue;
            }
            let first = title_row(grid.header.len());
            let around = above.into_iter().chain(grid.above).chain(explained).collect();
            self.tables.push(PrintedTable {
                number: self.tables.len() + 1,
                header: grid.header,
                rows: first.into_iter().chain(rows(grid.rows)).collect(),
                outlines: vec![(page, grid.rect)],
                around,
                notes: grid.notes,
                signs: Vec::new(),
                columns: grid.columns,
            });
        }
    }

    /// A table without a word in its corner has that of the sheet's other tables with the same columns under other voltages.
    fn corners(&mut self) {
        let under = |name: &String| name.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').to_owned();
        let kinds = |table: &PrintedTable| {
            let mut kinds: Vec<String> = table.header.iter().skip(1).map(under).collect();
            kinds.sort_unstable();
            kinds.dedup();
            kinds
        };
        let known: Vec<(Vec<String>, String, String)> = self
            .tables
            .iter()
            .filter(|table| table.header.first().is_some_and(|name| !name.is_empty()))
            .map(|table| (kinds(table), table.header[0].clone(), table.place()))
            .collect();
        for table in self.tables.iter_mut().filter(|table| table.header.first().is_some_and(String::is_empty)) {
            let own = kinds(table);
            let mut same =
                known.iter().filter(|(kinds, ..)| *kinds == own && kinds.iter().any(|kind| !kind.is_empty()));
            let Some((_, corner, place)) = same.next() else { continue };
            if same.all(|(_, other, _)| other == corner) {
                table.notes.push(format!("its corner is blank and read as in {place}: {corner}"));
                table.header[0].clone_from(corner);
            }
        }
    }
}

impl PrintedTable {
    /// `table 2 (pages 2 to 4)`.
    pub fn place(&self) -> String {
        let pages = || self.outlines.iter().map(|(page, _)| *page);
        match (pages().min(), pages().max()) {
            (Some(first), Some(last)) if first != last => format!("table {} (pages {first} to {last})", self.number),
            (Some(page), _) => format!("table {} (page {page})", self.number),
            _ => format!("table {}", self.number),
        }
    }

    /// A label of several rows that goes on over the end of a page is blank on the next: it holds there, too, where the figures beside it
    /// go on to rise. Says what was done.
    fn carried(&mut self, first: usize) -> Option<String> {
        let (before, after) = (self.rows.get(first.checked_sub(1)?)?, self.rows.get(first)?);
        let number = |cell: &Cell| cell.text.replace(',', "").parse::<f64>().ok();
        let label = before.cells.first().filter(|cell| number(cell).is_some() || is_banner(&cell.text))?.clone();
        let beside = |row: &PrintedRow| row.cells.get(1).and_then(number);
        let blank = |row: &PrintedRow| row.cells.first().is_some_and(|cell| cell.text.is_empty());
        if before.page == after.page || !blank(after) || beside(before)? > beside(after)? {
            return None;
        }
        let page = after.page;
        let count = self.rows[first..].iter().take_while(|row| blank(row)).count();
        let text = label.text.clone();
        self.rows[first..first + count].iter_mut().for_each(|row| row.cells[0].text.clone_from(&text));
        let name = self.header.first().map_or("", String::as_str);
        Some(format!("page {page}: {name} of the first {count} rows is blank and taken from the page before: {text}"))
    }

    /// Between its columns, from left to right, in points.
    pub fn column_edges(&self) -> Vec<f32> {
        let beside = |pair: &[(f32, f32)]| (pair[0].1 + pair[1].0) / 2.0;
        self.columns.windows(2).map(beside).filter(|x| *x < SIDE_PT_MAX).collect()
    }

    /// The row of a line of the imported list.
    pub fn row(&self, line: usize) -> Option<&PrintedRow> {
        self.rows.get(line.checked_sub(2)?)
    }

    /// Where a text of a line of the imported list stands on its page.
    pub fn place_of_text(&self, line: usize, text: &str) -> Option<Rect> {
        let cells = || self.row(line).into_iter().flat_map(|row| &row.cells);
        let is = cells().find(|cell| !text.is_empty() && cell.text.trim() == text.trim());
        is.or_else(|| cells().find(|cell| !text.is_empty() && cell.text.contains(text.trim()))).map(|cell| cell.rect)
    }
}

/// Index of the sign a character stands for.
pub(super) fn sign_of(c: char) -> Option<usize> {
    (FIRST_SIGN..=LAST_SIGN).contains(&c).then(|| (c as u32 - FIRST_SIGN as u32) as usize)
}

/// The tables of a page: by ruling lines, and by gaps where no ruled one is.
fn everywhere(page: &Page) -> Vec<Lattice> {
    let mut lattices = lattice::of(page);
    // Tables within a frame are tables; the frame is none.
    let inner: Vec<Rect> = lattices.iter().map(|lattice| lattice.rect).collect();
    lattices.retain(|lattice| !frames(lattice, &inner));
    let inside = |word: &Word| lattices.iter().any(|lattice| lattice.rect.has(word.rect.middle()));
    let free: Vec<Word> = page.words.iter().filter(|word| !inside(word)).cloned().collect();
    let across = lattice::merged(page.rulings.iter().filter(|ruling| !ruling.upright));
    lattices.extend(gaps::of(&free, &across));
    lattices
}

/// The tables in areas somebody drew: with column lines of their own, else as everywhere.
fn within(page: &Page, areas: &[&Area]) -> Vec<Lattice> {
    let mut all = Vec::new();
    for area in areas {
        let words: Vec<Word> = page.words.iter().filter(|word| area.rect.has(word.rect.middle())).cloned().collect();
        if area.columns.len() >= 2 {
            all.extend(gaps::by_columns(&words, &area.columns));
            continue;
        }
        let clipped = page.rulings.iter().filter_map(|ruling| ruling.within(area.rect)).collect();
        all.extend(everywhere(&Page { words, rulings: clipped, ..page.clone() }));
    }
    all
}

/// Whether a lattice is a mere frame around others.
fn frames(lattice: &Lattice, all: &[Rect]) -> bool {
    let within = |rect: &Rect| {
        *rect != lattice.rect && lattice.rect.has((rect.x0, rect.y0)) && lattice.rect.has((rect.x1, rect.y1))
    };
    all.iter().any(within) && lattice.fields.len() * lattice.fields.first().map_or(0, Vec::len) <= 6
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
