//! Figures for every position of a board that does not say them itself: what the parts list of a board never holds, given in one go.

use serde_json::Value;

use super::answer::set;
use crate::domain::schema::{self, Access, Field, Kind};
use crate::domain::{Board, Position};
use crate::files::{entry, job_check};

/// A value for a field of a position by its name in the job file.
#[derive(Debug, Clone, PartialEq)]
pub struct ForEvery {
    name: &'static str,
    text: String,
}

impl ForEvery {
    /// `stress.dc_v = 24 V`; fields that are a list take rows of figures, `stress.ripple = 100:0.4;20000:0.1`, or what would stand in the
    /// job file: `stress.phases = [{"share": 1, "ambient_c": 45}]`.
    ///
    /// # Errors
    /// In words, when no position has such a field, or the value cannot stand there.
    pub fn parse(text: &str) -> Result<Self, String> {
        let expected = || format!("`{text}`: expected a field of a position and its value, such as stress.dc_v=24");
        let (name, value) = text.split_once('=').ok_or_else(expected)?;
        let (name, value) = (name.trim(), value.trim());
        if name.is_empty() || value.is_empty() {
            return Err(expected());
        }
        let field = schema::of_position().find(|field| field.path == name).ok_or_else(|| {
            let near = schema::nearest(name, schema::of_position().map(|field| field.path));
            let near = near.map_or_else(String::new, |near| format!("; did you mean {near}?"));
            format!("{name}: a position has no such field{near}")
        })?;
        let every = Self { name: field.path, text: value.to_owned() };
        let mut position = Position::default();
        every.fill(field, &mut position)?;
        if matches!(field.access, Access::Number(..) | Access::Text(..)) && field.is_empty(&position) {
            return Err(format!("{name}: {value} says nothing; expected a value"));
        }
        Ok(every)
    }

    /// Gives it to the positions of a board that do not have it.
    ///
    /// # Errors
    /// In words, when the value cannot stand there.
    pub fn apply(&self, board: &mut Board) -> Result<(), String> {
        let Some(field) = schema::of_position().find(|field| field.path == self.name) else { return Ok(()) };
        board.positions.iter_mut().try_for_each(|position| self.fill(field, position))
    }

    fn fill(&self, field: &Field<Position>, position: &mut Position) -> Result<(), String> {
        let wrong = |reason: String| format!("{}: {reason}", self.name);
        if matches!(field.kind, Kind::Rows | Kind::Object | Kind::Words(_)) {
            return self.fill_list(field, position).map_err(wrong);
        }
        // The role of an imported position is assumed until somebody says it.
        let assumed = self.name == "role" && position.role_assumed;
        if field.is_empty(position) || assumed {
            entry::enter(field, position, &self.text).map_err(wrong)?;
        }
        Ok(())
    }

    fn fill_list(&self, field: &Field<Position>, position: &mut Position) -> Result<(), String> {
        let path: Vec<String> = self.name.split('.').map(str::to_owned).collect();
        let mut fields = serde_json::to_value(&*position).map_err(|error| error.to_string())?;
        if fields.pointer(&format!("/{}", path.join("/"))).is_some() {
            return Ok(());
        }
        set(&mut fields, &path, list(field, &self.text)?);
        // As a position of a job, so that the reader's checks hold here too.
        let mut job = serde_json::json!({"boards": [{"positions": [fields]}]});
        if let Some(fault) = job_check::clean(&mut job).first() {
            return Err(fault.message.clone());
        }
        let fields = job.pointer_mut("/boards/0/positions/0").map(Value::take).unwrap_or_default();
        *position = serde_json::from_value(fields).map_err(|error| error.to_string())?;
        Ok(())
    }
}

/// A list as it would stand in the job file: written so, or as words, or as rows of figures in the order of the schema.
fn list(field: &Field<Position>, text: &str) -> Result<Value, String> {
    if text.starts_with(['[', '{']) {
        return serde_json::from_str(text).map_err(|error| format!("expected a list as in a job file ({error})"));
    }
    if matches!(field.kind, Kind::Words(_)) {
        return Ok(text.split([';', ',']).map(str::trim).collect());
    }
    let columns: Vec<_> = schema::all()
        .filter_map(|about| match about.kind {
            Kind::Number(unit, bounds) => Some((about.path.strip_prefix(field.path)?.strip_prefix('.')?, unit, bounds)),
            _ => None,
        })
        .collect();
    let row = |row: &str| -> Result<Value, String> {
        let figures: Vec<&str> = row.split(':').collect();
        if figures.len() > columns.len() || row.trim().is_empty() {
            let names: Vec<&str> = columns.iter().map(|column| column.0).collect();
            return Err(format!("`{row}`: expected rows of {}, such as 100:0.4;20000:0.1", names.join(":")));
        }
        let read = |(text, &(name, unit, bounds)): (&str, &(&str, _, _))| match entry::read(unit, bounds, text)? {
            None if !text.trim().is_empty() => Err(format!("{name}: {text} says nothing; expected a number")),
            value => Ok((name.to_owned(), Value::from(value))),
        };
        figures.into_iter().zip(&columns).map(read).collect()
    };
    text.split(';').map(row).collect()
}
