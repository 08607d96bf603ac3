//! JSON as the program takes it from files: no key twice in one object, and no more than the memory for it allows.

use std::cell::Cell;

use serde::de::{DeserializeSeed, Deserializer, Error as _, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Number, Value};

/// What is always taken, bytes of memory.
const MEMORY_LEAST: usize = 200 << 20;
/// Beyond that so many times the size of the file.
const MEMORY_PER_BYTE: usize = 15;
/// What a value takes with its key, bytes: those of the tree and of what is made of it.
const MEMORY_PER_VALUE: usize = 2 * (size_of::<Value>() + size_of::<String>());
/// What an object takes besides: what is made of it has many fields, most of them empty.
const MEMORY_PER_OBJECT: usize = 256;

/// The value of a file.
///
/// # Errors
/// When the bytes are not JSON, a key stands twice in one object, or the values would take far more memory than the file is large.
pub(super) fn parse(bytes: &[u8]) -> serde_json::Result<Value> {
    let left = Cell::new(memory_for(bytes));
    let mut reader = serde_json::Deserializer::from_slice(bytes);
    let value = Strict { left: &left }.deserialize(&mut reader)?;
    reader.end()?;
    Ok(value)
}

/// Memory that may be taken for a file, bytes.
pub(super) fn memory_for(bytes: &[u8]) -> usize {
    MEMORY_LEAST.saturating_add(bytes.len().saturating_mul(MEMORY_PER_BYTE))
}

#[derive(Clone, Copy)]
struct Strict<'a> {
    /// Bytes that may still be taken.
    left: &'a Cell<usize>,
}

impl Strict<'_> {
    fn take<E: serde::de::Error>(self, bytes: usize) -> Result<(), E> {
        let Some(left) = self.left.get().checked_sub(bytes) else {
            return Err(E::custom("far more values than a file of this size holds; not read any further"));
        };
        self.left.set(left);
        Ok(())
    }
}

impl<'de> DeserializeSeed<'de> for Strict<'_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        self.take(MEMORY_PER_VALUE)?;
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Strict<'_> {
    type Value = Value;

    fn expecting(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(Value::Number(value.into()))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(Value::Number(value.into()))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Value, E> {
        Ok(Number::from_f64(value).map_or(Value::Null, Value::Number))
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(Value::String(value.to_owned()))
    }

    fn visit_string<E>(self, value: String) -> Result<Value, E> {
        Ok(Value::String(value))
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Value, A::Error> {
        let mut all = Vec::new();
        while let Some(item) = items.next_element_seed(self)? {
            all.push(item);
        }
        Ok(Value::Array(all))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Value, A::Error> {
        self.take(MEMORY_PER_OBJECT)?;
        let mut all = Map::new();
        while let Some(key) = fields.next_key::<String>()? {
            if all.contains_key(&key) {
                let key: String = key.chars().take(80).collect();
                return Err(A::Error::custom(format!(
                    "the key \"{key}\" stands twice in one object; expected it once"
                )));
            }
            let value = fields.next_value_seed(self)?;
            all.insert(key, value);
        }
        Ok(Value::Object(all))
    }
}

#[cfg(test)]
#[path = "../../tests/within/json.rs"]
mod tests;
