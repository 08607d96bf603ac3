//! Headers in two lines: units or conditions under the names, names under a title over several columns, names under the figures of an
//! axis.

use super::header::{Known, hits, is_axis, is_value};
use crate::files::cell::header::{Hints, hints};
use crate::files::cell::unit::Unit;

/// Longest unit or condition under a name, in characters.
const UNIT_LONGEST: usize = 30;

/// Whether the row above the header is an axis whose figures stand over several columns each (`WV | 10 |  | 16 |`).
pub(super) fn spans(above: &[String], header: &[String]) -> bool {
    let mut names: Vec<&String> = header.iter().filter(|name| !name.is_empty()).collect();
    let all = names.len();
    names.sort_unstable();
    names.dedup();
    names.len() < all && is_axis(above)
}

/// Names with the figure of the axis over them: `10 DxL`, `10 Ripple`, `16 DxL`.
pub(super) fn under(above: &[String], header: &[String]) -> Vec<String> {
    let mut figure = "";
    let name = |(at, name): (usize, &String)| {
        if let Some(cell) = above.get(at).filter(|cell| cell.starts_with(|c: char| c.is_ascii_digit())) {
            figure = cell;
        }
        // The name of the axis itself stands over the first column only.
        let axis = above.get(at).filter(|cell| name.is_empty() && figure.is_empty() && !cell.is_empty());
        if let Some(axis) = axis {
            return axis.clone();
        }
        [figure, name].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
    };
    header.iter().enumerate().map(name).collect()
}

/// The axis with its figures over the first of their columns each, where they were written without the blanks between them and the
/// names below repeat evenly: `Cap | 10 V | 16 V` over `µF | DxL | mA | DxL | mA`.
pub(super) fn apart(above: &[String], header: &[String]) -> Option<Vec<String>> {
    let (figures, names) = (above.len().checked_sub(1)?, header.len().checked_sub(1)?);
    let each = names.checked_div(figures).filter(|each| *each > 1 && each * figures == names && is_axis(above))?;
    let even = header[1..].chunks(each).all(|group| *group == header[1..=each]);
    let cell = |at: usize| match at {
        0 => above[0].clone(),
        at if (at - 1) % each == 0 => above[1 + (at - 1) / each].clone(),
        _ => String::new(),
    };
    even.then(|| (0..header.len()).map(cell).collect())
}

/// Names that were cut inside brackets, whole again.
pub(super) fn in_brackets(names: &[String]) -> Vec<String> {
    let open = |text: &String| text.matches(['(', '[']).count() > text.matches([')', ']']).count();
    let mut whole: Vec<String> = Vec::new();
    for name in names {
        match whole.last_mut().filter(|last| open(last)) {
            Some(last) => *last = format!("{last}, {name}"),
            None => whole.push(name.clone()),
        }
    }
    whole
}

/// Whether the row above the header has names where that is blank.
pub(super) fn completes(above: &[String], header: &[String], known: &Known) -> bool {
    let filled = || above.iter().enumerate().filter(|(_, cell)| !cell.is_empty());
    let blank = |at: usize| header.get(at).is_none_or(String::is_empty);
    filled().count() > 1
        && filled().any(|(at, _)| blank(at))
        && !filled().any(|(_, cell)| is_value(cell))
        && hits(above, known) > 0
}

/// Whether the row below the header belongs to it: nothing but units and conditions, or names where the header is blank.
pub(super) fn continues(header: &[String], below: &[String], known: &Known) -> bool {
    let filled: Vec<(usize, &String)> = below.iter().enumerate().filter(|(_, cell)| !cell.is_empty()).collect();
    if filled.len() < 2 {
        return false;
    }
    let units = filled.iter().filter(|(_, cell)| is_unit(cell)).count();
    if units == filled.len() {
        // A row of ditto marks or single letters is no row of units.
        let different = filled.iter().any(|(_, cell)| **cell != *filled[0].1);
        return different && filled.iter().any(|(_, cell)| cell.chars().filter(|c| c.is_alphabetic()).count() >= 2);
    }
    let conditions = filled.iter().filter(|(_, cell)| is_unit(cell) || is_condition(cell)).count();
    let under_blank = filled.iter().any(|(at, _)| header.get(*at).is_none_or(String::is_empty));
    let few_others =
        filled.iter().all(|(_, cell)| is_unit(cell) || is_condition(cell) || (!is_value(cell) && cell.len() <= 40));
    if conditions == filled.len() && under_blank || units >= 3 && conditions * 3 >= filled.len() * 2 && few_others {
        return true;
    }
    let fills = filled.iter().any(|(at, _)| header.get(*at).is_none_or(String::is_empty));
    let names = filled.iter().all(|(_, cell)| !is_value(cell) && cell.len() <= 40);
    fills && names && hits(below, known) >= 1 && hits(below, known) * 2 >= filled.len()
}

/// A temperature or a time at which the figures below hold: `20°C`, `-10 °C`, `5 min`.
fn is_condition(cell: &str) -> bool {
    let end = cell.find(|c: char| !(c.is_ascii_digit() || matches!(c, '+' | '-' | '−' | '.'))).unwrap_or(cell.len());
    end > 0 && matches!(cell[end..].trim(), "°C" | "℃" | "C" | "min" | "min.")
}

fn is_unit(cell: &str) -> bool {
    let found = || hints(&format!("({})", cell.trim_matches(['(', ')', '[', ']'])));
    let said = |of: Hints| !of.units.is_empty() || of.hz.is_some();
    let filler = |word: &str| matches!(word.to_lowercase().as_str(), "rms" | "max" | "min" | "typ" | "dc" | "at" | "c");
    let words = cell.split(|c: char| !(c.is_alphabetic() || matches!(c, '°' | 'Ω'))).filter(|word| !word.is_empty());
    let only_units = words.into_iter().all(|word| Unit::parse(word).is_some() || filler(word)) && !cell.contains('"');
    only_units && cell.chars().count() <= UNIT_LONGEST && said(found()) && !is_quantity(cell)
}

/// A figure with its unit is a value and no unit; only frequencies and temperatures stand under a name as a condition.
fn is_quantity(cell: &str) -> bool {
    cell.starts_with(|c: char| c.is_ascii_digit()) && hints(&format!("({cell})")).hz.is_none()
}

/// One name of both lines. A title stands over the columns from its own to the next.
pub(super) fn joined(header: &[String], below: &[String]) -> Vec<String> {
    let width = header.len().max(below.len());
    let at = |cells: &[String], index: usize| cells.get(index).cloned().unwrap_or_default();
    let mut title = String::new();
    (0..width)
        .map(|index| {
            let (upper, lower) = (at(header, index), at(below, index));
            if !upper.is_empty() {
                title.clone_from(&upper);
            }
            let alone = below.iter().filter(|other| **other == lower).count() == 1;
            match (upper.is_empty() && title.is_empty(), lower.is_empty()) {
                (_, true) => upper,
                (true, false) => lower,
                _ if is_unit(&lower) || is_condition(&lower) => {
                    format!("{title} ({})", lower.trim_matches(['(', ')', '[', ']']))
                }
                _ if alone => lower,
                _ => format!("{title} {lower}"),
            }
        })
        .collect()
}

#[cfg(test)]
#[path = "../../../tests/within/two_lines.rs"]
mod tests;
