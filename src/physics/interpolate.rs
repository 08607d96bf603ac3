//! Linear interpolation in short tables.

/// Value at `x` in `points` (sorted by the first member), linear between them; the end values hold outside.
/// `None` for an empty table.
pub(super) fn linear(points: &[(f64, f64)], x: f64) -> Option<f64> {
    between(points, x, |low, high| (x - low) / (high - low))
}

/// The same, linear in the logarithm of `x`; `x` and the first members must be above zero.
pub(super) fn log_linear(points: &[(f64, f64)], x: f64) -> Option<f64> {
    between(points, x, |low, high| (x / low).ln() / (high / low).ln())
}

fn between(points: &[(f64, f64)], x: f64, share: impl Fn(f64, f64) -> f64) -> Option<f64> {
    let (first, last) = (points.first()?, points.last()?);
    if x <= first.0 {
        return Some(first.1);
    }
    if x >= last.0 {
        return Some(last.1);
    }
    let above = points.partition_point(|p| p.0 <= x);
    let (low, high) = (points[above - 1], points[above]);
    Some(low.1 + (high.1 - low.1) * share(low.0, high.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_are_hit_ends_are_held_and_the_middle_is_linear() {
        let points = [(1.0, 10.0), (100.0, 20.0)];
        let at = |x| linear(&points, x).unwrap();
        assert_eq!([at(0.0), at(1.0), at(100.0), at(1e9)], [10.0, 10.0, 20.0, 20.0]);
        assert!((at(50.5) - 15.0).abs() < 1e-12);
        assert!((log_linear(&points, 10.0).unwrap() - 15.0).abs() < 1e-12);
        assert_eq!(linear(&[], 1.0), None);
    }
}
