//! Hours until a can reaches its end-of-life limits.

use super::heat::published_rises_k;
use crate::domain::Technology;

/// Longest life believed, h: 15 years (published, Beckhoff PS9011 manual and makers' sheets).
pub const LIFE_CAP_H: f64 = 131_400.0;

/// Ambients below this count as this, °C (published: makers count them so).
const AMBIENT_FLOOR_C: f64 = 40.0;

/// Activation energy of the Arrhenius law in the band, eV.
const ACTIVATION_EV: f64 = 0.68;
const BOLTZMANN_EV_PER_K: f64 = 8.617_333e-5;
const KELVIN: f64 = 273.15;

/// Core rises during the test and in use by one figure of the rise at rated ripple.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(clippy::struct_field_names, reason = "every number carries its unit")]
struct Rises {
    /// Rise at rated ripple, K.
    rated_k: f64,
    /// Rise during the endurance test, K: the rated one, 0 for a test without ripple.
    test_k: f64,
    /// Rise in use, K.
    use_k: f64,
}

/// What the life in one phase of steady conditions depends on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// Endurance at the upper category temperature, h.
    pub endurance_h: f64,
    /// Upper category temperature, °C.
    pub temp_max_c: f64,
    /// Core rise at rated ripple, K.
    pub rated_rise_k: f64,
    /// Whether that rise is a default: then the band takes every law with both rises that makers print.
    pub rise_assumed: bool,
    /// Whether the endurance was tested with rated ripple; else the core was no hotter than the air.
    pub tested_with_ripple: bool,
    /// Ambient beside the can, °C.
    pub ambient_c: f64,
    /// Core rise in use over the rise at rated ripple, not below 0.
    pub rise_share: f64,
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

impl Life {
    /// One of which there is no band.
    pub fn exactly(nominal_h: f64) -> Self {
        Self { nominal_h, low_h: nominal_h, high_h: nominal_h }
    }
}

impl Conditions {
    fn counted_ambient_c(&self) -> f64 {
        self.ambient_c.max(AMBIENT_FLOOR_C)
    }

    fn rises(&self, rated_k: f64) -> Rises {
        let test_k = if self.tested_with_ripple { rated_k } else { 0.0 };
        Rises { rated_k, test_k, use_k: rated_k * self.rise_share }
    }

    /// Life of a can of this technology under these conditions.
    ///
    /// Solid polymer: `L0 · 10^((T0 - Ta - dT + dTt) / 20)` (published rule, 20 K for a factor of 10), no band.
    /// Others: `L0 · 2^((T0 - Ta) / 10) · 2^((dTt - min(dT, dT0)) / 10) · B^(-max(dT - dT0, 0) / 10) · KV`, `dT0` the rise at
    /// rated ripple, `dTt` that of the test, `B` = 4 for `T0 ≥ 100`, else 2 (published, Albertsen, Jianghai Europe 2010,
    /// second-hand: base 4 belongs to the rise above the rated one; Vishay EYC agrees at 70 to 100 °C). The life has no step
    /// at rated ripple.
    ///
    /// The band is the least and largest of five laws: that one; `2^((dTt - dT) / 5)` (DB Lectro data sheet);
    /// `2^(dTt / (10 - 0.25 dTt) - dT / (10 - 0.25 dT))` up to 25 K (Rubycon life sheet, whose own multipliers end at 22 K);
    /// Arrhenius on core temperatures, 0.68 eV; and `2^((dTt - dT) / 10)` also above rated ripple. Where the rise at rated
    /// ripple is a default, each with both rises of [`published_rises_k`].
    ///
    /// ```
    /// use refarad::{domain::Technology, physics::life::Conditions};
    /// // Wikipedia, "Aluminum electrolytic capacitor": 2000 h at 105 °C are 128 000 h at 45 °C by the 10 K rule.
    /// let at_45 = Conditions {
    ///     endurance_h: 2000.0, temp_max_c: 105.0, rated_rise_k: 5.0, rise_assumed: false, tested_with_ripple: false,
    ///     ambient_c: 45.0, rise_share: 0.0, voltage_factor: 1.0,
    /// };
    /// assert_eq!(at_45.life(Technology::Wet).nominal_h, 128_000.0);
    /// ```
    pub fn life(&self, technology: Technology) -> Life {
        let mut life = Life::exactly(self.nominal_h(technology));
        if technology == Technology::Polymer {
            return life;
        }
        let at_ambient_h = self.at_ambient_h();
        let published = published_rises_k(self.temp_max_c);
        let rises_k = if self.rise_assumed { &published[..] } else { &[self.rated_rise_k] };
        for rises in rises_k.iter().map(|&rated_k| self.rises(rated_k)) {
            let gain_k = rises.test_k - rises.use_k;
            let laws_h = [
                Some(at_ambient_h * self.rated_rise_term(rises)),
                Some(at_ambient_h * (gain_k / 5.0).exp2()),
                sliding_rise_term(rises).map(|term| at_ambient_h * term),
                Some(self.endurance_h * self.arrhenius_term(rises) * self.voltage_factor),
                Some(at_ambient_h * (gain_k / 10.0).exp2()),
            ];
            for law_h in laws_h.into_iter().flatten() {
                life.low_h = life.low_h.min(law_h);
                life.high_h = life.high_h.max(law_h);
            }
        }
        life
    }

    /// The nominal life of [`life`](Self::life) alone, h; for many questions of which none is about the band.
    pub fn nominal_h(&self, technology: Technology) -> f64 {
        let given = self.rises(self.rated_rise_k);
        if technology == Technology::Polymer {
            return self.endurance_h * 10f64.powf((self.ambient_gain_k() + given.test_k - given.use_k) / 20.0);
        }
        self.at_ambient_h() * self.rated_rise_term(given)
    }

    fn ambient_gain_k(&self) -> f64 {
        self.temp_max_c - self.counted_ambient_c()
    }

    /// Without any rise, h.
    fn at_ambient_h(&self) -> f64 {
        self.endurance_h * (self.ambient_gain_k() / 10.0).exp2() * self.voltage_factor
    }

    fn rated_rise_term(&self, rises: Rises) -> f64 {
        let above_k = (rises.use_k - rises.rated_k).max(0.0);
        let halvings = if self.temp_max_c >= 100.0 { 2.0 * above_k } else { above_k };
        ((rises.test_k - rises.use_k.min(rises.rated_k) - halvings) / 10.0).exp2()
    }

    /// Arrhenius on core temperatures.
    fn arrhenius_term(&self, rises: Rises) -> f64 {
        let (core_c, test_core_c) = (self.counted_ambient_c() + rises.use_k, self.temp_max_c + rises.test_k);
        arrhenius_factor(ACTIVATION_EV, core_c, test_core_c)
    }
}

/// Rubycon life sheet: the step for a factor of 2 shrinks with the rise. The sheet's own multipliers end at 22 K, so beyond
/// 25 K the law says nothing.
fn sliding_rise_term(rises: Rises) -> Option<f64> {
    const UP_TO_K: f64 = 25.0 * (1.0 + 1e-9);
    let exponent = |rise_k: f64| (rise_k <= UP_TO_K).then(|| rise_k / (10.0 - 0.25 * rise_k));
    Some((exponent(rises.test_k)? - exponent(rises.use_k)?).exp2())
}

/// Life at `core_c` over life at `test_core_c`, both °C, by the law of Arrhenius with the given activation energy in eV.
///
/// ```
/// // Public derivation note on the ten-degree rule: 5000 h at 105 °C are 228 446 h at 40 °C with 0.60 eV.
/// let life_h = 5000.0 * refarad::physics::life::arrhenius_factor(0.60, 40.0, 105.0);
/// assert!((life_h - 228_446.4).abs() < 5.0);
/// ```
pub fn arrhenius_factor(activation_ev: f64, core_c: f64, test_core_c: f64) -> f64 {
    let reciprocal_k = |celsius: f64| (celsius + KELVIN).recip();
    (activation_ev / BOLTZMANN_EV_PER_K * (reciprocal_k(core_c) - reciprocal_k(test_core_c))).exp()
}

/// Factor on life for working below the rated voltage: `clamp(U / UR, 0.6, 1)^-2.5` (published, Albertsen, Jianghai
/// Europe 2010, second-hand). Meant for wet parts rated 160 V or more.
///
/// ```
/// // Albertsen, as above: 3.59 at 60 % of the rated voltage.
/// assert!((refarad::physics::life::voltage_factor(240.0, 400.0) - 3.586).abs() < 1e-3);
/// ```
pub fn voltage_factor(working_v: f64, rated_v: f64) -> f64 {
    (working_v / rated_v).clamp(0.6, 1.0).powf(-2.5)
}

/// Life under a duty: linear damage, `1/L = sum(w / L)` (published, Cosel technical information). Not capped.
///
/// `phases` are pairs of weight and life; weights need not add to 1. `None` when a weight is negative or none is above
/// zero.
///
/// ```
/// use refarad::physics::life::{Life, linear_damage};
/// // Cosel: equal shares at 45, 55 and 65 °C with 64 000, 32 000 and 16 000 h make 27 428.57 h.
/// let of = |h| Life { nominal_h: h, low_h: h, high_h: h };
/// let mixed = linear_damage([64e3, 32e3, 16e3].map(|h| (1.0, of(h)))).unwrap();
/// assert!((mixed.nominal_h - 27_428.57).abs() < 0.01);
/// ```
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

/// The life believed, h: at most 15 years.
///
/// ```
/// // Beckhoff PS9011 manual: 15 years, 131 400 h.
/// assert_eq!(refarad::physics::life::capped_h(1e6), 131_400.0);
/// ```
pub fn capped_h(life_h: f64) -> f64 {
    life_h.min(LIFE_CAP_H)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sliding_law_ends_before_its_pole() {
        let rises = |use_k| Rises { rated_k: 10.0, test_k: 10.0, use_k };
        assert!(sliding_rise_term(rises(25.0)).is_some() && sliding_rise_term(rises(25.01)).is_none());
    }
}
