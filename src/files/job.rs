//! The job file: JSON as a person would read it. Unknown fields survive a load and save; `null` and absent mean the same.

use std::path::{Path, PathBuf};

use serde_json::Value;

use super::save::{SaveError, save};
use super::{bounded, nulls};
use crate::domain::{Bounds, CAN_NUMBERS, Conditions, Job, Phase, Position, PositionId};

const FORMAT: &str = "refarad-job";
const VERSION: u64 = 1;

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
    /// A field holds something that cannot be used.
    #[error("{}: {field}: {message}", path.display())]
    Field {
        /// The file.
        path: PathBuf,
        /// The field, as `boards[0].positions[2].stress.dc_v`.
        field: String,
        /// What was expected.
        message: String,
    },
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
}

/// Reads the job file at `path`.
///
/// # Errors
/// When the file cannot be read, is not JSON, or a field holds something that cannot be used.
pub fn read(path: &Path) -> Result<JobRead, JobError> {
    let bytes = bounded::read(path, bounded::JOB_BYTES_MAX)
        .map_err(|source| JobError::Unreadable { path: path.to_owned(), source })?;
    from_slice(&bytes, path)
}

/// Reads a job from memory; `path` is for messages.
///
/// # Errors
/// When the bytes are not JSON, or a field holds something that cannot be used.
pub fn from_slice(bytes: &[u8], path: &Path) -> Result<JobRead, JobError> {
    let read = parse(bytes, path)?;
    match complaint(&read.job) {
        Some((field, message)) => Err(JobError::Field { path: path.to_owned(), field, message }),
        None => Ok(read),
    }
}

/// Reads a job whose figures may be out of their range, as unfinished work may have them.
pub(super) fn parse(bytes: &[u8], path: &Path) -> Result<JobRead, JobError> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let mut value: Value = serde_json::from_slice(bytes).map_err(|error| JobError::NotJson {
        path: path.to_owned(),
        line: error.line(),
        column: error.column(),
        message: error.to_string(),
    })?;
    let field_error =
        |field: &str, message: String| JobError::Field { path: path.to_owned(), field: field.into(), message };
    if value.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(field_error("format", format!("expected \"{FORMAT}\"")));
    }
    let version = value.get("version").and_then(Value::as_u64);
    let version = version.ok_or_else(|| field_error("version", format!("expected a whole number, {VERSION} or so")))?;
    nulls::drop_of_known(&mut value, &|document| serde_json::from_value::<Job>(document).is_ok());
    if let Some(fields) = value.as_object_mut() {
        fields.remove("format");
        fields.remove("version");
    }
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
    Ok(JobRead { job, notes, newer })
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
    to_text_with(job, None)
}

/// The same, with one more field in front, for the recovery file.
pub(super) fn to_text_with(job: &Job, more: Option<(&str, Value)>) -> String {
    let mut fields = serde_json::Map::new();
    fields.insert("format".into(), FORMAT.into());
    fields.insert("version".into(), VERSION.into());
    fields.extend(more.map(|(name, value)| (name.to_owned(), value)));
    if let Ok(Value::Object(body)) = serde_json::to_value(job) {
        fields.extend(body);
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

/// The first figure that cannot be meant: its field and what was expected.
fn complaint(job: &Job) -> Option<(String, String)> {
    let numbers = [
        ("units", job.units, Bounds::Positive),
        ("spare_pct", job.spare_pct, Bounds::NotNegative),
        ("hours_per_year", job.hours_per_year, Bounds::Positive),
        ("interval_years", job.interval_years, Bounds::Positive),
        ("line_cost", job.line_cost, Bounds::NotNegative),
        ("teardown_cost", job.teardown_cost, Bounds::NotNegative),
        ("prefer_worth", job.prefer_worth, Bounds::NotNegative),
    ];
    let policy = &job.policy;
    let margins = [
        ("voltage_use_max_wet_lv", policy.voltage_use_max_wet_lv, Bounds::Positive),
        ("voltage_use_max_wet_hv", policy.voltage_use_max_wet_hv, Bounds::Positive),
        ("voltage_use_max_polymer", policy.voltage_use_max_polymer, Bounds::Positive),
        ("ripple_use_max", policy.ripple_use_max, Bounds::Positive),
        ("life_margin", policy.life_margin, Bounds::Positive),
        ("calendar_cap_years", policy.calendar_cap_years, Bounds::Positive),
        ("can_gap_mm", policy.can_gap_mm, Bounds::NotNegative),
        ("pitch_reach_mm", policy.pitch_reach_mm, Bounds::NotNegative),
    ];
    let of_margin = |(name, value, bounds): (&str, f64, Bounds)| {
        Some((format!("policy.{name}"), format!("{value} stands there, {}", bounds.complaint(value)?)))
    };
    numbers
        .into_iter()
        .find_map(|(name, value, bounds)| number_complaint(name.into(), value, bounds))
        .or_else(|| margins.into_iter().find_map(of_margin))
        .or_else(|| uncertainty_complaint(job))
        .or_else(|| {
            let on_shelf = |(at, stock): (usize, &crate::domain::ShelfStock)| {
                number_complaint(format!("shelf[{at}].qty"), stock.qty, Bounds::NotNegative)
            };
            job.shelf.iter().enumerate().find_map(on_shelf)
        })
        .or_else(|| {
            let of_board = |(at, board): (usize, &crate::domain::Board)| {
                number_complaint(format!("boards[{at}].per_unit"), board.per_unit, Bounds::Positive)
                    .or_else(|| conditions_complaint(&format!("boards[{at}].conditions"), &board.conditions))
            };
            job.boards.iter().enumerate().find_map(of_board)
        })
        .or_else(|| conditions_complaint("conditions", &job.conditions))
        .or_else(|| {
            let of_rate = |(code, &rate): (&String, &f64)| {
                number_complaint(format!("currency_rates.{code}"), Some(rate), Bounds::Positive)
            };
            job.currency_rates.iter().find_map(of_rate)
        })
        .or_else(|| job.positions().find_map(|(id, position)| position_complaint(id, position)))
}

fn conditions_complaint(place: &str, conditions: &Conditions) -> Option<(String, String)> {
    let at = |field: &str| format!("{place}.{field}");
    number_complaint(at("ambient_min_c"), conditions.ambient_min_c, Bounds::Celsius)
        .or_else(|| number_complaint(at("airflow_lfm"), conditions.airflow_lfm, Bounds::NotNegative))
        .or_else(|| phases_complaint(&at, conditions.phases.as_deref()))
}

/// `at` puts the name of a field behind the place the phases stand at.
fn phases_complaint(at: &dyn Fn(&str) -> String, phases: Option<&[Phase]>) -> Option<(String, String)> {
    phases.into_iter().flatten().enumerate().find_map(|(n, phase)| {
        let of = |field: &str| at(&format!("phases[{n}].{field}"));
        number_complaint(of("share"), phase.share, Bounds::NotNegative)
            .or_else(|| number_complaint(of("ambient_c"), phase.ambient_c, Bounds::Celsius))
            .or_else(|| number_complaint(of("ripple_scale"), phase.ripple_scale, Bounds::NotNegative))
    })
}

fn uncertainty_complaint(job: &Job) -> Option<(String, String)> {
    /// More takes seconds for a board and gains no digit.
    const MOST_SAMPLES: u32 = 1_000_000;
    let uncertainty = job.uncertainty.as_ref()?;
    if let Some(samples) = uncertainty.samples.filter(|samples| !(1..=MOST_SAMPLES).contains(samples)) {
        let message = format!("{samples} stands there, expected 1 to {MOST_SAMPLES}");
        return Some(("uncertainty.samples".into(), message));
    }
    [
        ("ambient_sigma_k", uncertainty.ambient_sigma_k),
        ("ripple_sigma_rel", uncertainty.ripple_sigma_rel),
        ("endurance_sigma_rel", uncertainty.endurance_sigma_rel),
    ]
    .into_iter()
    .find_map(|(name, value)| number_complaint(format!("uncertainty.{name}"), value, Bounds::NotNegative))
}

fn number_complaint(field: String, value: Option<f64>, bounds: Bounds) -> Option<(String, String)> {
    let value = value?;
    let expected = bounds.complaint(value)?;
    Some((field, format!("{value} stands there, {expected}")))
}

fn position_complaint(id: PositionId, position: &Position) -> Option<(String, String)> {
    use Bounds::{Celsius, NotNegative, Positive, Signed};
    let at = |field: &str| format!("boards[{}].positions[{}] ({}): {field}", id.board, id.index, position.reference);
    let original = CAN_NUMBERS.iter().zip(position.original.can.numbers());
    let (stress, needs, space) = (&position.stress, &position.needs, &position.space);
    let measured = position.measured.clone().unwrap_or_default();
    let others = [
        ("stress.ambient_min_c", stress.ambient_min_c, Celsius),
        ("stress.ambient_rise_k", stress.ambient_rise_k, Signed),
        ("stress.airflow_lfm", stress.airflow_lfm, NotNegative),
        ("needs.capacitance_min_uf", needs.capacitance_min_uf, NotNegative),
        ("needs.capacitance_max_uf", needs.capacitance_max_uf, Positive),
        ("needs.esr_max_mohm", needs.esr_max_mohm, Positive),
        ("needs.esr_min_mohm", needs.esr_min_mohm, NotNegative),
        ("needs.esr_hz", needs.esr_hz, Positive),
        ("needs.esr_cold_max_mohm", needs.esr_cold_max_mohm, Positive),
        ("needs.leakage_max_ua", needs.leakage_max_ua, NotNegative),
        ("needs.life_h", needs.life_h, NotNegative),
        ("needs.balance_kohm", needs.balance_kohm, Positive),
        ("space.diameter_max_mm", space.diameter_max_mm, Positive),
        ("space.height_max_mm", space.height_max_mm, Positive),
        ("space.pitch_mm", space.pitch_mm, Positive),
        ("space.pitch_reach_mm", space.pitch_reach_mm, NotNegative),
        ("space.hole_mm", space.hole_mm, Positive),
        ("measured.capacitance_uf", measured.capacitance_uf, NotNegative),
        ("measured.esr_mohm", measured.esr_mohm, NotNegative),
        ("measured.esr_hz", measured.esr_hz, Positive),
    ];
    let lines = stress.ripple.iter().flatten().enumerate().find_map(|(n, line)| {
        number_complaint(at(&format!("stress.ripple[{n}].hz")), line.hz, Positive)
            .or_else(|| number_complaint(at(&format!("stress.ripple[{n}].a")), line.a, NotNegative))
    });
    let phases = || phases_complaint(&|field| at(&format!("stress.{field}")), stress.phases.as_deref());
    original
        .map(|(field, value)| (format!("original.{}", field.name), value, field.bounds))
        .find_map(|(field, value, bounds)| number_complaint(at(&field), value, bounds))
        .or_else(|| others.into_iter().find_map(|(field, value, bounds)| number_complaint(at(field), value, bounds)))
        .or(lines)
        .or_else(phases)
}

/// Duties whose shares do not add to 1, which are normalised.
fn share_notes(job: &Job) -> Vec<String> {
    let note = |whose: String, phases: Option<&[Phase]>| {
        let phases = phases?;
        let shares: Option<Vec<f64>> = phases.iter().map(|phase| phase.share).collect();
        let total: f64 = shares.filter(|shares| !shares.is_empty())?.iter().sum();
        let off = (total - 1.0).abs() > 1e-6;
        off.then(|| format!("{whose}: the shares of the duty add to {total}, counted as parts of that."))
    };
    let shared = std::iter::once(note("The job".to_owned(), job.conditions.phases.as_deref()))
        .chain(job.boards.iter().map(|board| note(board.name.clone(), board.conditions.phases.as_deref())));
    let own = job.positions().map(|(id, position)| {
        let board = job.boards.get(id.board).map_or("", |board| &board.name);
        note(format!("{board} {}", position.reference), position.stress.phases.as_deref())
    });
    shared.chain(own).flatten().collect()
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
            ("[]", "format"),
            (r#"{"format":"refarad-job"}"#, "version"),
            (&with_position(r#"{"ref":"C1","stress":{"dc_v":"high"}}"#), "boards[0].positions[0].stress.dc_v"),
            (&with_position(r#"{"ref":"C1","role":"hero"}"#), "boards[0].positions[0].role"),
            (&with_position(r#"{"ref":"C1","original":{"capacitance_uf":0}}"#), "original.capacitance_uf"),
            (&with_position(r#"{"ref":"C1","space":{"height_max_mm":-3}}"#), "space.height_max_mm"),
        ];
        for (text, part) in cases {
            let message = read_text(text).unwrap_err().to_string();
            assert!(message.starts_with("a.json: ") && message.contains(part), "{message}");
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
