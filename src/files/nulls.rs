//! `null` in a job file: the same as an absent field where the field is known, kept as it stands in fields of a later version.

use std::collections::HashMap;

use serde_json::{Map, Value, json};

/// Removes every `null` of a known field; unknown fields stay untouched with everything in them. `reads` says whether a document is
/// read without complaint; a field is unknown when the document is read whatever stands in it.
pub(super) fn drop_of_known(document: &mut Value, reads: &dyn Fn(Value) -> bool) {
    let mut pruner = Pruner { reads, known: HashMap::new() };
    pruner.walk(document, "", &|object| object);
}

/// More than any object of the job file has that is known.
const SCALARS_LOOKED_AT: usize = 80;

/// Longer than any word that tells kinds of objects apart.
const WORD_BYTES: usize = 64;

struct Pruner<'a> {
    reads: &'a dyn Fn(Value) -> bool,
    /// By the kind of object and the name of the field.
    known: HashMap<(String, String), bool>,
}

/// What no field of the job file can hold.
fn impossible() -> Value {
    json!([[null]])
}

fn holds_null(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::Object(fields) => fields.values().any(holds_null),
        Value::Array(items) => items.iter().any(holds_null),
        _ => false,
    }
}

impl Pruner<'_> {
    /// `around` puts an object of this kind into a document with nothing else in it.
    fn walk(&mut self, value: &mut Value, kind: &str, around: &dyn Fn(Value) -> Value) {
        match value {
            Value::Object(fields) => self.object(fields, kind, around),
            Value::Array(items) => {
                for item in items.iter_mut().filter(|item| holds_null(item)) {
                    self.walk(item, kind, &|inner| around(Value::Array(vec![inner])));
                }
            }
            _ => {}
        }
    }

    fn object(&mut self, fields: &mut Map<String, Value>, kind: &str, around: &dyn Fn(Value) -> Value) {
        let scalar = |value: &Value| match value {
            Value::String(text) => text.len() <= WORD_BYTES,
            value => value.is_number() || value.is_boolean(),
        };
        // What an object cannot do without stands among its first figures and words; a strange one may have any number.
        let shell: Map<String, Value> = fields
            .iter()
            .filter(|(_, value)| scalar(value))
            .take(SCALARS_LOOKED_AT)
            .map(|(name, value)| (name.clone(), value.clone()))
            .collect();
        let with = |name: &str, value: Value| {
            let mut object = shell.clone();
            object.insert(name.to_owned(), value);
            around(Value::Object(object))
        };
        let with_null: Vec<String> =
            fields.iter().filter(|(_, value)| holds_null(value)).map(|(name, _)| name.clone()).collect();
        for name in with_null {
            let reads = self.reads;
            let known =
                *self.known.entry((kind.to_owned(), name.clone())).or_insert_with(|| !reads(with(&name, impossible())));
            match fields.get_mut(&name) {
                Some(Value::Null) if known => _ = fields.remove(&name),
                Some(inner) if known => self.walk(inner, &format!("{kind}/{name}"), &|inner| with(&name, inner)),
                _ => {}
            }
        }
    }
}
