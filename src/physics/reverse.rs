//! Backwards from a measured case temperature: which ripple would explain it.
//!
//! Two laws answer, the heat balance and the rated-ripple law; they are two opinions and are shown side by side. Measure the rise at
//! the case's side, settled (an hour or more), against the air beside the can, with neighbours and sinks in mind: heat from next door
//! reads as ripple here, so the answer is an upper one.

use super::range::{finite, non_negative, positive};
use super::spectrum::Line;

/// Heat in W that lifts the case by `case_rise_k` (>= 0): `P = dT_case beta S`, with `dissipation_w_per_k` = `beta S` in W/K
/// (heat balance, methods of the core rise; Rubycon life sheet). `air_factor` is the moving-air factor m (1 in still air), which
/// divides the rise by m^2 (GE Capacitor application data, table AP3).
///
/// ```
/// // By hand: 10 K on a can of 0.05 W/K take 0.5 W in still air.
/// assert_eq!(refarad::physics::reverse::power_w(10.0, 0.05, 1.0), Some(0.5));
/// ```
pub fn power_w(case_rise_k: f64, dissipation_w_per_k: f64, air_factor: f64) -> Option<f64> {
    let air_factor = positive(air_factor).filter(|&m| m >= 1.0)?;
    finite(non_negative(case_rise_k)? * air_factor * air_factor * positive(dissipation_w_per_k)?)
}

/// Ripple in A rms at the frequency for which `esr_ohm` holds, from the heat: `sqrt(P/ESR)`.
///
/// ```
/// // By hand: 0.2 W in 50 mohm are 2 A.
/// assert!((refarad::physics::reverse::ripple_from_power_a(0.2, 0.05).unwrap() - 2.0).abs() < 1e-12);
/// ```
pub fn ripple_from_power_a(power_w: f64, esr_ohm: f64) -> Option<f64> {
    finite((non_negative(power_w)? / positive(esr_ohm)?).sqrt())
}

/// Equivalent ripple in A rms at the rated frequency from the rated-ripple law: `I_R sqrt(alpha dT_case m^2 / dT0)`.
///
/// `core_over_case` is alpha, core rise over case rise (>= 1), `rated_rise_k` the rise dT0 at rated ripple `rated_a`.
///
/// ```
/// // Rubycon life sheet: the rated rise of 5 K in the core is explained by the rated ripple.
/// let a = refarad::physics::reverse::ripple_from_rated_rise_a(5.0 / 1.2, 1.2, 1.0, 1.9, 5.0).unwrap();
/// assert!((a - 1.9).abs() < 1e-12);
/// ```
pub fn ripple_from_rated_rise_a(
    case_rise_k: f64,
    core_over_case: f64,
    air_factor: f64,
    rated_a: f64,
    rated_rise_k: f64,
) -> Option<f64> {
    let alpha = positive(core_over_case).filter(|&ratio| ratio >= 1.0)?;
    let air_factor = positive(air_factor).filter(|&m| m >= 1.0)?;
    let core_rise_k = alpha * non_negative(case_rise_k)? * air_factor * air_factor;
    finite(positive(rated_a)? * (core_rise_k / positive(rated_rise_k)?).sqrt())
}

/// Factor by which the currents of `shape` must be multiplied to make the heat `power_w`, each line heating by `a^2 ESR(hz)`.
///
/// For a known waveform of unknown size. `None` if an ESR is unknown or the shape makes no heat.
///
/// ```
/// use refarad::physics::{reverse::scale_of_shape, spectrum::Line};
/// // By hand: 1 A in 0.1 ohm makes 0.1 W; 0.4 W take twice the current.
/// let scale = scale_of_shape(0.4, &[Line { hz: 100.0, a: 1.0 }], |_| Some(0.1)).unwrap();
/// assert!((scale - 2.0).abs() < 1e-12);
/// ```
pub fn scale_of_shape(power_w: f64, shape: &[Line], esr_ohm: impl Fn(f64) -> Option<f64>) -> Option<f64> {
    let mut shape_w = 0.0;
    for line in shape {
        shape_w += non_negative(line.a)?.powi(2) * positive(esr_ohm(line.hz)?)?;
    }
    finite((non_negative(power_w)? / positive(shape_w)?).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forward_and_back_through_the_heat_balance_is_the_same_current() {
        // D 18 mm, H 35.5 mm: S = pi/4 1.8 (1.8 + 14.2) = 22.62 cm2, beta = 2.3e-3 S^-0.2
        let surface_cm2: f64 = std::f64::consts::FRAC_PI_4 * 1.8 * (1.8 + 4.0 * 3.55);
        let dissipation = 2.3e-3 * surface_cm2.powf(-0.2) * surface_cm2;
        let (ripple_a, esr_ohm) = (2.0, 0.05);
        let rise_k = ripple_a * ripple_a * esr_ohm / dissipation;
        let power = power_w(rise_k, dissipation, 1.0).unwrap();
        assert!((ripple_from_power_a(power, esr_ohm).unwrap() - 2.0).abs() < 1e-12);
        let shape = [Line { hz: 100.0, a: 0.6 }, Line { hz: 1e5, a: 0.8 }];
        assert!((scale_of_shape(power, &shape, |_| Some(esr_ohm)).unwrap() - 2.0).abs() < 1e-12);
    }

    #[test]
    fn in_moving_air_the_same_rise_needs_more_ripple_by_the_air_factor() {
        let still = ripple_from_rated_rise_a(4.0, 1.2, 1.0, 1.9, 5.0).unwrap();
        let moving = ripple_from_rated_rise_a(4.0, 1.2, 1.25, 1.9, 5.0).unwrap();
        assert!((moving / still - 1.25).abs() < 1e-12);
        let heat = power_w(4.0, 0.02, 1.25).unwrap() / power_w(4.0, 0.02, 1.0).unwrap();
        assert!((heat - 1.5625).abs() < 1e-12);
    }

    #[test]
    fn a_case_below_its_ambient_or_an_unknown_esr_explains_nothing() {
        assert_eq!(power_w(-1.0, 0.02, 1.0), None);
        assert_eq!(ripple_from_rated_rise_a(-1.0, 1.2, 1.0, 1.9, 5.0), None);
        assert_eq!(scale_of_shape(1.0, &[Line { hz: 1e3, a: 1.0 }], |_| None), None);
        assert_eq!(scale_of_shape(1.0, &[], |_| Some(0.1)), None);
        assert_eq!(ripple_from_power_a(1.0, 0.0), None);
    }
}
