//! What is left of an old part, and what a stored one needs before use.

use super::range::{non_negative, positive};
use crate::domain::words;

words! {
    /// Condition of a part, from best to worst among the known.
    pub enum Condition {
        /// Nothing measured, or not enough to call it sound.
        Unknown,
        /// Capacitance above 90 % of nominal and ESR below 1.5 times its limit.
        Sound,
        /// Capacitance 80 to 90 %, or ESR 1.5 to 2 times its limit.
        Ageing,
        /// Capacitance below 80 %, or ESR above 2 times its limit.
        #[strum(serialize = "worn out")]
        WornOut,
    }
}

/// What each measurement says by itself, and the condition they make together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Assessment {
    /// Measured over nominal capacitance.
    pub capacitance_share: Option<f64>,
    /// Measured ESR over its limit, both at one frequency.
    pub esr_ratio: Option<f64>,
    /// By capacitance alone.
    pub by_capacitance: Condition,
    /// By ESR alone.
    pub by_esr: Condition,
    /// Together: the worse of the two; [`Condition::Sound`] only when both are known.
    pub condition: Condition,
}

/// Condition from `capacitance_share` (measured over nominal) and `esr_ratio` (measured over its limit at the same frequency).
///
/// Worn out below 80 % or above 2 times, ageing from 80 to 90 % or 1.5 to 2 times, borders included (makers' endurance limits;
/// common practice, no source). One measurement can condemn a part; it takes both to call it sound. A share well above 1 with a
/// high leakage is a fault of its own that this does not see. Values out of range count as not measured.
///
/// ```
/// use refarad::physics::condition::{Condition, assess};
/// // Makers' endurance limits, as above: 78 % of the capacitance is worn out.
/// assert_eq!(assess(Some(0.78), Some(1.2)).condition, Condition::WornOut);
/// ```
pub fn assess(capacitance_share: Option<f64>, esr_ratio: Option<f64>) -> Assessment {
    let capacitance_share = capacitance_share.and_then(non_negative);
    let esr_ratio = esr_ratio.and_then(non_negative);
    // a hair of rounding must not move a part that sits on a border
    let hair = 1e-12;
    let by_capacitance = match capacitance_share {
        None => Condition::Unknown,
        Some(share) if share < 0.8 - hair => Condition::WornOut,
        Some(share) if share <= 0.9 + hair => Condition::Ageing,
        Some(_) => Condition::Sound,
    };
    let by_esr = match esr_ratio {
        None => Condition::Unknown,
        Some(ratio) if ratio > 2.0 + hair => Condition::WornOut,
        Some(ratio) if ratio >= 1.5 - hair => Condition::Ageing,
        Some(_) => Condition::Sound,
    };
    let either = |condition| by_capacitance == condition || by_esr == condition;
    let condition = if either(Condition::WornOut) {
        Condition::WornOut
    } else if either(Condition::Ageing) {
        Condition::Ageing
    } else if either(Condition::Unknown) {
        Condition::Unknown
    } else {
        Condition::Sound
    };
    Assessment { capacitance_share, esr_ratio, by_capacitance, by_esr, condition }
}

/// Storage in years up to which a part goes in as it is (a drive maker's bulletin, second-hand).
pub const STORAGE_WITHOUT_REFORMING_YEARS: f64 = 2.0;

/// Re-forming recipe (published, ECA/EIA-815 abstract).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recipe {
    /// Voltage in V: the rated voltage.
    pub voltage_v: f64,
    /// Series resistor in ohm: 100 up to 100 V rated, 1000 above.
    pub series_ohm: f64,
    /// Time at voltage in h.
    pub hold_h: f64,
    /// Resistor for the discharge afterwards in ohm, about 1 ohm per volt.
    pub discharge_ohm: f64,
    /// Rest before use in h, least.
    pub rest_min_h: f64,
    /// Rest before use in h, most.
    pub rest_max_h: f64,
    /// Heat in W in the series resistor if the part is shorted; choose the resistor or a supply limit for it.
    pub fault_w: f64,
}

/// How a wet part rated `rated_v` is re-formed that was stored for longer than [`STORAGE_WITHOUT_REFORMING_YEARS`].
///
/// The rated voltage goes through 100 ohm (up to 100 V rated) or 1 kohm for 1 h; then discharge through about 1 ohm per volt and 12 to
/// 48 h of rest (published, ECA/EIA-815 of 1999-08-01, abstract). Solid polymer parts are not re-formed: ask for wet and hybrid ones only.
/// A part that draws a steady current or warms up is scrap; work behind a shield. `None` if the voltage is out of range.
///
/// ```
/// // ECA/EIA-815 abstract: 1000 ohm above 100 V rated, for 1 h.
/// let recipe = refarad::physics::condition::reforming(400.0).unwrap();
/// assert_eq!((recipe.series_ohm, recipe.hold_h), (1000.0, 1.0));
/// ```
pub fn reforming(rated_v: f64) -> Option<Recipe> {
    let voltage_v = positive(rated_v)?;
    let series_ohm = if voltage_v <= 100.0 { 100.0 } else { 1000.0 };
    Some(Recipe {
        voltage_v,
        series_ohm,
        hold_h: 1.0,
        discharge_ohm: voltage_v,
        rest_min_h: 12.0,
        rest_max_h: 48.0,
        fault_w: voltage_v * voltage_v / series_ohm,
    })
}

#[cfg(test)]
#[path = "../../tests/within/condition.rs"]
mod tests;
