//! Leakage current.

use crate::domain::Technology;

/// Usual leakage limit, µA, with the capacitance in µF.
///
/// Solid polymer `0.2 C U` (from memory); others the greater of `0.01 C U` and 3 µA up to 100 V, `0.06 C U + 10 µA` above
/// (published, Panasonic SU and NHG data sheets).
///
/// ```
/// use refarad::{domain::Technology, physics::leakage::usual_ua};
/// // Nippon Chemi-Con FAQ on leakage current: 35 V 2200 µF, 0.01 C V = 770 µA.
/// assert_eq!(usual_ua(Technology::Wet, 2200.0, 35.0), 770.0);
/// ```
pub fn usual_ua(technology: Technology, capacitance_uf: f64, rated_v: f64) -> f64 {
    match technology {
        Technology::Polymer => 0.2 * capacitance_uf * rated_v,
        _ if rated_v <= 100.0 => (0.01 * capacitance_uf * rated_v).max(3.0),
        _ => 0.06 * capacitance_uf * rated_v + 10.0,
    }
}

/// Usual leakage limit of a can in a series string above 100 V rated, µA: the lesser of `0.003 C U` and 6000 µA, capacitance
/// in µF (published, KEMET ALC12 data sheet).
///
/// ```
/// // KEMET ALC12: 0.003 * 1000 µF * 450 V = 1350 µA.
/// assert_eq!(refarad::physics::leakage::high_voltage_ua(1000.0, 450.0), 1350.0);
/// ```
pub fn high_voltage_ua(capacitance_uf: f64, rated_v: f64) -> f64 {
    (0.003 * capacitance_uf * rated_v).min(6000.0)
}

/// Factor on a leakage current from 20 °C to `celsius`: `4^((T - 20) / 65)`, 1 below 20 °C (published, Wikipedia,
/// "Aluminum electrolytic capacitor": four times at 85 °C).
///
/// ```
/// // Wikipedia, as above.
/// assert_eq!([10.0, 20.0, 85.0].map(refarad::physics::leakage::hot_factor), [1.0, 1.0, 4.0]);
/// ```
pub fn hot_factor(celsius: f64) -> f64 {
    4f64.powf((celsius - 20.0).max(0.0) / 65.0)
}
