//! The energy stored at a position, and whether it calls for the caution.

use crate::domain::{Position, Stress};
use crate::physics::energy;

/// The voltage that counts as safe to touch, V, and how soon it must be reached, s (IEC 60204-1 6.2.4, quoted).
const SAFE_V: f64 = 60.0;
const WITHIN_S: f64 = 5.0;
/// A usual discharge resistor, ohm (common practice, no source).
const DISCHARGE_OHM: f64 = 10_000.0;

/// The highest voltage a position reaches, V, and what reaches it; `None` where the working voltage is not known. Every stored energy
/// that is shown, printed or exported is the one at this voltage. Reversed polarity stores as much.
#[must_use]
pub fn highest_v(stress: &Stress) -> Option<(f64, &'static str)> {
    let dc_v = stress.dc_v?.abs();
    let peak_v = dc_v + stress.ripple_peak_v.unwrap_or(0.0).abs();
    let transient_v = stress.transient_v.unwrap_or(0.0).abs();
    Some(if transient_v > peak_v {
        (transient_v, "transient")
    } else if peak_v > dc_v {
        (peak_v, "dc and ripple peak")
    } else {
        (dc_v, "dc")
    })
}

/// The larger of the original's capacitance and `fitted_uf`, that of what is or will be fitted, F.
#[must_use]
pub fn largest_f(position: &Position, fitted_uf: Option<f64>) -> Option<f64> {
    let both = [position.original.can.capacitance_uf, fitted_uf];
    both.into_iter().flatten().reduce(f64::max).map(|uf| uf * 1e-6)
}

/// What is stored at a position that calls for the caution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stored {
    /// Highest voltage, V.
    pub volt_v: f64,
    /// What reaches it: dc, the peak of the ripple on it, or the transient.
    pub volt_of: &'static str,
    /// Energy, J; `None` where the capacitance is not known.
    pub energy_j: Option<f64>,
    /// Time to 60 V through 10 kΩ, s.
    pub through_10k_s: Option<f64>,
    /// Largest resistance that reaches 60 V within 5 s, ohm; `None` where it is there already.
    pub bleeder_ohm: Option<f64>,
}

/// What is stored at `position`, above 60 V or 10 J only. `chosen_uf` is the capacitance of the chosen part: the larger of it and the
/// original's counts. `None` too where no voltage is known.
#[must_use]
pub fn stored(position: &Position, chosen_uf: Option<f64>) -> Option<Stored> {
    let (volt_v, volt_of) = highest_v(&position.stress)?;
    let capacitance_f = largest_f(position, chosen_uf);
    let energy_j = capacitance_f.and_then(|farad| energy::stored_j(farad, volt_v));
    if volt_v <= energy::CAUTION_V && energy_j.is_none_or(|joule| joule <= energy::CAUTION_J) {
        return None;
    }
    Some(Stored {
        volt_v,
        volt_of,
        energy_j,
        through_10k_s: capacitance_f.and_then(|farad| energy::time_to_v_s(farad, DISCHARGE_OHM, volt_v, SAFE_V)),
        bleeder_ohm: capacitance_f.and_then(|farad| energy::bleeder_ohm(farad, volt_v, SAFE_V, WITHIN_S)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn position(capacitance_uf: f64, dc_v: f64) -> Position {
        let mut position = Position::default();
        position.original.can.capacitance_uf = Some(capacitance_uf);
        position.stress.dc_v = Some(dc_v);
        position
    }

    #[test]
    fn energy_and_discharge_follow_the_textbook() {
        // E = C U^2/2; t = R C ln(U/V), by hand: 220 uF at 340 V.
        let stored = stored(&position(220.0, 340.0), None).unwrap();
        assert!((stored.energy_j.unwrap() - 12.716).abs() < 1e-9);
        assert!((stored.through_10k_s.unwrap() - 2.2 * (340.0f64 / 60.0).ln()).abs() < 1e-9);
    }

    #[test]
    fn the_highest_voltage_counts_and_is_named() {
        let mut one = position(220.0, 325.0);
        assert_eq!(highest_v(&one.stress), Some((325.0, "dc")));
        one.stress.ripple_peak_v = Some(15.0);
        assert_eq!(highest_v(&one.stress), Some((340.0, "dc and ripple peak")));
        one.stress.transient_v = Some(380.0);
        assert_eq!(highest_v(&one.stress), Some((380.0, "transient")));
        // By hand: 220 uF x 380^2 / 2.
        assert!((stored(&one, None).unwrap().energy_j.unwrap() - 15.884).abs() < 1e-9);
    }

    #[test]
    fn low_voltage_calls_for_the_caution_only_with_much_energy() {
        assert_eq!(stored(&position(100.0, 24.0), None), None);
        assert!(stored(&position(47_000.0, 24.0), None).is_some());
        assert!(stored(&position(100.0, 24.0), Some(47_000.0)).is_some());
    }
}
