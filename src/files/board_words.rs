//! What is wrong with the places of bodies on a board, in words: for drawings and the lists beside them.

use crate::domain::{Job, PositionId};
use crate::sizing::{BoardMap, Gap, KeepoutViolation, Reserved};

/// A gap that falls short, in words: `gap 0.4 mm`, `overlap 1.2 mm`.
pub fn gap_words(gap_mm: f64) -> String {
    let words = if gap_mm < 0.0 { "overlap" } else { "gap" };
    let hundredths = format!("{:.2}", gap_mm.abs());
    format!("{words} {} mm", hundredths.trim_end_matches('0').trim_end_matches('.'))
}

/// The positions whose gap to a neighbour falls short, for lists beside a drawing: reference, reference and the gap.
pub fn short_gaps(map: &BoardMap, job: &Job) -> impl Iterator<Item = String> {
    let name = move |id: PositionId| job.position(id).map_or("", |position| position.reference.as_str());
    let words = move |gap: &Gap| {
        let [a, b] = gap.between;
        format!("{} and {}: {}", name(a), name(b), gap_words(gap.gap_mm))
    };
    map.short_gaps.iter().map(words)
}

/// The positions whose body stands where none may: reference, what it stands on and how far it reaches in.
pub fn keepout_violations(map: &BoardMap, job: &Job) -> impl Iterator<Item = String> {
    let words = move |found: &KeepoutViolation| {
        let name = job.position(found.id).map_or("", |position| position.reference.as_str());
        format!("{name} {}", violation_words(found))
    };
    map.keepout_violations.iter().map(words)
}

/// What a body stands on that must stay free, and how far it reaches in.
pub fn violation_words(found: &KeepoutViolation) -> String {
    let what = match found.on {
        Reserved::KeepOut => "a keep-out",
        Reserved::Hole => "a mounting hole",
    };
    format!("over {what} by {} mm", (found.by_mm * 10.0).round() / 10.0)
}
