//! What was done to each unit: a line of JSON for each rebuild of a serial number, in a file beside the job that only grows.
//!
//! The next technician, ten years on, finds the parts with their lots, what was measured before and after, by whom, and when
//! the unit is due. Unknown figures are absent. Nothing in the file is ever written over.

use std::collections::{BTreeMap, HashMap};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::save::{SaveError, folder_of};
use super::{Rejected, bounded, json, visible};
use crate::domain::schema::{self, Access, Kind, Text};
use crate::domain::{Catalog, Date, Extra, Job, UnitAtBench, UnitType, boards_of_unit, others_of_unit};
pub use crate::domain::{PositionRecord, Reading};
use crate::sizing::{Due, Sizing};

const FORMAT: &str = "refarad-unit";
const VERSION: u64 = 1;

/// One rebuild of one unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct UnitRecord {
    /// Serial number of the unit.
    pub serial: String,
    /// Day of the rebuild.
    pub date: Date,
    /// Who did it; empty when unknown.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub technician: String,
    /// When the unit has to come back; absent = unknown.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next_due: Option<Date>,
    /// Energised hours in a year the plan counted with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hours_per_year: Option<f64>,
    /// Name of its type of unit; empty where there is one type only.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub unit_type: String,
    /// Remark.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// What was done at each position.
    #[serde(default)]
    pub positions: Vec<PositionRecord>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

impl UnitRecord {
    /// A record with the chosen parts of a sized job and its due date, to be completed by what was measured, of a unit of a type. A board that
    /// stands in a unit several times has its places as often, its name numbered.
    pub fn planned(job: &Job, catalog: &Catalog, sizing: &Sizing, of: &UnitType, serial: &str, date: Date) -> Self {
        let mut positions = Vec::new();
        for board in boards_of_unit(job, of) {
            let of_board = sizing.positions.iter().filter(|sized| sized.id.board == board.board);
            positions.extend(of_board.filter_map(|sized| {
                let position = job.position(sized.id)?;
                let figures = sized.choice.part.map(|part| part.evaluation.figures).unwrap_or_default();
                let part = sized.choice.part.map(|part| catalog.part_number(part.id).to_owned());
                Some(PositionRecord {
                    part_number: part.or_else(|| position.pick.clone()).unwrap_or_default(),
                    life_h: figures.life_h,
                    life_low_h: figures.life_low_h,
                    life_high_h: figures.life_high_h,
                    ..PositionRecord::of(&board.name, &position.reference)
                })
            }));
            positions.extend(others_of_unit(job, Some(board.board), &board.name));
        }
        positions.extend(others_of_unit(job, None, job.board_name(None)));
        Self {
            serial: serial.to_owned(),
            date,
            technician: String::new(),
            next_due: Due::of(job, sizing).date(date),
            hours_per_year: job.hours_per_year,
            unit_type: of.name.clone(),
            note: String::new(),
            positions,
            extra: Extra::new(),
        }
    }

    /// The rebuild of a unit as it stands at the bench, on `today` where no day was entered. Where the new part is in, it is the
    /// planned one unless another was entered; where it is not, no part is named. Positions where nothing was done are left out.
    pub fn of_bench(job: &Job, catalog: &Catalog, sizing: &Sizing, unit: &UnitAtBench, today: Date) -> Self {
        let (serial, date) = (unit.serial.trim(), unit.date.unwrap_or(today));
        let mut record = Self::planned(job, catalog, sizing, &unit.type_in(job), serial, date);
        unit.technician.trim().clone_into(&mut record.technician);
        unit.note.trim().clone_into(&mut record.note);
        let entered = |planned: PositionRecord, at: &PositionRecord| {
            let life = |life_h: Option<f64>| life_h.filter(|_| at.is_done());
            let mut record = PositionRecord {
                part_number: if at.is_done() { planned.part_number } else { String::new() },
                before: at.before.at_hz(unit.esr_hz),
                after: at.after.at_hz(unit.esr_hz),
                kind: planned.kind,
                life_h: life(planned.life_h),
                life_low_h: life(planned.life_low_h),
                life_high_h: life(planned.life_high_h),
                ..at.clone()
            };
            if at.is_done() && !at.part_number.is_empty() {
                record.fit(&at.part_number);
            }
            record
        };
        let place = |at: &PositionRecord| (at.board.clone(), at.reference.clone());
        let planned = std::mem::take(&mut record.positions).into_iter().enumerate();
        let mut planned: HashMap<_, _> = planned.map(|(n, at)| (place(&at), (n, at))).collect();
        let all = unit.positions.iter().map(|at| {
            // Of a position that was renamed or removed meanwhile stays what was done.
            let (n, plan) = planned.remove(&place(at)).unwrap_or((usize::MAX, PositionRecord::default()));
            (n, entered(plan, at))
        });
        let mut all: Vec<_> = all.collect();
        all.sort_by_key(|(n, _)| *n);
        record.positions = all.into_iter().map(|(_, at)| at).collect();
        record
    }

    /// The first complaint about a field of a position, with its place.
    fn of_positions(
        &self,
        complaint: impl Fn(&PositionRecord, &schema::Field<PositionRecord>) -> Option<String>,
    ) -> Option<String> {
        let told = |at: &PositionRecord, field: &schema::Field<PositionRecord>| {
            let name = field.path.trim_start_matches("bench.positions.");
            Some(format!("{} {}: {name}: {}", at.board, at.reference, complaint(at, field)?))
        };
        self.positions.iter().find_map(|at| schema::POSITION_RECORD.iter().find_map(|field| told(at, field)))
    }

    /// What cannot be meant in it, if anything.
    fn complaint(&self) -> Option<String> {
        if self.serial.trim().is_empty() {
            return Some("serial: empty; expected the number of the unit".into());
        }
        self.of_positions(|at, field| {
            let Kind::Number(_, bounds) = field.kind else { return None };
            bounds.complaint(field.figure(at)?).map(str::to_owned)
        })
    }

    /// What no text of a record may hold: it is printed and compared, and cannot be mended later.
    fn text_complaint(&self) -> Option<String> {
        let of_text = |text: &str, shape: Text| {
            let lines = if shape == Text::Note { text.replace('\n', " ") } else { text.to_owned() };
            let unseen = (visible(&lines) != lines).then_some("expected one line without signs that are not seen");
            shape.complaint(text).or(unseen)
        };
        let own = [("serial", &self.serial), ("technician", &self.technician), ("unit_type", &self.unit_type)];
        let own = own.into_iter().map(|(name, text)| (name, text, Text::Line));
        let mut own = own.chain([("note", &self.note, Text::Note)]);
        let own = own.find_map(|(name, text, shape)| Some(format!("{name}: {}", of_text(text, shape)?)));
        own.or_else(|| {
            self.of_positions(|at, field| {
                let (Kind::Text(shape), Access::Text(get, _)) = (field.kind, field.access) else { return None };
                of_text(&get(at)?, shape).map(str::to_owned)
            })
        })
    }
}

/// The record file beside a job: `dome.json` has `dome.units.jsonl`.
pub fn path_beside(job_path: &Path) -> PathBuf {
    job_path.with_extension("units.jsonl")
}

/// Why a record could not be added or the file not be read.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum RecordError {
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a record of units (*.units.jsonl)", path.display())]
    Unreadable { path: PathBuf, source: io::Error },
    /// The file could not be added to.
    #[error(transparent)]
    Unwritable(#[from] SaveError),
    /// The list a record is completed from.
    #[error(transparent)]
    Values(#[from] super::canonical::ListError),
    /// The record holds something that cannot be meant.
    #[error("the record was not added: {0}")]
    Complaint(String),
    /// A rebuild of this unit on this day stands in the record, and nobody said that this is another one.
    #[error("{serial} of {date} is recorded already; nothing was added")]
    Again { serial: String, date: Date },
}

/// Whether a rebuild of this unit on this day is among `records`.
pub fn is_recorded(records: &[UnitRecord], serial: &str, date: Date) -> bool {
    records.iter().any(|known| known.serial.trim() == serial.trim() && known.date == date)
}

/// Adds a record to the end of the file at `path`, which is made if need be, and waits until it is on the disk. A line an
/// interrupted write left unfinished is closed first, never overwritten.
///
/// A day after `today` is refused (unless nobody knows what day it is), and so is a second rebuild of a unit on one day, unless
/// `again` says that it is meant.
///
/// # Errors
/// When the record has no serial number, an impossible figure or day, stands there already, or the file cannot be written.
pub fn append(path: &Path, record: &UnitRecord, again: bool, today: Option<Date>) -> Result<(), RecordError> {
    let ahead = today.filter(|&today| record.date > today);
    let ahead = ahead
        .map(|today| format!("date: {} is after today, {today}; a rebuild is recorded once it is done", record.date));
    if let Some(complaint) = record.complaint().or_else(|| record.text_complaint()).or(ahead) {
        return Err(RecordError::Complaint(complaint));
    }
    if !again && is_recorded(&read(path)?.records, &record.serial, record.date) {
        return Err(RecordError::Again { serial: record.serial.clone(), date: record.date });
    }
    let failed = |source: io::Error| SaveError { path: path.to_owned(), source };
    let mut fields = Extra::new();
    fields.insert("format".into(), FORMAT.into());
    fields.insert("version".into(), VERSION.into());
    if let serde_json::Value::Object(body) = serde_json::to_value(record).map_err(|error| failed(error.into()))? {
        fields.extend(body);
    }
    let line = serde_json::Value::Object(fields).to_string();
    add_line(path, &line).map_err(failed)?;
    Ok(())
}

fn add_line(path: &Path, line: &str) -> io::Result<()> {
    let folder = folder_of(path).canonicalize()?;
    match std::fs::symlink_metadata(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {}
        // Also one that leads to nothing yet would make a file elsewhere.
        Ok(there) if there.is_symlink() && !path.canonicalize().is_ok_and(|real| real.starts_with(&folder)) => {
            return Err(io::Error::other("it is a link out of the folder of the job"));
        }
        _ => drop(bounded::open(path, u64::MAX)?),
    }
    let mut file = std::fs::OpenOptions::new().read(true).append(true).create(true).open(path)?;
    // Whoever adds meanwhile waits; not every file system knows locks.
    let _ = file.lock();
    let mut content = String::new();
    let before = file.seek(SeekFrom::End(0))?;
    if before > 0 {
        file.seek(SeekFrom::End(-1))?;
        let mut last = [0];
        file.read_exact(&mut last)?;
        if last != *b"\n" {
            content.push('\n');
        }
    }
    content.push_str(line);
    content.push('\n');
    // One write, so that another program adding at the same moment does not get in between.
    let written = file.write_all(content.as_bytes()).and_then(|()| file.sync_all());
    if written.is_err() {
        // Whole or not at all: half a line is taken away again.
        let _ = file.set_len(before).and_then(|()| file.sync_all());
    }
    written
}

/// Records as read, and the lines that could not be used.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RecordsRead {
    /// The records in the order they were added.
    pub records: Vec<UnitRecord>,
    /// Lines that could not be used; they stay in the file.
    pub rejected: Vec<Rejected>,
}

/// Reads the record file at `path`; a file that does not exist holds no record.
///
/// # Errors
/// When the file is there but cannot be read.
pub fn read(path: &Path) -> Result<RecordsRead, RecordError> {
    match bounded::read(path, bounded::JOB_BYTES_MAX) {
        Ok(bytes) => Ok(from_slice(&bytes, path)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(RecordsRead::default()),
        Err(source) => Err(RecordError::Unreadable { path: path.to_owned(), source }),
    }
}

/// Reads records from memory; `path` is for messages.
pub fn from_slice(bytes: &[u8], path: &Path) -> RecordsRead {
    let mut read = RecordsRead::default();
    for (line, text) in (1..).zip(bytes.split(|&byte| byte == b'\n')) {
        if text.trim_ascii().is_empty() {
            continue;
        }
        match parse(text) {
            Ok(record) => read.records.push(record),
            Err(reason) => {
                let shown: String = String::from_utf8_lossy(text).chars().take(80).collect();
                read.rejected.push(Rejected::new(path, line, "(line)", &shown, reason));
            }
        }
    }
    read
}

fn parse(line: &[u8]) -> Result<UnitRecord, String> {
    let mut value: serde_json::Value = json::parse(line).map_err(|error| format!("expected JSON ({error})"))?;
    let fields = value.as_object_mut().ok_or("expected a record in braces")?;
    if fields.remove("format").as_ref().and_then(|format| format.as_str()) != Some(FORMAT) {
        return Err(format!("format: expected \"{FORMAT}\""));
    }
    if fields.remove("version").as_ref().and_then(serde_json::Value::as_u64).is_none_or(|version| version > VERSION) {
        return Err(format!("version: this program knows {VERSION}"));
    }
    let record: UnitRecord =
        serde_path_to_error::deserialize(value).map_err(|error| format!("{}: {}", error.path(), error.inner()))?;
    record.complaint().map_or(Ok(record), Err)
}

/// A unit and when it has to come back.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitDue {
    /// Serial number.
    pub serial: String,
    /// Its last rebuild.
    pub last: Date,
    /// When it is due; `None` when unknown.
    pub due: Option<Date>,
    /// Years left at `today`, negative when overdue.
    pub years_left: Option<f64>,
}

/// The units of a record, those of unknown due date first, then the one due soonest.
pub fn due_dates(records: &[UnitRecord], today: Option<Date>) -> Vec<UnitDue> {
    let mut latest: BTreeMap<&str, &UnitRecord> = BTreeMap::new();
    for record in records {
        let newest = latest.entry(record.serial.trim()).or_insert(record);
        if record.date >= newest.date {
            *newest = record;
        }
    }
    let mut due: Vec<UnitDue> = latest
        .into_iter()
        .map(|(serial, record)| UnitDue {
            serial: serial.to_owned(),
            last: record.date,
            due: record.next_due,
            years_left: record.next_due.zip(today).map(|(due, today)| today.years_to(due)),
        })
        .collect();
    due.sort_by_key(|unit| unit.due);
    due
}
