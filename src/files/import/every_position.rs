//! Figures for every position of a board that does not say them itself: what the parts list of a board never holds, given in one go.

use serde_json::Value;

use super::answer::set;
use crate::domain::{Board, Position};
use crate::files::fields::POSITION;

/// A figure by its name in the job file.
#[derive(Debug, Clone, PartialEq)]
pub struct ForEvery {
    path: Vec<String>,
    value: Value,
}

impl ForEvery {
    /// `stress.dc_v = 24 V`; fields that are no figure take JSON: `stress.phases = [{"share": 1, "ambient_c": 45}]`.
    ///
    /// # Errors
    /// In words, when it is no name with a value, or the value cannot be that figure.
    pub fn parse(text: &str) -> Result<Self, String> {
        let expected = || format!("`{text}`: expected a field of a position and its value, such as stress.dc_v=24");
        let (name, value) = text.split_once('=').ok_or_else(expected)?;
        let (name, value) = (name.trim(), value.trim());
        if name.is_empty() || value.is_empty() {
            return Err(expected());
        }
        let value = match POSITION.iter().find(|field| field.name == name) {
            Some(field) => match field.measure.read(value, field.bounds) {
                Ok(Some(figure)) => Value::from(figure),
                Ok(None) => return Err(expected()),
                Err(reason) => return Err(format!("{name}: {reason}")),
            },
            None if !is_position_field(name) => return Err(unknown(name)),
            None => serde_json::from_str(value).unwrap_or_else(|_| Value::String(value.to_owned())),
        };
        Ok(Self { path: name.split('.').map(str::to_owned).collect(), value })
    }

    /// Gives it to the positions of a board that do not have it.
    ///
    /// # Errors
    /// In words, when no position has such a field.
    pub fn apply(&self, board: &mut Board) -> Result<(), String> {
        for position in &mut board.positions {
            let mut fields = serde_json::to_value(&*position).map_err(|error| error.to_string())?;
            let pointer = format!("/{}", self.path.join("/"));
            let is_said = fields.pointer(&pointer).is_some_and(|value| !matches!(value, Value::Null));
            // The role of an imported position is assumed until somebody says it.
            let assumed = position.role_assumed && self.path == ["role"];
            if is_said && !assumed {
                continue;
            }
            set(&mut fields, &self.path, self.value.clone());
            let name = self.path.join(".");
            let mut changed: Position = serde_path_to_error::deserialize(fields)
                .map_err(|error| format!("{name}: {}: {}", error.path(), error.inner()))?;
            if serde_json::to_value(&changed).ok().and_then(|value| value.pointer(&pointer).cloned()).is_none() {
                return Err(format!("{name}: a position has no such field, or it cannot be that"));
            }
            changed.role_assumed = position.role_assumed && self.path != ["role"];
            *position = changed;
        }
        Ok(())
    }
}

/// Fields of a position that are no figure: by the names of the job file.
const OTHERS: [&str; 15] = [
    "role",
    "note",
    "side",
    "original.label",
    "original.technology",
    "original.mounting",
    "original.endurance_basis",
    "original.life_basis",
    "stress.phases",
    "stress.ripple",
    "stress.ripple_from",
    "space.accepts",
    "parallel_group",
    "series_group",
    "needs.end_of_life",
];

fn is_position_field(name: &str) -> bool {
    OTHERS.contains(&name) || POSITION.iter().any(|field| field.name == name)
}

/// The message about a name that no field has, with the nearest that one has.
fn unknown(name: &str) -> String {
    let known = POSITION.iter().map(|field| field.name).chain(OTHERS);
    let nearest = known.min_by_key(|known| {
        // `dc_v` is meant for `stress.dc_v`.
        let last = known.rsplit('.').next().unwrap_or(known);
        distance(name, known).min(distance(name.rsplit('.').next().unwrap_or(name), last) + usize::from(name != last))
    });
    format!("{name}: a position has no such field; the nearest is {}", nearest.unwrap_or_default())
}

/// Letters to change, add or leave out between two names (Levenshtein).
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (at, letter) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = at + 1;
        for (column, other) in b.iter().enumerate() {
            let changed = diagonal + usize::from(letter != *other);
            diagonal = row[column + 1];
            row[column + 1] = changed.min(diagonal + 1).min(row[column] + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Role;

    fn board() -> Board {
        let known: Position = serde_json::from_str(r#"{"ref": "C1", "stress": {"dc_v": 12}}"#).unwrap();
        let open = Position {
            reference: "C2".into(),
            role: Some(Role::Decoupling),
            role_assumed: true,
            ..Position::default()
        };
        Board { positions: vec![known, open], ..Board::default() }
    }

    #[test]
    fn a_figure_goes_where_none_is_and_what_is_said_stays() {
        let mut board = board();
        for text in ["stress.dc_v = 24 V", "stress.phases=[{\"share\": 1, \"ambient_c\": 45}]", "role=output_filter"] {
            ForEvery::parse(text).unwrap().apply(&mut board).unwrap();
        }
        let dc_v: Vec<Option<f64>> = board.positions.iter().map(|position| position.stress.dc_v).collect();
        assert_eq!(dc_v, [Some(12.0), Some(24.0)]);
        assert_eq!((board.positions[1].role, board.positions[1].role_assumed), (Some(Role::OutputFilter), false));
        assert_eq!(board.positions[1].stress.phases.as_ref().map(Vec::len), Some(1));
    }

    #[test]
    fn what_cannot_be_meant_is_refused_in_words() {
        for (text, nearest) in [("dc_v=24", "stress.dc_v"), ("stress.dcv=24", "stress.dc_v"), ("rol=timing", "role")] {
            let said = ForEvery::parse(text).unwrap_err();
            assert!(said.ends_with(&format!("the nearest is {nearest}")), "{said}");
        }
        for text in ["stress.dc_v", "stress.dc_v=24 A", "=3"] {
            assert!(ForEvery::parse(text).is_err(), "{text}");
        }
        for text in ["stress.phases=warm", "role=something"] {
            assert!(ForEvery::parse(text).unwrap().apply(&mut board()).is_err(), "{text}");
        }
    }
}
