//! How long the contacts of a relay last, and how far a substitute may differ.

/// From which relative difference on a coil or contact rating is another one (common practice, no source).
pub const DIFFERENCE_MAX: f64 = 0.10;

/// Years until the rated switching life is used up: operations over operations a year, both above 0, else `None`.
///
/// The switching life is the manufacturer's figure at a stated load ("electrical endurance", IEC 61810-1, from memory): of other
/// loads it says nothing, and neither does this.
///
/// ```
/// use refarad::physics::relay::years;
/// // 100 000 operations, 50 a day on 200 days.
/// assert_eq!(years(100_000.0, 50.0 * 200.0), Some(10.0));
/// assert_eq!(years(100_000.0, 0.0), None);
/// ```
pub fn years(switching_life_operations: f64, operations_per_year: f64) -> Option<f64> {
    let years = switching_life_operations / operations_per_year;
    (switching_life_operations > 0.0 && operations_per_year > 0.0 && years.is_finite()).then_some(years)
}

/// Relative difference of a substitute's rating from the original's, where it is more than [`DIFFERENCE_MAX`]; negative for less.
///
/// ```
/// use refarad::physics::relay::differs;
/// assert_eq!(differs(1000.0, 1100.0), None);
/// assert_eq!(differs(1000.0, 500.0), Some(-0.5));
/// ```
pub fn differs(original: f64, substitute: f64) -> Option<f64> {
    let difference = substitute / original - 1.0;
    (difference.is_finite() && difference.abs() > DIFFERENCE_MAX + 1e-9).then_some(difference)
}
