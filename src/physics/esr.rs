//! Equivalent series resistance, from whatever a data sheet gives.

use std::f64::consts::TAU;

use super::frequency::Multipliers;
use crate::domain::{Assumed, Can, Technology};

/// Frequency at which loss factors are given, Hz.
const TAN_DELTA_HZ: f64 = 120.0;

/// `ESR = tan δ / (2π f C)`, mΩ (published, KEMET A4001), at 120 Hz.
#[must_use]
pub fn from_tan_delta_mohm(tan_delta: f64, capacitance_uf: f64) -> f64 {
    tan_delta / (TAU * TAN_DELTA_HZ * capacitance_uf * 1e-6) * 1e3
}

/// Usual loss factor limit at 120 Hz by rated voltage, plus 0.02 for every full or started 1000 µF above 1000 µF
/// (published, Nichicon HE and UPW data sheets; "started" is our reading).
#[must_use]
pub fn usual_tan_delta(rated_v: f64, capacitance_uf: f64) -> f64 {
    const LADDER: [(f64, f64); 10] = [
        (6.3, 0.22),
        (10.0, 0.19),
        (16.0, 0.16),
        (25.0, 0.14),
        (35.0, 0.12),
        (50.0, 0.10),
        (63.0, 0.09),
        (100.0, 0.08),
        (250.0, 0.15),
        (350.0, 0.20),
    ];
    let step = LADDER.iter().find(|step| rated_v <= step.0).map_or(0.25, |step| step.1);
    let thousands_above = ((capacitance_uf - 1000.0) / 1000.0).ceil().max(0.0);
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

/// ESR of `can` at `hz`: its own value, else from its loss factor, else from the usual loss factor of wet and non-polar
/// parts; brought to `hz` by equal heat, `ESR(f) = ESR(f1) · (F(f1) / F(f))²`.
///
/// An own value without its frequency is not used. `None` where a figure is missing.
#[must_use]
pub fn at_hz(can: &Can, hz: f64) -> Option<Esr> {
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
            if can.technology.is_none() {
                assumed.insert(Assumed::TECHNOLOGY);
            }
            usual_tan_delta(can.rated_v?, capacitance_uf)
        };
        (from_tan_delta_mohm(tan_delta, capacitance_uf), TAN_DELTA_HZ)
    };
    if given_hz == hz {
        return Some(Esr { mohm: given_mohm, assumed, derived: own.is_none() });
    }
    let multipliers = Multipliers::of(can)?;
    if multipliers.assumed {
        assumed.insert(Assumed::FREQUENCY_MULTIPLIERS);
    }
    let ratio = multipliers.at(given_hz) / multipliers.at(hz);
    Some(Esr { mohm: given_mohm * ratio * ratio, assumed, derived: true })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_started_thousand_counts_as_a_full_one() {
        let at = |uf| usual_tan_delta(10.0, uf);
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
