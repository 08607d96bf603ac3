//! What a part number gives away: the voltage and capacitance codes that makers of aluminium electrolytics put into it.
//!
//! `...1H101M...`: two characters of voltage, two digits and the count of zeros in µF, then often the letter of the tolerance (common
//! practice, no source). A hint to check other cells with, never a figure of its own unless a person says so.

use super::answer::Answer;
use super::field::Field;
use super::report::{Choice, Questions};
use super::settle::Trouble;
use crate::domain::Can;
use crate::files::cell::{Reading, capacitance, text, voltage};

/// Rated voltage and capacitance of a part number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Codes {
    pub rated_v: f64,
    pub capacitance_uf: f64,
}

/// Says where the figures of a row and the code in its part number differ.
pub(super) fn check(part_number: &str, can: &Can, trouble: &mut Trouble) {
    let Some(Codes { rated_v, capacitance_uf }) = codes(part_number) else { return };
    let figures = [
        (Field::RatedV, can.rated_v, rated_v, voltage::print as fn(f64) -> String),
        (Field::Capacitance, can.capacitance_uf, capacitance_uf, capacitance::print),
    ];
    for (field, own, code, print) in figures {
        let Some(own) = own.filter(|own| (own - code).abs() > 0.01 * code) else { continue };
        let against = format!("part number against {}", field.label());
        let second = format!("{} (code in {part_number})", print(code));
        trouble.contradict(&against, print(own), second, "the cell is used, check the part number");
    }
}

/// Fills what no cell gives from the code, where a person said that it may.
pub(super) fn fill(part_number: &str, can: &mut Can, trouble: &Trouble) {
    let Some(Codes { rated_v, capacitance_uf }) = codes(part_number) else { return };
    let untouched = |field: Field| trouble.reason(field).is_none();
    if can.rated_v.is_none() && untouched(Field::RatedV) {
        can.rated_v = Some(rated_v);
    }
    if can.capacitance_uf.is_none() && untouched(Field::Capacitance) {
        can.capacitance_uf = Some(capacitance_uf);
    }
}

/// Asks whether the codes may be used.
pub(super) fn ask(questions: &mut Questions, part_number: &str, line: usize) {
    let what = "may rated voltage and capacitance be taken from the code in the part number?";
    questions.ask("", what, part_number, line, || Choice::yes(Answer::at(["part_number_codes"], true)));
}

pub(super) fn codes(part_number: &str) -> Option<Codes> {
    if part_number.len() > 60 || !part_number.is_ascii() {
        return None;
    }
    by_code(part_number).or_else(|| by_figures(part_number))
}

fn by_code(part_number: &str) -> Option<Codes> {
    let upper = part_number.to_ascii_uppercase();
    let bytes = upper.as_bytes();
    let found: Vec<Codes> = (0..bytes.len().saturating_sub(4))
        .filter_map(|at| {
            let before = at.checked_sub(1).map(|before| bytes[before]);
            let after = bytes.get(at + 5).copied();
            if before.is_some_and(|b| b.is_ascii_digit()) || !matches!(after, Some(b'M' | b'K' | b'J')) {
                return None;
            }
            let rated_v = voltage::of_code(upper.get(at..at + 2)?)?;
            let capacitance_uf = coded_uf(upper.get(at + 2..at + 5)?)?;
            Some(Codes { rated_v, capacitance_uf })
        })
        .collect();
    if let [one] = found[..] { Some(one) } else { None }
}

fn coded_uf(code: &str) -> Option<f64> {
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    if let Some((whole, part)) = code.split_once('R') {
        let value = format!("{whole}.{part}").parse().ok().filter(|uf| *uf > 0.0);
        return value.filter(|_| digits(whole) && digits(part));
    }
    if !digits(code) || code.starts_with('0') {
        return None;
    }
    let (significant, zeros) = code.split_at(2);
    format!("{significant}e{zeros}").parse().ok()
}

/// `QX-470U-25V`: both figures written out with their units.
fn by_figures(part_number: &str) -> Option<Codes> {
    let spaced: String = part_number.chars().map(|c| if matches!(c, '-' | '_' | '/') { ' ' } else { c }).collect();
    let found = text::find(&spaced, &crate::files::cell::Column::dot());
    match (found.rated_v, found.capacitance_uf) {
        (Reading::Value(rated_v), Reading::Value(capacitance_uf)) => Some(Codes { rated_v, capacitance_uf }),
        _ => None,
    }
}

#[cfg(test)]
#[path = "../../../tests/within/import_part_number.rs"]
mod tests;
