//! What a check can say, and what it leaned on.

use super::written::words;

words! {
    /// The result of a check, from best to worst: the verdict of several is the largest.
    #[derive(Default)]
    pub enum Outcome {
        /// Holds with the margin asked for.
        #[default]
        Pass,
        /// Holds, with less margin than asked for.
        Marginal,
        /// A figure is missing.
        Unknown,
        /// Does not hold.
        Fail,
    }
}

impl Outcome {
    /// Whether a part with this verdict may be used: pass or marginal.
    pub fn usable(self) -> bool {
        self <= Self::Marginal
    }
}

words! {
    /// The checks a part goes through at a position, in the order of the columns of `candidates.csv`.
    pub enum Check {
        /// Working, surge and reverse voltage.
        Voltage,
        /// Ripple current against what is allowed at the ambient.
        Ripple,
        /// Life against the target.
        Life,
        /// Equivalent series resistance.
        Esr,
        /// Nominal capacitance and its tolerance.
        Capacitance,
        /// Body, vent space, mounting, leads, neighbours.
        Fit,
        /// Category temperatures.
        Temperature,
        /// Leakage current.
        Leakage,
        /// Whether it can be bought.
        Supply,
    }
}

/// A set of figures that came from a default table and not from the part's own data.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Assumed(u32);

impl Assumed {
    /// The part's technology (taken as wet).
    pub const TECHNOLOGY: Self = Self(1);
    /// The part's mounting, for its largest body (taken as radial).
    pub const MOUNTING: Self = Self(1 << 1);
    /// The condition of the endurance test (taken as voltage).
    pub const ENDURANCE_BASIS: Self = Self(1 << 2);
    /// Ripple multipliers over frequency.
    pub const FREQUENCY_MULTIPLIERS: Self = Self(1 << 3);
    /// Core rise at rated ripple.
    pub const CORE_RISE: Self = Self(1 << 4);
    /// Ripple multipliers over ambient.
    pub const RIPPLE_TEMP_FACTORS: Self = Self(1 << 5);
    /// Surge voltage.
    pub const SURGE: Self = Self(1 << 6);
    /// Dissipation factor, from the usual ladder.
    pub const TAN_DELTA: Self = Self(1 << 7);
    /// ESR limit, from the original part.
    pub const ESR_LIMIT: Self = Self(1 << 8);
    /// Leakage current.
    pub const LEAKAGE: Self = Self(1 << 9);
    /// Largest diameter.
    pub const DIAMETER_MAX: Self = Self(1 << 10);
    /// Largest height.
    pub const HEIGHT_MAX: Self = Self(1 << 11);
    /// A figure of the circuit the ripple was worked out from.
    pub const RIPPLE_ORIGIN: Self = Self(1 << 12);

    /// The ripple spectrum (the original's own rating).
    pub const RIPPLE: Self = Self(1 << 13);
    /// The peak of the ripple voltage (from the spectrum and the part's impedance).
    pub const RIPPLE_PEAK: Self = Self(1 << 14);
    /// The operating voltage (a share of the original's rated voltage).
    pub const DC: Self = Self(1 << 15);
    /// The transient (the peak).
    pub const TRANSIENT: Self = Self(1 << 16);
    /// The lowest voltage.
    pub const MIN: Self = Self(1 << 17);
    /// The impedance ratio in the cold, at a temperature it was not given for.
    pub const Z_RATIO: Self = Self(1 << 18);
    /// How far moving air cools a large can.
    pub const AIRFLOW: Self = Self(1 << 19);
    /// The tolerance of the cans of a string.
    pub const TOLERANCE: Self = Self(1 << 20);

    /// What the part goes through that nobody entered: a pass that leans on one of these is not yet a pass.
    pub const STRESS: Self = Self(Self::RIPPLE.0 | Self::RIPPLE_PEAK.0 | Self::DC.0 | Self::TRANSIENT.0 | Self::MIN.0);

    /// Name in files, and in words.
    const NAMES: [(&'static str, &'static str); 21] = [
        ("technology", "wet technology"),
        ("mounting", "radial mounting"),
        ("endurance_basis", "endurance without ripple"),
        ("frequency_multipliers", "frequency multipliers"),
        ("core_rise_k", "core temperature rise at rated ripple"),
        ("ripple_temp_factors", "ambient multipliers"),
        ("surge_v", "surge voltage"),
        ("tan_delta", "usual dissipation factor"),
        ("esr_max_mohm", "ESR limit from the original"),
        ("leakage_ua", "usual leakage"),
        ("diameter_max_mm", "largest diameter"),
        ("height_max_mm", "largest height"),
        ("ripple_from", "a figure of the circuit"),
        ("ripple", "ripple as the original was rated"),
        ("ripple_peak_v", "ripple peak"),
        ("dc_v", "operating voltage"),
        ("transient_v", "transient"),
        ("min_v", "lowest voltage"),
        ("z_ratio", "rise of the impedance in the cold"),
        ("airflow", "cooling of a large can by moving air"),
        ("tolerance_pct", "tolerance of the cans of the string"),
    ];

    /// Adds the figures of `other`.
    pub fn insert(&mut self, other: Self) {
        self.0 |= other.0;
    }

    /// Adds the figures of `other` where `holds`.
    pub fn insert_if(&mut self, holds: bool, other: Self) {
        if holds {
            self.insert(other);
        }
    }

    /// The set with the figures of `other`.
    #[must_use]
    pub const fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// The set without the figures of `other`.
    #[must_use]
    pub fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// Whether every figure of `other` is in the set.
    pub fn contains(self, other: Self) -> bool {
        self.0 & other.0 == other.0
    }

    /// Whether any figure of `other` is in the set.
    pub fn intersects(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    /// Each figure of the set by itself, in a fixed order.
    pub fn each(self) -> impl Iterator<Item = Self> {
        (0..Self::NAMES.len()).map(|at| Self(1 << at)).filter(move |&one| self.contains(one))
    }

    /// Whether nothing was assumed.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    fn told(self) -> impl Iterator<Item = (&'static str, &'static str)> {
        let is_set = move |at: usize| self.0 & (1 << at) != 0;
        Self::NAMES.into_iter().enumerate().filter(move |&(at, _)| is_set(at)).map(|(_, told)| told)
    }

    /// The names of the figures in files, in a fixed order.
    pub fn names(self) -> impl Iterator<Item = &'static str> {
        self.told().map(|told| told.0)
    }

    /// The figures in words, in the same order: `surge voltage`.
    pub fn words(self) -> impl Iterator<Item = &'static str> {
        self.told().map(|told| told.1)
    }

    /// The names joined by `;`, as files carry them.
    pub fn list(self) -> String {
        self.names().collect::<Vec<_>>().join(";")
    }
}

impl std::ops::BitOr for Assumed {
    type Output = Self;

    fn bitor(self, other: Self) -> Self {
        self.with(other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_assumed_figure_has_its_own_name() {
        let mut set = Assumed::default();
        assert!(set.is_empty());
        set.insert(Assumed::HEIGHT_MAX);
        set.insert(Assumed::TECHNOLOGY);
        assert_eq!(set.list(), "technology;height_max_mm");
        assert!(set.contains(Assumed::HEIGHT_MAX) && !set.contains(Assumed::SURGE));
    }

    #[test]
    fn the_worst_outcome_is_the_largest() {
        assert!(Outcome::ALL.windows(2).all(|w| w[0] < w[1]));
    }
}
