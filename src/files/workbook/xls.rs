//! The older binary workbooks, .xls.

use std::io::{Cursor, Read};

use calamine::{Data, Reader, Xls, XlsError};

use super::sheet::{COLUMNS_MAX, Merged, Sheet, Taker, damaged};
use super::shown::{moment, plain};

pub(super) fn read(bytes: &[u8]) -> Result<Vec<Sheet>, String> {
    let mut book = Xls::new(Cursor::new(bytes)).map_err(|error| match error {
        XlsError::Password => "the workbook is protected by a password".to_owned(),
        // Newer workbooks with a password are packed into the container of the older ones.
        _ if holds(bytes, "EncryptedPackage") => "the workbook is protected by a password".to_owned(),
        _ if holds(bytes, "WordDocument") => "this is a text document, not a workbook".to_owned(),
        error => damaged(error),
    })?;
    let stream = workbook_stream(bytes);
    let mut taker = Taker::default();
    let mut sheets = Vec::new();
    for meta in book.sheets_metadata().to_owned() {
        let mut sheet = Sheet { name: meta.name.clone(), ..Sheet::default() };
        sheet.hidden = meta.visible != calamine::SheetVisible::Visible;
        // Sheets of charts and macros have no cells.
        let Ok(range) = book.worksheet_range(&meta.name) else { continue };
        let (row_first, column_first) = range.start().unwrap_or_default();
        for (row, column, value) in range.used_cells() {
            let (row, column) = (row + row_first as usize + 1, column + column_first as usize + 1);
            taker.take(&mut sheet, row, column, &text(value))?;
        }
        let merged = book.merge_cells_by_sheet_name(&meta.name).unwrap_or_default();
        sheet.merged = merged.iter().map(|of| Merged::from_calamine(of.start, of.end)).collect();
        if stream.as_deref().and_then(|stream| marks(stream, &mut sheet)).is_none() {
            sheet.notes.push("whether rows or columns are hidden could not be found out".into());
        }
        sheet.tidy();
        sheets.push(sheet);
    }
    Ok(sheets)
}

/// The stream of records, which calamine keeps to itself.
fn workbook_stream(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut container = cfb::CompoundFile::open(Cursor::new(bytes)).ok()?;
    let name = ["/Workbook", "/Book"].into_iter().find(|name| container.is_stream(name))?;
    let mut stream = Vec::new();
    // No longer than the file itself, whatever its directory says.
    let mut part = container.open_stream(name).ok()?.take(bytes.len() as u64);
    part.read_to_end(&mut stream).ok()?;
    Some(stream)
}

/// Records of a stream from a place on, to the end of its part: type and content (MS-XLS 2.1.4).
fn records(stream: &[u8], from: usize) -> impl Iterator<Item = (u16, &[u8])> {
    const END: u16 = 0x000A;
    let mut rest = stream.get(from..).unwrap_or_default();
    std::iter::from_fn(move || {
        let kind = word(rest, 0)?;
        let content = rest.get(4..4 + usize::from(word(rest, 2)?))?;
        rest = &rest[4 + content.len()..];
        (kind != END).then_some((kind, content))
    })
}

fn word(bytes: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_le_bytes(bytes.get(at..at + 2)?.try_into().ok()?))
}

/// What is hidden on a sheet: flags of the records of rows and columns (MS-XLS 2.4.221, 2.4.53).
fn marks(stream: &[u8], sheet: &mut Sheet) -> Option<()> {
    const SHEET: u16 = 0x0085;
    const ROW: u16 = 0x0208;
    const COLUMNS: u16 = 0x007D;
    // The record of a sheet: its place in the stream, flags, its name with length and a byte that says how letters are written.
    let is_named = |content: &[u8]| {
        let letters = content.get(8..)?;
        let wide = content.get(7)? & 1 == 1;
        let name = if wide {
            let units: Vec<u16> = letters.chunks_exact(2).filter_map(|pair| word(pair, 0)).collect();
            String::from_utf16_lossy(&units)
        } else {
            letters.iter().map(|&letter| char::from(letter)).collect()
        };
        (name == sheet.name).then_some(())
    };
    let (_, content) = records(stream, 0).find(|(kind, content)| *kind == SHEET && is_named(content).is_some())?;
    let from = u32::from_le_bytes(content.get(..4)?.try_into().ok()?);
    for (kind, content) in records(stream, usize::try_from(from).ok()?) {
        match kind {
            ROW if word(content, 12)? & 0x20 != 0 => sheet.hidden_rows.push(usize::from(word(content, 0)?) + 1),
            COLUMNS if word(content, 8)? & 1 != 0 => {
                let (first, last) = (usize::from(word(content, 0)?) + 1, usize::from(word(content, 2)?) + 1);
                sheet.hidden_columns.extend((first..=last).take(COLUMNS_MAX));
            }
            _ => {}
        }
    }
    Some(())
}

/// Whether a name stands in the directory of the container, which writes it in UTF-16.
fn holds(bytes: &[u8], name: &str) -> bool {
    let name: Vec<u8> = name.encode_utf16().flat_map(u16::to_le_bytes).collect();
    bytes.windows(name.len()).any(|window| window == name)
}

/// A value as text.
fn text(value: &Data) -> String {
    match value {
        Data::Int(number) => number.to_string(),
        Data::Float(number) => plain(*number),
        Data::String(text) | Data::DateTimeIso(text) | Data::DurationIso(text) => text.clone(),
        Data::Bool(bool) => if *bool { "TRUE" } else { "FALSE" }.to_owned(),
        Data::DateTime(date) => moment(date.to_ymd_hms_milli(), date.as_f64()),
        Data::Error(error) => error.to_string(),
        Data::Empty => String::new(),
    }
}
