//! Header names as they stand in real files, and the decoys among them.
//!
//! Spellings counted in public parts lists, parts lists of boards and placement files, with the canonical names beside them. Names are
//! compared by their letters and digits in lower case.

use std::sync::LazyLock;

use hashbrown::{HashMap, HashSet};

use super::field::{Field, Target};
use crate::files::table::Known;

/// Letters and digits of a header in lower case, µ as u, without the number of a repeated name: `Cap (µF)` and `cap_uf` are the same.
pub fn plain(header: &str) -> String {
    let trimmed = header.trim();
    // `MPN (2)` is the second column named MPN.
    let name = match trimmed.rsplit_once(" (") {
        Some((name, rest)) if rest.strip_suffix(')').is_some_and(|n| n.bytes().all(|b| b.is_ascii_digit())) => name,
        _ => trimmed,
    };
    let mut plain = String::with_capacity(name.len());
    for c in name.chars().flat_map(char::to_lowercase) {
        match c {
            '\u{B5}' | '\u{3BC}' => plain.push('u'),
            'ø' | 'φ' | 'ϕ' | '⌀' => plain.push('d'),
            '×' => plain.push('x'),
            // `manf#` is the number, `manf` the maker.
            '#' => plain.push_str("no"),
            c => plain.extend(Some(c).filter(|c| c.is_alphanumeric())),
        }
    }
    plain
}

/// A German name without its dots, as printers that lack them write it: `Gehaeuse`.
fn spelled_out(name: &str) -> String {
    name.to_lowercase().replace('ä', "ae").replace('ö', "oe").replace('ü', "ue").replace('ß', "ss")
}

/// The names of `synonyms.txt`: those of fields by their section, the others by the key before them.
#[derive(Default)]
struct Names {
    of_fields: HashMap<&'static str, Vec<(Field, &'static str)>>,
    under: HashMap<&'static str, Vec<&'static str>>,
}

static NAMES: LazyLock<Names> = LazyLock::new(|| {
    let (mut all, mut section, mut key) = (Names::default(), "", "");
    for line in include_str!("synonyms.txt").lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        if let Some(name) = line.strip_prefix('[') {
            section = name.trim_end_matches(']');
            continue;
        }
        let (begins, names) = line.split_once(" = ").unwrap_or(("", line));
        if !begins.is_empty() {
            key = begins;
        }
        let names = names.split('|').map(str::trim).filter(|name| !name.is_empty());
        match Field::of_key(key) {
            Some(field) => all.of_fields.entry(section).or_default().extend(names.map(|name| (field, name))),
            None => all.under.entry(key).or_default().extend(names),
        }
    }
    all
});

/// The names of a section with their fields.
fn of_fields(section: &str) -> impl Iterator<Item = (Field, &'static str)> {
    NAMES.of_fields.get(section).into_iter().flatten().copied()
}

/// The names under a key that is no field.
fn under(key: &str) -> impl Iterator<Item = &'static str> {
    NAMES.under.get(key).into_iter().flatten().copied()
}

/// The field whose known name begins this comparable name, or stands in it and the target can use it.
pub(super) fn partly(name: &str, target: Target) -> Option<Field> {
    let begins = of_fields("beginnings").find(|(field, of)| name.starts_with(of) && field.serves(target));
    let inside = || of_fields("inside").find(|(field, of)| name.contains(of) && field.serves(target));
    begins.or_else(inside).map(|(field, _)| field)
}

/// Places of the whole names, comparable: their fields, each with the place among all names.
static PLACES: LazyLock<HashMap<String, Vec<(Field, usize)>>> = LazyLock::new(|| {
    let mut places: HashMap<String, Vec<(Field, usize)>> = HashMap::new();
    for (at, (field, name)) in of_fields("names").enumerate() {
        for name in [plain(name), plain(&spelled_out(name))] {
            let of_name = places.entry(name).or_default();
            if of_name.iter().all(|(known, _)| *known != field) {
                of_name.push((field, at));
            }
        }
    }
    places
});

static PLAIN_DECOYS: LazyLock<HashSet<String>> = LazyLock::new(|| under("decoy").map(plain).collect());

static KNOWN: LazyLock<Known> = LazyLock::new(|| {
    let names = of_fields("names").flat_map(|(_, name)| [name.to_owned(), spelled_out(name)]);
    let decoys = under("decoy").filter(|name| name.len() > 3).map(str::to_owned);
    let all: Vec<String> = names.chain(decoys).collect();
    Known::new(all.iter().map(String::as_str))
});

/// The first field that serves the target and has this comparable name.
pub(super) fn whole(name: &str, target: Target) -> Option<Field> {
    PLACES.get(name)?.iter().map(|(field, _)| *field).find(|field| field.serves(target))
}

/// Place of a comparable name among all names, of those of a field the first being the best.
pub(super) fn place(name: &str, field: Field) -> Option<usize> {
    PLACES.get(name)?.iter().find(|(known, _)| *known == field).map(|(_, at)| *at)
}

/// Whether a comparable name is that of a measured figure or of a replacement.
pub(super) fn is_of_another(name: &str) -> bool {
    under("of_another").any(|word| name.contains(word)) && !name.contains("ersatzserien")
}

/// Whether a comparable name looks like one thing and holds another.
pub(super) fn is_decoy(name: &str) -> bool {
    PLAIN_DECOYS.contains(name)
}

/// Every whole name: what the table reader looks for to find the header row.
pub fn known() -> &'static Known {
    &KNOWN
}
