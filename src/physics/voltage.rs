//! Overvoltage limits.

use crate::domain::Technology;

/// Rated voltage from which a wet part counts as a high-voltage part, V (common practice, no source).
pub const HIGH_VOLTAGE_FROM_V: f64 = 160.0;

/// Rated voltage up to which the standard asks for the larger surge voltage, V.
const LARGER_SURGE_UP_TO_V: f64 = 315.0;

/// What a part without a surge voltage of its own stands for a moment, V.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UsualSurge {
    /// Every maker read prints at least this.
    pub sure_v: f64,
    /// Some makers print no more than [`sure_v`](Self::sure_v); none prints more than this.
    pub most_v: f64,
}

/// Usual surge voltage of a part rated `rated_v`: 1.15 times up to 315 V, 1.10 times above (published, IEC 60384-1 as quoted
/// by Wikipedia). From 160 to 315 V only 1.10 times is sure (published, EPCOS B43851 prints that there). Hybrid and polymer
/// parts: only the rated voltage is sure, none beyond 1.15 times (makers' data sheets differ).
///
/// ```
/// use refarad::{domain::Technology, physics::voltage::usual_surge_v};
/// // IEC 60384-1 as quoted by Wikipedia: 28.75 V for 25 V, 495 V for 450 V.
/// assert!((usual_surge_v(Technology::Wet, 25.0).sure_v - 28.75).abs() < 1e-12);
/// assert!((usual_surge_v(Technology::Wet, 450.0).most_v - 495.0).abs() < 1e-9);
/// // EPCOS B43851: 220 V for 200 V.
/// assert!((usual_surge_v(Technology::Wet, 200.0).sure_v - 220.0).abs() < 1e-9);
/// ```
pub fn usual_surge_v(technology: Technology, rated_v: f64) -> UsualSurge {
    let times = |sure: f64, most: f64| UsualSurge { sure_v: sure * rated_v, most_v: most * rated_v };
    match technology {
        Technology::Hybrid | Technology::Polymer => times(1.0, 1.15),
        _ if rated_v > LARGER_SURGE_UP_TO_V => times(1.10, 1.10),
        _ if rated_v >= HIGH_VOLTAGE_FROM_V => times(1.10, 1.15),
        _ => times(1.15, 1.15),
    }
}
