//! An answer to a question as it stands in a mapping: `columns."Rated ripple".unit = "mA"`, `every_row.endurance_h = 5000`.

use std::path::Path;

use serde_json::{Map, Value};

use super::mapping::{Mapping, MappingError};

/// An answer taken apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    path: Vec<String>,
    value: Value,
}

impl Answer {
    /// Takes a text apart; a value that is no JSON is a word.
    ///
    /// # Errors
    /// In words, when it has no name or no value.
    pub fn parse(text: &str) -> Result<Self, String> {
        let expected = || format!("`{text}`: expected a name and a value, such as columns.\"Ripple\".unit = \"mA\"");
        let (path, value) = split(text).ok_or_else(expected)?;
        let path = segments(path);
        if path.is_empty() || path.iter().any(String::is_empty) || value.is_empty() {
            return Err(expected());
        }
        let value = serde_json::from_str(value).unwrap_or_else(|_| Value::String(value.to_owned()));
        Ok(Self { path, value })
    }

    /// The column it is about, if it is about one.
    #[must_use]
    pub fn column(&self) -> Option<&str> {
        match self.path.as_slice() {
            [columns, name, ..] if columns == "columns" => Some(name),
            _ => None,
        }
    }

    /// Changes a mapping.
    ///
    /// # Errors
    /// When a mapping cannot say that.
    pub fn apply(&self, mapping: &mut Mapping) -> Result<(), MappingError> {
        let mut path = self.path.clone();
        if let Some(name) = self.column() {
            // The header as the mapping spells it.
            mapping.column_mut(name);
            let spelled = mapping.columns.keys().find(|known| mapping.same_column(known, name)).cloned();
            path[1] = spelled.unwrap_or_else(|| name.to_owned());
        }
        let mut text: Value = serde_json::from_str(&mapping.to_text()).unwrap_or_default();
        set(&mut text, &path, self.value.clone());
        *mapping = Mapping::from_slice(text.to_string().as_bytes(), Path::new("--answer"))?;
        Ok(())
    }
}

/// At the first `=` outside quotation marks.
fn split(text: &str) -> Option<(&str, &str)> {
    let mut quoted = false;
    for (at, c) in text.char_indices() {
        match c {
            '"' => quoted = !quoted,
            '=' if !quoted => return Some((text[..at].trim(), text[at + 1..].trim())),
            _ => {}
        }
    }
    None
}

/// Names between dots; a name in quotation marks may hold dots.
fn segments(path: &str) -> Vec<String> {
    let (mut all, mut name, mut quoted) = (Vec::new(), String::new(), false);
    for c in path.chars() {
        match c {
            '"' => quoted = !quoted,
            '.' if !quoted => all.push(std::mem::take(&mut name)),
            c => name.push(c),
        }
    }
    all.push(name);
    all
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
