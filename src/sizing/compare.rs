//! Comparing with a limit the way a person does who writes both in decimals.

/// Allowed for the rounding of decimal figures in binary fractions: 0.6 + 0.05 + 0.20 is not more than 0.85.
const ROUNDING: f64 = 1e-9;

/// Whether `value` does not exceed `limit`.
pub(super) fn at_most(value: f64, limit: f64) -> bool {
    value <= limit || value - limit <= ROUNDING * limit.abs().max(1.0)
}

/// Whether `value` is not below `limit`.
pub(super) fn at_least(value: f64, limit: f64) -> bool {
    at_most(-value, -limit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimal_figures_on_the_limit_are_within_it() {
        assert!(at_most(0.6 + 0.05 + 0.20, 0.85));
        assert!(at_most((10.3f64 - 10.0).abs(), 0.3));
        assert!(at_least(80.0, 0.8 * 100.0) && at_least(-1e-17, 0.0));
    }

    #[test]
    fn anything_a_person_would_write_beyond_the_limit_is_beyond_it() {
        assert!(!at_most(0.850_001, 0.85) && !at_least(0.799_999, 0.8));
        assert!(!at_most(f64::INFINITY, 1.0) && at_most(1.0, f64::INFINITY));
        assert!(!at_most(f64::NAN, 1.0));
    }
}
