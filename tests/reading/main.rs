//! Files of strangers, end to end: every trap that public parts lists, boards' parts lists and placement files were seen to hold.
//!
//! Every file here is hand-made for its test, in the manner of real ones; makers, series and part numbers are invented.

#![allow(clippy::unwrap_used, clippy::panic, reason = "helpers of tests fail by panicking")]

mod calls;
mod catalogues;
mod cells;
mod cli;
#[cfg(feature = "pdf")]
mod datasheets;
mod gathering;
mod guide;
mod headings;
mod hostile;
mod kinds;
mod lists;
mod mappings;
mod matrices;
mod offers_of_strangers;
mod oscilloscopes;
mod other_parts;
mod parts;
mod placement;
mod positions;
mod proofs;
mod properties;
mod readme;
mod selling;
mod strangers;
mod tables;
mod temperature_logs;
mod tracing;
mod tree;
mod unknown_fields;
mod workbooks;

use refarad::domain::{Part, Position};
use refarad::files::import::parts::PartsImport;
use refarad::files::import::positions::PositionsImport;
use refarad::files::import::{Answer, Report, Source, Target};
use refarad::files::table::Options;

/// A hand-made file ready for import.
pub(crate) fn source(name: &str, bytes: &[u8], target: Option<Target>) -> Source {
    let mut all = Source::all_from_bytes(name.as_ref(), bytes, target, &Options::default()).unwrap();
    assert_eq!(all.len(), 1, "one table expected");
    all.remove(0)
}

pub(crate) fn parts(text: &str) -> PartsImport {
    source("list.csv", text.as_bytes(), Some(Target::Parts)).parts()
}

pub(crate) fn positions(text: &str) -> PositionsImport {
    source("board.csv", text.as_bytes(), Some(Target::Positions)).positions()
}

/// The answer to the question whose text holds `what`.
pub(crate) fn answer(report: &Report, what: &str, label: &str) -> Answer {
    let question = report.questions.iter().find(|question| question.what.contains(what));
    let question = question.unwrap_or_else(|| panic!("no question about {what}: {:?}", report.questions));
    let choice = question.choices.iter().find(|choice| choice.label.contains(label));
    choice.unwrap_or_else(|| panic!("no choice {label}: {:?}", question.choices)).answer.clone()
}

pub(crate) fn part<'a>(import: &'a PartsImport, number: &str) -> &'a Part {
    let found = import.parts.iter().find(|(_, part)| part.part_number == number);
    &found.unwrap_or_else(|| panic!("no part {number}: {:?} {:?}", import.parts, import.report)).1
}

pub(crate) fn position<'a>(import: &'a PositionsImport, reference: &str) -> &'a Position {
    let found = import.positions.iter().find(|(_, position)| position.reference == reference);
    &found.unwrap_or_else(|| panic!("no position {reference}: {:?}", import.report)).1
}

/// How many rows were skipped for a reason.
pub(crate) fn aside(report: &Report, reason: &str) -> usize {
    report.set_aside.iter().find(|set| set.reason == reason).map_or(0, |set| set.rows)
}
