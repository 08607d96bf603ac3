//! Of `domain/date.rs`, from within it: limits, missing data, odd cases.

use super::*;

fn date(text: &str) -> Date {
    text.parse().unwrap()
}

#[test]
fn days_are_counted_from_1970() {
    assert_eq!((date("1970-01-01").days(), date("2000-03-01").days()), (0, 11_017));
    assert_eq!((Date::from_days(11_017), Date::from_days(i64::MAX)), (Some(date("2000-03-01")), None));
    assert_eq!((Date::new(1582, 12, 31), Date::from_days(-150_000)), (None, None));
    assert_eq!((date("2026-01-01").fractional_year(), date("2024-07-02").fractional_year()), (2026.0, 2024.5));
}

#[test]
fn whole_years_keep_the_day_and_a_leap_day_falls_back() {
    assert_eq!(date("2026-11-25").plus_years(10.0), Some(date("2036-11-25")));
    assert_eq!(date("2024-02-29").plus_years(1.0), Some(date("2025-02-28")));
    assert_eq!(date("2026-01-01").plus_years(0.5), Some(date("2026-07-02")));
    assert_eq!(date("2026-01-01").plus_years(f64::NAN), None);
    assert_eq!(date("9999-01-01").plus_years(1.0), None);
}

#[test]
fn days_the_calendar_lacks_are_refused() {
    for text in ["2025-02-29", "2026-13-01", "2026-00-10", "2026-1-1", "26-01-01", "2026-01-01-1", "", "ü026-01-01"] {
        assert!(text.parse::<Date>().is_err(), "{text}");
    }
}

#[test]
fn date_codes_are_read_as_year_and_week_or_as_a_date() {
    let today = date("2026-11-25");
    let cases = [
        ("2319", Some("2023-05-07")),
        ("23W19", Some("2023-05-07")),
        ("2023-05", Some("2023-05-01")),
        ("2023-05-12", Some("2023-05-12")),
        ("1996", Some("1996-01-01")),
        ("2652", None),
        ("2027-01", None),
        ("LOT 7", None),
        ("", None),
    ];
    for (code, expected) in cases {
        assert_eq!(Date::of_date_code(code, today), expected.map(date), "{code}");
    }
}
