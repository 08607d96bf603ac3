//! One capacitor as a thing: its electrical, thermal and mechanical figures.

use serde::{Deserialize, Serialize};

use super::column::{Bounds, NumberColumn, NumberField};
use super::table::PairTable;
use crate::progress::Progress;

/// What fills the can.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Technology {
    /// Liquid electrolyte, aluminium.
    Wet,
    /// Liquid electrolyte with conductive polymer.
    Hybrid,
    /// Solid conductive polymer.
    Polymer,
    /// Wet electrolyte, both foils formed: may be reversed.
    #[serde(rename = "nonpolar")]
    NonPolar,
}

impl Technology {
    /// Every technology with its name in files.
    pub const NAMES: [(Self, &'static str); 4] =
        [(Self::Wet, "wet"), (Self::Hybrid, "hybrid"), (Self::Polymer, "polymer"), (Self::NonPolar, "nonpolar")];
}

/// How the can is fixed to the board.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
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

impl Mounting {
    /// Every mounting with its name in files.
    pub const NAMES: [(Self, &'static str); 5] = [
        (Self::Radial, "radial"),
        (Self::SnapIn, "snap_in"),
        (Self::Screw, "screw"),
        (Self::Axial, "axial"),
        (Self::Smd, "smd"),
    ];
}

/// What was applied during the endurance test behind `endurance_h`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum EnduranceBasis {
    /// Rated voltage with rated ripple current: the core was hotter than the ambient.
    Ripple,
    /// Rated voltage only.
    Voltage,
}

impl EnduranceBasis {
    /// Every basis with its name in files.
    pub const NAMES: [(Self, &'static str); 2] = [(Self::Ripple, "ripple"), (Self::Voltage, "voltage")];
}

/// How far a part may have worn when its endurance is over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LifeBasis {
    /// To the limits of the endurance test: about 20 % less capacitance, twice the ESR.
    Endurance,
    /// To the wider limits of a useful life: 30 to 45 % less capacitance, three times the ESR.
    Useful,
}

impl LifeBasis {
    /// Every basis with its name in files.
    pub const NAMES: [(Self, &'static str); 2] = [(Self::Endurance, "endurance"), (Self::Useful, "useful")];
}

/// Writes the numeric fields once: as fields of [`Can`], as columns of a catalogue, and as the list of names the
/// readers go by.
macro_rules! can_numbers {
    ($($(#[$doc:meta])* $name:ident: $bounds:ident,)*) => {
        /// One capacitor: whatever of its figures is known.
        #[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
        #[serde(default)]
        pub struct Can {
            /// What fills it; absent counts as wet (assumed).
            #[serde(skip_serializing_if = "Option::is_none")]
            pub technology: Option<Technology>,
            /// How it is fixed.
            #[serde(skip_serializing_if = "Option::is_none")]
            pub mounting: Option<Mounting>,
            /// Test condition of the endurance; absent counts as voltage (assumed).
            #[serde(skip_serializing_if = "Option::is_none")]
            pub endurance_basis: Option<EnduranceBasis>,
            /// The wear that ends `endurance_h`; absent counts as endurance.
            #[serde(skip_serializing_if = "Option::is_none")]
            pub life_basis: Option<LifeBasis>,
            /// Own table of frequency (Hz) and ripple multiplier; goes before `f50` to `f100k`.
            #[serde(skip_serializing_if = "Option::is_none")]
            pub ripple_freq_factors: Option<PairTable>,
            /// Own table of ambient (°C) and ripple multiplier for unchanged life.
            #[serde(skip_serializing_if = "Option::is_none")]
            pub ripple_temp_factors: Option<PairTable>,
            $($(#[$doc])* #[serde(skip_serializing_if = "Option::is_none")] pub $name: Option<f64>,)*
        }

        /// The numeric fields of [`Can`] in a fixed order.
        pub const CAN_NUMBERS: &[NumberField] =
            &[$(NumberField { name: stringify!($name), bounds: Bounds::$bounds }),*];

        impl Can {
            /// The numeric fields in the order of [`CAN_NUMBERS`].
            #[must_use]
            pub fn numbers(&self) -> [Option<f64>; CAN_NUMBERS.len()] {
                [$(self.$name),*]
            }

            /// The numeric fields in the order of [`CAN_NUMBERS`], for writing.
            pub fn numbers_mut(&mut self) -> [&mut Option<f64>; CAN_NUMBERS.len()] {
                [$(&mut self.$name),*]
            }
        }

        /// The numeric fields of many cans, a column each.
        #[derive(Debug, Clone, Default)]
        pub struct CanColumns { $(#[doc = concat!("Column of [`Can::", stringify!($name), "`].")] pub $name: NumberColumn,)* }

        impl CanColumns {
            /// Writes the numbers of `can` into `row`; rows must come in rising order.
            pub fn set(&mut self, row: usize, can: &Can) {
                $(self.$name.set(row, can.$name);)*
            }

            /// The same numbers with row `order[n]` at row `n`; incomplete once it is cancelled.
            #[must_use]
            pub(super) fn reordered(self, order: &[usize], progress: &Progress) -> Self {
                Self { $($name: self.$name.reordered(order, progress),)* }
            }

            /// The numbers of `row`; the other fields of the can are left empty.
            #[must_use]
            pub fn get(&self, row: usize) -> Can {
                Can { $($name: self.$name.get(row),)* ..Can::default() }
            }
        }
    };
}

can_numbers! {
    /// Nominal capacitance, µF.
    capacitance_uf: Positive,
    /// Capacitance tolerance either way, percent.
    tolerance_pct: NotNegative,
    /// Rated voltage, V dc.
    rated_v: Positive,
    /// Surge voltage, V.
    surge_v: Positive,
    /// Lower category temperature, °C.
    temp_min_c: Celsius,
    /// Upper category temperature, °C.
    temp_max_c: Celsius,
    /// Endurance at the upper category temperature, h.
    endurance_h: Positive,
    /// Core rise over the ambient at rated ripple current, K.
    core_rise_k: NotNegative,
    /// Rated ripple current at the upper category temperature and `ripple_hz`, A rms.
    ripple_a: Positive,
    /// Frequency of the rated ripple current, Hz.
    ripple_hz: Positive,
    /// Ripple multiplier at 50 Hz.
    f50: Positive,
    /// Ripple multiplier at 120 Hz.
    f120: Positive,
    /// Ripple multiplier at 300 Hz.
    f300: Positive,
    /// Ripple multiplier at 1 kHz.
    f1k: Positive,
    /// Ripple multiplier at 10 kHz.
    f10k: Positive,
    /// Ripple multiplier at 100 kHz.
    f100k: Positive,
    /// Equivalent series resistance at `esr_hz`, mΩ.
    esr_mohm: Positive,
    /// Frequency of `esr_mohm`, Hz.
    esr_hz: Positive,
    /// Loss factor at 120 Hz.
    tan_delta: Positive,
    /// Impedance at `z_cold_c` over impedance at 20 °C.
    z_ratio: Positive,
    /// Temperature of `z_ratio`, °C.
    z_cold_c: Celsius,
    /// Leakage current limit, µA.
    leakage_ua: NotNegative,
    /// Nominal can diameter, mm.
    diameter_mm: Positive,
    /// Nominal can height, or body length of an axial part, mm.
    height_mm: Positive,
    /// Largest diameter, mm.
    diameter_max_mm: Positive,
    /// Largest height, or largest body length of an axial part, mm.
    height_max_mm: Positive,
    /// Lead spacing, mm.
    pitch_mm: Positive,
    /// Lead diameter, mm.
    lead_d_mm: Positive,
}

impl Can {
    /// The can's own ripple multipliers: frequency in Hz and factor, frequencies rising; empty when it has none.
    pub fn own_multipliers(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        [(50.0, self.f50), (120.0, self.f120), (300.0, self.f300), (1e3, self.f1k), (1e4, self.f10k), (1e5, self.f100k)]
            .into_iter()
            .filter_map(|(hz, factor)| Some((hz, factor?)))
    }

    /// The technology, wet where it is not given.
    #[must_use]
    pub fn technology_or_wet(&self) -> Technology {
        self.technology.unwrap_or(Technology::Wet)
    }
}
