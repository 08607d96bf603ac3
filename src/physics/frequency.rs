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
const LOW_FREQUENCY: [&Points; 3] = [
    &[(50., 0.93), (100., 1.), (200., 1.04), (400., 1.07), (1e3, 1.11), (2e3, 1.13), (4e3, 1.15), (1e4, 1.18)],
    &[(50., 0.91), (100., 1.), (200., 1.05), (400., 1.09), (1e3, 1.13), (2e3, 1.15), (4e3, 1.18), (1e4, 1.22)],
    &[(50., 0.86), (100., 1.), (200., 1.13), (400., 1.21), (1e3, 1.29), (2e3, 1.32), (4e3, 1.35), (1e4, 1.40)],
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

/// Most points a table has.
const POINTS_MAX: usize = 8;

/// A ripple multiplier table, not normalised.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Multipliers {
    points: [(f64, f64); POINTS_MAX],
    /// How many of the points are used.
    len: usize,
    /// Whether the table is a default and not the part's own.
    pub assumed: bool,
}

impl Multipliers {
    fn new(from: impl IntoIterator<Item = (f64, f64)>, assumed: bool) -> Self {
        let mut table = Self { points: [(0.0, 0.0); POINTS_MAX], len: 0, assumed };
        for (to, point) in table.points.iter_mut().zip(from) {
            *to = point;
            table.len += 1;
        }
        table
    }

    /// The multipliers of `can`: its own cells, else the published default for its technology, rating frequency, rated
    /// voltage and diameter. Without a rating frequency the low-frequency table stands in (for ESR conversion only;
    /// ripple itself is unknown then). `None` where the default table needs a figure the can lacks.
    #[must_use]
    pub fn of(can: &Can) -> Option<Self> {
        let own = Self::new(can.own_multipliers(), false);
        if own.len > 0 {
            return Some(own);
        }
        if can.technology == Some(Technology::Polymer) {
            return Some(Self::new(POLYMER.iter().copied(), true));
        }
        let rated_v = can.rated_v?;
        if can.ripple_hz.is_none_or(|hz| hz <= LOW_FREQUENCY_RATING_MAX_HZ) {
            let class = [25.0, 100.0].partition_point(|&limit_v| limit_v < rated_v);
            return Some(Self::new(LOW_FREQUENCY[class].iter().copied(), true));
        }
        let by_voltage = [10.0, 25.0, 50.0].partition_point(|&limit_v| limit_v < rated_v);
        let by_diameter = usize::from(can.diameter_mm? > 12.5);
        let factors = HIGH_FREQUENCY[by_voltage][by_diameter];
        Some(Self::new(HIGH_FREQUENCY_HZ.into_iter().zip(factors), true))
    }

    /// Multiplier at `hz`: linear in the logarithm of the frequency, end values held outside the table.
    #[must_use]
    pub fn at(&self, hz: f64) -> f64 {
        // A table has at least one point, see `of`.
        log_linear(&self.points[..self.len], hz).unwrap_or(1.0)
    }
}

/// Equivalent current at the rating frequency, A rms: each line over its multiplier, added as squares.
///
/// `lines` are pairs of frequency in Hz and current in A rms. An empty spectrum gives zero.
#[must_use]
pub fn equivalent_current_a(multipliers: &Multipliers, rated_hz: f64, lines: &[(f64, f64)]) -> f64 {
    let at_rating = multipliers.at(rated_hz);
    let square = |&(hz, a): &(f64, f64)| (a / (multipliers.at(hz) / at_rating)).powi(2);
    lines.iter().map(square).sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn can(rated_v: f64, ripple_hz: f64) -> Can {
        Can { rated_v: Some(rated_v), ripple_hz: Some(ripple_hz), diameter_mm: Some(10.0), ..Can::default() }
    }

    #[test]
    fn a_single_line_at_the_rating_frequency_is_itself() {
        for hz in [100.0, 120.0, 1e5] {
            let multipliers = Multipliers::of(&can(50.0, hz)).unwrap();
            let equivalent_a = equivalent_current_a(&multipliers, hz, &[(hz, 1.25)]);
            assert!((equivalent_a - 1.25).abs() < 1e-12);
        }
    }

    #[test]
    fn own_cells_replace_the_default_and_one_cell_is_a_constant() {
        let own = Can { f120: Some(0.5), ..can(50.0, 1e5) };
        let multipliers = Multipliers::of(&own).unwrap();
        assert!(!multipliers.assumed);
        assert_eq!(multipliers.at(50.0), multipliers.at(1e6));
    }

    #[test]
    fn the_high_frequency_default_needs_a_diameter() {
        let unsized_can = Can { diameter_mm: None, ..can(50.0, 1e5) };
        assert_eq!(Multipliers::of(&unsized_can), None);
    }

    #[test]
    fn voltage_classes_include_their_upper_limit() {
        assert_eq!(Multipliers::of(&can(25.0, 100.0)).unwrap().at(50.0), 0.93);
        assert_eq!(Multipliers::of(&can(25.1, 100.0)).unwrap().at(50.0), 0.91);
        assert_eq!(Multipliers::of(&can(50.0, 1e5)).unwrap().at(100.0), 0.50);
        assert_eq!(Multipliers::of(&can(50.1, 1e5)).unwrap().at(100.0), 0.35);
    }
}
