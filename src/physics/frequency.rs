//! Ripple at several frequencies as one equivalent current.
//!
//! A can stands more current at a frequency where its ESR is lower. The multiplier `F(f)` says how much more, relative to
//! the frequency of the rating. Only ratios of multipliers matter, so tables need not be normalised.

use super::interpolate::log_linear;
use crate::domain::{Can, Technology};

/// Ratings up to this frequency are mains-frequency ratings with a flat multiplier table.
const LOW_FREQUENCY_RATING_MAX_HZ: f64 = 1000.0;

type Points = [(f64, f64)];

/// Vishay BCcomponents data sheet 056/057 PSM-SI, document 28340, table 4; by rated voltage up to 25 V, 100 V, above.
const LOW_FREQUENCY: [[(f64, f64); 8]; 3] = [
    [(50., 0.93), (100., 1.), (200., 1.04), (400., 1.07), (1e3, 1.11), (2e3, 1.13), (4e3, 1.15), (1e4, 1.18)],
    [(50., 0.91), (100., 1.), (200., 1.05), (400., 1.09), (1e3, 1.13), (2e3, 1.15), (4e3, 1.18), (1e4, 1.22)],
    [(50., 0.86), (100., 1.), (200., 1.13), (400., 1.21), (1e3, 1.29), (2e3, 1.32), (4e3, 1.35), (1e4, 1.40)],
];

const HIGH_FREQUENCY_HZ: [f64; 7] = [100., 300., 1e3, 3e3, 1e4, 3e4, 1e5];

/// Vishay BCcomponents data sheet 136 RVI, document 28321, table 4; by rated voltage up to 10 V, 25 V, 50 V, above, each
/// with cans up to 12.5 mm first and larger ones second.
const HIGH_FREQUENCY: [[[f64; 7]; 2]; 4] = [
    [[0.70, 0.80, 0.88, 0.92, 0.96, 0.99, 1.], [0.83, 0.90, 0.95, 0.98, 0.99, 1., 1.]],
    [[0.63, 0.72, 0.80, 0.88, 0.92, 0.98, 1.], [0.69, 0.79, 0.87, 0.92, 0.96, 0.99, 1.]],
    [[0.50, 0.61, 0.72, 0.81, 0.88, 0.94, 1.], [0.60, 0.71, 0.80, 0.88, 0.93, 0.96, 1.]],
    [[0.35, 0.51, 0.66, 0.76, 0.85, 0.92, 1.], [0.50, 0.64, 0.74, 0.83, 0.90, 0.95, 1.]],
];

/// Solid polymer; from memory.
const POLYMER: &Points = &[(120., 0.05), (1e3, 0.30), (1e4, 0.70), (1e5, 1.)];

/// Most points a default table has.
const POINTS_MAX: usize = 9;

/// A ripple multiplier table, not normalised.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Multipliers<'a> {
    points: PointsOf<'a>,
    /// Whether the table is a default and not the part's own.
    pub assumed: bool,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum PointsOf<'a> {
    Listed(&'a Points),
    /// The points and how many of them are used.
    Few([(f64, f64); POINTS_MAX], usize),
}

impl<'a> Multipliers<'a> {
    fn few(from: impl IntoIterator<Item = (f64, f64)>, assumed: bool) -> Self {
        let (mut points, mut len) = ([(0.0, 0.0); POINTS_MAX], 0);
        for (to, point) in points.iter_mut().zip(from) {
            *to = point;
            len += 1;
        }
        Self { points: PointsOf::Few(points, len), assumed }
    }

    /// The multipliers of `can`: its own table, else its own cells, else the published default for its technology, rating
    /// frequency, rated voltage and diameter. Without a rating frequency the low-frequency table stands in (for ESR
    /// conversion only; ripple itself is unknown then). `None` where the default table needs a figure the can lacks.
    ///
    /// Makers differ most below 100 Hz. There the published table is replaced by the lowest figures read, unless the part is
    /// rated at 50 or 60 Hz: 0.75 at 60 Hz up to 33 µF or where the capacitance is not known, 0.85 from 1000 µF, 0.80
    /// between (published, Panasonic NHG data sheet), and 0.02 less at 50 Hz (from memory).
    ///
    /// ```
    /// use refarad::{domain::Can, physics::frequency::Multipliers};
    /// // Vishay 056/057, document 28340, table 4: a 400 V part stands 1.40 times the current at 10 kHz.
    /// let part = Can { rated_v: Some(400.0), capacitance_uf: Some(220.0), ripple_hz: Some(100.0), ..Can::default() };
    /// let multipliers = Multipliers::of(&part).unwrap();
    /// assert_eq!([60.0, 100.0, 1e4].map(|hz| multipliers.at(hz)), [0.80, 1.0, 1.40]);
    /// ```
    pub fn of(can: &'a Can) -> Option<Self> {
        if let Some(own) = &can.ripple_freq_factors {
            return Some(Self { points: PointsOf::Listed(own.pairs()), assumed: false });
        }
        if can.own_multipliers().next().is_some() {
            return Some(Self::few(can.own_multipliers(), false));
        }
        if can.technology == Some(Technology::Polymer) {
            return Some(Self { points: PointsOf::Listed(POLYMER), assumed: true });
        }
        let rated_v = can.rated_v?;
        if can.ripple_hz.is_none_or(|hz| hz <= LOW_FREQUENCY_RATING_MAX_HZ) {
            let published = &LOW_FREQUENCY[[25.0, 100.0].partition_point(|&limit_v| limit_v < rated_v)];
            if can.ripple_hz.is_some_and(|hz| hz == 50.0 || hz == 60.0) {
                return Some(Self { points: PointsOf::Listed(published), assumed: true });
            }
            let at_60 = low_point(can.capacitance_uf);
            let low = [(50.0, at_60 - 0.02), (60.0, at_60)];
            return Some(Self::few(low.into_iter().chain(published[1..].iter().copied()), true));
        }
        let by_voltage = [10.0, 25.0, 50.0].partition_point(|&limit_v| limit_v < rated_v);
        let by_diameter = usize::from(can.diameter_mm? > 12.5);
        let factors = HIGH_FREQUENCY[by_voltage][by_diameter];
        Some(Self::few(HIGH_FREQUENCY_HZ.into_iter().zip(factors), true))
    }

    /// Multiplier at `hz`: linear in the logarithm of the frequency, end values held outside the table.
    ///
    /// ```
    /// use refarad::{domain::Can, physics::frequency::Multipliers};
    /// // By hand: between 1 at 100 Hz and 2 at 10 kHz, 1.5 lies at 1 kHz.
    /// let part = Can { ripple_freq_factors: "100:1;10000:2".parse().ok(), ..Can::default() };
    /// assert!((Multipliers::of(&part).unwrap().at(1000.0) - 1.5).abs() < 1e-12);
    /// ```
    pub fn at(&self, hz: f64) -> f64 {
        // A table has at least one point, see `of`.
        log_linear(self.points(), hz).unwrap_or(1.0)
    }

    /// The table: frequency in Hz, rising, and multiplier.
    pub fn points(&self) -> &[(f64, f64)] {
        match &self.points {
            PointsOf::Listed(points) => points,
            PointsOf::Few(points, len) => &points[..*len],
        }
    }
}

/// Multiplier at 60 Hz of a part rated at 100 Hz or so (published, Panasonic NHG data sheet, the lowest read).
fn low_point(capacitance_uf: Option<f64>) -> f64 {
    match capacitance_uf {
        Some(uf) if uf >= 1000.0 => 0.85,
        Some(uf) if uf > 33.0 => 0.80,
        _ => 0.75,
    }
}

/// Equivalent current at the rating frequency, A rms: each line over its multiplier, added as squares.
///
/// `lines` are pairs of frequency in Hz and current in A rms. An empty spectrum gives zero. A line at the rating frequency
/// counts as it is and needs no table; `None` where another line needs one and `multipliers` is.
///
/// ```
/// use refarad::physics::frequency::equivalent_current_a;
/// // Common circuit theory: currents of different frequency add as squares, 3 and 4 A make 5 A.
/// assert_eq!(equivalent_current_a(None, 120.0, &[(120.0, 3.0), (120.0, 4.0)]), Some(5.0));
/// assert_eq!(equivalent_current_a(None, 120.0, &[(100.0, 3.0)]), None);
/// ```
pub fn equivalent_current_a(multipliers: Option<&Multipliers>, rated_hz: f64, lines: &[(f64, f64)]) -> Option<f64> {
    let at_rating = multipliers.map(|multipliers| multipliers.at(rated_hz));
    let mut sum = 0.0;
    for &(hz, a) in lines {
        let factor = if hz == rated_hz { 1.0 } else { multipliers?.at(hz) / at_rating? };
        sum += (a / factor).powi(2);
    }
    Some(sum.sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn can(rated_v: f64, ripple_hz: f64) -> Can {
        Can { rated_v: Some(rated_v), ripple_hz: Some(ripple_hz), diameter_mm: Some(10.0), ..Can::default() }
    }

    #[test]
    fn own_cells_replace_the_default_and_one_cell_is_a_constant() {
        let own = Can { f120: Some(0.5), ..can(50.0, 1e5) };
        let multipliers = Multipliers::of(&own).unwrap();
        assert!(!multipliers.assumed);
        assert_eq!(multipliers.at(50.0), multipliers.at(1e6));
    }

    #[test]
    fn an_own_table_goes_before_own_cells() {
        let table = "100:1;1000:1.3;100000:1.4".parse().ok();
        let own = Can { f120: Some(0.5), f100k: Some(9.0), ripple_freq_factors: table, ..can(50.0, 120.0) };
        let multipliers = Multipliers::of(&own).unwrap();
        assert_eq!([50.0, 1e3, 1e6].map(|hz| multipliers.at(hz)), [1.0, 1.3, 1.4]);
    }

    #[test]
    fn the_high_frequency_default_needs_a_diameter() {
        let unsized_can = Can { diameter_mm: None, ..can(50.0, 1e5) };
        assert_eq!(Multipliers::of(&unsized_can), None);
    }

    #[test]
    fn voltage_classes_include_their_upper_limit() {
        assert_eq!(Multipliers::of(&can(25.0, 50.0)).unwrap().at(50.0), 0.93);
        assert_eq!(Multipliers::of(&can(25.1, 60.0)).unwrap().at(50.0), 0.91);
        assert_eq!(Multipliers::of(&can(50.0, 1e5)).unwrap().at(100.0), 0.50);
        assert_eq!(Multipliers::of(&can(50.1, 1e5)).unwrap().at(100.0), 0.35);
    }

    #[test]
    fn below_100_hz_the_lowest_figures_read_stand_by_capacitance() {
        let at_60 = |uf| Multipliers::of(&Can { capacitance_uf: uf, ..can(50.0, 120.0) }).unwrap().at(60.0);
        assert_eq!(
            [None, Some(33.0), Some(33.1), Some(999.0), Some(1000.0)].map(at_60),
            [0.75, 0.75, 0.80, 0.80, 0.85]
        );
        assert!((Multipliers::of(&can(50.0, 120.0)).unwrap().at(50.0) - 0.73).abs() < 1e-12);
    }
}
