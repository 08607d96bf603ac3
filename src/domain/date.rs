//! A day of the calendar, as files carry it: `2026-10-02`.

use std::fmt;
use std::str::FromStr;

use jiff::civil::{self, date};
use jiff::{Span, ToSpan, Zoned};
use serde_with::{DeserializeFromStr, SerializeDisplay};

/// A day of the Gregorian calendar from 1583 to 9999.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, SerializeDisplay, DeserializeFromStr)]
pub struct Date(civil::Date);

const FIRST_YEAR: i16 = 1583;
const YEARS_MOST: f64 = 9999.0;
const DAYS_PER_YEAR: f64 = 365.2425;
/// Days are counted from here.
const EPOCH: civil::Date = date(1970, 1, 1);

impl Date {
    /// The day with these numbers; `None` when the calendar has no such day.
    pub fn new(year: i32, month: u8, day: u8) -> Option<Self> {
        let day = civil::Date::new(year.try_into().ok()?, month.try_into().ok()?, day.try_into().ok()?);
        day.ok().and_then(Self::within)
    }

    fn within(day: civil::Date) -> Option<Self> {
        (day.year() >= FIRST_YEAR).then_some(Self(day))
    }

    /// Today where the person is, by the clock and time zone of the machine; `None` when the clock stands outside the calendar.
    pub fn today() -> Option<Self> {
        Self::within(Zoned::now().date())
    }

    /// The day of a point in time, where the person is; `None` outside the calendar.
    pub fn of_system_time(at: std::time::SystemTime) -> Option<Self> {
        Zoned::try_from(at).ok().and_then(|at| Self::within(at.date()))
    }

    /// The year.
    pub fn year(self) -> i32 {
        self.0.year().into()
    }

    /// The year with the part of it that has gone by, such as 2026.75.
    pub fn fractional_year(self) -> f64 {
        f64::from(self.0.year()) + f64::from(self.0.day_of_year() - 1) / f64::from(self.0.days_in_year())
    }

    /// Days since 1970-01-01.
    pub fn days(self) -> i64 {
        (self.0 - EPOCH).get_days().into()
    }

    /// The day so many days after 1970-01-01.
    pub fn from_days(days: i64) -> Option<Self> {
        EPOCH.checked_add(Span::new().try_days(days).ok()?).ok().and_then(Self::within)
    }

    /// The day `years` later: whole years keep day and month (29 February becomes the 28th), the rest counts in days,
    /// rounded down. `None` outside the calendar and for negative years.
    pub fn plus_years(self, years: f64) -> Option<Self> {
        if !(0.0..=YEARS_MOST).contains(&years) {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, reason = "in range by the check above")]
        let (whole, rest_d) = (years.floor() as i64, (years.fract() * DAYS_PER_YEAR) as i64);
        self.0.checked_add(whole.years()).and_then(|day| day.checked_add(rest_d.days())).ok().map(Self)
    }

    /// Years from `self` to `later`; negative when `later` is earlier.
    pub fn years_to(self, later: Self) -> f64 {
        (later.days() - self.days()) as f64 / DAYS_PER_YEAR
    }

    /// The first day a date code can stand for: `2319` and `23W19` (year and week, common practice of the trade),
    /// `2023-05`, `2023-05-12` or a year alone, `2023`.
    ///
    /// Four digits are read as year and week where the last two are a week from 01 to 53 and the year is not in the
    /// future of `today`; otherwise as a year. `None` when it reads as neither, or lies after `today`.
    pub fn of_date_code(code: &str, today: Self) -> Option<Self> {
        let code = code.trim();
        let past = |date: Self| (date <= today).then_some(date);
        if let Ok(date) = code.parse::<Self>() {
            return past(date);
        }
        if let Some((year, month)) = code.split_once('-') {
            return past(Self::new(digits(year, 4)?, u8::try_from(digits(month, 2)?).ok()?, 1)?);
        }
        let packed: String = code.chars().filter(|c| !matches!(c, 'W' | 'w')).collect();
        let number = digits(&packed, 4)?;
        let week = |year: i32, week: i32| {
            let first = Self::new(year, 1, 1)?;
            (1..=53).contains(&week).then(|| Self::from_days(first.days() + 7 * i64::from(week - 1)))?
        };
        let century = today.year() / 100 * 100;
        let by_week = week(century + number / 100, number % 100).and_then(past);
        by_week.or_else(|| past(Self::new(number, 1, 1)?))
    }
}

fn digits(text: &str, count: usize) -> Option<i32> {
    (text.len() == count && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok())?
}

impl FromStr for Date {
    type Err = &'static str;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let parsed = || {
            let mut parts = text.trim().split('-');
            let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
            let whole = parts.next().is_none();
            let short = |text| u8::try_from(digits(text, 2)?).ok();
            Self::new(digits(year, 4)?, short(month)?, short(day)?).filter(|_| whole)
        };
        parsed().ok_or("expected a date such as 2026-10-02")
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, f)
    }
}

#[cfg(test)]
#[path = "../../tests/within/date.rs"]
mod tests;
