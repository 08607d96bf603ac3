//! Hours until a can reaches its end-of-life limits.

use crate::domain::Technology;

/// Longest life believed, h: 15 years (published, Beckhoff PS9011 manual and makers' sheets).
pub const LIFE_CAP_H: f64 = 131_400.0;

/// Ambients below this count as this, °C (published: makers count them so).
const AMBIENT_FLOOR_C: f64 = 40.0;

/// Activation energy of the Arrhenius law in the band, eV.
const ACTIVATION_EV: f64 = 0.68;
const BOLTZMANN_EV_PER_K: f64 = 8.617_333e-5;
const KELVIN: f64 = 273.15;

/// What the life in one phase of steady conditions depends on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// Endurance at the upper category temperature, h.
    pub endurance_h: f64,
    /// Upper category temperature, °C.
    pub temp_max_c: f64,
    /// Core rise during the endurance test, K: the rise at rated ripple, 0 for a test without ripple.
    pub test_rise_k: f64,
    /// Ambient beside the can, °C.
    pub ambient_c: f64,
    /// Core rise in use, K.
    pub rise_k: f64,
    /// Whether the equivalent current is above the rated one.
    pub above_rated_ripple: bool,
    /// Factor for working below the rated voltage, see [`voltage_factor`].
    pub voltage_factor: f64,
}

/// Life by the law of these pages and the lowest and highest life of all published laws, h. Not capped.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Life {
    /// By the law of these pages.
    pub nominal_h: f64,
    /// Shortest of the laws.
    pub low_h: f64,
    /// Longest of the laws.
    pub high_h: f64,
}

impl Conditions {
    fn counted_ambient_c(&self) -> f64 {
        self.ambient_c.max(AMBIENT_FLOOR_C)
    }

    /// Life of a can of this technology under these conditions.
    ///
    /// Solid polymer: `L0 · 10^((T0 - Ta - dT + dT0) / 20)` (published rule, 20 K for a factor of 10), no band.
    /// Others: `L0 · 2^((T0 - Ta) / 10) · 2^((dT0 - dT) / 10) · KV`; above rated ripple with `T0 ≥ 100` the ripple base
    /// is 4 (published, Albertsen, Jianghai Europe 2010, second-hand).
    #[must_use]
    pub fn life(&self, technology: Technology) -> Life {
        let rise_gain_k = self.test_rise_k - self.rise_k;
        let ambient_gain_k = self.temp_max_c - self.counted_ambient_c();
        if technology == Technology::Polymer {
            let nominal_h = self.endurance_h * 10f64.powf((ambient_gain_k + rise_gain_k) / 20.0);
            return Life { nominal_h, low_h: nominal_h, high_h: nominal_h };
        }
        let base: f64 = if self.above_rated_ripple && self.temp_max_c >= 100.0 { 4.0 } else { 2.0 };
        let at_ambient_h = self.endurance_h * (ambient_gain_k / 10.0).exp2() * self.voltage_factor;
        let nominal_h = at_ambient_h * base.powf(rise_gain_k / 10.0);
        let laws_h = [
            Some(nominal_h),
            // DB Lectro data sheet: the ripple term halves for each 5 K.
            Some(at_ambient_h * (rise_gain_k / 5.0).exp2()),
            self.sliding_rise_term().map(|term| at_ambient_h * term),
            Some(self.endurance_h * self.arrhenius_term() * self.voltage_factor),
        ];
        let known_h = || laws_h.into_iter().flatten();
        Life { nominal_h, low_h: known_h().fold(f64::INFINITY, f64::min), high_h: known_h().fold(0.0, f64::max) }
    }

    /// Rubycon life sheet: the step for a factor of 2 shrinks with the rise; only below 40 K.
    fn sliding_rise_term(&self) -> Option<f64> {
        let exponent = |rise_k: f64| (rise_k < 40.0).then(|| rise_k / (10.0 - 0.25 * rise_k));
        Some((exponent(self.test_rise_k)? - exponent(self.rise_k)?).exp2())
    }

    /// Arrhenius on core temperatures.
    fn arrhenius_term(&self) -> f64 {
        arrhenius_factor(ACTIVATION_EV, self.counted_ambient_c() + self.rise_k, self.temp_max_c + self.test_rise_k)
    }
}

/// Life at `core_c` over life at `test_core_c`, both °C, by the law of Arrhenius with the given activation energy in eV.
#[must_use]
pub fn arrhenius_factor(activation_ev: f64, core_c: f64, test_core_c: f64) -> f64 {
    let reciprocal_k = |celsius: f64| (celsius + KELVIN).recip();
    (activation_ev / BOLTZMANN_EV_PER_K * (reciprocal_k(core_c) - reciprocal_k(test_core_c))).exp()
}

/// Factor on life for working below the rated voltage: `clamp(U / UR, 0.6, 1)^-2.5` (published, Albertsen, Jianghai
/// Europe 2010, second-hand). Meant for wet parts rated 160 V or more.
#[must_use]
pub fn voltage_factor(working_v: f64, rated_v: f64) -> f64 {
    (working_v / rated_v).clamp(0.6, 1.0).powf(-2.5)
}

/// Life under a duty: linear damage, `1/L = sum(w / L)` (published, Cosel technical information). Not capped.
///
/// `phases` are pairs of weight and life; weights need not add to 1. `None` when a weight is negative or none is above
/// zero.
#[must_use]
pub fn linear_damage(phases: impl IntoIterator<Item = (f64, Life)>) -> Option<Life> {
    let (mut total, mut damage) = (0.0, [0.0; 3]);
    for (weight, life) in phases {
        if weight < 0.0 {
            return None;
        }
        // A phase without time does no damage, however short its life.
        if weight > 0.0 {
            total += weight;
            for (sum, life_h) in damage.iter_mut().zip([life.nominal_h, life.low_h, life.high_h]) {
                *sum += weight / life_h;
            }
        }
    }
    if !(total > 0.0 && total.is_finite()) {
        return None;
    }
    let [nominal_h, low_h, high_h] = damage.map(|sum| total / sum);
    Some(Life { nominal_h, low_h, high_h })
}

/// The life believed, h.
#[must_use]
pub fn capped_h(life_h: f64) -> f64 {
    life_h.min(LIFE_CAP_H)
}

#[cfg(test)]
mod tests {
    use super::*;

    const RATED: Conditions = Conditions {
        endurance_h: 5000.0,
        temp_max_c: 105.0,
        test_rise_k: 5.0,
        ambient_c: 105.0,
        rise_k: 5.0,
        above_rated_ripple: false,
        voltage_factor: 1.0,
    };

    #[test]
    fn every_law_gives_the_endurance_at_the_test_conditions() {
        let life = RATED.life(Technology::Wet);
        for hours in [life.nominal_h, life.low_h, life.high_h] {
            assert!((hours - 5000.0).abs() < 1e-6, "{hours}");
        }
        assert_eq!(RATED.life(Technology::Polymer).nominal_h, 5000.0);
    }

    #[test]
    fn ambients_below_40_c_count_as_40_c() {
        let at = |ambient_c| Conditions { ambient_c, ..RATED }.life(Technology::Wet);
        assert_eq!(at(-20.0), at(40.0));
        assert!(at(41.0).nominal_h < at(40.0).nominal_h);
    }

    #[test]
    fn ripple_above_the_rating_costs_twice_as_much_in_hot_rated_parts() {
        let above = Conditions { rise_k: 15.0, above_rated_ripple: true, ..RATED };
        assert!((above.life(Technology::Wet).nominal_h - 5000.0 / 4.0).abs() < 1e-9);
        let cooler = Conditions { temp_max_c: 85.0, ambient_c: 85.0, ..above };
        assert!((cooler.life(Technology::Wet).nominal_h - 5000.0 / 2.0).abs() < 1e-9);
    }

    #[test]
    fn a_phase_without_time_does_no_damage_and_bad_shares_give_nothing() {
        let life = |hours| Life { nominal_h: hours, low_h: hours, high_h: hours };
        let mixed = linear_damage([(2.0, life(1000.0)), (0.0, life(0.0))]).unwrap();
        assert!((mixed.nominal_h - 1000.0).abs() < 1e-9);
        assert_eq!(linear_damage([(0.0, life(1.0))]), None);
        assert_eq!(linear_damage([(-1.0, life(1.0)), (3.0, life(1.0))]), None);
        assert_eq!(linear_damage([]), None);
    }

    #[test]
    fn the_band_leaves_out_the_sliding_law_from_40_k_on() {
        let hot = Conditions { rise_k: 41.0, ..RATED };
        assert_eq!(hot.sliding_rise_term(), None);
        assert!(hot.life(Technology::Wet).low_h > 0.0);
    }
}
