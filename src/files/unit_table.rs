//! The record of the units as a table: exported for reading elsewhere, and read to complete a record with what was measured.

use std::collections::{HashMap, HashSet};
use std::path::Path;

use super::Rejected;
use super::canonical::{Header, List, decode, plain_number};
use super::columns::{Cell, Column, csv, text};
use super::notation::bare_text;
use super::unit_record::{PositionRecord, RecordError, UnitRecord};
use crate::domain::schema::{self, Access, Kind};

/// What could not be used of a list of values, and a note on the columns that hold nothing known.
type Completed = (Vec<Rejected>, Option<String>);

static VALUES: List = List { name: "a list of values", required: &["board", "ref"] };

/// Columns of the export and of the list of values a record is completed from.
fn columns<'a>() -> [Column<(&'a UnitRecord, &'a PositionRecord)>; 26] {
    use Cell::Number;
    [
        ("serial", |(record, _)| text(&record.serial)),
        ("date", |(record, _)| text(record.date.to_string())),
        ("technician", |(record, _)| text(&record.technician)),
        ("next_due", |(record, _)| text(record.next_due.map(|date| date.to_string()).unwrap_or_default())),
        ("board", |(_, position)| text(&position.board)),
        ("ref", |(_, position)| text(&position.reference)),
        ("part_number", |(_, position)| text(&position.part_number)),
        ("lot", |(_, position)| text(&position.lot)),
        ("date_code", |(_, position)| text(&position.date_code)),
        ("before_capacitance_uf", |(_, position)| Number(position.before.capacitance_uf)),
        ("before_esr_mohm", |(_, position)| Number(position.before.esr_mohm)),
        ("before_esr_hz", |(_, position)| Number(position.before.esr_hz)),
        ("before_leakage_ua", |(_, position)| Number(position.before.leakage_ua)),
        ("after_capacitance_uf", |(_, position)| Number(position.after.capacitance_uf)),
        ("after_esr_mohm", |(_, position)| Number(position.after.esr_mohm)),
        ("after_esr_hz", |(_, position)| Number(position.after.esr_hz)),
        ("after_leakage_ua", |(_, position)| Number(position.after.leakage_ua)),
        ("finding", |(_, position)| text(&position.finding)),
        ("life_h", |(_, position)| Number(position.life_h)),
        ("hours_per_year", |(record, _)| Number(record.hours_per_year)),
        ("note", |(record, _)| text(&record.note)),
        ("unit_type", |(record, _)| text(&record.unit_type)),
        ("kind", |(_, position)| text(&position.kind)),
        ("measured_before", |(_, position)| text(&position.measured_before)),
        ("measured_after", |(_, position)| text(&position.measured_after)),
        ("done", |(_, position)| text(position.done.map_or("", |done| if done { "yes" } else { "no" }))),
    ]
}

/// The names of the columns of the export.
pub fn column_names() -> [&'static str; 26] {
    columns().map(|(name, _)| name)
}

/// Writes the records as CSV: a row for each position of each rebuild.
///
/// # Errors
/// When `out` cannot be written.
pub fn export(out: impl std::io::Write, records: &[UnitRecord]) -> csv::Result<()> {
    let rows = records.iter().flat_map(|record| record.positions.iter().map(move |position| (record, position)));
    csv(out, &columns(), rows)
}

/// Fills a record from a list of values with columns of the export, of which `board` and `ref` must be there: one row for
/// each position, empty cells change nothing. Returns what could not be used and a note on unknown columns.
///
/// # Errors
/// When there is no header row with `board` and `ref`, or a column stands there twice.
pub fn complete(record: &mut UnitRecord, bytes: &[u8], path: &Path) -> Result<Completed, RecordError> {
    let text = decode(bytes);
    let known = |header: &str| column_names().into_iter().find(|name| name.eq_ignore_ascii_case(header.trim()));
    let (header, columns, note) = Header::of_list(path, &text, &VALUES, known)?;
    let mut rows = header.rows(&text);
    let mut rejected = Vec::new();
    let mut row = csv::StringRecord::new();
    let (mut places, mut seen) = (HashMap::new(), HashSet::new());
    for (at, position) in record.positions.iter().enumerate() {
        places.entry((position.board.clone(), position.reference.clone())).or_insert(at);
    }
    while let Some(line) = rows.next(&mut row) {
        let mut fault = |field: &str, value: &str, reason: &str| {
            rejected.push(Rejected::new(path, line, field, value, reason));
        };
        let cell = |name: &str| {
            let at = columns.iter().position(|column| *column == Some(name))?;
            // The export puts an apostrophe before texts that look like a formula.
            let bare = bare_text(row.get(at)?.trim());
            (!bare.is_empty()).then_some(bare)
        };
        let (board, reference) = (cell("board").unwrap_or_default(), cell("ref").unwrap_or_default());
        let place = (board.to_owned(), reference.to_owned());
        let (again, place) = (!seen.insert(place.clone()), places.get(&place));
        let Some(position) = place.and_then(|&at| record.positions.get_mut(at)) else {
            let why =
                "no such position in the job; a board that stands in a unit several times is numbered, as Servo 2";
            fault("ref", &format!("{board} {reference}"), why);
            continue;
        };
        if again {
            fault("ref", &format!("{board} {reference}"), "stands in the list twice; expected one row");
            continue;
        }
        fill(position, &cell, &mut fault);
    }
    // The record cannot be mended later, so a doubtful row is no row.
    rejected.extend(rows.note().map(|note| Rejected::new(path, header.line, "(file)", "", note)));
    Ok((rejected, note))
}

/// Takes the cells of one row into the position; what cannot be used goes to `fault`: field, value, reason.
fn fill<'a>(
    position: &mut PositionRecord,
    cell: &dyn Fn(&str) -> Option<&'a str>,
    fault: &mut dyn FnMut(&str, &str, &str),
) {
    for field in schema::POSITION_RECORD {
        let name = field.path.trim_start_matches("bench.positions.").replace('.', "_");
        // The planned lives are the calculation's; board and reference have found the position.
        let entered = column_names().contains(&name.as_str()) && !["board", "ref", "life_h"].contains(&name.as_str());
        let Some(text) = cell(&name).filter(|_| entered) else { continue };
        match (field.kind, field.access) {
            (Kind::Number(_, bounds), _) => match plain_number(text, bounds) {
                Ok(read) => field.set_figure(position, Some(read)),
                Err(reason) => fault(&name, text, reason),
            },
            _ if name == "kind" => {}
            _ if name == "done" => match text.to_lowercase().as_str() {
                "yes" | "true" | "1" => position.done = Some(true),
                "no" | "false" | "0" => position.done = Some(false),
                _ => fault(&name, text, "expected yes or no"),
            },
            _ if name == "part_number" => position.fit(text),
            (_, Access::Text(_, set)) => set(position, Some(text)),
            _ => {}
        }
    }
}
