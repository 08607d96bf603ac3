//! What the columns of a file mean: proposed, corrected by a person, remembered by its set of header names, given as a file.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_with::skip_serializing_none;

use super::field::{Field, Target};
use super::synonyms::plain;
use crate::domain::{EnduranceBasis, Mounting, OtherKind, Technology};
use crate::files::cell::unit::Unit;
use crate::files::cell::{Decimal, Order};
use crate::files::job_file::Stamp;
use crate::files::save::{SaveError, save};
use crate::files::{bounded, json};

const FORMAT: &str = "refarad-mapping";
const VERSION: u64 = 1;

/// A mapping file could not be used.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum MappingError {
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a mapping (*.json)", path.display())]
    Unreadable { path: PathBuf, source: std::io::Error },
    /// The file is no mapping of a version known here.
    #[error("{}: {message}", path.display())]
    Unusable { path: PathBuf, message: String },
}

/// What a column holds and what its cells leave unsaid.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct ColumnMeaning {
    /// The field; absent = the column is not used.
    pub field: Option<Field>,
    /// Unit of numbers without one.
    #[serde(skip_serializing_if = "Option::is_none", serialize_with = "unit_out", deserialize_with = "unit_in")]
    pub unit: Option<Unit>,
    /// Frequency the figures hold at, Hz.
    pub hz: Option<f64>,
    /// Temperature the figures hold at, °C.
    pub temp_c: Option<f64>,
    /// Decimal mark of the column, where it is not that of the file.
    pub decimal: Option<Decimal>,
    /// Whether a blank cell repeats the one above, as from a merged cell; absent = asked where it matters.
    pub repeats: Option<bool>,
    /// Whether a person said that another column counts instead of it; absent = asked where their figures differ. Such
    /// a column has no field.
    pub set_aside: Option<bool>,
}

/// Values for every row of the file that does not say them itself.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
#[expect(missing_docs, reason = "the names are those of the catalogue's columns")]
pub struct EveryRow {
    pub maker: Option<String>,
    pub series: Option<String>,
    pub supplier: Option<String>,
    pub currency: Option<String>,
    pub technology: Option<Technology>,
    pub mounting: Option<Mounting>,
    pub endurance_basis: Option<EnduranceBasis>,
    /// Any numeric column of the catalogue by its name: `endurance_h`, `temp_max_c`, `ripple_hz`, `esr_hz`, `f50` ... `f100k`.
    #[serde(flatten)]
    pub numbers: BTreeMap<String, f64>,
}

/// What the columns of a file mean.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mapping {
    /// What the table is read as.
    #[serde(rename = "as")]
    pub target: Target,
    /// Every column by its header.
    #[serde(default)]
    pub columns: BTreeMap<String, ColumnMeaning>,
    /// Values for every row.
    #[serde(default)]
    pub every_row: EveryRow,
    /// Decimal mark of the file; absent = from the cells, asked where they do not say.
    pub decimal: Option<Decimal>,
    /// Which of two bare body dimensions comes first; absent = from header and cells, else asked.
    pub size_order: Option<Order>,
    /// Rows whose kind of capacitor nothing says are aluminium electrolytics; absent = asked.
    pub unsaid_are_electrolytic: Option<bool>,
    /// Whether figures of a data sheet's other tables hold for the rows; absent = asked.
    pub from_sheet: Option<bool>,
    /// Rated voltage and capacitance may come from the code in the part number; absent = asked.
    pub part_number_codes: Option<bool>,
    /// Its parts are invented: nobody can buy them.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub invented: bool,
    /// Kinds of other parts that are taken in too; empty = none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub other_parts: Vec<OtherKind>,
    /// y grows downwards in the file; absent = upwards.
    pub y_down: Option<bool>,
    /// Column that says on which of several boards a row's parts are; empty = none does; absent = asked where it matters.
    pub boards: Option<String>,
    /// The one board of that column that is read; absent = the file is read as one board.
    pub only_board: Option<String>,
    /// The column of the variant that the board is; absent = asked where several columns say what is fitted.
    pub variant: Option<String>,
    /// Whether voltages such as 1C and 1E are the two-character codes; absent = asked.
    pub voltage_codes: Option<bool>,
    /// Whether M and G are microfarad and millifarad, as in old Czech lists; absent = asked.
    pub czech_letters: Option<bool>,
    /// Endurance of the cans of a diameter, h, for rows that do not say it: `"6.3": 2000`.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub endurance_h: BTreeMap<String, f64>,
    /// What cells mean that can be read in several ways, by column and cell: `"Voltage": {"25/50 V": "25 V"}`.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub cells: BTreeMap<String, BTreeMap<String, String>>,
    /// Whether rows whose kind nothing says are electrolytics, by a designator, a text of the row, or a range such as `< 10 uF`: goes
    /// before `unsaid_are_electrolytic`.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub electrolytic: BTreeMap<String, bool>,
}

impl Mapping {
    /// A mapping that uses no column yet.
    pub fn empty(target: Target) -> Self {
        Self { target, ..Self::default() }
    }

    /// What the column under `header` holds; headers are compared as people spell them, not letter by letter.
    pub fn column(&self, header: &str) -> Option<&ColumnMeaning> {
        self.columns.get(header).or_else(|| {
            let key = numbered_plain(header);
            self.columns.iter().find(|(name, _)| numbered_plain(name) == key).map(|(_, meaning)| meaning)
        })
    }

    /// Whether two spellings head the same column.
    pub fn same_column(&self, a: &str, b: &str) -> bool {
        numbered_plain(a) == numbered_plain(b)
    }

    /// The column under `header`, to change it.
    pub fn column_mut(&mut self, header: &str) -> &mut ColumnMeaning {
        let key = numbered_plain(header);
        let known = self.columns.keys().find(|name| *name == header || numbered_plain(name) == key).cloned();
        self.columns.entry(known.unwrap_or_else(|| header.to_owned())).or_default()
    }

    /// Whether some column holds `field`.
    pub fn has(&self, field: Field) -> bool {
        self.columns.values().any(|column| column.field == Some(field))
    }

    /// Columns that the mapping uses and a file does not have.
    pub fn missing_in(&self, header: &[String]) -> Vec<&str> {
        let present: Vec<String> = header.iter().map(|name| numbered_plain(name)).collect();
        let used = self.columns.iter().filter(|(_, meaning)| meaning.field.is_some());
        used.filter(|(name, _)| !present.contains(&numbered_plain(name))).map(|(name, _)| name.as_str()).collect()
    }

    /// The cells of a row of `header` with the person's word for those that can be read in several ways; `None` where there is none.
    pub(super) fn settled(&self, header: &[String], cells: &[String]) -> Option<Vec<String>> {
        let mut settled: Option<Vec<String>> = None;
        for (column, words) in &self.cells {
            let Some(at) = header.iter().position(|name| self.same_column(name, column)) else { continue };
            let meant = cells.get(at).and_then(|cell| words.get(cell.trim()));
            if let Some(meant) = meant {
                settled.get_or_insert_with(|| cells.to_vec())[at].clone_from(meant);
            }
        }
        settled
    }

    /// Reads a mapping from memory; `path` is for messages.
    ///
    /// # Errors
    /// When the bytes are no mapping of a version known here.
    pub fn from_slice(bytes: &[u8], path: &Path) -> Result<Self, MappingError> {
        let unusable = |message: String| MappingError::Unusable { path: path.to_owned(), message };
        let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
        let mut value: serde_json::Value =
            json::parse(bytes).map_err(|error| unusable(format!("expected JSON ({error})")))?;
        let fields = value.as_object_mut().ok_or_else(|| unusable("expected a JSON object".into()))?;
        if fields.remove("format").as_ref().and_then(serde_json::Value::as_str) != Some(FORMAT) {
            return Err(unusable(format!("format: expected \"{FORMAT}\"")));
        }
        if fields.remove("version").as_ref().and_then(serde_json::Value::as_u64) != Some(VERSION) {
            return Err(unusable(format!("version: expected {VERSION}")));
        }
        let mut mapping: Self = serde_path_to_error::deserialize(value)
            .map_err(|error| unusable(format!("{}: {}", error.path(), error.inner())))?;
        let aside = mapping.columns.values_mut().filter(|column| column.set_aside == Some(true));
        aside.for_each(|column| column.field = None);
        mapping.complaint().map_or(Ok(mapping), |message| Err(unusable(message)))
    }

    /// Reads the mapping file at `path`.
    ///
    /// # Errors
    /// When the file cannot be read or is no mapping.
    pub fn read(path: &Path) -> Result<Self, MappingError> {
        let bytes = bounded::read(path, bounded::JOB_BYTES_MAX)
            .map_err(|source| MappingError::Unreadable { path: path.to_owned(), source })?;
        Self::from_slice(&bytes, path)
    }

    /// The mapping as the text of a mapping file.
    pub fn to_text(&self) -> String {
        let mut fields = serde_json::Map::new();
        fields.insert("format".into(), FORMAT.into());
        fields.insert("version".into(), VERSION.into());
        if let Ok(serde_json::Value::Object(body)) = serde_json::to_value(self) {
            fields.extend(body);
        }
        let mut text = serde_json::to_string_pretty(&serde_json::Value::Object(fields)).unwrap_or_default();
        text.push('\n');
        text
    }

    /// The first figure that cannot be meant.
    fn complaint(&self) -> Option<String> {
        let every = self.every_row.numbers.iter().find_map(|(name, &value)| {
            let Some(field) = crate::domain::CAN_NUMBERS.iter().find(|field| field.name == name) else {
                return Some(format!("every_row.{name}: expected the name of a numeric column of the catalogue"));
            };
            Some(format!("every_row.{name}: {}, not {value}", field.bounds.complaint(value)?))
        });
        let column = || {
            self.columns.iter().find_map(|(name, meaning)| {
                let bad = meaning.hz.is_some_and(|hz| !(hz > 0.0 && hz.is_finite()));
                bad.then(|| format!("columns.{name}.hz: expected a frequency above 0"))
            })
        };
        let life = || {
            let bad = self.endurance_h.iter().find(|(_, hours)| !(**hours > 0.0 && hours.is_finite()))?;
            Some(format!("endurance_h.{}: expected hours above 0", bad.0))
        };
        every.or_else(column).or_else(life)
    }
}

/// [`plain`] with the number of a repeated name, so that `MPN` and `MPN (2)` stay apart.
fn numbered_plain(header: &str) -> String {
    let number = header.trim().rsplit_once(" (").and_then(|(_, rest)| rest.strip_suffix(')'));
    let number = number.filter(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit())).unwrap_or_default();
    format!("{} {number}", plain(header))
}

/// The set of header names by which a mapping is remembered.
pub fn header_set(header: &[String]) -> String {
    let mut names: Vec<String> = header.iter().map(|name| numbered_plain(name)).collect();
    names.sort_unstable();
    names.join("\n")
}

impl Mapping {
    /// What may be remembered for another file with the same headers: what its columns hold and in which unit, never its figures.
    fn meanings(&self) -> Self {
        let meaning = |meaning: &ColumnMeaning| ColumnMeaning {
            field: meaning.field,
            unit: meaning.unit,
            ..ColumnMeaning::default()
        };
        let columns = self.columns.iter().map(|(name, of)| (name.clone(), meaning(of))).collect();
        Self { columns, y_down: self.y_down, boards: self.boards.clone(), ..Self::empty(self.target) }
    }

    /// Takes over what was remembered; what was taken over and differs, in words.
    pub fn take_over(&mut self, remembered: &Self) -> Vec<String> {
        let mut said = Vec::new();
        for (name, of) in &remembered.meanings().columns {
            let own = self.column_mut(name);
            let unit = of.unit.or(own.unit);
            if (own.field, own.unit) != (of.field, unit) {
                let field = of.field.map_or("not used", Field::label);
                let unit_said = unit.map_or_else(String::new, |unit| format!(", {}", unit.symbol()));
                said.push(format!("{name}: {field}{unit_said}"));
            }
            if own.field != of.field {
                *own = ColumnMeaning::default();
            }
            (own.field, own.unit) = (of.field, unit);
        }
        if remembered.y_down.is_some() && self.y_down != remembered.y_down {
            self.y_down = remembered.y_down;
            said.push("y grows downwards".to_owned());
        }
        if remembered.boards.is_some() && self.boards != remembered.boards {
            self.boards.clone_from(&remembered.boards);
            said.push(format!("boards by the column {}", self.boards.as_deref().unwrap_or_default()));
        }
        said
    }
}

/// The remembered mapping for a header set, from the folder where mappings are kept.
pub fn recall(folder: &Path, header: &[String], target: Target) -> Option<Mapping> {
    let path = folder.join(file_name(header, target));
    let mapping = Mapping::read(&path).ok()?;
    (mapping.target == target && mapping.missing_in(header).is_empty()).then_some(mapping)
}

/// Remembers what the columns of a file mean for its header set; figures of the file are not remembered.
///
/// # Errors
/// When the folder cannot be written.
pub fn remember(folder: &Path, header: &[String], mapping: &Mapping) -> Result<(), SaveError> {
    std::fs::create_dir_all(folder).map_err(|source| SaveError { path: folder.to_owned(), source })?;
    save(&folder.join(file_name(header, mapping.target)), mapping.meanings().to_text().as_bytes())
}

/// The folder where this person's mappings are kept, where the system has one.
pub fn own_folder() -> Option<PathBuf> {
    Some(directories::ProjectDirs::from("", "", "refarad")?.config_dir().join("mappings"))
}

fn file_name(header: &[String], target: Target) -> String {
    let hash = Stamp::of(header_set(header).as_bytes()).fnv1a;
    format!("{}-{hash:016x}.json", target.word())
}

#[expect(clippy::ref_option, clippy::trivially_copy_pass_by_ref, reason = "the signature serde asks for")]
fn unit_out<S: Serializer>(unit: &Option<Unit>, serializer: S) -> Result<S::Ok, S::Error> {
    unit.map(Unit::symbol).serialize(serializer)
}

fn unit_in<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Unit>, D::Error> {
    let Some(text) = Option::<String>::deserialize(deserializer)? else { return Ok(None) };
    let unit = if text == Unit::Ratio.symbol() { Some(Unit::Ratio) } else { Unit::parse(text.trim()) };
    unit.map(Some)
        .ok_or_else(|| serde::de::Error::custom(format!("`{text}` is no unit; expected for instance uF, mA, V, mil")))
}
