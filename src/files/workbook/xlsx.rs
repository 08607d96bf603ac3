//! The workbooks of today, .xlsx and .xlsm: values and formats through calamine, what is hidden and which formulas have no value from the
//! parts themselves.

use std::collections::{BTreeSet, HashMap};
use std::io::{BufReader, Cursor};

use calamine::{DataRef, Reader, SheetType, SheetVisible, Xlsx};
use quick_xml::events::{BytesStart, Event};
use zip::ZipArchive;

use super::sheet::{COLUMNS_MAX, Merged, Sheet, Taker, damaged, place};
use super::shown::{Around, moment};

type Zip<'a> = ZipArchive<Cursor<&'a [u8]>>;

pub(super) fn read(bytes: &[u8], zip: &mut Zip) -> Result<Vec<Sheet>, String> {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(damaged)?;
    let parts = parts(zip);
    let mut taker = Taker::default();
    let mut sheets = Vec::new();
    for meta in book.sheets_metadata().to_owned() {
        if meta.typ != SheetType::WorkSheet {
            continue;
        }
        let mut sheet = Sheet { name: meta.name.clone(), ..Sheet::default() };
        sheet.hidden = meta.visible != SheetVisible::Visible;
        values(&mut book, &mut sheet, &mut taker)?;
        let merged = book.merge_cells_by_sheet_name(&meta.name).map_err(damaged)?;
        sheet.merged = merged.iter().map(|of| Merged::from_calamine(of.start, of.end)).collect();
        if parts.get(&meta.name).and_then(|part| marks(zip, part, &mut sheet)).is_none() {
            sheet.notes.push("whether rows or columns are hidden could not be found out".into());
        }
        sheet.tidy();
        sheets.push(sheet);
    }
    Ok(sheets)
}

fn values(book: &mut Xlsx<Cursor<&[u8]>>, sheet: &mut Sheet, taker: &mut Taker) -> Result<(), String> {
    let mut cells = book.worksheet_cells_reader(&sheet.name).map_err(damaged)?;
    let formats: Vec<Around> = cells
        .styles()
        .iter()
        .map(|style| {
            style.number_format.as_ref().map(|format| Around::of_format(&format.format_code)).unwrap_or_default()
        })
        .collect();
    let none = Around::default();
    while let Some((cell, style)) = cells.next_cell_with_style_id().map_err(damaged)? {
        let (row, column) = cell.get_position();
        let around = formats.get(style).unwrap_or(&none);
        let text = match cell.get_value() {
            DataRef::Int(number) => around.figure(*number as f64),
            DataRef::Float(number) => around.figure(*number),
            DataRef::String(text) | DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => text.clone(),
            DataRef::SharedString(text) => (*text).to_owned(),
            DataRef::Bool(bool) => if *bool { "TRUE" } else { "FALSE" }.to_owned(),
            DataRef::DateTime(date) => moment(date.to_ymd_hms_milli(), date.as_f64()),
            DataRef::Error(error) => error.to_string(),
            DataRef::Empty => continue,
        };
        taker.take(sheet, row as usize + 1, column as usize + 1, &text)?;
    }
    Ok(())
}

/// The part of each sheet by its name; empty where the workbook is not built as usual.
fn parts(zip: &mut Zip) -> HashMap<String, String> {
    let mut targets: HashMap<String, String> = HashMap::new();
    let mut ids: Vec<(String, String)> = Vec::new();
    let read = each(zip, "xl/_rels/workbook.xml.rels", |start| {
        if start.local_name().as_ref() == "Relationship"
            && let (Some(id), Some(target)) = (attribute(start, "Id"), attribute(start, "Target"))
        {
            let part = target.strip_prefix('/').map_or_else(|| format!("xl/{target}"), str::to_owned);
            targets.insert(id, part);
        }
    });
    let read = read.and_then(|()| {
        each(zip, "xl/workbook.xml", |start| {
            if start.local_name().as_ref() == "sheet"
                && let (Some(name), Some(id)) = (attribute(start, "name"), attribute(start, "id"))
            {
                ids.push((name, id));
            }
        })
    });
    if read.is_none() {
        return HashMap::new();
    }
    ids.into_iter().filter_map(|(name, id)| Some((name, targets.get(&id)?.clone()))).collect()
}

/// What is hidden on a sheet, and which of its formulas have no value.
fn marks(zip: &mut Zip, part: &str, sheet: &mut Sheet) -> Option<()> {
    let mut columns = BTreeSet::new();
    let (mut cell, mut formula) = (None, None);
    each(zip, part, |start| {
        let hidden = || matches!(attribute(start, "hidden").as_deref(), Some("1" | "true"));
        let number = |name| attribute(start, name).and_then(|at| at.parse::<usize>().ok());
        match start.local_name().as_ref() {
            "row" if hidden() => sheet.hidden_rows.extend(number("r")),
            "col" if hidden() => {
                let (first, last) = (number("min").unwrap_or(1).max(1), number("max").unwrap_or(0));
                columns.extend((first..=last).take(COLUMNS_MAX));
            }
            "c" => {
                sheet.without_value.extend(formula.take());
                cell = attribute(start, "r").and_then(|name| place(&name));
            }
            "f" => formula = cell.map(|(column, row)| (row, column)),
            "v" | "is" => formula = None,
            _ => {}
        }
    })?;
    sheet.without_value.extend(formula);
    sheet.hidden_columns = columns.into_iter().collect();
    Some(())
}

/// Every element of a part; `None` if there is no such part or it is no XML.
fn each(zip: &mut Zip, part: &str, mut take: impl FnMut(&BytesStart)) -> Option<()> {
    let mut reader = quick_xml::Reader::from_reader(BufReader::new(zip.by_name(part).ok()?));
    let mut buffer = Vec::new();
    loop {
        match reader.read_event_into(&mut buffer).ok()? {
            Event::Start(start) | Event::Empty(start) => take(&start),
            Event::Eof => return Some(()),
            _ => {}
        }
        buffer.clear();
    }
}

/// An attribute by its name without prefix.
pub(super) fn attribute(start: &BytesStart, name: &str) -> Option<String> {
    let of_name = start.attributes().flatten().find(|attribute| attribute.key.local_name().as_ref() == name)?;
    of_name.normalized_value(quick_xml::XmlVersion::Implicit1_0).ok().map(|value| value.into_owned())
}
