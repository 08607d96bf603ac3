//! A job document against the schema: `null` means absent, and what no field can hold is taken out and listed.

use serde_json::Value;

use super::notation::number;
use crate::domain::schema::{self, About, Kind, Several, Text};

/// A value that a field of the job cannot hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Where it stands: `boards[0].positions[2] (C3): stress.dc_v`.
    pub field: String,
    /// What was expected and what was found.
    pub message: String,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.field, self.message)
    }
}

/// Takes out of a document what stands where a known field cannot hold it, and every `null` of a known field. Fields the schema
/// does not know stay as they are: they may be of a later version.
pub(super) fn clean(document: &mut Value) -> Vec<Fault> {
    let mut faults = Vec::new();
    object(document, "", "", &mut faults);
    faults
}

/// The path in the schema of a path in the document without indices.
fn in_schema(path: &str) -> String {
    if let Some(of_position) = path.strip_prefix("boards.positions.") {
        return of_position.to_owned();
    }
    if let Some(of_board) = path.strip_prefix("boards.")
        && (of_board.starts_with("other_parts.") || of_board.starts_with("test_points."))
    {
        return of_board.to_owned();
    }
    if let Some((_, of_phase)) = path.split_once("conditions.phases.") {
        return format!("stress.phases.{of_phase}");
    }
    match path.split_once('.') {
        Some(("boards", rest)) => format!("board.{rest}"),
        Some((
            "policy" | "uncertainty" | "shelf" | "variants" | "other_parts" | "test_points" | "unit_types" | "bench",
            _,
        )) => path.to_owned(),
        _ => format!("job.{path}"),
    }
}

/// Lists whose rows are named by their reference.
const LISTS: [&str; 5] = ["boards.positions", "boards.other_parts", "boards.test_points", "other_parts", "test_points"];

fn object(value: &mut Value, path: &str, place: &str, faults: &mut Vec<Fault>) {
    let reference = value.get("ref").and_then(Value::as_str).filter(|_| LISTS.contains(&path)).map(short);
    let Value::Object(fields) = value else { return };
    fields.retain(|name, inner| {
        let path = if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
        let here = match &reference {
            Some(reference) => format!("{place} ({reference}): {name}"),
            None if place.is_empty() => name.clone(),
            None if place.ends_with(')') => format!("{place}: {name}"),
            None => format!("{place}.{name}"),
        };
        let Some(about) = schema::find(&in_schema(&path)) else { return true };
        if inner.is_null() {
            return false;
        }
        match complaint(about, inner) {
            Some(message) => {
                faults.push(Fault { field: here, message });
                return false;
            }
            None if matches!(about.kind, Kind::Rows | Kind::Object) => rows(inner, &path, &here, faults),
            None => {}
        }
        true
    });
}

/// What stands in an object, or in each of a list of them.
fn rows(value: &mut Value, path: &str, place: &str, faults: &mut Vec<Fault>) {
    match value {
        Value::Array(items) => {
            let mut at = 0;
            items.retain_mut(|item| {
                let place = format!("{place}[{at}]");
                at += 1;
                let usable = item.is_object();
                if usable {
                    object(item, path, &place, faults);
                } else {
                    faults.push(Fault { field: place, message: stands(item, "expected an object with fields") });
                }
                usable
            });
        }
        _ => object(value, path, place, faults),
    }
}

/// What was expected and what was found.
fn stands(value: &Value, expected: &str) -> String {
    let text = value.as_f64().map_or_else(|| value.to_string(), |figure| number(Some(figure)));
    format!("{expected}, not {}", short(&text))
}

/// As much of a text as a message has room for.
fn short(text: &str) -> String {
    const MOST: usize = 60;
    let more = if text.chars().nth(MOST).is_some() { "…" } else { "" };
    text.chars().take(MOST).chain(more.chars()).collect()
}

/// `None` when the field can hold the value. Whole numbers lose their decimal point.
fn complaint(about: &About, value: &mut Value) -> Option<String> {
    let expected = |expected: &str| Some(stands(value, expected));
    match about.kind {
        Kind::Number(_, bounds) => {
            let Some(figure) = value.as_f64() else { return expected("expected a number") };
            if let Some(complaint) = bounds.complaint(figure) {
                return expected(complaint);
            }
            // A whole number may be written 2000.0, and is read as one.
            #[expect(clippy::cast_possible_truncation, reason = "whole and below 2^53 by its bounds")]
            if bounds.whole() && value.is_f64() {
                *value = Value::from(figure as i64);
            }
            None
        }
        Kind::Word(words) => match value.as_str() {
            Some(word) if words.contains(&word) => None,
            _ => expected(&format!("expected {}", super::entry::one_of(words))),
        },
        Kind::Words(words) => match value.as_array() {
            Some(all) if all.iter().all(|word| word.as_str().is_some_and(|word| words.contains(&word))) => None,
            _ => expected(&format!("expected a list of {}", super::entry::one_of(words))),
        },
        Kind::Text(shape) => match value.as_str() {
            // An empty text says nothing, whatever its shape.
            Some("") if !matches!(shape, Text::Pairs(..)) => None,
            Some(text) => shape.complaint(text).and_then(expected),
            None => expected("expected a text"),
        },
        Kind::Texts => match value.as_array() {
            Some(all) if all.iter().all(is_line) => None,
            _ => expected("expected a list of texts of at most 500 characters"),
        },
        Kind::TextMap => match value.as_object() {
            Some(all) if all.values().all(is_line) => None,
            _ => expected("expected texts by name"),
        },
        Kind::Figures(bounds) => match value.as_object() {
            Some(all) => all.iter().find_map(|(name, figure)| {
                let complaint = figure.as_f64().map_or(Some("expected a number"), |figure| bounds.complaint(figure))?;
                Some(format!("{name}: {}", stands(figure, complaint)))
            }),
            None => expected("expected numbers by name"),
        },
        Kind::Flag => (!value.is_boolean()).then(|| stands(value, "expected true or false")),
        Kind::Points(figures, several) => {
            let fits = |point: &Value| {
                let point = point.as_array().filter(|point| point.len() == figures.len());
                let ok = |(value, (_, bounds)): (&Value, &(_, crate::domain::Bounds))| {
                    value.as_f64().is_some_and(|value| bounds.complaint(value).is_none())
                };
                point.is_some_and(|point| point.iter().zip(figures).all(ok))
            };
            let all = match several {
                Several::One => fits(value),
                Several::Many => value.as_array().is_some_and(|points| points.iter().all(fits)),
            };
            let names: Vec<&str> = figures.iter().map(|(name, _)| *name).collect();
            (!all).then(|| stands(value, &format!("expected {} as numbers, sizes above 0", names.join(", "))))
        }
        Kind::Object => (!value.is_object()).then(|| stands(value, "expected an object with fields")),
        Kind::Rows => (!value.is_array()).then(|| stands(value, "expected a list")),
    }
}

fn is_line(value: &Value) -> bool {
    value.as_str().is_some_and(|text| Text::Line.complaint(text).is_none())
}
