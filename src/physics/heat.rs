//! How much hotter than the air the core gets, and how much ripple the air allows.

use super::interpolate::linear;
use crate::domain::{Can, Technology};

/// Default core rise at rated ripple current, K.
///
/// Wet, non-polar and hybrid parts by upper category temperature (published, Wikipedia, "Aluminum electrolytic
/// capacitor"; non-polar counted as wet by us); solid polymer 20 K (from memory).
#[must_use]
pub fn default_rated_rise_k(technology: Technology, temp_max_c: f64) -> f64 {
    match technology {
        Technology::Polymer => 20.0,
        _ if temp_max_c < 100.0 => 10.0,
        _ if temp_max_c < 120.0 => 5.0,
        _ => 3.0,
    }
}

/// Core rise at the equivalent ripple current, K: the rated rise times the square of the current ratio, divided by the
/// square of the air speed multiplier (published, Rubycon life sheet).
#[must_use]
pub fn core_rise_k(rated_rise_k: f64, equivalent_a: f64, rated_a: f64, airflow_lfm: f64) -> f64 {
    let ratio = equivalent_a / rated_a;
    rated_rise_k * ratio * ratio / airflow_multiplier(airflow_lfm).powi(2)
}

/// Factor on the ripple current in moving air of the given speed in ft/min (published, GE Capacitor application data,
/// table AP3); linear between points, held at 300 ft/min and in still air.
#[must_use]
pub fn airflow_multiplier(airflow_lfm: f64) -> f64 {
    const POINTS: &[(f64, f64)] =
        &[(0., 1.), (50., 1.15), (100., 1.25), (150., 1.4), (200., 1.5), (250., 1.6), (300., 1.7)];
    linear(POINTS, airflow_lfm).unwrap_or(1.0)
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
    #[must_use]
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
    #[must_use]
    pub fn at(&self, ambient_c: f64) -> f64 {
        if ambient_c > self.temp_max_c {
            return 0.0;
        }
        let points = match &self.points {
            Points::Default(points) => points.as_slice(),
            Points::Own(points) => points,
        };
        linear(points, ambient_c).unwrap_or(0.0)
    }
}

/// Second opinion: core rise from a heat balance, K.
///
/// `loss_w` is the heat made in the can, W; `diameter_mm`, `height_mm` its nominal body. Surface
/// `S = pi/4 D (D + 4 H)` in cm², surface coefficient `2.3e-3 S^-0.2` W/(K cm²) (as printed in a maker's life note), core
/// over case rise by diameter (published, Rubycon life sheet).
#[must_use]
pub fn balance_rise_k(loss_w: f64, diameter_mm: f64, height_mm: f64) -> f64 {
    let (diameter_cm, height_cm) = (diameter_mm / 10.0, height_mm / 10.0);
    let surface_cm2 = std::f64::consts::FRAC_PI_4 * diameter_cm * (diameter_cm + 4.0 * height_cm);
    let coefficient_w_per_k_cm2 = 2.3e-3 * surface_cm2.powf(-0.2);
    core_to_case_ratio(diameter_mm) * loss_w / (coefficient_w_per_k_cm2 * surface_cm2)
}

/// Core rise over case rise by can diameter (published, Rubycon life sheet).
#[must_use]
pub fn core_to_case_ratio(diameter_mm: f64) -> f64 {
    const STEPS: [(f64, f64); 6] = [(8., 1.0), (12.5, 1.1), (18., 1.2), (22., 1.3), (25., 1.4), (30., 1.5)];
    STEPS.iter().find(|step| diameter_mm <= step.0).map_or(1.6, |step| step.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_allowed_above_the_upper_category_temperature() {
        let factors = AmbientFactors::of(&Can { temp_max_c: Some(105.0), ..Can::default() }).unwrap();
        assert_eq!(factors.at(105.0), 1.0);
        assert_eq!(factors.at(105.1), 0.0);
        assert_eq!(factors.at(-40.0), 2.1);
        assert!((factors.at(95.0) - 1.35).abs() < 1e-12);
    }

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
        assert!((core_rise_k(5.0, 1.0, 1.0, 200.0) - 5.0 / 2.25).abs() < 1e-12);
        assert_eq!(airflow_multiplier(1e4), 1.7);
    }
}
