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

/// The figures that can be assumed, in a fixed order: constant, name in files, name in words, the checks whose reasons name it, meaning.
macro_rules! assumed {
    ($($figure:ident $name:literal $words:literal [$($check:ident)*], $meaning:literal;)*) => {
        /// The places of the figures, called as their constants are.
        #[expect(non_camel_case_types, clippy::upper_case_acronyms, reason = "called as the constants are")]
        enum Place { $($figure,)* }

        impl Assumed {
            $(#[doc = $meaning] pub const $figure: Self = Self(1 << Place::$figure as u32);)*

            /// Name in files, and in words.
            const NAMES: [(&'static str, &'static str); [$($name),*].len()] = [$(($name, $words)),*];

            /// The figures that the reason of a check names where it leans on them.
            pub fn of_check(check: Check) -> Self {
                let figures: [(Self, &[Check]); Self::NAMES.len()] = [$((Self::$figure, &[$(Check::$check),*])),*];
                let named = figures.into_iter().filter(|(_, checks)| checks.contains(&check));
                named.fold(Self::default(), |all, (figure, _)| all.with(figure))
            }
        }
    };
}

assumed! {
    TECHNOLOGY "technology" "wet technology" [Voltage], "The part's technology (taken as wet).";
    MOUNTING "mounting" "radial mounting" [Fit], "The part's mounting, for its largest body (taken as radial).";
    ENDURANCE_BASIS "endurance_basis" "endurance without ripple" [Life],
        "The condition of the endurance test (taken as voltage).";
    FREQUENCY_MULTIPLIERS "frequency_multipliers" "frequency multipliers" [Ripple Esr],
        "Ripple multipliers over frequency.";
    CORE_RISE "core_rise_k" "core temperature rise at rated ripple" [Ripple Life], "Core rise at rated ripple.";
    RIPPLE_TEMP_FACTORS "ripple_temp_factors" "ambient multipliers" [Ripple], "Ripple multipliers over ambient.";
    SURGE "surge_v" "surge voltage" [Voltage], "Surge voltage.";
    TAN_DELTA "tan_delta" "usual dissipation factor" [Esr], "Dissipation factor, from the usual ladder.";
    ESR_LIMIT "esr_max_mohm" "ESR limit from the original" [Esr], "ESR limit, from the original part.";
    LEAKAGE "leakage_ua" "usual leakage" [Voltage Leakage], "Leakage current.";
    DIAMETER_MAX "diameter_max_mm" "largest diameter" [Fit], "Largest diameter.";
    HEIGHT_MAX "height_max_mm" "largest height" [Fit], "Largest height.";
    RIPPLE_ORIGIN "ripple_from" "a figure of the circuit" [Ripple Life],
        "A figure of the circuit the ripple was worked out from.";
    RIPPLE "ripple" "ripple as the original was rated" [Ripple Life],
        "The ripple spectrum (the original's own rating).";
    RIPPLE_PEAK "ripple_peak_v" "ripple peak" [Voltage],
        "The peak of the ripple voltage (from the spectrum and the part's impedance).";
    DC "dc_v" "operating voltage" [Voltage], "The operating voltage (a share of the original's rated voltage).";
    TRANSIENT "transient_v" "transient" [Voltage], "The transient (the peak).";
    MIN "min_v" "lowest voltage" [Voltage], "The lowest voltage.";
    Z_RATIO "z_ratio" "rise of the impedance in the cold" [Esr],
        "The impedance ratio in the cold, at a temperature it was not given for.";
    AIRFLOW "airflow" "cooling of a large can by moving air" [Ripple Life], "How far moving air cools a large can.";
    TOLERANCE "tolerance_pct" "tolerance of the cans of the string" [Voltage], "The tolerance of the cans of a string.";
}

impl Assumed {
    /// What the part goes through that nobody entered: a pass that leans on one of these is not yet a pass.
    pub const STRESS: Self = Self(Self::RIPPLE.0 | Self::RIPPLE_PEAK.0 | Self::DC.0 | Self::TRANSIENT.0 | Self::MIN.0);

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

    /// The figures that are in both sets.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self(self.0 & other.0)
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
        self.told().map(|told| told.0)
    }

    /// Whether nothing was assumed.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    fn told(self) -> impl Iterator<Item = (Self, &'static str, &'static str)> {
        let all = Self::NAMES.into_iter().zip(0..).map(|((name, words), at)| (Self(1 << at), name, words));
        all.filter(move |told| self.contains(told.0))
    }

    /// The names of the figures in files, in a fixed order.
    pub fn names(self) -> impl Iterator<Item = &'static str> {
        self.told().map(|told| told.1)
    }

    /// The figures in words, in the same order: `surge voltage`.
    pub fn words(self) -> impl Iterator<Item = &'static str> {
        self.told().map(|told| told.2)
    }

    /// The names joined by `;`, as files carry them.
    pub fn list(self) -> String {
        self.names().collect::<Vec<_>>().join(";")
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
