//! The lists of parts of a data sheet, as tables for the import.

use std::path::Path;

use super::facts;
use super::page::UNKNOWN_SIGN;
use super::rows::MARKS;
use super::sheet::{Datasheet, Life, PrintedRow, PrintedTable, sign_of};
use super::text::explains;
use super::{Rect, page::Sign};
use crate::files::cell::header::hints;
use crate::files::table::{Note, Row, Table};

/// Header of the column of multipliers that another table of a data sheet gives; it is used once somebody says so.
pub const FROM_SHEET: &str = "Ripple multipliers by frequency, from another table of the sheet";
/// Header of the column of endurances that notes give by the marks or diameters of the rows; it is used once somebody says so.
pub const BY_ROW: &str = "Life of each row, from the notes of the sheet";
/// Begins the lines over a table that say what endurance a data sheet names: `Endurance in the sheet: 5000 h at 105 °C`.
pub const LIFE: &str = "Endurance in the sheet:";

impl Datasheet {
    /// Its tables that have a header, or `only` the one of a number: each as a list for the import, and as printed with the
    /// unknown signs in it.
    pub fn lists(&self, path: &Path, only: Option<usize>) -> impl Iterator<Item = (Table, PrintedTable)> {
        let wanted = move |table: &&PrintedTable| only.is_none_or(|only| only == table.number);
        let with_header = self.tables.iter().filter(wanted).filter(|table| !table.header.is_empty());
        with_header
            .map(|table| (self.as_list(table, path), PrintedTable { signs: self.signs_of(table), ..table.clone() }))
    }

    fn as_list(&self, table: &PrintedTable, path: &Path) -> Table {
        let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        let mut header: Vec<String> = table.header.iter().map(|name| readable(name)).collect();
        header.push("Datasheet".to_owned());
        let multipliers = match self.multipliers.as_slice() {
            [(_, one)] => Some(one),
            _ => None,
        };
        header.extend(multipliers.map(|_| FROM_SHEET.to_owned()));
        let by_row = self.lives_by_mark(table).or_else(|| self.lives_by_diameter(table));
        header.extend(by_row.as_ref().map(|_| BY_ROW.to_owned()));
        let capacitance = capacitance_column(table);
        let rows = table.rows.iter().enumerate().map(|(at, row)| {
            let mut cells: Vec<String> = row.cells.iter().map(|cell| readable(&cell.text)).collect();
            let is_row = cells.iter().filter(|cell| !cell.is_empty()).count() > 1;
            cells.push(if is_row { source_mark(&name, row) } else { String::new() });
            let uf = capacitance.and_then(|column| cells.get(column)?.trim().parse::<f64>().ok());
            cells.extend(multipliers.map(|found| found.pairs(uf).filter(|_| is_row).unwrap_or_default()));
            cells.extend(by_row.as_ref().map(|lives| lives[at].clone().filter(|_| is_row).unwrap_or_default()));
            Row { line: at + 2, cells }
        });
        let note = |text: String| Note { line: 1, text };
        let mut preamble: Vec<Note> = table.around.iter().map(|text| note(readable(text))).collect();
        let of_ripple = |text: &String| text.to_lowercase().contains("ripple") && hints(text).hz.is_some();
        // A condition over the list itself goes before one elsewhere.
        let has_ripple = table.around.iter().any(of_ripple);
        let elsewhere = self.ripples.iter().filter(|text| !has_ripple && !table.around.contains(text));
        preamble.splice(0..0, elsewhere.map(|text| note(readable(text))));
        let own = |life: &&Life| table.around.iter().any(|text| facts::lives(text).iter().any(|of| of.0 == life.hours));
        let has_own = self.lives.iter().any(|life| own(&life));
        let lives = || self.lives.iter().filter(|life| !has_own || own(life));
        preamble.extend(lives().map(|life| note(format!("{LIFE} {} h at {} °C", life.hours, life.temp_c))));
        let mut notes: Vec<Note> = vec![note(format!("this is {}; line 2 is its first row", table.place()))];
        notes.extend(table.notes.iter().map(|text| note(readable(text))));
        let mut said: Vec<&Life> = lives().collect();
        said.dedup_by(|next, life| next.text == life.text);
        notes.extend(said.iter().map(|life| {
            let with = if life.ripple { " and names the ripple current" } else { "" };
            note(format!("page {} says of the endurance{with}: {}", life.page, readable(&life.text)))
        }));
        if let [(page, _)] = self.multipliers.as_slice() {
            notes.push(note(format!("page {page} has ripple multipliers by frequency")));
        }
        Table::of_sheet(&header, rows.collect(), preamble, notes)
    }

    /// The temperature of the sheet's endurances, when all have the same.
    fn life_temp_c(&self) -> Option<f64> {
        let first = self.lives.first()?.temp_c;
        self.lives.iter().all(|life| life.temp_c == first).then_some(first)
    }

    /// The endurance of each row by its mark, where notes give one for marks that rows have; for rows without mark that without one.
    fn lives_by_mark(&self, table: &PrintedTable) -> Option<Vec<Option<String>>> {
        let column = table.header.iter().position(|name| name == MARKS)?;
        let noted = |mark: &str| {
            let behind = |text: &String| {
                let behind = text.trim_start().strip_prefix(mark)?;
                behind.starts_with(|c: char| !c.is_alphanumeric()).then(|| facts::lives_at(behind, self.life_temp_c()))
            };
            let found: Vec<_> = table.around.iter().filter_map(behind).flatten().collect();
            found.first().filter(|_| found.len() == 1).map(|&(hours, temp_c, _)| (hours, temp_c))
        };
        let mark = |row: &PrintedRow| row.cells.get(column).map_or(String::new(), |cell| cell.text.clone());
        let told: Vec<Option<(f64, f64)>> = table
            .rows
            .iter()
            .map(|row| Some(mark(row)).filter(|mark| !mark.is_empty()).and_then(|mark| noted(&mark)))
            .collect();
        let marked: Vec<f64> = told.iter().flatten().map(|(hours, _)| *hours).collect();
        let others = self.lives.iter().filter(|life| !explains(&life.text) && !marked.contains(&life.hours));
        let mut others: Vec<(f64, f64)> = others.map(|life| (life.hours, life.temp_c)).collect();
        others.dedup();
        let plain = others.first().copied().filter(|_| others.len() == 1);
        let of = |(row, told): (&PrintedRow, &Option<(f64, f64)>)| {
            told.or(plain.filter(|_| mark(row).is_empty())).map(endurance)
        };
        (!marked.is_empty()).then(|| table.rows.iter().zip(&told).map(of).collect())
    }

    /// The endurance of each row by the diameter of its can, where the texts over the table, or else those of the sheet, say it so.
    fn lives_by_diameter(&self, table: &PrintedTable) -> Option<Vec<Option<String>>> {
        let of = |text: &String| {
            let lives = facts::by_diameter(text)?;
            let (_, temp_c, _) = *facts::lives_at(text, self.life_temp_c()).first()?;
            Some((lives, temp_c))
        };
        let own: Vec<_> = table.around.iter().filter_map(of).collect();
        let mut found = if own.is_empty() { self.by_diameter.iter().filter_map(of).collect() } else { own };
        found.dedup();
        let [(lives, temp_c)] = found.as_slice() else { return None };
        let rows: Vec<Option<String>> = table
            .rows
            .iter()
            .map(|row| Some(endurance((facts::hours_for(lives, diameter_mm(table, row)?)?, *temp_c))))
            .collect();
        rows.iter().any(Option::is_some).then_some(rows)
    }

    /// The unknown signs of a table, each with its page and a text it stands in.
    fn signs_of(&self, table: &PrintedTable) -> Vec<(usize, Sign, String)> {
        let cells = table.rows.iter().flat_map(|row| &row.cells).map(|cell| &cell.text);
        let texts: Vec<&String> =
            table.header.iter().chain(cells).filter(|text| text.contains(|c| sign_of(c).is_some())).collect();
        let of = |(at, (page, sign)): (usize, &(usize, Sign))| {
            let text = texts.iter().find(|text| text.contains(|c| sign_of(c) == Some(at)))?;
            Some((*page, sign.clone(), readable(text)))
        };
        self.signs.iter().enumerate().filter_map(of).collect()
    }
}

fn endurance((hours, temp_c): (f64, f64)) -> String {
    format!("{hours} h at {temp_c} °C")
}

/// The diameter of a row's can, mm: `10`, `φ10`, `10φ×16L` in the column of diameters or sizes.
fn diameter_mm(table: &PrintedTable, row: &PrintedRow) -> Option<f64> {
    let figures = |text: &str| -> Vec<f64> {
        text.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter_map(|run| run.parse().ok()).collect()
    };
    let of = |(name, text): (&String, &str)| {
        let plain: String = name.chars().filter(|c| !c.is_whitespace()).collect();
        let letter =
            ["φD", "ΦD", "øD", "ØD"].iter().any(|word| plain.contains(word)) || name == "D" || name.ends_with(" D");
        let sized = ["size", "dxl", "d×l", "dxh", "diameter"].iter().any(|word| plain.to_lowercase().contains(word));
        let coded = plain.to_lowercase().contains("code");
        match *figures(text).as_slice() {
            [mm] if (letter || sized && plain.to_lowercase().contains("diameter")) && !coded => Some(mm),
            [mm, height]
                if (letter || sized) && !coded && (mm <= height || plain.contains("D×L") || plain.contains("DxL")) =>
            {
                Some(mm)
            }
            _ => None,
        }
    };
    table.header.iter().zip(row.cells.iter().map(|cell| cell.text.as_str())).find_map(of)
}

/// A text with unknown signs as what they are to a reader.
fn readable(text: &str) -> String {
    text.chars().map(|c| if sign_of(c).is_some() { UNKNOWN_SIGN } else { c }).collect()
}

/// Where a part stands, as an address every viewer of PDF files opens at its page: `sheet.pdf#page=2&viewrect=36,120,520,12`, the
/// rectangle as left, top, width and height in points.
fn source_mark(name: &str, row: &PrintedRow) -> String {
    let rect = row.rect();
    format!("{name}#page={}&viewrect={:.0},{:.0},{:.0},{:.0}", row.page, rect.x0, rect.y0, rect.width(), rect.height())
}

/// The page and rectangle of such an address, with its file.
pub fn place_of(mark: &str) -> Option<(&str, usize, Option<Rect>)> {
    let (file, place) = mark.rsplit_once("#page=")?;
    let (page, rect) = place.split_once("&viewrect=").map_or((place, None), |(page, rect)| (page, Some(rect)));
    let sides: Vec<f32> =
        rect.map(|rect| rect.split(',').filter_map(|side| side.parse().ok()).collect()).unwrap_or_default();
    let rect = match sides.as_slice() {
        &[x0, y0, width, height] => Some(Rect { x0, y0, x1: x0 + width, y1: y0 + height }),
        _ => None,
    };
    Some((file, page.parse().ok()?, rect))
}

/// The column with capacitances in µF.
fn capacitance_column(table: &PrintedTable) -> Option<usize> {
    let is_one = |name: &String| {
        let lower = name.to_lowercase();
        lower.contains("cap") && !lower.contains("code") || lower.contains("µf") || lower.contains("μf")
    };
    // In a table of voltages against capacitances these stand first.
    let at = table.header.iter().position(is_one).unwrap_or(0);
    let other_unit = ["nF", "mF", "pF"].iter().any(|unit| table.header.get(at).is_some_and(|name| name.contains(unit)));
    (!other_unit).then_some(at)
}
