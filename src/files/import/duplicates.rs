//! Part numbers that stand more than once in a file.

use std::collections::{HashMap, HashSet};

use super::report::Report;
use crate::domain::{Can, Part};

/// Parts that the file does not number and that are named by their figures, on the lines `named`: under the same name, those of other
/// figures are numbered, and of two that say the same the one that says more is kept.
pub(super) fn tell_apart(parts: Vec<(u64, Part)>, named: &HashSet<u64>, report: &mut Report) -> Vec<(u64, Part)> {
    let mut kept: Vec<(u64, Part)> = Vec::with_capacity(parts.len());
    let mut of_name: HashMap<(String, [Option<u64>; 2]), Vec<usize>> = HashMap::new();
    for (line, mut part) in parts {
        if !named.contains(&line) {
            kept.push((line, part));
            continue;
        }
        let values = [part.can.capacitance_uf, part.can.rated_v].map(|value| value.map(f64::to_bits));
        let same_name = of_name.entry((part.series.clone(), values)).or_default();
        if let Some(&at) = same_name.iter().find(|&&at| agree(&kept[at].1.can, &part.can)) {
            let (earlier, other) = &mut kept[at];
            let mut dropped = line;
            if figures(&part.can) > figures(&other.can) {
                part.part_number.clone_from(&other.part_number);
                dropped = std::mem::replace(earlier, line);
                *other = part.clone();
            }
            let reason = format!("says no more than line {}", *earlier);
            report.put_aside(usize::try_from(dropped).unwrap_or_default(), &part.part_number, "duplicate", &reason);
            continue;
        }
        let taken = |name: &str| same_name.iter().any(|&at| kept[at].1.part_number == name);
        if taken(&part.part_number) {
            let by_mounting = part.can.mounting.map(|mounting| {
                let word: &'static str = mounting.into();
                format!("{} {word}", part.part_number)
            });
            let numbered = || format!("{} ({})", part.part_number, same_name.len() + 1);
            part.part_number = by_mounting.filter(|name| !taken(name)).unwrap_or_else(numbered);
        }
        same_name.push(kept.len());
        kept.push((line, part));
    }
    kept
}

fn figures(can: &Can) -> usize {
    can.numbers().into_iter().flatten().count()
}

/// Whether two parts say nothing different.
fn agree(a: &Can, b: &Can) -> bool {
    let same = |(a, b): (Option<f64>, Option<f64>)| a.is_none() || b.is_none() || a == b;
    a.numbers().into_iter().zip(b.numbers()).all(same)
        && (a.technology == b.technology || a.technology.is_none() || b.technology.is_none())
        && (a.mounting == b.mounting || a.mounting.is_none() || b.mounting.is_none())
}

/// Of several rows with a part number the last is used; the others are listed.
pub(super) fn drop_duplicates(parts: Vec<(u64, Part)>, report: &mut Report) -> Vec<(u64, Part)> {
    let last: HashMap<String, u64> = parts.iter().map(|(line, part)| (part.part_number.clone(), *line)).collect();
    let (kept, dropped): (Vec<_>, Vec<_>) =
        parts.into_iter().partition(|(line, part)| last.get(&part.part_number) == Some(line));
    for (line, part) in &dropped {
        let later = last.get(&part.part_number).copied().unwrap_or_default();
        let line = usize::try_from(*line).unwrap_or_default();
        let by = |supplier: &str| kept.iter().any(|(at, kept)| *at == later && kept.supplier != supplier);
        let (group, offer) = if !part.supplier.is_empty() && by(&part.supplier) {
            (
                "offer of another supplier",
                "; its price and stock are an offer: a list of offers takes several suppliers",
            )
        } else {
            ("duplicate", "")
        };
        let reason = format!("stands again in line {later}; the later row is used{offer}");
        report.put_aside(line, &part.part_number, group, &reason);
    }
    kept
}
