//! Units and their spellings.

/// A unit as it is written beside a number or in a header.
#[expect(missing_docs, reason = "the names are the units")]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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
    #[must_use]
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
        let lower = word.to_lowercase().replace(['\u{B5}', '\u{3BC}'], "u").replace('ω', "ohm");
        let stem = lower.strip_suffix("rms").unwrap_or(&lower);
        Some(match stem {
            "u" | "uf" | "мкф" | "мк" | "ufd" | "mfd" | "microf" | "microfarad" | "microfarads" => {
                Unit::Microfarad
            }
            "mf" => Unit::MicroOrMillifarad,
            "millifarad" | "millifarads" => Unit::Millifarad,
            "n" | "nf" | "нф" | "nanofarad" | "nanofarads" => Unit::Nanofarad,
            "p" | "pf" | "пф" | "uuf" | "uufd" | "mmf" | "mmfd" | "picofarad" | "picofarads" => Unit::Picofarad,
            "f" | "farad" | "farads" => Unit::Farad,
            "v" | "в" | "vdc" | "wv" | "wvdc" | "vw" | "volt" | "volts" | "dcv" | "vdcw" => Unit::Volt,
            "kv" | "kvdc" => Unit::Kilovolt,
            "mv" => Unit::Millivolt,
            "vac" => Unit::VoltAc,
            "a" | "а" | "amp" | "amps" | "ampere" | "amperes" | "aac" => Unit::Ampere,
            "ma" | "ма" => Unit::Milliampere,
            "ua" => Unit::Microampere,
            "ohm" | "ohms" | "ом" | "r" => Unit::Ohm,
            "mohm" | "mohms" | "мом" | "milliohm" | "milliohms" | "mr" => Unit::Milliohm,
            "kohm" | "kohms" => Unit::Kilohm,
            "megohm" | "megohms" => Unit::Megohm,
            "hz" | "гц" | "hertz" => Unit::Hertz,
            "khz" | "кгц" => Unit::Kilohertz,
            "mhz" => Unit::Megahertz,
            "hr" | "ч" | "час" | "hrs" | "hour" | "hours" | "std" | "stunden" => Unit::Hour,
            "kh" | "khr" | "khrs" => Unit::KiloHour,
            "min" | "mins" | "minute" | "minutes" => Unit::Minute,
            "yr" | "yrs" | "year" | "years" => Unit::Year,
            "°c" | "degc" | "celsius" | "deg" => Unit::Celsius,
            "°f" | "degf" | "fahrenheit" => Unit::Fahrenheit,
            "%" | "pct" | "percent" | "proz" => Unit::Percent,
            "mm" | "мм" | "millimeter" | "millimeters" | "millimetre" | "millimetres" => Unit::Millimetre,
            "cm" => Unit::Centimetre,
            "\"" | "in" | "inch" | "inches" => Unit::Inch,
            "mil" | "mils" | "thou" => Unit::Mil,
            _ => return None,
        })
    }

    /// One spelling for the unit, which [`Unit::parse`] reads back; [`Unit::Ratio`] is `ratio`, which it does not.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Unit::Farad => "F",
            Unit::Millifarad => "mF",
            Unit::Microfarad => "uF",
            Unit::Nanofarad => "nF",
            Unit::Picofarad => "pF",
            Unit::MicroOrMillifarad => "MF",
            Unit::Volt => "V",
            Unit::Kilovolt => "kV",
            Unit::Millivolt => "mV",
            Unit::VoltAc => "Vac",
            Unit::Ampere => "A",
            Unit::Milliampere => "mA",
            Unit::Microampere => "uA",
            Unit::Ohm => "Ohm",
            Unit::Milliohm => "mOhm",
            Unit::Kilohm => "kOhm",
            Unit::Megohm => "MOhm",
            Unit::Hertz => "Hz",
            Unit::Kilohertz => "kHz",
            Unit::Megahertz => "MHz",
            Unit::Hour => "h",
            Unit::KiloHour => "kh",
            Unit::Minute => "min",
            Unit::Year => "year",
            Unit::Celsius => "°C",
            Unit::Fahrenheit => "°F",
            Unit::Kelvin => "K",
            Unit::Percent => "%",
            Unit::Ratio => "ratio",
            Unit::Millimetre => "mm",
            Unit::Centimetre => "cm",
            Unit::Inch => "inch",
            Unit::Mil => "mil",
        }
    }

    /// What the unit measures.
    #[must_use]
    pub fn kind(self) -> Kind {
        match self {
            Unit::Farad
            | Unit::Millifarad
            | Unit::Microfarad
            | Unit::Nanofarad
            | Unit::Picofarad
            | Unit::MicroOrMillifarad => Kind::Capacitance,
            Unit::Volt | Unit::Kilovolt | Unit::Millivolt | Unit::VoltAc => Kind::Voltage,
            Unit::Ampere | Unit::Milliampere | Unit::Microampere => Kind::Current,
            Unit::Ohm | Unit::Milliohm | Unit::Kilohm | Unit::Megohm => Kind::Resistance,
            Unit::Hertz | Unit::Kilohertz | Unit::Megahertz => Kind::Frequency,
            Unit::Hour | Unit::KiloHour | Unit::Minute | Unit::Year => Kind::Time,
            Unit::Celsius | Unit::Fahrenheit | Unit::Kelvin => Kind::Temperature,
            Unit::Percent | Unit::Ratio => Kind::Share,
            Unit::Millimetre | Unit::Centimetre | Unit::Inch | Unit::Mil => Kind::Length,
        }
    }

    /// Decimal exponent that turns this unit into F, V, A, Ω, Hz or h; `None` where the step is no power of ten.
    pub(crate) fn exponent(self) -> Option<i32> {
        Some(match self {
            Unit::Farad | Unit::Volt | Unit::Ampere | Unit::Ohm | Unit::Hertz | Unit::Hour => 0,
            Unit::Millifarad | Unit::Millivolt | Unit::Milliampere | Unit::Milliohm => -3,
            Unit::Microfarad | Unit::Microampere => -6,
            Unit::Nanofarad => -9,
            Unit::Picofarad => -12,
            Unit::Kilovolt | Unit::Kilohm | Unit::Kilohertz | Unit::KiloHour => 3,
            Unit::Megohm | Unit::Megahertz => 6,
            _ => return None,
        })
    }
}
