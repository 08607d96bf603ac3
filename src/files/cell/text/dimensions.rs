//! The size among the words of a description: diameter, height, lead spacing.

use super::{Finder, settle};
use crate::files::cell::body::Size;
use crate::files::cell::size;
use crate::files::cell::unit::{Kind, Unit};
use crate::files::cell::{Column, Reading};

/// Lead spacings that exist, mm (common practice, no source): other figures behind `RM` are none.
const PITCHES_MM: std::ops::RangeInclusive<f64> = 1.0..=50.0;

/// `D10`, `L16mm`, `P5`: one dimension with its letter.
fn is_labelled(chunk: &str) -> bool {
    let chunk = chunk.trim_end_matches([',', ';']);
    let Some(rest) = chunk.strip_prefix(['D', 'Ø', 'L', 'H', 'P', 'W']) else { return false };
    let rest = rest.strip_suffix("mm").unwrap_or(rest);
    !rest.is_empty() && rest.len() <= 5 && rest.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
}

fn is_times(word: &str) -> bool {
    matches!(word.to_lowercase().as_str(), "x" | "xl" | "xh" | "xd" | "mmx")
}

impl Finder<'_> {
    /// Numbers joined by a multiplication sign, or a chunk that is a footprint name.
    pub(super) fn size(&self, column: &Column) -> Reading<Size> {
        let mut found = Vec::new();
        let mut at = 0;
        while at < self.tokens.len() {
            match self.size_span(at) {
                Some((text, next)) => {
                    match size::read(&text, column) {
                        Reading::Bad { .. } | Reading::Nothing => {}
                        reading => found.push(reading),
                    }
                    at = next;
                }
                None => at += 1,
            }
        }
        let labelled: Vec<&str> = self.chunks.iter().copied().filter(|chunk| is_labelled(chunk)).collect();
        if found.is_empty() && labelled.len() > 1 {
            found
                .extend(Some(size::read(&labelled.join(" "), column)).filter(|read| matches!(read, Reading::Value(_))));
        }
        if found.is_empty() {
            let named = size::read(&self.in_words(), column);
            let whole = |size: &Size| size.diameter_mm.is_some() && size.height_mm.is_some();
            found.extend(Some(named).filter(|named| matches!(named, Reading::Value(size) if whole(size))));
        }
        if found.is_empty() {
            for chunk in self.chunks.iter().filter(|chunk| chunk.contains('_') || chunk.starts_with(['D', 'Ø'])) {
                if let value @ Reading::Value(_) = size::read(chunk, column) {
                    found.push(value);
                }
            }
        }
        if found.is_empty() {
            let text = self.in_words();
            found.extend(Some(size::read(&text, column)).filter(|read| matches!(read, Reading::Value(_))));
        }
        let sized = found.iter().any(|read| matches!(read, Reading::Value(_) | Reading::Ambiguous { .. }));
        if let Some(pitch_mm) = self.pitch_mm(sized) {
            let with_pitch = |size: Size| Size { pitch_mm: size.pitch_mm.or(Some(pitch_mm)), ..size };
            found = found.into_iter().map(|reading| reading.map(with_pitch)).collect();
            if found.is_empty() {
                found.push(Reading::Value(with_pitch(Size::default())));
            }
        }
        settle("two sizes in one text", found)
    }

    /// Dimensions with their names, as `H20mm D10mm`: `height 20 mm`, `H=20`, `diameter: 10mm`. A letter alone is a name only before
    /// `=` or `:`.
    fn in_words(&self) -> String {
        let mut named = String::new();
        for at in 0..self.tokens.len() {
            let letter = match self.word(at).and_then(size::Label::parse) {
                Some(size::Label::Height | size::Label::Length) => 'H',
                Some(size::Label::Diameter) => 'D',
                _ => continue,
            };
            let marked = matches!(self.mark(at + 1), Some('=' | ':'));
            let figure = at + 1 + usize::from(marked);
            let spelled = self.word(at).is_some_and(|word| word.chars().count() > 2);
            let unit = self.word(figure + 1).and_then(Unit::parse);
            let Some(number) = self.number(figure).filter(|_| marked || spelled) else { continue };
            match unit {
                None | Some(Unit::Millimetre) => named.push_str(&format!("{letter}{}mm ", number.digits())),
                Some(unit) if unit.kind() == Kind::Length => {
                    named.push_str(&format!("{letter}{}{} ", number.digits(), unit.symbol()));
                }
                Some(_) => {}
            }
        }
        named
    }

    /// `RM5`, `RM 7,5`, `raster 2`, `pas 5`, behind a size also `P2`: the lead spacing, mm.
    fn pitch_mm(&self, sized: bool) -> Option<f64> {
        const NAMES: [&str; 8] = ["rm", "raster", "pas", "rastermaß", "pitch", "spacing", "ls", "rozteč"];
        let figure = |text: &str| {
            let number =
                text.trim_end_matches(|c: char| c.is_ascii_punctuation()).trim_end_matches("mm").replace(',', ".");
            number.parse::<f64>().ok().filter(|mm| PITCHES_MM.contains(mm))
        };
        self.chunks.iter().enumerate().find_map(|(at, chunk)| {
            let lower = chunk.to_lowercase().replace(['=', ':'], "");
            // `RAD,RM2.5`
            let lower = lower.rfind(",rm").map_or(lower.as_str(), |at| &lower[at + 1..]);
            if NAMES.contains(&lower) {
                return figure(&self.chunks.get(at + 1)?.to_lowercase());
            }
            figure(lower.strip_prefix("rm").or(lower.strip_prefix('p').filter(|_| sized))?)
        })
    }

    fn size_span(&self, at: usize) -> Option<(String, usize)> {
        let length_unit = |at: usize| {
            self.word(at).is_some_and(|word| Unit::parse(word).is_some_and(|unit| unit.kind() == Kind::Length))
        };
        let label = |at: usize| self.tokens.get(at).is_some_and(|placed| placed.glued) && at > 0;
        self.number(at)?;
        let mut text = String::new();
        if label(at)
            && let Some(word) = self.word(at - 1)
        {
            // D, Ø and the like in front; any other letters make it a name.
            if !matches!(word.to_lowercase().as_str(), "d" | "ø" | "dia" | "l" | "h") {
                return None;
            }
            text.push_str(word);
        }
        let mut next = at;
        let mut count = 0;
        loop {
            let number = self.number(next)?;
            text.push_str(number.digits());
            next += 1;
            count += 1;
            if length_unit(next) {
                text.push_str(self.word(next)?);
                next += 1;
            }
            match self.word(next) {
                Some(word) if is_times(word) && self.number(next + 1).is_some() && count < 3 => {
                    text.push_str(word);
                    next += 1;
                }
                // Another unit behind the last number: "2 x 470uF" and "2x50 mfd" are no sizes.
                Some(word)
                    if Unit::parse(word).is_some_and(|unit| {
                        self.tokens[next].glued
                            || unit.kind() == Kind::Voltage
                            || (unit.kind() == Kind::Capacitance && word.len() > 1)
                    }) =>
                {
                    return None;
                }
                _ => break,
            }
        }
        (count > 1).then_some((text, next))
    }
}
