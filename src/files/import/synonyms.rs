//! Header names as they stand in real files, and the decoys among them.
//!
//! Spellings counted in public parts lists, parts lists of boards and placement files, with the canonical names beside them, stand in
//! `synonyms.tsv`: kind of row, field by its name in a mapping, spellings; tabs between them, several rows of a field add up.
//! Names are compared by their letters and digits in lower case.

use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error, StrDeserializer};

use super::field::{Field, Target};
use crate::files::table::Known;

/// Letters and digits of a header in lower case, µ as u, without the number of a repeated name: `Cap (µF)` and `cap_uf` are the same.
#[must_use]
pub fn plain(header: &str) -> String {
    let trimmed = header.trim();
    // `MPN (2)` is the second column named MPN.
    let name = match trimmed.rsplit_once(" (") {
        Some((name, rest)) if rest.strip_suffix(')').is_some_and(|n| n.bytes().all(|b| b.is_ascii_digit())) => name,
        _ => trimmed,
    };
    name.chars()
        .flat_map(char::to_lowercase)
        .flat_map(|c| match c {
            '\u{B5}' | '\u{3BC}' => ['u', '-'],
            'ø' | 'φ' | 'ϕ' | '⌀' => ['d', '-'],
            // `manf#` is the number, `manf` the maker.
            '×' => ['x', '-'],
            '#' => ['n', 'o'],
            c => [c, '-'],
        })
        .filter(|c| c.is_alphanumeric())
        .collect()
}

const ROWS: &str = include_str!("synonyms.tsv");

/// Spellings by field, in the order of the file.
type ByField = Vec<(Field, Vec<&'static str>)>;

/// The rows of the file by kind.
#[derive(Default)]
pub(super) struct Lists {
    /// Whole names; of a field the first is the best.
    names: ByField,
    /// Beginnings of names; the rest of such a name is unit and condition. The first that fits decides.
    pub(super) beginnings: ByField,
    /// Words that, anywhere in a name, say what it heads; the rest is unit and condition. The first that fits decides.
    pub(super) inside: ByField,
    /// Whole names of columns that look like one thing and hold another: never proposed.
    decoys: Vec<&'static str>,
    /// Words in a name that say the figure was measured, or is that of another part than the one listed.
    of_another: Vec<&'static str>,
}

impl Lists {
    /// Takes a row in; `None` when it says nothing that is known.
    fn take(&mut self, row: &'static str) -> Option<()> {
        let mut cells = row.split('\t');
        let (kind, field) = (cells.next()?, cells.next()?);
        let list = match kind {
            "decoy" => {
                self.decoys.extend(cells);
                return Some(());
            }
            "another" => {
                self.of_another.extend(cells);
                return Some(());
            }
            "name" => &mut self.names,
            "beginning" => &mut self.beginnings,
            "inside" => &mut self.inside,
            _ => return None,
        };
        let by_name: StrDeserializer<Error> = field.into_deserializer();
        let field = Field::deserialize(by_name).ok()?;
        match list.last_mut().filter(|(last, _)| *last == field) {
            Some((_, spellings)) => spellings.extend(cells),
            None => list.push((field, cells.collect())),
        }
        Some(())
    }
}

pub(super) static LISTS: LazyLock<Lists> = LazyLock::new(|| {
    let mut lists = Lists::default();
    for row in ROWS.lines() {
        // A test holds every row to be one that is understood.
        let _ = lists.take(row);
    }
    lists
});

/// Places of the whole names, comparable, in order: field and place within the field.
static PLACES: LazyLock<HashMap<String, Vec<(Field, usize)>>> = LazyLock::new(|| {
    let mut places: HashMap<String, Vec<(Field, usize)>> = HashMap::new();
    for (field, names) in &LISTS.names {
        for (at, name) in names.iter().enumerate() {
            let of_name = places.entry(plain(name)).or_default();
            if of_name.iter().all(|(known, _)| known != field) {
                of_name.push((*field, at));
            }
        }
    }
    places
});

static PLAIN_DECOYS: LazyLock<HashSet<String>> =
    LazyLock::new(|| LISTS.decoys.iter().map(|name| plain(name)).collect());

static KNOWN: LazyLock<Known> = LazyLock::new(|| {
    let names = LISTS.names.iter().flat_map(|(_, names)| names.iter().copied());
    Known::new(names.chain(LISTS.decoys.iter().copied().filter(|name| name.len() > 3)))
});

/// The first field that serves the target and has this comparable name.
pub(super) fn whole(name: &str, target: Target) -> Option<Field> {
    PLACES.get(name)?.iter().map(|(field, _)| *field).find(|field| field.serves(target))
}

/// Place of a comparable name among the names of a field, the first being the best.
pub(super) fn place(name: &str, field: Field) -> Option<usize> {
    PLACES.get(name)?.iter().find(|(known, _)| *known == field).map(|(_, at)| *at)
}

/// Whether a comparable name is that of a measured figure or of a replacement.
pub(super) fn is_of_another(name: &str) -> bool {
    LISTS.of_another.iter().any(|word| name.contains(word)) && !name.contains("ersatzserien")
}

/// Whether a comparable name looks like one thing and holds another.
pub(super) fn is_decoy(name: &str) -> bool {
    PLAIN_DECOYS.contains(name)
}

/// Every whole name: what the table reader looks for to find the header row.
#[must_use]
pub fn known() -> &'static Known {
    &KNOWN
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_file_has_a_known_kind_and_field_and_a_spelling() {
        for (at, row) in ROWS.lines().enumerate() {
            assert!(Lists::default().take(row).is_some() && row.split('\t').count() > 2, "line {}: {row}", at + 1);
            assert!(row.split('\t').all(|cell| !cell.trim().is_empty() && cell.trim() == cell), "line {}", at + 1);
        }
        for list in [&LISTS.names, &LISTS.beginnings, &LISTS.inside] {
            let fields: HashSet<Field> = list.iter().map(|(field, _)| *field).collect();
            assert_eq!(fields.len(), list.len(), "rows of one field stand together");
        }
        // Beginnings and words are looked for in comparable names.
        for (_, words) in LISTS.beginnings.iter().chain(&LISTS.inside) {
            assert!(words.iter().all(|word| plain(word) == *word), "{words:?}");
        }
        assert_eq!(whole(&plain("Hersteller"), Target::Parts), Some(Field::Maker));
    }
}
