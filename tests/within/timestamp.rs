//! Of `files/timestamp.rs`, from within it: limits, missing data, odd cases.

use super::*;

/// 2026-10-02 12:34:56 UTC, by `date -u -d 2026-10-02T12:34:56Z +%s`.
const NOON: f64 = 1_790_944_496.0;

#[test]
fn the_same_moment_in_many_notations_is_one_number() {
    for text in [
        "2026-10-02T12:34:56Z",
        "2026-10-02 12:34:56",
        "2026/10/02 12:34:56",
        "02.10.2026 12:34:56",
        "02/10/2026 12:34:56 PM",
        "2.10.26 12:34:56",
        "2026-10-02T14:34:56+02:00",
        "2026-10-02T07:34:56-0500",
    ] {
        assert_eq!(read(text, DateOrder::DayFirst), Some(Moment::Absolute(NOON)), "{text}");
    }
    assert_eq!(read("10/02/2026 12:34:56", DateOrder::MonthFirst), Some(Moment::Absolute(NOON)));
    assert_eq!(read("1970-01-01", DateOrder::DayFirst), Some(Moment::Absolute(0.0)));
    assert_eq!(read("2000-03-01", DateOrder::DayFirst), Some(Moment::Absolute(951_868_800.0)));
}

#[test]
fn times_without_a_date_are_clocks_and_noon_and_midnight_are_told_apart() {
    assert_eq!(read("12:30 AM", DateOrder::DayFirst), Some(Moment::Clock(1800.0)));
    assert_eq!(read("12:30 PM", DateOrder::DayFirst), Some(Moment::Clock(45_000.0)));
    assert_eq!(read("10:02:03:250", DateOrder::DayFirst), Some(Moment::Clock(36_123.25)));
    assert_eq!(read("100:00:00.5", DateOrder::DayFirst), Some(Moment::Clock(360_000.5)));
}

#[test]
fn impossible_dates_and_times_are_none() {
    for text in [
        "2026-02-29",
        "2026-13-01",
        "31.04.2026",
        "2026-10-02 25:00",
        "12:60",
        "13:00 PM",
        "23.4",
        "",
        "a:b",
        "1:2:3:4",
    ] {
        assert_eq!(read(text, DateOrder::DayFirst), None, "{text}");
    }
    assert!(read("2024-02-29", DateOrder::DayFirst).is_some());
}

#[test]
fn the_order_of_a_date_is_told_by_a_number_above_twelve() {
    assert_eq!(order_of("13/02/2026"), Some(DateOrder::DayFirst));
    assert_eq!(order_of("02/13/2026 10:00"), Some(DateOrder::MonthFirst));
    assert_eq!(order_of("02/03/2026"), None);
    assert_eq!(order_of("2026-02-03"), None);
}
