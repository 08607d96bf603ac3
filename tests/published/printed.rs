//! Comparison with a figure as a document prints it.

/// Asserts that `value`, rounded to as many decimals as `printed` has, reads the same.
#[track_caller]
pub(crate) fn reads(value: f64, printed: &str) {
    let decimals = printed.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    assert_eq!(format!("{value:.decimals$}"), printed, "computed {value}");
}

/// Asserts that `value` is within the share `within` of `expected`.
#[track_caller]
pub(crate) fn near(value: f64, expected: f64, within: f64) {
    assert!(
        (value - expected).abs() <= within * expected.abs(),
        "{value} is not within {within} of {expected} ({:+.4} %)",
        100.0 * (value / expected - 1.0)
    );
}
