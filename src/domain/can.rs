//! One capacitor as a thing: its electrical, thermal and mechanical figures.

use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use super::column::numbers;
use super::table::PairTable;
use super::written::words;

words! {
    /// What fills the can.
    pub enum Technology {
        /// Liquid electrolyte, aluminium.
        Wet,
        /// Liquid electrolyte with conductive polymer.
        Hybrid,
        /// Solid conductive polymer.
        Polymer,
        /// Wet electrolyte, both foils formed: may be reversed.
        #[serde(rename = "nonpolar")]
        #[strum(serialize = "nonpolar")]
        NonPolar,
    }

    /// How the can is fixed to the board.
    pub enum Mounting {
        /// Two wires out of one end.
        Radial,
        /// Two stiff terminals that snap into the board.
        SnapIn,
        /// Screw terminals.
        Screw,
        /// A wire out of each end; the body lies on the board.
        Axial,
        /// Surface mounted.
        Smd,
    }

    /// What was applied during the endurance test behind `endurance_h`.
    pub enum EnduranceBasis {
        /// Rated voltage with rated ripple current: the core was hotter than the ambient.
        Ripple,
        /// Rated voltage only.
        Voltage,
    }

    /// How far a part may have worn when its endurance is over.
    pub enum LifeBasis {
        /// To the limits of the endurance test: about 20 % less capacitance, twice the ESR.
        Endurance,
        /// To the wider limits of a useful life: 30 to 45 % less capacitance, three times the ESR.
        Useful,
    }
}

/// The fields as those of [`Can`], as columns of a catalogue and as the names the readers go by.
macro_rules! can_struct {
    (
        words { $($word:ident: $choice:ident, $word_in:ident, $word_absent:expr, $word_label:literal, $word_meaning:literal
            $(, $word_formula:expr, $word_source:expr)?;)* }
        tables { $($table:ident: $first:ident $second:ident, $table_in:ident, $table_absent:expr, $table_label:literal,
            $table_meaning:literal $(, $table_formula:expr, $table_source:expr)?;)* }
        numbers { $($name:ident: $unit:ident $bounds:ident, $in:ident, $absent:expr, $label:literal, $meaning:literal
            $(, $formula:expr, $source:expr)?;)* }
    ) => {
        /// One capacitor: whatever of its figures is known.
        #[skip_serializing_none]
        #[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
        #[serde(default)]
        pub struct Can {
            $(#[doc = $word_meaning] pub $word: Option<$choice>,)*
            $(#[doc = $table_meaning] pub $table: Option<PairTable>,)*
            $(#[doc = $meaning] pub $name: Option<f64>,)*
        }

        numbers! { Can CAN_NUMBERS pub CanColumns; $($name: $unit $bounds;)* }
    };
}

/// Every field of a can, once, handed to a macro: [`can_struct`] here, the tables of fields in the schema.
macro_rules! can_fields {
    ($write:ident) => {
        $write! {
            words {
                technology: Technology, OriginalPart, Assumed("wet"), "Technology",
                    "What fills the part: wet is a liquid electrolyte; a nonpolar original takes only nonpolar substitutes.";
                mounting: Mounting, Room, UnknownBut("radial (assumed) for the largest body"), "Mounting",
                    "How it is fixed; a substitute must be mounted the same way, or in a way the position accepts.";
                endurance_basis: EnduranceBasis, DataSheet, Assumed("voltage"), "Endurance test",
                    "Test condition of the endurance: ripple with rated ripple current, voltage without, the cautious reading.",
                    "without ripple: dT0 = 0 in the life formula", RUBYCON;
                life_basis: LifeBasis, DataSheet, Assumed("endurance"), "Life basis",
                    "What ends the hours: the limits of an endurance test, or of a useful life, which allows more wear.";
            }
            tables {
                ripple_freq_factors: Positive Positive, DataSheet, Derived("`f50` to `f100k`"),
                    "Ripple multiplier vs. frequency",
                    "Own table of frequency in Hz and ripple multiplier, such as 100:1;300:1.2; goes before the multipliers below.",
                    RIPPLE, VISHAY;
                ripple_temp_factors: Celsius NotNegative, DataSheet, Derived("published table (assumed)"),
                    "Ripple multiplier vs. ambient",
                    "The data sheet's own table of ambient in °C and ripple multiplier, such as 85:1.7;65:2.1.",
                    "I_allow(Ta) = I_R M(Ta)",
                    "Rubycon data sheets for 105 and 85 °C parts (published), shifted to other T0 by us";
            }
            numbers {
                capacitance_uf: Microfarad Positive, Printed, Unknown, "Capacitance", "Nominal capacitance, as printed.";
                tolerance_pct: Percent NotNegative, DataSheet, Unknown, "Tolerance",
                    "How far the capacitance may be off either way; it counts for timing and coupling.";
                rated_v: Volt RatedVolts, Printed, Unknown, "Rated voltage", "Rated direct voltage, as printed.",
                    "use = (dc + ripple peak) / U_R", PRACTICE;
                surge_v: Volt RatedVolts, DataSheet, Derived("by rated voltage (assumed)"), "Surge voltage",
                    "Voltage the part survives for a short time.",
                    "1.15 U_R to 315 V, 1.10 U_R above; polymer and hybrid 1.0 U_R", "IEC 60384-1 as quoted";
                temp_min_c: Celsius Celsius, DataSheet, Unknown, "Lower category temperature",
                    "The coldest ambient the part is made for.";
                temp_max_c: Celsius Celsius, Printed, Unknown, "Upper category temperature",
                    "The hottest ambient the part is made for; usually printed: 85 or 105 °C.", LIFE, RUBYCON;
                endurance_h: Hour Positive, DataSheet, Unknown, "Endurance",
                    "Hours of the manufacturer's life test at the upper category temperature.", LIFE, RUBYCON;
                core_rise_k: Kelvin NotNegative, DataSheet, Derived("by temperature class (assumed)"), "Core temperature rise",
                    "How much hotter the core is than the ambient at rated ripple current.",
                    "10 K below 100 °C, 5 K below 120 °C, 3 K from there; solid polymer 20 K",
                    "Wikipedia, Aluminum electrolytic capacitor (published); polymer from memory";
                ripple_a: Ampere Positive, DataSheet, Unknown, "Rated ripple current",
                    "Ripple current at the upper category temperature and the frequency beside it, rms.",
                    "dT = dT0 (I_eq / I_R)^2", RUBYCON;
                ripple_hz: Hertz Positive, DataSheet, UnknownBut("ripple and life are unknown too"),
                    "Frequency of the ripple rating", "Frequency at which the rated ripple current applies.", RIPPLE, VISHAY;
                f50: Number Positive, DataSheet, Derived("published table (assumed)"), "Multiplier at 50 Hz",
                    "The data sheet's ripple multiplier at 50 Hz.", RIPPLE, VISHAY;
                f120: Number Positive, DataSheet, Derived("published table (assumed)"), "Multiplier at 120 Hz",
                    "The data sheet's ripple multiplier at 120 Hz.", RIPPLE, VISHAY;
                f300: Number Positive, DataSheet, Derived("published table (assumed)"), "Multiplier at 300 Hz",
                    "The data sheet's ripple multiplier at 300 Hz.", RIPPLE, VISHAY;
                f1k: Number Positive, DataSheet, Derived("published table (assumed)"), "Multiplier at 1 kHz",
                    "The data sheet's ripple multiplier at 1 kHz.", RIPPLE, VISHAY;
                f10k: Number Positive, DataSheet, Derived("published table (assumed)"), "Multiplier at 10 kHz",
                    "The data sheet's ripple multiplier at 10 kHz.", RIPPLE, VISHAY;
                f100k: Number Positive, DataSheet, Derived("published table (assumed)"), "Multiplier at 100 kHz",
                    "The data sheet's ripple multiplier at 100 kHz; the table counts only where a part has none of the six.",
                    RIPPLE, VISHAY;
                esr_mohm: Milliohm Positive, DataSheet, Derived("from the dissipation factor"), "ESR",
                    "Equivalent series resistance at the frequency beside it.", "else tan δ / (2 pi f C)",
                    "KEMET A4001 (published)";
                esr_hz: Hertz Positive, DataSheet, UnknownBut("the ESR is not used"), "Frequency of the ESR",
                    "Frequency at which the ESR applies.";
                tan_delta: Number Positive, DataSheet, Derived("by rated voltage (assumed)"), "Dissipation factor tan δ",
                    "Dissipation factor at 120 Hz.",
                    "else by voltage: 0.22 at 6.3 V to 0.08 at 100 V, 0.15 to 250 V; +0.02 per started 1000 µF above 1000 µF",
                    "Nichicon HE and UPW data sheets (published)";
                z_ratio: Number Positive, DataSheet, UnknownBut("so is the ESR in the cold"), "Impedance ratio Z(T)/Z(20 °C)",
                    "Impedance in the cold over impedance at 20 °C.";
                z_cold_c: Celsius Celsius, DataSheet, UnknownBut("so is the ESR in the cold"), "Temperature of that ratio",
                    "Temperature at which the impedance ratio applies.";
                leakage_ua: Microampere NotNegative, DataSheet, Derived("by formula (assumed)"), "Leakage current",
                    "Limit of the leakage current.", "max(0.01 C U, 3 µA) to 100 V, 0.06 C U + 10 µA above",
                    "Panasonic SU and NHG data sheets (published)";
                diameter_mm: Millimetre Positive, OriginalPart, Unknown, "Diameter", "Nominal diameter of the body.";
                height_mm: Millimetre Positive, OriginalPart, Unknown, "Height",
                    "Nominal height of the body; the body length of an axial part.";
                diameter_max_mm: Millimetre Positive, DataSheet, Derived("nominal with tolerance (assumed)"),
                    "Largest diameter", "Largest diameter, from the drawing or by calliper.",
                    "radial D + 0.5; snap-in, screw D + 1.0; axial D + 0.5; SMD D + 0.3",
                    "Panasonic SU; Vishay 056/057 (published); SMD from memory";
                height_max_mm: Millimetre Positive, DataSheet, Derived("nominal with tolerance (assumed)"), "Largest height",
                    "Largest height, or largest body length of an axial part, from the drawing or by calliper.",
                    "radial H + 1.0 to 16 mm, + 2.0 above; snap-in, screw H + 2.0; SMD H + 0.3",
                    "Panasonic SU; Vishay 056/057 (published); SMD from memory";
                pitch_mm: Millimetre Positive, OriginalPart, Unknown, "Lead spacing (part)", "Distance between the leads.";
                lead_d_mm: Millimetre Positive, DataSheet, Unknown, "Lead diameter", "Diameter of the leads.";
            }
        }
    };
}
pub(in crate::domain) use can_fields;

can_fields!(can_struct);

impl Can {
    /// The can's own ripple multipliers: frequency in Hz and factor, frequencies rising; empty when it has none.
    pub fn own_multipliers(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        [(50.0, self.f50), (120.0, self.f120), (300.0, self.f300), (1e3, self.f1k), (1e4, self.f10k), (1e5, self.f100k)]
            .into_iter()
            .filter_map(|(hz, factor)| Some((hz, factor?)))
    }

    /// The technology, wet where it is not given.
    pub fn technology_or_wet(&self) -> Technology {
        self.technology.unwrap_or(Technology::Wet)
    }
}
