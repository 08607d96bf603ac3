//! OpenDocument spreadsheets, .ods: one pass over `content.xml`, because what a cell shows, what is merged and what is hidden stand beside
//! each other there.

use std::collections::HashSet;
use std::io::{BufRead, BufReader, Cursor};

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use zip::ZipArchive;

use super::sheet::{CELLS_MAX, COLUMNS_MAX, Merged, Sheet, Taker, damaged};
use super::shown::{Around, plain};
use super::xlsx::attribute;

/// Most blanks that one mark may stand for.
const BLANKS_MOST: usize = 1000;

pub(super) fn read(zip: &mut ZipArchive<Cursor<&[u8]>>) -> Result<Vec<Sheet>, String> {
    if let Ok(manifest) = zip.by_name("META-INF/manifest.xml") {
        let mut reader = Reader::from_reader(BufReader::new(manifest));
        let mut buffer = Vec::new();
        while let Ok(event) = reader.read_event_into(&mut buffer) {
            match event {
                Event::Start(of) | Event::Empty(of) if of.local_name().as_ref() == "encryption-data" => {
                    return Err("the workbook is protected by a password".into());
                }
                Event::Eof => break,
                _ => buffer.clear(),
            }
        }
    }
    let content = zip.by_name("content.xml").map_err(damaged)?;
    let mut reader = Reader::from_reader(BufReader::new(content));
    reader.config_mut().expand_empty_elements = true;
    Content::default().read(&mut reader)
}

/// A cell being read.
#[derive(Default)]
struct Cell {
    text: String,
    kind: String,
    value: Option<f64>,
    stated: Option<String>,
    currency: Option<String>,
    formula: bool,
    repeated: usize,
    spanned: (usize, usize),
    covered: bool,
}

/// Where the pass is.
#[derive(Default)]
struct Content {
    sheets: Vec<Sheet>,
    taker: Taker,
    /// Styles of tables that are not displayed.
    undisplayed: HashSet<String>,
    style: Option<String>,
    row: usize,
    row_repeated: usize,
    column: usize,
    columns_declared: usize,
    /// The cells of the row, which may stand for several rows.
    cells: Vec<(usize, Cell)>,
    cell: Option<Cell>,
    paragraphs: usize,
    /// Depth of what stands on a cell and is no content of it: notes, drawings.
    aside: usize,
}

/// What stands on a cell, or holds cells of another table.
const ASIDE: [&str; 8] =
    ["annotation", "frame", "custom-shape", "shapes", "control", "g", "tracked-changes", "database-ranges"];

impl Content {
    fn read(mut self, reader: &mut Reader<impl BufRead>) -> Result<Vec<Sheet>, String> {
        let mut buffer = Vec::new();
        loop {
            match reader.read_event_into(&mut buffer).map_err(damaged)? {
                Event::Start(start) => self.start(&start),
                Event::End(end) => self.end(end.local_name().as_ref())?,
                Event::Text(text) if self.aside == 0 && self.paragraphs > 0 => {
                    if let Some(cell) = &mut self.cell {
                        cell.text.push_str(&text.xml10_content());
                    }
                }
                Event::GeneralRef(reference) if self.aside == 0 && self.paragraphs > 0 => {
                    let named = quick_xml::escape::resolve_predefined_entity(&reference).map(str::to_owned);
                    let text = named.or_else(|| reference.resolve_char_ref().ok().flatten().map(String::from));
                    if let (Some(cell), Some(text)) = (&mut self.cell, text) {
                        cell.text.push_str(&text);
                    }
                }
                Event::Eof => break,
                _ => {}
            }
            buffer.clear();
        }
        self.sheets.iter_mut().for_each(Sheet::tidy);
        Ok(self.sheets)
    }

    fn start(&mut self, start: &BytesStart) {
        let name = start.local_name();
        let name = name.as_ref();
        if self.aside > 0 || ASIDE.contains(&name) {
            self.aside += 1;
            return;
        }
        let number = |name| attribute(start, name).and_then(|at| at.parse::<usize>().ok()).unwrap_or(1).max(1);
        let hidden = || matches!(attribute(start, "visibility").as_deref(), Some("collapse" | "filter"));
        match name {
            "style" => self.style = attribute(start, "name"),
            "table-properties" if attribute(start, "display").as_deref() == Some("false") => {
                self.undisplayed.extend(self.style.clone());
            }
            "table" => {
                let hidden = attribute(start, "style-name").is_some_and(|style| self.undisplayed.contains(&style));
                let name = attribute(start, "name").unwrap_or_default();
                self.sheets.push(Sheet { name, hidden, ..Sheet::default() });
                (self.row, self.columns_declared) = (0, 0);
            }
            "table-column" => {
                let repeated = number("number-columns-repeated");
                if hidden()
                    && let Some(sheet) = self.sheets.last_mut()
                {
                    let columns = (self.columns_declared + 1..).take(repeated.min(COLUMNS_MAX));
                    sheet.hidden_columns.extend(columns);
                }
                self.columns_declared = self.columns_declared.saturating_add(repeated);
            }
            "table-row" => {
                self.row_repeated = number("number-rows-repeated");
                self.column = 0;
                if hidden()
                    && let Some(sheet) = self.sheets.last_mut()
                {
                    sheet.hidden_rows.extend((self.row + 1..).take(self.row_repeated.min(CELLS_MAX)));
                }
            }
            "table-cell" | "covered-table-cell" => {
                self.paragraphs = 0;
                self.cell = Some(Cell {
                    kind: attribute(start, "value-type").unwrap_or_default(),
                    value: attribute(start, "value").and_then(|value| value.parse().ok()),
                    stated: attribute(start, "date-value").or_else(|| attribute(start, "string-value")),
                    currency: attribute(start, "currency"),
                    formula: attribute(start, "formula").is_some(),
                    repeated: number("number-columns-repeated"),
                    spanned: (number("number-rows-spanned"), number("number-columns-spanned")),
                    covered: name == "covered-table-cell",
                    text: String::new(),
                });
            }
            _ => self.inside(name, start),
        }
    }

    /// Paragraphs and blanks within a cell.
    fn inside(&mut self, name: &str, start: &BytesStart) {
        let Some(cell) = &mut self.cell else { return };
        match name {
            "p" => {
                if self.paragraphs > 0 {
                    cell.text.push('\n');
                }
                self.paragraphs += 1;
            }
            "s" => {
                let blanks = attribute(start, "c").and_then(|count| count.parse().ok()).unwrap_or(1);
                cell.text.push_str(&" ".repeat(blanks.min(BLANKS_MOST)));
            }
            "tab" => cell.text.push('\t'),
            "line-break" => cell.text.push('\n'),
            _ => {}
        }
    }

    fn end(&mut self, name: &str) -> Result<(), String> {
        if self.aside > 0 {
            self.aside -= 1;
            return Ok(());
        }
        match name {
            "table-cell" | "covered-table-cell" => {
                let Some(cell) = self.cell.take() else { return Ok(()) };
                let (first, repeated) = (self.column + 1, cell.repeated);
                self.column = self.column.saturating_add(repeated);
                // What a merged cell covers is not shown.
                if !cell.covered {
                    self.cells.push((first, cell));
                }
            }
            "table-row" => self.row_done()?,
            _ => {}
        }
        Ok(())
    }

    fn row_done(&mut self) -> Result<(), String> {
        let cells = std::mem::take(&mut self.cells);
        let rows = self.row + 1..self.row.saturating_add(self.row_repeated).saturating_add(1);
        self.row = self.row.saturating_add(self.row_repeated);
        let Some(sheet) = self.sheets.last_mut() else { return Ok(()) };
        for (first, cell) in &cells {
            let text = cell.shown();
            let filled = !text.trim().is_empty();
            if cell.formula && !filled {
                sheet.without_value.push((rows.start, *first));
            }
            let (down, right) = cell.spanned;
            if filled && (down > 1 || right > 1) {
                let last = |first: usize, count: usize| first.saturating_add(count - 1);
                sheet.merged.push(Merged {
                    rows: (rows.start, last(rows.start, down)),
                    columns: (*first, last(*first, right)),
                });
            }
        }
        let filled: Vec<(usize, usize, String)> = cells
            .iter()
            .map(|(first, cell)| (*first, cell.repeated, cell.shown()))
            .filter(|(.., t)| !t.trim().is_empty())
            .collect();
        if filled.is_empty() {
            return Ok(());
        }
        for row in rows {
            for (first, repeated, text) in &filled {
                for column in *first..first.saturating_add(*repeated) {
                    self.taker.take(sheet, row, column, text)?;
                }
            }
        }
        Ok(())
    }
}

impl Cell {
    /// What the cell says: figures as typed with what is displayed around them, everything else as it is displayed.
    fn shown(&self) -> String {
        match (self.kind.as_str(), self.value) {
            ("float" | "percentage", Some(value)) => Around::of_display(&self.text).figure(value),
            ("currency", Some(value)) => match Around::of_display(&self.text).figure(value) {
                bare if bare == plain(value) => {
                    format!("{bare} {}", self.currency.as_deref().unwrap_or_default()).trim().to_owned()
                }
                shown => shown,
            },
            ("date", _) => self
                .stated
                .clone()
                .map_or_else(|| self.text.clone(), |date| date.replace("T00:00:00", "").replace('T', " ")),
            ("string", _) if self.text.is_empty() => self.stated.clone().unwrap_or_default(),
            _ => self.text.clone(),
        }
    }
}
