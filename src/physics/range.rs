//! The ranges a physical input may have; everything outside becomes `None` at the door, so that no NaN travels inward.

/// `x` if it is finite and above zero.
pub(super) fn positive(x: f64) -> Option<f64> {
    (x.is_finite() && x > 0.0).then_some(x)
}

/// `x` if it is finite and not below zero.
pub(super) fn non_negative(x: f64) -> Option<f64> {
    (x.is_finite() && x >= 0.0).then_some(x)
}

/// `x` if it lies strictly between 0 and 1, as a duty of a switching converter does.
pub(super) fn open_unit(x: f64) -> Option<f64> {
    (x > 0.0 && x < 1.0).then_some(x)
}

/// `x` if it is a finite number; for results that a formula may have pushed out of range.
pub(super) fn finite(x: f64) -> Option<f64> {
    x.is_finite().then_some(x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_that_is_not_a_number_passes() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(positive(bad), None);
            assert_eq!(non_negative(bad), None);
            assert_eq!(open_unit(bad), None);
            assert_eq!(finite(bad), None);
        }
    }

    #[test]
    fn the_borders_belong_where_the_names_say() {
        assert_eq!(positive(0.0), None);
        assert_eq!(non_negative(0.0), Some(0.0));
        assert_eq!(non_negative(-1e-300), None);
        assert_eq!(open_unit(0.0), None);
        assert_eq!(open_unit(1.0), None);
        assert_eq!(open_unit(0.5), Some(0.5));
    }
}
