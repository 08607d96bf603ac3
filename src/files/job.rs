//! The job file: JSON as a person would read it. Unknown fields survive a load and save; `null` and absent mean the same.

use std::path::{Path, PathBuf};

use serde_json::Value;

use super::job_check::{self, Fault};
use super::save::{SaveError, save};
use super::{bounded, json};
use crate::domain::{Job, Position, PositionId};
use crate::sizing::changed::Records;

const FORMAT: &str = "refarad-job";
const VERSION: u64 = 1;
/// What was known of the chosen parts when the job was saved: not of the job itself, which is the same whatever the catalogue says.
const AS_SAVED: &str = "as_saved";

/// A job file could not be used.
#[derive(Debug, thiserror::Error)]
pub enum JobError {
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a job file (*.json)", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// The file is not JSON.
    #[error("{}: line {line}, column {column}: expected JSON ({message})", path.display())]
    NotJson {
        /// The file.
        path: PathBuf,
        /// Line of the fault, from 1.
        line: usize,
        /// Column of the fault, from 1.
        column: usize,
        /// What the parser said.
        message: String,
    },
    /// Fields hold something that cannot be used.
    #[error("{}: {}", path.display(), listed(faults))]
    Fields {
        /// The file.
        path: PathBuf,
        /// Every such field, with what was expected.
        faults: Vec<Fault>,
    },
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
    let bytes = bounded::read(path, bounded::JOB_BYTES_MAX)
        .map_err(|source| JobError::Unreadable { path: path.to_owned(), source })?;
    from_slice(&bytes, path)
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
    match usable(bytes, path)? {
        (read, faults) if faults.is_empty() => Ok(read),
        (_, faults) => Err(JobError::Fields { path: path.to_owned(), faults }),
    }
}

/// The job with every field that cannot be used left unknown, and those fields.
///
/// # Errors
/// When the bytes are not the JSON of a job at all.
pub(super) fn usable(bytes: &[u8], path: &Path) -> Result<(JobRead, Vec<Fault>), JobError> {
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
    let version = version.ok_or_else(|| field_error("version", format!("expected a whole number, {VERSION} or so")))?;
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
    let mut notes = share_notes(&job);
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
#[must_use]
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

/// Writes the job file at `path`, whole or not at all.
///
/// # Errors
/// When the file cannot be written.
pub fn write(path: &Path, job: &Job) -> Result<(), SaveError> {
    save(path, to_text(job).as_bytes())
}

/// Duties whose shares do not add to 1, which are normalised.
fn share_notes(job: &Job) -> Vec<String> {
    let note = |(id, position): (PositionId, &Position)| {
        let phases = position.stress.phases.as_deref()?;
        let shares: Option<Vec<f64>> = phases.iter().map(|phase| phase.share).collect();
        let total: f64 = shares.filter(|shares| !shares.is_empty())?.iter().sum();
        let board = &job.boards.get(id.board)?.name;
        let off = (total - 1.0).abs() > 1e-6;
        off.then(|| {
            format!("{board} {}: the shares of the duty add to {total}, counted as parts of that.", position.reference)
        })
    };
    job.positions().filter_map(note).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read_text(text: &str) -> Result<JobRead, JobError> {
        from_slice(text.as_bytes(), Path::new("a.json"))
    }

    fn with_position(position: &str) -> String {
        format!(r#"{{"format":"refarad-job","version":1,"boards":[{{"name":"B","positions":[{position}]}}]}}"#)
    }

    #[test]
    fn unknown_fields_survive_a_load_and_save_at_every_level() {
        let text = with_position(
            r#"{"ref":"C1","later":[1],"original":{"rated_v":10,"colour":"blue"},"stress":{"mood":"calm","phases":[{"share":1,"name":"day"}]}}"#,
        );
        let job = read_text(&text).unwrap().job;
        let again = to_text(&job);
        for kept in ["later", "colour", "mood", "\"name\": \"day\""] {
            assert!(again.contains(kept), "{kept} lost: {again}");
        }
        assert_eq!(read_text(&again).unwrap().job, job);
    }

    #[test]
    fn null_and_absent_mean_the_same() {
        let nulls = with_position(r#"{"ref":"C1","pick":null,"stress":{"ripple":null},"needs":null}"#);
        let absent = with_position(r#"{"ref":"C1"}"#);
        assert_eq!(read_text(&nulls).unwrap(), read_text(&absent).unwrap());
    }

    #[test]
    fn an_empty_spectrum_is_not_an_unknown_one() {
        let job = read_text(&with_position(r#"{"ref":"C1","stress":{"ripple":[]}}"#)).unwrap().job;
        assert_eq!(job.boards[0].positions[0].stress.ripple, Some(Vec::new()));
        assert!(to_text(&job).contains("\"ripple\": []"));
    }

    #[test]
    fn faults_name_file_and_field() {
        let cases = [
            ("{", "line 1"),
            (&with_position(r#"{"ref":"C1","stress":{"ripple_peak_v":-200}}"#), "(C1): stress.ripple_peak_v"),
            (&with_position(r#"{"ref":"C1","original":{"made_year":-3}}"#), "original.made_year"),
            ("[]", "format"),
            (r#"{"format":"refarad-job"}"#, "version"),
            (&with_position(r#"{"ref":"C1","pick":"A","pick":"B"}"#), "the key \"pick\" stands twice"),
            (&with_position(r#"{"ref":"C1","stress":{"dc_v":"high"}}"#), "boards[0].positions[0] (C1): stress.dc_v"),
            (&with_position(r#"{"ref":"C1","role":"hero"}"#), "boards[0].positions[0] (C1): role"),
            (&with_position(r#"{"ref":"C1","original":{"capacitance_uf":0}}"#), "original.capacitance_uf"),
            (&with_position(r#"{"ref":"C1","space":{"height_max_mm":-3}}"#), "space.height_max_mm"),
        ];
        for (text, part) in cases {
            let message = read_text(text).unwrap_err().to_string();
            assert!(message.starts_with("a.json: ") && message.contains(part), "{message}");
        }
    }

    #[test]
    fn a_file_with_bad_values_names_all_of_them_and_opens_with_those_unknown() {
        let text = r#"{"format":"refarad-job","version":1,"units":2.5,"hours_per_year":9999,"name":"A",
            "policy":{"ripple_use_max":80,"life_margin":0.5},"shelf":[{"qty":-4}],
            "boards":[{"name":"B","lid_mm":-5,"per_unit":1.5,"holes_mm":[[1,2,-3]],"positions":[
              {"ref":"C1","original":{"made_year":-3,"rated_v":35},"later":{"odd":null},
               "stress":{"dc_v":"high","ripple_peak_v":-200,"phases":[{"share":-1,"ambient_c":55}],"ripple":[7]},
               "measured":{"date":"soon"},"space":{"accepts":["glue"]}}]}]}"#;
        let Err(JobError::Fields { faults, .. }) = read_text(text) else { panic!() };
        let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
        let c1 = |field: &str| format!("boards[0].positions[0] (C1): {field}");
        let expected = [
            "units".to_owned(),
            "hours_per_year".to_owned(),
            "policy.ripple_use_max".to_owned(),
            "policy.life_margin".to_owned(),
            "shelf[0].qty".to_owned(),
            "boards[0].lid_mm".to_owned(),
            "boards[0].per_unit".to_owned(),
            "boards[0].holes_mm".to_owned(),
            c1("original.made_year"),
            c1("stress.dc_v"),
            c1("stress.ripple_peak_v"),
            c1("stress.phases[0].share"),
            c1("stress.ripple[0]"),
            c1("measured.date"),
            c1("space.accepts"),
        ];
        assert_eq!(fields, expected);
        let (read, _) = usable(text.as_bytes(), Path::new("a.json")).unwrap();
        let position = &read.job.boards[0].positions[0];
        assert_eq!((read.job.name.as_str(), read.job.units, position.stress.dc_v), ("A", None, None));
        assert_eq!(position.stress.phases.as_ref().unwrap()[0].ambient_c, Some(55.0));
        assert_eq!(read.job.policy, crate::domain::Policy::default());
        assert!(position.extra.contains_key("later"));
        // What is left is a job that saves and loads.
        assert_eq!(read_text(&to_text(&read.job)).unwrap().job, read.job);
    }

    #[test]
    fn conditions_of_job_and_board_survive_a_load_and_save_and_are_checked() {
        let text = r#"{"format":"refarad-job","version":1,"conditions":{"ambient_min_c":-10,"airflow_lfm":100,"why":"log"},
            "boards":[{"name":"B","conditions":{"phases":[{"share":1,"ambient_c":45}]},"positions":[{"ref":"C1",
            "original":{"life_basis":"useful","ripple_freq_factors":"100:1;1000:1.3"},"stress":{"ambient_rise_k":5},
            "needs":{"end_of_life":"useful","balance_kohm":100}}]}]}"#;
        let job = read_text(text).unwrap().job;
        assert_eq!(job.boards[0].conditions.phases.as_ref().unwrap()[0].ambient_c, Some(45.0));
        let again = to_text(&job);
        for kept in ["life_basis", "ripple_freq_factors", "ambient_rise_k", "end_of_life", "balance_kohm", "why"] {
            assert!(again.contains(kept), "{kept}");
        }
        assert_eq!(read_text(&again).unwrap().job, job);
        for (good, bad, part) in [
            ("\"airflow_lfm\":100", "\"airflow_lfm\":-1", "conditions.airflow_lfm"),
            ("\"ambient_c\":45", "\"ambient_c\":1e9", "boards[0].conditions.phases[0].ambient_c"),
            ("\"balance_kohm\":100", "\"balance_kohm\":0", "needs.balance_kohm"),
        ] {
            let message = read_text(&text.replace(good, bad)).unwrap_err().to_string();
            assert!(message.contains(part), "{message}");
        }
    }

    #[test]
    fn uncertainty_and_shelf_survive_a_load_and_save_and_are_checked() {
        let text = r#"{"format":"refarad-job","version":1,"uncertainty":{"ambient_sigma_k":3,"seed":7,"why":"guess"},
            "shelf":[{"part_number":"A","date_code":"2341","qty":4}],
            "boards":[{"name":"B","positions":[{"ref":"C1","series_group":"link"}]}]}"#;
        let job = read_text(text).unwrap().job;
        assert_eq!(job.uncertainty.as_ref().unwrap().ambient_sigma_k, Some(3.0));
        assert_eq!(job.boards[0].positions[0].series_group.as_deref(), Some("link"));
        assert_eq!(read_text(&to_text(&job)).unwrap().job, job);
        for (good, bad, part) in [
            ("\"ambient_sigma_k\":3", "\"ambient_sigma_k\":-3", "uncertainty.ambient_sigma_k"),
            ("\"seed\":7", "\"samples\":0", "uncertainty.samples"),
            ("\"qty\":4", "\"qty\":-4", "shelf[0].qty"),
        ] {
            let message = read_text(&text.replace(good, bad)).unwrap_err().to_string();
            assert!(message.contains(part), "{message}");
        }
    }

    #[test]
    fn far_more_positions_than_the_file_is_large_are_refused_and_a_hundred_thousand_are_read() {
        let of = |count: usize, position: &str| with_position(&vec![position; count].join(","));
        let message = read_text(&of(5_000_000, "{}")).unwrap_err().to_string();
        assert!(message.starts_with("a.json: "), "{message}");
        let message = read_text(&of(400_000, "{}")).unwrap_err().to_string();
        assert!(message.contains("boards: 400000 positions"), "{message}");
        let known = format!(r#"{{"ref":"C1","note":"{}"}}"#, "as a position with its figures ".repeat(8));
        assert_eq!(read_text(&of(100_000, &known)).unwrap().job.boards[0].positions.len(), 100_000);
    }

    #[test]
    fn a_later_version_opens_to_read_only_and_says_so() {
        let read = read_text(r#"{"format":"refarad-job","version":2}"#).unwrap();
        assert!(read.newer && read.notes.len() == 1);
    }

    #[test]
    fn an_earlier_version_is_read_and_says_what_was_upgraded() {
        let read = read_text(r#"{"format":"refarad-job","version":0,"units":3}"#).unwrap();
        assert_eq!((read.newer, read.job.units), (false, Some(3.0)));
        assert!(read.notes[0].contains("version 0") && read.notes[0].contains("version 1"), "{:?}", read.notes);
        assert!(to_text(&read.job).contains("\"version\": 1"));
    }
}
