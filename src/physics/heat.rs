//! How much hotter than the air the core gets, and how much ripple the air allows.

use super::interpolate::linear;
use crate::domain::{Can, Mounting, Technology};

/// Default core rise at rated ripple current, K.
///
/// Wet, non-polar and hybrid parts by upper category temperature (published, Wikipedia, "Aluminum electrolytic
/// capacitor"; non-polar counted as wet by us); solid polymer 20 K (from memory).
///
/// ```
/// use refarad::{domain::Technology, physics::heat::default_rated_rise_k};
/// // Wikipedia, "Aluminum electrolytic capacitor": 10 K for 85 °C parts, 5 K for 105 °C, 3 K for 125 °C.
/// assert_eq!([85.0, 105.0, 125.0].map(|t| default_rated_rise_k(Technology::Wet, t)), [10.0, 5.0, 3.0]);
/// ```
pub fn default_rated_rise_k(technology: Technology, temp_max_c: f64) -> f64 {
    match technology {
        Technology::Polymer => 20.0,
        _ if temp_max_c < 100.0 => 10.0,
        _ if temp_max_c < 120.0 => 5.0,
        _ => 3.0,
    }
}

/// The two rises at rated ripple that makers print for a class of parts, K, for the band of the life laws: 10 and 5 below
/// 100 °C, 5 and 3.5 below 120 °C, 5 and 3 from there (published: Wikipedia, Rubycon life sheets, Panasonic TS-U, Albertsen).
///
/// ```
/// // Panasonic TS-U and Rubycon life sheets for 105 °C parts, as named above.
/// assert_eq!(refarad::physics::heat::published_rises_k(105.0), [5.0, 3.5]);
/// ```
pub fn published_rises_k(temp_max_c: f64) -> [f64; 2] {
    match temp_max_c {
        t if t < 100.0 => [10.0, 5.0],
        t if t < 120.0 => [5.0, 3.5],
        _ => [5.0, 3.0],
    }
}

/// Core rise at the equivalent ripple current, K: the rated rise times the square of the current ratio, divided by the
/// square of the air multiplier `air` of [`air_multiplier`] (published, Rubycon life sheet).
///
/// ```
/// // Rubycon life sheet, dT = dT0 (I/I0)^2: half the rated current makes a quarter of the rated 5 K.
/// assert_eq!(refarad::physics::heat::core_rise_k(5.0, 0.5, 1.0, 1.0), 1.25);
/// ```
pub fn core_rise_k(rated_rise_k: f64, equivalent_a: f64, rated_a: f64, air: f64) -> f64 {
    let ratio = equivalent_a / rated_a;
    rated_rise_k * ratio * ratio / (air * air)
}

/// Diameter from which the core's own resistance keeps moving air from cooling it as a small can is cooled, mm.
const LARGE_CAN_MM: f64 = 35.0;

/// Factor on the ripple current in moving air of `airflow_lfm` ft/min for a can of this nominal diameter, and whether it is
/// the derived one.
///
/// Below 35 mm: 1, 1.15, 1.25, 1.4, 1.5, 1.6, 1.7 at 0, 50, 100 ... 300 ft/min (published, GE Capacitor application data,
/// table AP3). From 35 mm, and where the diameter is not known: 1.2 at 200 and 1.3 at 300 ft/min (derived: the core's own
/// resistance is not cooled). Linear between points, held at 300 ft/min and in still air.
///
/// ```
/// use refarad::physics::heat::air_multiplier;
/// // GE Capacitor application data, table AP3: 1.5 at 200 ft/min.
/// assert_eq!(air_multiplier(200.0, Some(25.0)), (1.5, false));
/// assert_eq!(air_multiplier(200.0, Some(35.0)), (1.2, true));
/// ```
pub fn air_multiplier(airflow_lfm: f64, diameter_mm: Option<f64>) -> (f64, bool) {
    const SMALL: &[(f64, f64)] =
        &[(0., 1.), (50., 1.15), (100., 1.25), (150., 1.4), (200., 1.5), (250., 1.6), (300., 1.7)];
    const LARGE: &[(f64, f64)] = &[(0., 1.), (200., 1.2), (300., 1.3)];
    let large = diameter_mm.is_none_or(|diameter_mm| diameter_mm >= LARGE_CAN_MM);
    let points = if large { LARGE } else { SMALL };
    (linear(points, airflow_lfm).unwrap_or(1.0), large && airflow_lfm > 0.0)
}

/// Ripple multipliers over ambient that keep the life unchanged.
#[derive(Debug, Clone, PartialEq)]
pub struct AmbientFactors {
    points: Points,
    temp_max_c: f64,
    /// Whether the table is a default and not the part's own.
    pub assumed: bool,
}

#[derive(Debug, Clone, PartialEq)]
enum Points {
    Default([(f64, f64); 3]),
    Own(Vec<(f64, f64)>),
}

impl AmbientFactors {
    /// The part's own table with the upper category temperature added at factor 1 if it lacks it, else the default
    /// (published for 105 °C and 85 °C parts, Rubycon life sheet; shifted to other temperatures by us). `None` without an
    /// upper category temperature.
    ///
    /// ```
    /// use refarad::{domain::Can, physics::heat::AmbientFactors};
    /// // Rubycon life sheet, 105 °C parts: 1.7 at 85 °C; nothing above the category temperature.
    /// let part = Can { temp_max_c: Some(105.0), ..Can::default() };
    /// let factors = AmbientFactors::of(&part).unwrap();
    /// assert_eq!([-40.0, 85.0, 105.0, 105.1].map(|c| factors.at(c)), [2.1, 1.7, 1.0, 0.0]);
    /// assert!((factors.at(95.0) - 1.35).abs() < 1e-12);
    /// ```
    pub fn of(can: &Can) -> Option<Self> {
        let temp_max_c = can.temp_max_c?;
        if let Some(own) = &can.ripple_temp_factors {
            let mut points = own.pairs().to_vec();
            if points.iter().all(|p| p.0 != temp_max_c) {
                let at = points.partition_point(|p| p.0 < temp_max_c);
                points.insert(at, (temp_max_c, 1.0));
            }
            return Some(Self { points: Points::Own(points), temp_max_c, assumed: false });
        }
        let points = if temp_max_c >= 100.0 {
            [(temp_max_c - 40.0, 2.1), (temp_max_c - 20.0, 1.7), (temp_max_c, 1.0)]
        } else {
            [(temp_max_c - 35.0, 2.0), (temp_max_c - 15.0, 1.6), (temp_max_c, 1.0)]
        };
        Some(Self { points: Points::Default(points), temp_max_c, assumed: true })
    }

    /// Factor at `ambient_c`: linear between points, flat below, zero above the upper category temperature.
    ///
    /// ```
    /// use refarad::{domain::Can, physics::heat::AmbientFactors};
    /// // Rubycon life sheet, family USR: 1.3 up to 65 °C; nothing above the category temperature.
    /// let part = Can { temp_max_c: Some(85.0), ripple_temp_factors: "65:1.3".parse().ok(), ..Can::default() };
    /// let factors = AmbientFactors::of(&part).unwrap();
    /// assert_eq!([40.0, 65.0, 85.0, 85.1].map(|c| factors.at(c)), [1.3, 1.3, 1.0, 0.0]);
    /// ```
    pub fn at(&self, ambient_c: f64) -> f64 {
        if ambient_c > self.temp_max_c {
            return 0.0;
        }
        linear(self.points(), ambient_c).unwrap_or(0.0)
    }

    /// The table: ambient in °C, rising, and factor.
    pub fn points(&self) -> &[(f64, f64)] {
        match &self.points {
            Points::Default(points) => points.as_slice(),
            Points::Own(points) => points,
        }
    }
}

/// Rise of a can per watt of heat made in it, K/W: of the case over the air, and of the core over the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RisePerWatt {
    /// Case over air, K/W.
    pub case_k: f64,
    /// Core over air, K/W.
    pub core_k: f64,
}

/// Second opinion: rise from a heat balance.
///
/// `diameter_mm`, `height_mm` are the nominal body, both above 0. Surface `S = pi/4 D (D + 4 H)` in cm². Most cans: surface
/// coefficient `2.3e-3 S^-0.2` W/(K cm²) (as printed in a maker's life note), never below 1.1e-3 (natural convection and
/// radiation, textbook), and core over case rise by diameter (published, Rubycon life sheet). Screw cans from 50 mm:
/// `1.44e-3` W/(K cm²) and 0.65 K/W from case to core (within 8 % of the table of F+T's catalogue, section 5). An upper
/// bound where the loss comes from a sheet's ESR, which is its limit.
///
/// ```
/// use refarad::{domain::Mounting, physics::heat::rise_per_watt};
/// // F+T catalogue, section 5: 75 x 69 mm, 3.3 K/W from the case to still air, 0.6 K/W inside.
/// let can = rise_per_watt(75.0, 69.0, Some(Mounting::Screw));
/// assert!((can.case_k / 3.3 - 1.0).abs() < 0.07);
/// assert!((can.core_k / 3.9 - 1.0).abs() < 0.07);
/// ```
pub fn rise_per_watt(diameter_mm: f64, height_mm: f64, mounting: Option<Mounting>) -> RisePerWatt {
    const LARGE_SCREW_CAN_MM: f64 = 50.0;
    let (diameter_cm, height_cm) = (diameter_mm / 10.0, height_mm / 10.0);
    let surface_cm2 = std::f64::consts::FRAC_PI_4 * diameter_cm * (diameter_cm + 4.0 * height_cm);
    if mounting == Some(Mounting::Screw) && diameter_mm >= LARGE_SCREW_CAN_MM {
        let case_k = 1.0 / (1.44e-3 * surface_cm2);
        return RisePerWatt { case_k, core_k: case_k + 0.65 };
    }
    let coefficient_w_per_k_cm2 = (2.3e-3 * surface_cm2.powf(-0.2)).max(1.1e-3);
    let case_k = 1.0 / (coefficient_w_per_k_cm2 * surface_cm2);
    RisePerWatt { case_k, core_k: core_to_case_ratio(diameter_mm) * case_k }
}

/// Core rise over case rise by can diameter (published, Rubycon life sheet).
///
/// ```
/// use refarad::physics::heat::core_to_case_ratio;
/// // Rubycon life sheet, Ta = Tc - dTj/alpha: alpha 1.0 up to 8 mm, 1.6 at 35 mm.
/// assert_eq!([8.0, 18.0, 35.0].map(core_to_case_ratio), [1.0, 1.2, 1.6]);
/// ```
pub fn core_to_case_ratio(diameter_mm: f64) -> f64 {
    const STEPS: [(f64, f64); 6] = [(8., 1.0), (12.5, 1.1), (18., 1.2), (22., 1.3), (25., 1.4), (30., 1.5)];
    STEPS.iter().find(|step| diameter_mm <= step.0).map_or(1.6, |step| step.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_own_table_gains_the_category_temperature_only_where_it_lacks_it() {
        let with = |table: &str| {
            let can = Can { temp_max_c: Some(85.0), ripple_temp_factors: table.parse().ok(), ..Can::default() };
            AmbientFactors::of(&can).unwrap()
        };
        assert_eq!(with("65:1.3").at(85.0), 1.0);
        assert_eq!(with("65:1.3;85:1.1").at(85.0), 1.1);
        assert_eq!(with("65:1.3;95:0.5").at(85.0), 1.0);
    }

    #[test]
    fn moving_air_lowers_the_rise_by_the_square_of_its_multiplier() {
        let at = |lfm, diameter_mm| air_multiplier(lfm, diameter_mm).0;
        assert!((core_rise_k(5.0, 1.0, 1.0, at(200.0, Some(10.0))) - 5.0 / 2.25).abs() < 1e-12);
        assert_eq!([at(1e4, Some(34.9)), at(1e4, Some(35.0)), at(1e4, None), at(0.0, None)], [1.7, 1.3, 1.3, 1.0]);
        assert!((at(100.0, Some(40.0)) - 1.1).abs() < 1e-12);
    }

    #[test]
    fn the_surface_coefficient_is_never_below_natural_convection_and_radiation() {
        // 2.3e-3 S^-0.2 is 1.1e-3 at S = 40 cm2; a radial or snap-in can above that keeps 1.1e-3.
        let can = rise_per_watt(35.0, 60.0, Some(Mounting::SnapIn));
        let surface = std::f64::consts::FRAC_PI_4 * 3.5 * (3.5 + 24.0);
        assert!((can.case_k - 1.0 / (1.1e-3 * surface)).abs() < 1e-12);
        assert!((can.core_k - 1.6 * can.case_k).abs() < 1e-12);
    }
}
