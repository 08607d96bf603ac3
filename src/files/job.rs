//! The job file: JSON as a person would read it. Unknown fields survive a load and save; `null` and absent mean the same.

use std::path::{Path, PathBuf};

use serde_json::Value;

use super::job_check::{self, Fault};
use super::{bounded, json};
use crate::domain::{Job, Phase, Position, schema};
use crate::sizing::changed::Records;

const FORMAT: &str = "refarad-job";
const VERSION: u64 = 1;
/// What was known of the chosen parts when the job was saved: not of the job itself, which is the same whatever the catalogue says.
const AS_SAVED: &str = "as_saved";

/// A job file could not be used.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum JobError {
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a job file (*.json)", path.display())]
    Unreadable { path: PathBuf, source: std::io::Error },
    /// The file is not JSON.
    #[error("{}: line {line}, column {column}: expected JSON ({message})", path.display())]
    NotJson { path: PathBuf, line: usize, column: usize, message: String },
    /// Fields hold something that cannot be used.
    #[error("{}: {}", path.display(), listed(faults))]
    Fields { path: PathBuf, faults: Vec<Fault> },
}

/// All faults: one beside the file's name, more below it, a line each.
fn listed(faults: &[Fault]) -> String {
    match faults {
        [one] => one.to_string(),
        several => {
            let all: Vec<String> = several.iter().map(ToString::to_string).collect();
            format!("{} fields cannot be used: {}", several.len(), all.join("; "))
        }
    }
}

/// A job as read, and what has to be said about it.
#[derive(Debug, Clone, PartialEq)]
pub struct JobRead {
    /// The job.
    pub job: Job,
    /// Remarks for the person, one sentence each.
    pub notes: Vec<String>,
    /// The file comes from a later version: to be shown, not to be overwritten.
    pub newer: bool,
    /// What was known of the chosen parts when it was saved; empty where nobody kept it.
    pub as_saved: Records,
}

/// Reads the job file at `path`.
///
/// # Errors
/// When the file cannot be read, is not JSON, or fields hold something that cannot be used: all of them are named.
pub fn read(path: &Path) -> Result<JobRead, JobError> {
    whole(read_usable(path)?, path)
}

/// The same; every field that cannot be used is left unknown and listed.
///
/// # Errors
/// When the file cannot be read or is not the JSON of a job at all.
pub(super) fn read_usable(path: &Path) -> Result<(JobRead, Vec<Fault>), JobError> {
    let bytes = bounded::read(path, bounded::JOB_BYTES_MAX)
        .map_err(|source| JobError::Unreadable { path: path.to_owned(), source })?;
    usable(&bytes, path)
}

/// Reads a job from memory; `path` is for messages.
///
/// # Errors
/// When the bytes are not JSON, or fields hold something that cannot be used.
pub fn from_slice(bytes: &[u8], path: &Path) -> Result<JobRead, JobError> {
    whole(usable(bytes, path)?, path)
}

/// The job, where all its fields can be used.
fn whole((read, faults): (JobRead, Vec<Fault>), path: &Path) -> Result<JobRead, JobError> {
    if faults.is_empty() { Ok(read) } else { Err(JobError::Fields { path: path.to_owned(), faults }) }
}

/// The job with every field that cannot be used left unknown, and those fields.
///
/// # Errors
/// When the bytes are not the JSON of a job at all.
fn usable(bytes: &[u8], path: &Path) -> Result<(JobRead, Vec<Fault>), JobError> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let mut value = json::parse(bytes).map_err(|error| JobError::NotJson {
        path: path.to_owned(),
        line: error.line(),
        column: error.column(),
        message: error.to_string(),
    })?;
    let field_error = |field: &str, message: String| JobError::Fields {
        path: path.to_owned(),
        faults: vec![Fault { field: field.into(), message }],
    };
    if value.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(field_error("format", format!("expected \"{FORMAT}\"")));
    }
    let version = value.get("version").and_then(Value::as_u64);
    let version =
        version.ok_or_else(|| field_error("version", format!("expected a whole number, such as {VERSION}")))?;
    let positions = positions_in(&value);
    // What is found out about a position takes about as much again.
    if positions.saturating_mul(2 * size_of::<Position>()) > json::memory_for(bytes) {
        let message =
            format!("{positions} positions in a file of {} KB; expected fewer or more in them", bytes.len() >> 10);
        return Err(field_error("boards", message));
    }
    let mut as_saved = Records::new();
    if let Some(fields) = value.as_object_mut() {
        if let Some(Value::Object(kept)) = fields.shift_remove(AS_SAVED) {
            as_saved.extend(kept.into_iter().filter_map(|(place, told)| Some((place, told.as_str()?.to_owned()))));
        }
        // The order of the others stays.
        fields.shift_remove("format");
        fields.shift_remove("version");
    }
    let faults = job_check::clean(&mut value);
    let job: Job = serde_path_to_error::deserialize(value)
        .map_err(|error| field_error(&error.path().to_string(), plain(&error.inner().to_string())))?;
    let mut notes = remarks(&job);
    let newer = version > VERSION;
    if newer {
        notes.push(format!(
            "The file is of version {version}, this program knows {VERSION}: opened to read only. A copy saved under \
             another name keeps every field."
        ));
    }
    if version < VERSION {
        notes.push(format!(
            "The file is of version {version}, before the format was fixed: read as version {VERSION}, which differs in \
             the number only; saving writes version {VERSION}."
        ));
    }
    Ok((JobRead { job, notes, newer, as_saved }, faults))
}

/// How many positions a document has, other parts and test points with them: those are smaller.
fn positions_in(document: &Value) -> usize {
    let boards = document.get("boards").and_then(Value::as_array).into_iter().flatten();
    let lists =
        |of: &Value| ["positions", "other_parts", "test_points"].map(|name| of.get(name)?.as_array().map(Vec::len));
    boards.chain([document]).flat_map(lists).flatten().sum()
}

/// What the JSON library expected, in words of people who do not program.
fn plain(message: &str) -> String {
    const WORDS: [(&str, &str); 6] = [
        ("expected f64", "expected a number"),
        ("expected u32", "expected a whole number"),
        ("expected u64", "expected a whole number"),
        ("expected i32", "expected a whole number"),
        ("expected a sequence", "expected a list"),
        ("invalid type: ", ""),
    ];
    WORDS.iter().fold(message.to_owned(), |text, (from, to)| text.replace(from, to))
}

/// The job as the text of a job file.
pub fn to_text(job: &Job) -> String {
    to_text_with(job, None, &Records::new())
}

/// The same, with one more field in front, for the recovery file, and with what is known of the chosen parts.
pub(super) fn to_text_with(job: &Job, more: Option<(&str, Value)>, as_saved: &Records) -> String {
    let mut fields = serde_json::Map::new();
    fields.insert("format".into(), FORMAT.into());
    fields.insert("version".into(), VERSION.into());
    fields.extend(more.map(|(name, value)| (name.to_owned(), value)));
    if let Ok(Value::Object(body)) = serde_json::to_value(job) {
        fields.extend(body);
    }
    if !as_saved.is_empty() {
        fields.insert(AS_SAVED.into(), as_saved.iter().map(|(place, told)| (place.clone(), told.clone())).collect());
    }
    // A map of JSON values always prints.
    let mut text = serde_json::to_string_pretty(&Value::Object(fields)).unwrap_or_default();
    text.push('\n');
    text
}

/// What in a job contradicts itself, and load profiles whose shares do not add to 1, which are counted as parts of their sum.
fn remarks(job: &Job) -> Vec<String> {
    let mut all = twice("boards are called", job.boards.iter().map(|board| board.name.as_str()));
    all.extend(twice("types of units are called", job.unit_types.iter().map(|of| of.name.as_str())));
    all.extend(shares("the job", job.conditions.phases.as_deref()));
    for board in &job.boards {
        all.extend(shares(&board.name, board.conditions.phases.as_deref()));
        let positions = board.positions.iter().map(|position| position.reference.as_str());
        let others = board.other_parts.iter().map(|other| other.reference.as_str());
        all.extend(twice(&format!("parts of {} are", board.name), positions.chain(others)));
        let nameless = board.positions.iter().filter(|position| position.reference.trim().is_empty()).count();
        if nameless > 0 {
            all.push(format!(
                "{}: positions without a reference: {nameless}; papers and orders cannot name them.",
                board.name
            ));
        }
        for position in &board.positions {
            let place = format!("{} {}", board.name, position.reference);
            all.extend(shares(&place, position.stress.phases.as_deref()));
            all.extend(schema::contradictions(position).into_iter().map(|(_, words)| format!("{place}: {words}.")));
        }
    }
    for point in job.boards.iter().flat_map(|board| &board.test_points).chain(&job.test_points) {
        if point.expected_low.zip(point.expected_high).is_some_and(|(low, high)| low > high) {
            all.push(format!("{}: the least expected value is above the greatest.", point.reference));
        }
    }
    all
}

/// Names that stand there more than once.
fn twice<'a>(what: &str, names: impl Iterator<Item = &'a str>) -> Vec<String> {
    let mut counts = std::collections::BTreeMap::new();
    names.map(str::trim).filter(|name| !name.is_empty()).for_each(|name| *counts.entry(name).or_insert(0) += 1);
    let several = counts.into_iter().filter(|&(_, count)| count > 1);
    several
        .map(|(name, count)| format!("{count} {what} {name}: what goes by the name cannot tell them apart."))
        .collect()
}

fn shares(place: &str, phases: Option<&[Phase]>) -> Option<String> {
    let shares: Option<Vec<f64>> = phases?.iter().map(|phase| phase.share).collect();
    let total: f64 = shares.filter(|shares| !shares.is_empty())?.iter().sum();
    if total == 0.0 {
        return Some(format!("{place}: the shares of all operating phases are 0, so the load profile says nothing."));
    }
    let off = (total - 1.0).abs() > 1e-6;
    off.then(|| format!("{place}: the shares of the load profile add to {total}, counted as parts of that."))
}
