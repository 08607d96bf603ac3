//! Equivalent series resistance, from whatever a data sheet gives.

use std::f64::consts::TAU;

use super::frequency::Multipliers;
use crate::domain::{Assumed, Can, Technology};

/// Frequency at which dissipation factors are given, Hz.
const TAN_DELTA_HZ: f64 = 120.0;

/// `ESR = tan δ / (2π f C)`, mΩ (published, KEMET A4001), at 120 Hz.
///
/// ```
/// // KMQ 1800 µF 250 V as transcribed in an open hardware design note: 147.4 mΩ with a dissipation factor of 0.20.
/// assert!((refarad::physics::esr::from_tan_delta_mohm(0.20, 1800.0) - 147.4).abs() < 0.05);
/// ```
pub fn from_tan_delta_mohm(tan_delta: f64, capacitance_uf: f64) -> f64 {
    tan_delta / (TAU * TAN_DELTA_HZ * capacitance_uf * 1e-6) * 1e3
}

/// Which of the usual dissipation factors of wet parts stands in for one that is not given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ladder {
    /// The higher ones, for a part that is offered (published, EPCOS B41851).
    Part,
    /// The lower ones, for the limit an original gives (published, Nichicon HE and UPW).
    Limit,
}

/// Usual dissipation factor limit at 120 Hz by rated voltage, plus 0.02 for every full or started 1000 µF above 1000 µF
/// (published, Nichicon HE and UPW data sheets; "started" is our reading). Above 100 V both ladders are one: 0.15 up to
/// 250 V, 0.20 up to 350 V, 0.25 above (published, Nichicon UPW).
///
/// ```
/// use refarad::physics::esr::{Ladder, usual_tan_delta};
/// // EPCOS B41851: 0.16 at 25 V. Nichicon HE: 0.14 at 25 V, 0.02 more for each 1000 µF above 1000 µF.
/// assert_eq!(usual_tan_delta(Ladder::Part, 25.0, 470.0), 0.16);
/// assert_eq!(usual_tan_delta(Ladder::Limit, 25.0, 2200.0), 0.14 + 0.04);
/// ```
pub fn usual_tan_delta(ladder: Ladder, rated_v: f64, capacitance_uf: f64) -> f64 {
    const PART: &[(f64, f64)] =
        &[(6.3, 0.28), (10., 0.24), (16., 0.20), (25., 0.16), (35., 0.14), (63., 0.12), (100., 0.10)];
    const LIMIT: &[(f64, f64)] =
        &[(6.3, 0.22), (10., 0.19), (16., 0.16), (25., 0.14), (35., 0.12), (50., 0.10), (63., 0.09), (100., 0.08)];
    const BOTH: &[(f64, f64)] = &[(250.0, 0.15), (350.0, 0.20)];
    let steps = match ladder {
        Ladder::Part => PART,
        Ladder::Limit => LIMIT,
    };
    let step = steps.iter().chain(BOTH).find(|step| rated_v <= step.0).map_or(0.25, |step| step.1);
    let thousands_above = ((capacitance_uf - 1000.0) / 1000.0 - 1e-9).ceil().max(0.0);
    step + 0.02 * thousands_above
}

/// An ESR and what it leaned on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Esr {
    /// Resistance, mΩ.
    pub mohm: f64,
    /// Default figures used on the way.
    pub assumed: Assumed,
    /// Whether it was worked out, not given at this frequency.
    pub derived: bool,
}

impl Esr {
    /// Whether it rests on the usual dissipation factor.
    ///
    /// ```
    /// use refarad::{domain::Can, physics::esr::at_hz};
    /// // EPCOS B41851 at 25 V stands in where a wet part gives neither ESR nor dissipation factor.
    /// let part = Can { rated_v: Some(25.0), capacitance_uf: Some(470.0), ..Can::default() };
    /// assert!(at_hz(&part, 120.0).unwrap().from_ladder());
    /// ```
    pub fn from_ladder(&self) -> bool {
        self.assumed.contains(Assumed::TAN_DELTA)
    }
}

/// [`at_hz_by`] as a part that is offered.
///
/// ```
/// use refarad::{domain::Can, physics::esr::at_hz};
/// // KMQ 1800 µF 250 V as transcribed in an open hardware design note: dissipation factor 0.15 at 120 Hz is 110.5 mΩ.
/// let part = Can { tan_delta: Some(0.15), capacitance_uf: Some(1800.0), ..Can::default() };
/// assert!((at_hz(&part, 120.0).unwrap().mohm - 110.5).abs() < 0.05);
/// ```
pub fn at_hz(can: &Can, hz: f64) -> Option<Esr> {
    at_hz_by(Ladder::Part, can, hz)
}

/// ESR of `can` at `hz`: its own value, else from its dissipation factor, else from the usual dissipation factor of wet
/// and non-polar parts; brought to `hz` by equal heat, `ESR(f) = ESR(f1) · (F(f1) / F(f))²`.
///
/// An own value without its frequency is not used. `None` where a figure is missing.
///
/// ```
/// use refarad::{domain::Can, physics::esr::{Ladder, at_hz_by}};
/// // By hand: 0.14 / (2 pi 120 Hz 470 µF) = 395.1 mΩ.
/// let original = Can { rated_v: Some(25.0), capacitance_uf: Some(470.0), ..Can::default() };
/// assert!((at_hz_by(Ladder::Limit, &original, 120.0).unwrap().mohm - 395.1).abs() < 0.05);
/// ```
pub fn at_hz_by(ladder: Ladder, can: &Can, hz: f64) -> Option<Esr> {
    let mut assumed = Assumed::default();
    let own = can.esr_mohm.zip(can.esr_hz);
    let (given_mohm, given_hz) = if let Some(own) = own {
        own
    } else {
        let capacitance_uf = can.capacitance_uf?;
        let tan_delta = if let Some(own) = can.tan_delta {
            own
        } else {
            let technology = can.technology_or_wet();
            if !matches!(technology, Technology::Wet | Technology::NonPolar) {
                return None;
            }
            assumed.insert(Assumed::TAN_DELTA);
            assumed.insert_if(can.technology.is_none(), Assumed::TECHNOLOGY);
            usual_tan_delta(ladder, can.rated_v?, capacitance_uf)
        };
        (from_tan_delta_mohm(tan_delta, capacitance_uf), TAN_DELTA_HZ)
    };
    if given_hz == hz {
        return Some(Esr { mohm: given_mohm, assumed, derived: own.is_none() });
    }
    let multipliers = Multipliers::of(can)?;
    assumed.insert_if(multipliers.assumed, Assumed::FREQUENCY_MULTIPLIERS);
    let ratio = multipliers.at(given_hz) / multipliers.at(hz);
    Some(Esr { mohm: given_mohm * ratio * ratio, assumed, derived: true })
}

/// Factor from 20 °C to `celsius` on the ESR, from the ratio `z_ratio` of the impedance at `z_cold_c` over that at 20 °C.
///
/// 1 from 20 °C on; between 20 °C and `z_cold_c` the logarithm is linear; down to 15 K below `z_cold_c` it rises by 1.5 for
/// parts of 50 to 100 V, by 2 for others, in those 15 K (published, -40 over -25 °C: Nichicon HE, UH, Panasonic SU 1.5 to 2).
/// A ratio below 1 counts as 1. `None` colder than that, and for a `z_cold_c` that is not below 20 °C.
///
/// ```
/// use refarad::physics::esr::cold_factor;
/// // Nichicon HE at 25 V: 2 at -25 °C; 3 is printed at -40 °C, twice the ratio at -25 °C is the cautious side of it.
/// assert_eq!([20.0, -25.0, -40.0].map(|c| cold_factor(c, 2.0, -25.0, 25.0).unwrap()), [1.0, 2.0, 4.0]);
/// ```
pub fn cold_factor(celsius: f64, z_ratio: f64, z_cold_c: f64, rated_v: f64) -> Option<f64> {
    const REACH_K: f64 = 15.0;
    if celsius >= 20.0 {
        return Some(1.0);
    }
    if z_cold_c >= 20.0 {
        return None;
    }
    let z_ratio = z_ratio.max(1.0);
    if celsius >= z_cold_c {
        return Some(z_ratio.powf((20.0 - celsius) / (20.0 - z_cold_c)));
    }
    let below_k = z_cold_c - celsius;
    let rise: f64 = if (50.0..=100.0).contains(&rated_v) { 1.5 } else { 2.0 };
    (below_k <= REACH_K + 1e-9).then(|| z_ratio * rise.powf(below_k / REACH_K))
}

/// Least factor from 20 °C to `celsius` of a wet part above 1 kHz, where no impedance ratio at 120 Hz can tell: 2 at -10, 4
/// at -25, 8 at -40 °C, the logarithm linear between and to 1 at 20 °C, doubling each 15 K below (from memory).
///
/// ```
/// // The points themselves.
/// assert_eq!([20.0, -10.0, -25.0, -40.0].map(refarad::physics::esr::cold_factor_floor), [1.0, 2.0, 4.0, 8.0]);
/// ```
pub fn cold_factor_floor(celsius: f64) -> f64 {
    let doublings = if celsius >= -10.0 { (20.0 - celsius) / 30.0 } else { 1.0 + (-10.0 - celsius) / 15.0 };
    doublings.max(0.0).exp2()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_started_thousand_counts_as_a_full_one() {
        let at = |uf| usual_tan_delta(Ladder::Limit, 10.0, uf);
        let close = |a: f64, b: f64| (a - b).abs() < 1e-12;
        assert!(close(at(1000.0), 0.19) && close(at(1000.1), 0.21));
        assert!(close(at(2000.0), 0.21) && close(at(4700.0), 0.27));
    }

    #[test]
    fn polymer_without_esr_or_loss_factor_is_unknown() {
        let can = Can {
            technology: Some(Technology::Polymer),
            capacitance_uf: Some(100.0),
            rated_v: Some(16.0),
            ..Can::default()
        };
        assert_eq!(at_hz(&can, 1e5), None);
    }

    #[test]
    fn an_esr_at_the_frequency_asked_for_is_taken_as_it_is() {
        let can = Can { esr_mohm: Some(80.0), esr_hz: Some(1e5), ripple_hz: Some(1e5), ..Can::default() };
        assert_eq!(at_hz(&can, 1e5), Some(Esr { mohm: 80.0, assumed: Assumed::default(), derived: false }));
        assert_eq!(at_hz(&can, 120.0), None, "conversion needs the rated voltage for a default table");
    }
}
