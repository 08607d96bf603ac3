//! Header names as they stand in real files, and the decoys among them.
//!
//! Spellings counted in public parts lists, parts lists of boards and placement files, with the canonical names beside them. Names are
//! compared by their letters and digits in lower case.

use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

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

/// Fields with their names.
type Lists = Vec<(Field, Vec<&'static str>)>;

/// What `synonyms.txt` says.
#[derive(Default)]
struct Synonyms {
    names: Lists,
    beginnings: Lists,
    inside: Lists,
    decoys: Vec<&'static str>,
    of_another: Vec<&'static str>,
}

static SYNONYMS: LazyLock<Synonyms> = LazyLock::new(|| {
    let (mut all, mut section, mut key) = (Synonyms::default(), "", "");
    for line in include_str!("synonyms.txt").lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        if let Some(name) = line.strip_prefix('[') {
            section = name.trim_end_matches(']');
            continue;
        }
        let (begins, names) = line.split_once(" = ").unwrap_or(("", line));
        let (goes_on, names) = (begins.is_empty(), names.split('|').map(str::trim).filter(|name| !name.is_empty()));
        key = if goes_on { key } else { begins };
        let lists = match (section, key) {
            ("names", _) => &mut all.names,
            ("beginnings", _) => &mut all.beginnings,
            ("inside", _) => &mut all.inside,
            (_, "decoy") => {
                all.decoys.extend(names);
                continue;
            }
            _ => {
                all.of_another.extend(names);
                continue;
            }
        };
        match lists.last_mut().filter(|_| goes_on) {
            Some((_, known)) => known.extend(names),
            None => lists.extend(Field::of_key(key).map(|field| (field, names.collect()))),
        }
    }
    all
});

/// The field whose known name begins this comparable name, or stands in it and the target can use it.
pub(super) fn partly(name: &str, target: Target) -> Option<Field> {
    let serves = |field: Field| field.serves(target);
    let begins =
        SYNONYMS.beginnings.iter().find(|(field, all)| serves(*field) && all.iter().any(|of| name.starts_with(of)));
    let inside =
        || SYNONYMS.inside.iter().find(|(field, all)| serves(*field) && all.iter().any(|of| name.contains(of)));
    begins.or_else(inside).map(|(field, _)| *field)
}

/// Places of the whole names, comparable, in order: field and place within the field.
static PLACES: LazyLock<HashMap<String, Vec<(Field, usize)>>> = LazyLock::new(|| {
    let mut places: HashMap<String, Vec<(Field, usize)>> = HashMap::new();
    for (field, names) in &SYNONYMS.names {
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
    LazyLock::new(|| SYNONYMS.decoys.iter().map(|name| plain(name)).collect());

static KNOWN: LazyLock<Known> = LazyLock::new(|| {
    let names = SYNONYMS.names.iter().flat_map(|(_, names)| names.iter().copied());
    Known::new(names.chain(SYNONYMS.decoys.iter().copied().filter(|name| name.len() > 3)))
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
    SYNONYMS.of_another.iter().any(|word| name.contains(word)) && !name.contains("ersatzserien")
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
