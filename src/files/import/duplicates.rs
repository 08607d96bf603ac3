//! Part numbers that stand more than once in a file.

use std::collections::HashMap;

use super::report::Report;
use crate::domain::Part;

/// Of several rows with a part number the last is used; the others are listed.
pub(super) fn drop_duplicates(parts: Vec<(u64, Part)>, report: &mut Report) -> Vec<(u64, Part)> {
    let last: HashMap<String, u64> = parts.iter().map(|(line, part)| (part.part_number.clone(), *line)).collect();
    let (kept, dropped): (Vec<_>, Vec<_>) =
        parts.into_iter().partition(|(line, part)| last.get(&part.part_number) == Some(line));
    for (line, part) in &dropped {
        let later = last.get(&part.part_number).copied().unwrap_or_default();
        let line = usize::try_from(*line).unwrap_or_default();
        report.put_aside(
            line,
            &part.part_number,
            "duplicate",
            &format!("stands again in line {later}; the later row is used"),
        );
    }
    kept
}
