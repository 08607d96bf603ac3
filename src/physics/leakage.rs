//! Leakage current.

use crate::domain::Technology;

/// Usual leakage limit, µA, with the capacitance in µF.
///
/// Solid polymer `0.2 C U` (from memory); others the greater of `0.01 C U` and 3 µA up to 100 V, `0.06 C U + 10 µA` above
/// (published, Panasonic SU and NHG data sheets).
#[must_use]
pub fn usual_ua(technology: Technology, capacitance_uf: f64, rated_v: f64) -> f64 {
    match technology {
        Technology::Polymer => 0.2 * capacitance_uf * rated_v,
        _ if rated_v <= 100.0 => (0.01 * capacitance_uf * rated_v).max(3.0),
        _ => 0.06 * capacitance_uf * rated_v + 10.0,
    }
}
