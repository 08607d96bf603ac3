//! Overvoltage limits.

use crate::domain::Technology;

/// Rated voltage from which a wet part counts as a high-voltage part, V (common practice, no source).
pub const HIGH_VOLTAGE_FROM_V: f64 = 160.0;

/// Usual surge voltage, V: 1.15 times the rated voltage up to 315 V, 1.10 times above (published, IEC 60384-1 as quoted by
/// Wikipedia); hybrid and polymer parts none beyond the rated voltage.
#[must_use]
pub fn usual_surge_v(technology: Technology, rated_v: f64) -> f64 {
    match technology {
        Technology::Hybrid | Technology::Polymer => rated_v,
        Technology::Wet | Technology::NonPolar if rated_v <= 315.0 => 1.15 * rated_v,
        Technology::Wet | Technology::NonPolar => 1.10 * rated_v,
    }
}
