//! An answer to a question as it stands in a mapping: `columns."Rated ripple".unit = "mA"`, `every_row.endurance_h = 5000`.

use std::fmt;
use std::path::Path;

use serde_json::{Map, Value};

use super::field::Field;
use super::mapping::{Mapping, MappingError};
use crate::files::cell::unit::Unit;

/// What a mapping is to say: values, each with the path it stands at.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer(Vec<(Vec<String>, Value)>);

impl Answer {
    /// A value at a path.
    pub fn at<const N: usize>(path: [&str; N], value: impl Into<Value>) -> Self {
        Self(vec![(path.map(str::to_owned).into(), value.into())])
    }

    /// The unit of bare numbers of a column.
    pub fn unit(column: &str, unit: Unit) -> Self {
        Self::at(["columns", column, "unit"], unit.symbol())
    }

    /// What a column holds; `None`: it is not used.
    pub fn means(column: &str, field: Option<Field>) -> Self {
        Self::at(["columns", column, "field"], serde_json::to_value(field).unwrap_or_default())
    }

    /// A figure for every row that does not say it, by the name of the catalogue's column.
    pub fn every_row(name: &str, value: f64) -> Self {
        Self::at(["every_row", name], value)
    }

    /// Both.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.0.extend(other.0);
        self
    }

    /// Takes a text apart; a value that is no JSON is a word.
    ///
    /// # Errors
    /// In words, when it has no name or no value.
    pub fn parse(text: &str) -> Result<Self, String> {
        let expected = || format!("`{text}`: expected a name and a value, such as columns.\"Ripple\".unit = \"mA\"");
        let (path, value) = split(text.trim()).ok_or_else(expected)?;
        if path.is_empty() || path.iter().any(String::is_empty) || value.is_empty() {
            return Err(expected());
        }
        let value = serde_json::from_str(value).unwrap_or_else(|_| Value::String(value.to_owned()));
        Ok(Self(vec![(path, value)]))
    }

    /// The column it is about, if it is about one.
    pub fn column(&self) -> Option<&str> {
        match self.0.first()?.0.as_slice() {
            [columns, name, ..] if columns == "columns" => Some(name),
            _ => None,
        }
    }

    /// Changes a mapping.
    ///
    /// # Errors
    /// When a mapping cannot say that.
    pub fn apply(&self, mapping: &mut Mapping) -> Result<(), MappingError> {
        let mut paths: Vec<Vec<String>> = self.0.iter().map(|(path, _)| path.clone()).collect();
        for path in &mut paths {
            if let [columns, name, ..] = path.as_mut_slice()
                && columns == "columns"
            {
                // The header as the mapping spells it.
                mapping.column_mut(name);
                let spelled = mapping.columns.keys().find(|known| mapping.same_column(known, name));
                *name = spelled.unwrap_or(name).clone();
            }
        }
        let mut text: Value = serde_json::from_str(&mapping.to_text()).unwrap_or_default();
        for (path, (_, value)) in paths.iter().zip(&self.0) {
            set(&mut text, path, value.clone());
        }
        *mapping = Mapping::from_slice(text.to_string().as_bytes(), Path::new("--answer"))?;
        Ok(())
    }
}

/// As a mapping file says it and [`Answer::parse`] takes it.
impl fmt::Display for Answer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let is_plain = |name: &str| !name.is_empty() && name.bytes().all(|b| b.is_ascii_lowercase() || b == b'_');
        let segment = |(at, name): (usize, &String)| {
            if at == 0 || is_plain(name) { name.clone() } else { Value::from(name.as_str()).to_string() }
        };
        let told = self.0.iter().enumerate().filter(|(at, (_, value))| *at == 0 || !value.is_null());
        let told = told.map(|(_, (path, value))| {
            let path: Vec<String> = path.iter().enumerate().map(segment).collect();
            let value = value.as_f64().map_or_else(|| value.to_string(), |number| number.to_string());
            format!("{} = {value}", path.join("."))
        });
        f.write_str(&told.collect::<Vec<_>>().join(" with "))
    }
}

/// Names between dots, up to the first `=`, and what is behind it; a name in quotation marks may hold either, and escapes as in JSON.
fn split(text: &str) -> Option<(Vec<String>, &str)> {
    let (mut all, mut name, mut at) = (Vec::new(), String::new(), 0);
    while let Some(c) = text[at..].chars().next() {
        let quoted = (c == '"').then(|| {
            let mut texts = serde_json::Deserializer::from_str(&text[at..]).into_iter::<String>();
            let escaped = texts.next().and_then(Result::ok).map(|name| (name, texts.byte_offset()));
            // A backslash that escapes nothing stands for itself.
            escaped.or_else(|| text[at + 1..].find('"').map(|end| (text[at + 1..=at + end].to_owned(), end + 2)))
        });
        match (quoted, c) {
            (Some(quoted), _) => {
                let (part, length) = quoted?;
                name.push_str(&part);
                at += length;
                continue;
            }
            (None, '=') => {
                all.push(name.trim_end().to_owned());
                return Some((all, text[at + 1..].trim()));
            }
            (None, '.') => all.push(std::mem::take(&mut name)),
            (None, c) => name.push(c),
        }
        at += c.len_utf8();
    }
    None
}

/// Puts a value where a path leads, making the objects on the way.
pub(crate) fn set(root: &mut Value, path: &[String], value: Value) {
    let Some((first, rest)) = path.split_first() else {
        *root = value;
        return;
    };
    if !root.is_object() {
        *root = Value::Object(Map::new());
    }
    if let Some(fields) = root.as_object_mut() {
        set(fields.entry(first.clone()).or_insert(Value::Null), rest, value);
    }
}
