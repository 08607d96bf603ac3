//! Every field of a job and of a part, described once: its path in files, what it may hold, what its absence means, what it is
//! called, what it means, where the editor shows it, and how it is read and written.
//!
//! The tables stand here, or beside their type where a group of rows makes the type as well. Loader, editor, the entries of the other views, paste, `--every`, hover texts and the guide's tables walk these tables.

mod bounds;
mod can;
mod field;
mod job;
mod offer;
mod position;
mod rows;

use std::collections::HashMap;
use std::sync::LazyLock;

pub use super::board::UNIT_TYPE;
pub use super::other_part::{OTHER_PART, TEST_POINT};
pub use super::position::{ORIGIN, PHASE, POSITION, RIPPLE_LINE};
pub use super::shelf::SHELF;
pub use super::unit::{POSITION_RECORD, UNIT};
pub use super::variant::VARIANT;
pub use bounds::{Bounds, Unit};
pub use field::{About, Absent, Access, Field, Kind, Section, Several, Text, cut_to_note};
pub(in crate::domain) use field::{LIFE, PRACTICE, RIPPLE, RUBYCON, VISHAY};
pub use job::{BOARD, CONTAINERS, JOB};
pub use offer::{OFFER, PART};
pub use position::contradictions;
pub(in crate::domain) use rows::fields;

use can::{CAN, ORIGINAL};

/// Every field.
pub fn all() -> impl Iterator<Item = &'static About> {
    macro_rules! abouts {
        ($($fields:ident)*) => { std::iter::empty()$(.chain($fields.iter().map(|field| &field.about)))* };
    }
    let fields = abouts![
        POSITION ORIGINAL RIPPLE_LINE PHASE ORIGIN BOARD JOB SHELF VARIANT UNIT POSITION_RECORD OTHER_PART TEST_POINT
        UNIT_TYPE PART OFFER
    ];
    fields.chain(CONTAINERS)
}

/// Every field of a position, those of its original with them, in the order in which a person looks for them.
pub fn of_position() -> impl Iterator<Item = &'static Field<super::Position>> {
    POSITION.iter().chain(ORIGINAL)
}

/// The figures and words of a part, by their names in the catalogue.
pub fn of_part() -> impl Iterator<Item = &'static Field<super::Can>> {
    CAN.iter()
}

/// The field at a path.
pub fn find(path: &str) -> Option<&'static About> {
    static BY_PATH: LazyLock<HashMap<&'static str, &'static About>> =
        LazyLock::new(|| all().map(|about| (about.path, about)).collect());
    BY_PATH.get(path).copied()
}

/// `None` when a text of a part, by its name in the catalogue, is allowed; else what was expected, in words.
pub fn part_text_complaint(name: &str, text: &str) -> Option<&'static str> {
    if text.bytes().any(|byte| byte == 0) {
        return Some("expected a text without zero characters: they stand for lost ones");
    }
    // Nearly every text is short, and no bound is below this many bytes.
    if text.len() <= 500 {
        return None;
    }
    match ["part", "offer"].iter().find_map(|of| find(&format!("{of}.{name}")))?.kind {
        Kind::Text(shape) => shape.complaint(text),
        _ => None,
    }
}

/// The path of a known field whose name looks most like `path`.
pub fn nearest<'a>(path: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let alike = |name: &str| {
        let tail = |path: &str| path.rsplit('.').next().unwrap_or_default().to_owned();
        strsim::jaro_winkler(name, path).max(strsim::jaro_winkler(&tail(name), &tail(path)) * 0.98)
    };
    known
        .map(|name| (alike(name), name))
        .filter(|(alike, _)| *alike > 0.7)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|n| n.1)
}

/// A word of a choice as people write it: `liquid (non-solid) electrolyte` for `wet`.
pub fn spoken(word: &str) -> String {
    const SPOKEN: [(&str, &str); 9] = [
        ("wet", "liquid (non-solid) electrolyte"),
        ("hybrid", "hybrid polymer"),
        ("polymer", "solid polymer"),
        ("nonpolar", "bipolar (non-polar)"),
        ("snap_in", "snap-in"),
        ("smd", "SMD"),
        ("dc_link", "DC link"),
        ("startup", "start-up"),
        ("nrnd", "NRND"),
    ];
    SPOKEN.iter().find(|(known, _)| *known == word).map_or_else(|| word.replace('_', " "), |found| found.1.to_owned())
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    #[test]
    fn every_field_has_its_own_path_and_says_something() {
        let paths: HashSet<_> = all().map(|about| about.path).collect();
        assert_eq!(paths.len(), all().count());
        for about in all() {
            assert!(about.meaning.ends_with('.') && !about.label.is_empty(), "{}", about.path);
            assert!(about.formula.is_empty() || !about.source.is_empty(), "{} has no source", about.path);
        }
    }

    #[test]
    fn a_mistyped_path_finds_its_neighbour() {
        let known = || of_position().map(|field| field.path);
        assert_eq!(nearest("original.rated", known()), Some("original.rated_v"));
        assert_eq!(nearest("stress.dc", known()), Some("stress.dc_v"));
        assert_eq!(nearest("zzz", known()), None);
    }
}
