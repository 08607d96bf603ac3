//! Units and their spellings: `units.txt`.

use std::sync::LazyLock;

use hashbrown::HashMap;

/// A unit as it is written beside a number or in a header.
#[expect(missing_docs, reason = "the names are the units")]
#[derive(Debug, Clone, Copy, PartialEq, Eq, strum::EnumString)]
pub enum Unit {
    Farad,
    Millifarad,
    Microfarad,
    Nanofarad,
    Picofarad,
    /// `MF` or `mf`: microfarad in old lists, millifarad in others.
    MicroOrMillifarad,
    Volt,
    Kilovolt,
    Millivolt,
    /// A voltage said to be alternating.
    VoltAc,
    Ampere,
    Milliampere,
    Microampere,
    Ohm,
    Milliohm,
    Kilohm,
    Megohm,
    Hertz,
    Kilohertz,
    Megahertz,
    Hour,
    KiloHour,
    Minute,
    Year,
    Celsius,
    Fahrenheit,
    Kelvin,
    Percent,
    /// A share of one: 0.20 for 20 %. Never written beside a number; a column may have it.
    Ratio,
    Millimetre,
    Centimetre,
    Inch,
    Mil,
}

/// What a unit measures.
#[expect(missing_docs, reason = "the names are the quantities")]
#[derive(Debug, Clone, Copy, PartialEq, Eq, strum::EnumString)]
pub enum Kind {
    Capacitance,
    Voltage,
    Current,
    Resistance,
    Frequency,
    Time,
    Temperature,
    Share,
    Length,
}

impl Unit {
    /// The unit a word stands for, if it is one. Case counts only where it decides: `mF` is millifarad, `MF` and `mf` are
    /// [`Unit::MicroOrMillifarad`]. `MA`, `MHZ` in capitals are read by what is physically possible (mA, MHz).
    pub fn parse(word: &str) -> Option<Unit> {
        match word {
            "F" => return Some(Unit::Farad),
            "m" | "mF" => return Some(Unit::Millifarad),
            "MΩ" | "MOhm" | "MOhms" => return Some(Unit::Megohm),
            "C" | "°" => return Some(Unit::Celsius),
            "K" => return Some(Unit::Kelvin),
            "H" | "h" => return Some(Unit::Hour),
            _ => {}
        }
        // `(Ωmax/20°C)`; a letter before it is a name, as in `Hmax`.
        if let Some(stem) = word.strip_suffix("max").or_else(|| word.strip_suffix("MAX"))
            && (stem.chars().count() > 1 || matches!(stem, "Ω" | "\u{2126}"))
        {
            return Unit::parse(stem);
        }
        let mut lower = word.to_lowercase();
        if !lower.is_ascii() {
            lower = lower.replace(['\u{B5}', '\u{3BC}'], "u").replace('ω', "ohm");
        }
        let stem = lower.strip_suffix("rms").unwrap_or(&lower);
        SPELLED.get(stem).copied()
    }

    /// One spelling for the unit, which [`Unit::parse`] reads back; [`Unit::Ratio`] is `ratio`, which it does not.
    pub fn symbol(self) -> &'static str {
        TABLE[self as usize].symbol
    }

    /// What the unit measures.
    pub fn kind(self) -> Kind {
        TABLE[self as usize].kind
    }

    /// Decimal exponent that turns this unit into F, V, A, Ω, Hz or h; `None` where the step is no power of ten.
    pub(crate) fn exponent(self) -> Option<i32> {
        TABLE[self as usize].exponent
    }
}

/// A line of `units.txt`.
struct Row {
    unit: Unit,
    symbol: &'static str,
    kind: Kind,
    exponent: Option<i32>,
    spellings: Vec<&'static str>,
}

static TABLE: LazyLock<Vec<Row>> = LazyLock::new(|| {
    let row = |line: &'static str| {
        let (head, spellings) = line.split_once(':')?;
        let mut head = head.split(' ');
        Some(Row {
            unit: head.next()?.parse().ok()?,
            symbol: head.next()?,
            kind: head.next()?.parse().ok()?,
            exponent: head.next()?.parse().ok(),
            spellings: spellings.split_whitespace().collect(),
        })
    };
    include_str!("units.txt").lines().filter(|line| !line.starts_with('#')).filter_map(row).collect()
});

static SPELLED: LazyLock<HashMap<&str, Unit>> =
    LazyLock::new(|| TABLE.iter().flat_map(|row| row.spellings.iter().map(|of| (*of, row.unit))).collect());

#[cfg(test)]
#[path = "../../../tests/within/cell_unit.rs"]
mod tests;
