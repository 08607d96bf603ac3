//! What the name of a column says it holds, whatever its cells are.

use super::field::{Field, Target};
use super::synonyms::{self, plain};
use super::words::heads_boards;
use crate::domain::{Can, schema};
use crate::files::cell::header::{Hints, hints};
use crate::files::cell::price;
use crate::files::cell::text;
use crate::files::cell::unit::{Kind, Unit};
use crate::files::cell::words::says;
use crate::files::datasheet::FROM_SHEET;

/// How sure a proposal is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, strum::IntoStaticStr)]
#[strum(serialize_all = "lowercase")]
pub enum Confidence {
    /// From the cells alone, or the header says one thing and the cells another.
    Guess,
    /// The header begins like a known one, or few cells could be read.
    Likely,
    /// A known header and cells that fit.
    Sure,
}

impl Confidence {
    /// Name for people.
    pub fn word(self) -> &'static str {
        self.into()
    }
}

/// The field a header names, and how surely.
pub(super) fn named(header: &str, target: Target) -> Option<(Field, Confidence)> {
    let name = plain(header);
    let (field, confidence) = named_whole(header, &name, target)?;
    if field == Field::Size || field == Field::Footprint && header.contains("mm") {
        return Some((dimension_of(header).unwrap_or(field), confidence));
    }
    // `Operating Temperature Min` is no range.
    if field == Field::Temperature {
        let ends = |word: &str| name.ends_with(word) || name.trim_end_matches('c').ends_with(word);
        let end = if ends("min") { Some(Field::TempMin) } else { ends("max").then_some(Field::TempMax) };
        return Some((end.unwrap_or(field), confidence));
    }
    // `L [h]` beside `L [mm]`: a length in hours is a life; `Rating (V)` is no capacitance.
    let may_differ = matches!(field.kind(), Some(Kind::Length | Kind::Current | Kind::Capacitance));
    let Hints { units, hz, .. } = if may_differ { hints(header) } else { Hints::default() };
    let mut kinds: Vec<Kind> = units.into_iter().map(Unit::kind).collect();
    let last = header.split_whitespace().last().filter(|last| kinds.is_empty() && *last == "V");
    kinds.extend(last.and_then(Unit::parse).map(Unit::kind));
    let by_unit = match (field.kind(), kinds.as_slice()) {
        // `D 120Hz` of a bridge.
        (Some(Kind::Length), _) if field == Field::Diameter && hz.is_some() => Some(Field::TanDelta),
        (Some(Kind::Length), [Kind::Time]) => Some(Field::Endurance),
        (Some(Kind::Current), [Kind::Voltage]) => return None,
        (Some(Kind::Capacitance), [Kind::Voltage]) => Some(Field::RatedV),
        _ => None,
    };
    Some(by_unit.map_or((field, confidence), |field| (field, Confidence::Likely))).filter(|(of, _)| of.serves(target))
}

/// The figure of a catalogue with exactly this header, where no field says it in the words of other lists.
pub(super) fn of_catalogue(header: &str, target: Target) -> Option<&'static schema::Field<Can>> {
    /// Headers that mean something else, or less, in lists of others.
    const OWN: [&str; 2] = ["technology", "ripple_temp_factors"];
    let field = schema::of_part().find(|field| field.path == header.trim())?;
    let own = OWN.contains(&field.path) || named(header, target).is_none_or(|(_, sure)| sure != Confidence::Sure);
    (own && Field::OwnName.serves(target)).then_some(field)
}

/// `Case Size (mm) φD`, `Dimensions L (mm)`: one dimension of a size in a column of its own.
fn dimension_of(header: &str) -> Option<Field> {
    let letters =
        header.split(|c: char| !(c.is_ascii_alphabetic() || "φΦøØ".contains(c))).filter(|word| !word.is_empty());
    let dims: Vec<Field> = letters
        .filter_map(|word| match word {
            "D" | "φD" | "ΦD" | "øD" | "ØD" | "φ" | "Φ" | "Ø" | "ø" => Some(Field::Diameter),
            "L" | "H" => Some(Field::Height),
            "F" | "P" => Some(Field::Pitch),
            word if word.eq_ignore_ascii_case("DxL") || word.eq_ignore_ascii_case("DxH") => Some(Field::Size),
            _ => None,
        })
        .collect();
    match dims.as_slice() {
        [one] if *one != Field::Size => Some(*one),
        _ => None,
    }
}

/// `Unit 1 ESR` beside `Unit 2 ESR`: what was measured on each of several machines.
pub(super) fn of_machine(header: &str) -> bool {
    let mut words = header.split_whitespace();
    let (first, number, more) = (words.next(), words.next(), words.next());
    more.is_some()
        && number.is_some_and(|word| word.bytes().all(|c| c.is_ascii_digit()))
        && first.is_some_and(heads_boards)
}

/// `Measured uF`, `ESR gemessen`: the field of what was measured on the part, where the rest of the name is one.
pub(super) fn measured(header: &str) -> Option<Field> {
    let words: Vec<&str> = header.split_whitespace().filter(|word| !text::is_measured(word)).collect();
    let rest = words.join(" ");
    match (rest.len() < header.trim().len()).then(|| named(&rest, Target::Positions)).flatten()?.0 {
        Field::Capacitance | Field::Value => Some(Field::MeasuredUf),
        Field::Esr => Some(Field::MeasuredEsr),
        _ => None,
    }
}

fn named_whole(header: &str, name: &str, target: Target) -> Option<(Field, Confidence)> {
    if header == FROM_SHEET {
        return Some((Field::FreqFactors, Confidence::Sure)).filter(|(field, _)| field.serves(target));
    }
    // In a board's list the library's name is the symbol.
    if name == "libref" && target != Target::Parts {
        return Some((Field::Type, Confidence::Likely));
    }
    if let Some(field) = multiplier(header, name) {
        return Some((field, Confidence::Sure));
    }
    if Field::PriceBreaks.serves(target) && prices_from(header, name) {
        return Some((Field::PriceBreaks, Confidence::Likely));
    }
    if let Some(field) = synonyms::whole(name, target) {
        return Some((field, Confidence::Sure));
    }
    let bare = plain(without_unit(header));
    if bare != name
        && let Some(field) = synonyms::whole(&bare, target)
    {
        return Some((field, Confidence::Likely));
    }
    // `Altura L (mm)`, `Durchmesser D`: the letter of the drawing behind the name.
    let lettered =
        without_unit(header).rsplit_once(' ').filter(|(_, last)| matches!(*last, "L" | "H" | "D" | "ØD" | "P" | "F"));
    if let Some((name, _)) = lettered
        && let Some(field) = synonyms::whole(&plain(name), target).filter(|field| field.kind() == Some(Kind::Length))
    {
        return Some((field, Confidence::Likely));
    }
    // `Marked uF`, `Original voltage`: what stands on the part.
    let printed = |first: &str| says("printed on the part", first);
    if let Some((_, rest)) = header.split_once(' ').filter(|(first, _)| printed(first))
        && let Some((field, _)) = named_whole(rest, &plain(rest), target).filter(|(field, _)| field.kind().is_some())
    {
        return Some((field, Confidence::Likely));
    }
    // `CR 100 Hz 20 °C (µF)`, `Irms 100kHz/105C (A)`: the name stands before the condition.
    let end = header.find(|c: char| c.is_ascii_digit() || matches!(c, '@' | '(' | '[')).unwrap_or(header.len());
    let before = plain(&header[..end]);
    let before = before.strip_suffix("at").unwrap_or(&before).to_owned();
    let is_other = !before.is_empty() && before != name && before != bare;
    let conditioned = |of: Hints| of.hz.is_some() || of.temp_c.is_some();
    if is_other
        && conditioned(hints(header))
        && let Some(field) = synonyms::whole(&before, target)
    {
        return Some((field, Confidence::Likely));
    }
    let found = synonyms::partly(name, target).or_else(|| by_unit(header, target));
    found.map(|field| (field, Confidence::Likely))
}

/// `Price @10`, `Preis ab 100`, `25+`: prices from a quantity on, a column for each.
fn prices_from(header: &str, name: &str) -> bool {
    let priced = ["price", "preis", "prix", "pris", "cost", "单价"].iter().any(|word| name.contains(word));
    let bare = name.chars().next().is_some_and(|c| c.is_ascii_digit()) && hints(header).units.is_empty();
    super::trade::quantity_of(header).is_some() && (priced || bare)
}

/// The name before a unit: `Höhe [mm]`, `RM (mm)`, `Capacity, uF`.
pub(super) fn without_unit(header: &str) -> &str {
    let end = header.find(['(', '[', ',']).unwrap_or(header.len());
    let name = header[..end].trim();
    if let Some((first, last)) = name.rsplit_once('/')
        && Unit::parse(last.trim()).is_some()
    {
        return first.trim();
    }
    match name.rsplit_once([' ', '_']) {
        Some((first, last)) if (last.len() > 1 || matches!(last, "V" | "A" | "h")) && Unit::parse(last).is_some() => {
            first.trim()
        }
        _ => name,
    }
}

/// A header of nothing but units and conditions: `mA rms / 105°C 100kHz`, `[µF]`, `€/pc`.
fn by_unit(header: &str, target: Target) -> Option<Field> {
    const FILLERS: [&str; 10] = ["rms", "max", "at", "dc", "eff", "pc", "pcs", "each", "stk", "st"];
    let filler = |word: &str| FILLERS.contains(&word.to_lowercase().as_str());
    let words = header.split(|c: char| !(c.is_alphabetic() || matches!(c, '°' | 'Ω' | '%' | '℃')));
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    let signs = ["€", "£", "$", "¥"];
    let priced = price::currency_of(header).is_some()
        && words.iter().all(|word| filler(word) || price::currency_of(word).is_some());
    if priced && (!words.is_empty() || signs.iter().any(|sign| header.contains(sign))) {
        return Some(Field::Price).filter(|field| field.serves(target));
    }
    // `Min` beside `Max` or a price is no time, and a year one of manufacture.
    let one_bound = words.len() == 1 && matches!(words[0].to_lowercase().as_str(), "min" | "mins" | "year" | "years");
    if one_bound
        || words.is_empty()
        || !words.iter().all(|word| filler(word) || Unit::parse(word).is_some() || *word == "℃")
    {
        return None;
    }
    // The units of the conditions stand behind a number; hints leave those out.
    let kinds: Vec<Kind> = hints(&format!("({header})")).units.into_iter().map(Unit::kind).collect();
    let field = match kinds.as_slice() {
        [Kind::Capacitance] => Field::Capacitance,
        [Kind::Voltage] => Field::RatedV,
        [Kind::Current] if !header.contains("µA") && !header.contains("uA") => Field::Ripple,
        [Kind::Current] => Field::Leakage,
        [Kind::Resistance] => Field::Esr,
        [Kind::Time] => Field::Endurance,
        [Kind::Frequency] => Field::RippleHz,
        _ => return None,
    };
    Some(field).filter(|field| field.serves(target))
}

/// `Freq_Factor_120Hz`, `Multiplier 10 kHz`: a factor with one of the frequencies a part's table has.
fn multiplier(header: &str, name: &str) -> Option<Field> {
    if !["factor", "multiplier", "coefficient", "ripplefreq"].iter().any(|word| name.contains(word)) {
        return None;
    }
    frequency_field(header)
}

/// The multiplier of the frequency in a header.
pub(super) fn frequency_field(header: &str) -> Option<Field> {
    let hz = hints(header).hz?;
    let of = [
        (50.0, Field::F50),
        (120.0, Field::F120),
        (300.0, Field::F300),
        (1e3, Field::F1k),
        (1e4, Field::F10k),
        (1e5, Field::F100k),
    ];
    of.into_iter().find(|(at, _)| *at == hz).map(|(_, field)| field)
}
