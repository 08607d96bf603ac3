//! Rows of a parts list that are no electrolytics and are replaced with them: relays, fuses, varistors, fans, batteries,
//! optocouplers, film capacitors, connectors.

use super::field::Field;
use super::figures::Reader;
use super::parts::texts;
use super::settle::Trouble;
use super::trade;
use crate::domain::{OtherKind, OtherOriginal, OtherPart, Replacement};
use crate::files::cell::clean::is_nothing;
use crate::files::cell::words::list;

/// Kinds and the lists of words that say them; more telling ones first. A word that begins with `*` may be the end of a longer one.
const WORDS: [(OtherKind, &str); 10] = [
    (OtherKind::Optocoupler, "optocouplers"),
    (OtherKind::Varistor, "varistors"),
    (OtherKind::Connector, "holders"),
    (OtherKind::Relay, "relays"),
    (OtherKind::Fuse, "fuses"),
    (OtherKind::Fan, "fans"),
    (OtherKind::Battery, "batteries"),
    (OtherKind::ThermalMaterial, "thermal materials"),
    (OtherKind::Connector, "connectors"),
    (OtherKind::Other, "trimmers"),
];

/// Kinds, the letters of designators that mean them by themselves, and those that a word has to say too (IEC 81346-2 and IEEE 315
/// give the same letter to several).
const LETTERS: [(OtherKind, &[&str], &[&str]); 7] = [
    (OtherKind::Relay, &["K", "RL", "RLY", "REL"], &["RE"]),
    (OtherKind::Fuse, &["F", "FU", "FS"], &["PO"]),
    (OtherKind::Varistor, &["MOV", "VDR"], &["RV"]),
    (OtherKind::Battery, &["BT", "BAT", "BATT"], &[]),
    (OtherKind::Fan, &["FAN"], &[]),
    (OtherKind::Optocoupler, &["OK", "OC", "OPTO"], &["ISO"]),
    (OtherKind::Connector, &["CN", "CON", "CONN", "J"], &["FH"]),
];

/// The letters a designator begins with, behind the name of a sheet or panel.
fn letters(name: &str) -> String {
    let last = name.rsplit([':', '/', '.']).next().unwrap_or(name);
    last.chars().take_while(char::is_ascii_alphabetic).collect::<String>().to_uppercase()
}

/// Whether `phrase` stands in `text` as whole words, or behind `*` as the end of one.
fn says(text: &str, phrase: &str) -> bool {
    let end_of_word = phrase.starts_with('*');
    let phrase = phrase.trim_start_matches('*');
    text.match_indices(phrase).any(|(at, _)| {
        let ends = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric());
        (end_of_word || ends(text[..at].chars().next_back())) && ends(text[at + phrase.len()..].chars().next())
    })
}

/// What kind of other part a row is, by its designators and words; `None` where it is none, or nothing says so.
pub(in crate::files) fn kind(refs: &[String], words: &[&str]) -> Option<OtherKind> {
    let letters = refs.first().map(|name| letters(name)).unwrap_or_default();
    let by_letters = LETTERS.iter().find(|(_, alone, _)| alone.contains(&letters.as_str())).map(|(kind, ..)| *kind);
    let text = words.join(" | ").to_lowercase();
    let told = |cell: &str| WORDS.iter().position(|(_, words)| list(words).any(|word| says(cell, word)));
    let told: Vec<usize> = text.split(" | ").filter_map(told).collect();
    // A fuse in the footprint of its holder is a fuse: a cell that agrees with the designator goes before all others.
    let agrees = told.iter().any(|&at| Some(WORDS[at].0) == by_letters);
    let by_word = if agrees { by_letters } else { told.iter().min().map(|&at| WORDS[at].0) };
    // A capacitor, a resistor or a diode that is "for the relay" is none; a ferrite is no fuse.
    let passive = matches!(letters.as_str(), "R" | "C" | "D" | "L" | "Q" | "FB" | "LED" | "TP" | "FID" | "H" | "MH");
    // Trimmers and varistors carry the letter of resistors too.
    let passive = passive && !(letters == "R" && matches!(by_word, Some(OtherKind::Other | OtherKind::Varistor)));
    let magnetic = ["ferrite", "bead", "filter", "fiducial"].iter().any(|word| says(&text, word));
    match (by_word, by_letters) {
        _ if passive => None,
        (Some(kind), _) => Some(kind),
        (None, Some(kind)) if !(magnetic && kind == OtherKind::Fuse) => Some(kind),
        _ => None,
    }
}

/// The other parts of a row, one for each designator, else one of so many pieces.
pub(super) fn parts<'a>(
    reader: &Reader<'a>,
    cells: &'a [String],
    kind: OtherKind,
    (refs, quantity): (&[String], Option<usize>),
    trouble: &mut Trouble,
) -> Vec<OtherPart> {
    let said = |text: &str| Some(text.trim()).filter(|text| !is_nothing(text)).map(str::to_owned);
    let words = [Field::Value, Field::Description].map(|field| reader.columns.text(cells, field).and_then(said));
    let label = words.into_iter().flatten().collect::<Vec<_>>().join(" ");
    let label: String = label.chars().take(120).collect();
    let mut sold = texts(reader.columns, cells);
    trade::read(reader, cells, &mut sold, trouble);
    let supplier_part_number = said(&sold.supplier_part_number);
    // A list with one number for each part orders by it.
    let number = said(&sold.part_number).or_else(|| supplier_part_number.clone());
    let printed = if label.is_empty() { number.clone() } else { Some(label) };
    let part = OtherPart {
        kind: Some(kind),
        original: OtherOriginal { label: printed, ..OtherOriginal::default() },
        // What the list names is what goes in until somebody names another.
        replacement: Replacement {
            part_number: number,
            maker: said(&sold.maker),
            supplier: said(&sold.supplier),
            supplier_part_number,
            unit_price: sold.trade.unit_price,
            price_breaks: sold.price_breaks,
            currency: said(&sold.currency),
            moq: sold.trade.moq,
            pack: sold.trade.pack,
            stock: sold.trade.stock,
            lead_time_d: sold.trade.lead_time_d,
            ..Replacement::default()
        },
        ..OtherPart::default()
    };
    if refs.is_empty() {
        let word: &str = kind.into();
        let pieces = quantity.filter(|&pieces| pieces > 1).map(|pieces| pieces as f64);
        return vec![OtherPart { reference: word.to_owned(), quantity: pieces, ..part }];
    }
    refs.iter().map(|name| OtherPart { reference: name.clone(), ..part.clone() }).collect()
}

#[cfg(test)]
#[path = "../../../tests/within/import_others.rs"]
mod tests;
