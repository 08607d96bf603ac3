//! Points in time as loggers write them.

use crate::domain::Date;

/// How day and month are told apart in `03/04/2026`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum DateOrder {
    DayFirst,
    MonthFirst,
}

/// Seconds since 1970-01-01 of a date with optional time, or seconds since midnight of a time of day alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Moment {
    /// Date with or without time.
    Absolute(f64),
    /// `hh:mm[:ss[.fff]]` without a date; the hours of a running time may exceed 24.
    Clock(f64),
}

impl Moment {
    pub(super) fn absolute(self) -> Option<f64> {
        if let Self::Absolute(seconds) = self { Some(seconds) } else { None }
    }

    pub(super) fn clock(self) -> Option<f64> {
        if let Self::Clock(seconds) = self { Some(seconds) } else { None }
    }
}

/// Reads `2026-10-02T12:34:56.7Z`, `2026-10-02 12:34`, `2026/10/02`, `02.10.2026 12:34:56`, `10/02/2026 1:05 PM`, `12:34:56`; a zone (`Z`, `+02:00`) is
/// counted. `None` for anything else.
pub(super) fn read(text: &str, order: DateOrder) -> Option<Moment> {
    let text = text.trim().trim_matches('"').trim();
    // `8h05`
    let digit = |c: char| c.is_ascii_digit();
    let lettered = text.split_once('h').filter(|(hours, minutes)| hours.ends_with(digit) && minutes.starts_with(digit));
    let colon = lettered.map(|(hours, minutes)| format!("{hours}:{minutes}"));
    let text = colon.as_deref().unwrap_or(text);
    let (date, time) = match text.find(['T', ' ']) {
        Some(at) => (&text[..at], text[at + 1..].trim()),
        None => (text, ""),
    };
    if date.contains(':') {
        // A time of day, perhaps with AM or PM behind it.
        return clock(text).map(|(seconds, _)| Moment::Clock(seconds));
    }
    let day = date_days(date, order)?;
    let (seconds, zone_s) = if time.is_empty() { (0.0, 0.0) } else { clock(time)? };
    // A time of day ends at 24:00.
    (seconds <= 86_400.0).then_some(Moment::Absolute(day * 86_400.0 + seconds - zone_s))
}

/// Whether the text is a date with slashes whose order can be told: `Some` when one of the first two numbers exceeds 12.
pub(super) fn order_of(text: &str) -> Option<DateOrder> {
    let date = text.trim().split([' ', 'T']).next()?;
    let mut parts = date.split('/').map(str::parse::<u32>);
    let (first, second) = (parts.next()?.ok()?, parts.next()?.ok()?);
    match (first > 12, second > 12) {
        (true, false) if first <= 31 => Some(DateOrder::DayFirst),
        (false, true) if second <= 31 => Some(DateOrder::MonthFirst),
        _ => None,
    }
}

fn date_days(date: &str, order: DateOrder) -> Option<f64> {
    let separator = ['-', '/', '.'].into_iter().find(|&c| date.matches(c).count() == 2)?;
    let parts: Vec<&str> = date.split(separator).collect();
    let number = |at: usize| parts.get(at)?.parse::<i32>().ok();
    let (year, month, day) = if parts.first()?.len() == 4 {
        (number(0)?, number(1)?, number(2)?)
    } else {
        let year = number(2)?;
        // Two digits: loggers of this century.
        let year = if parts.get(2)?.len() == 2 { 2000 + year } else { year };
        match (separator, order) {
            ('/', DateOrder::MonthFirst) => (year, number(0)?, number(1)?),
            _ => (year, number(1)?, number(0)?),
        }
    };
    let day = Date::new(year, month.try_into().ok()?, day.try_into().ok()?)?;
    (1900..=2200).contains(&year).then(|| day.days() as f64)
}

/// Seconds of `hh:mm[:ss[.fff]]`, with AM or PM, and seconds east of Greenwich of a zone.
fn clock(text: &str) -> Option<(f64, f64)> {
    let upper = text.to_ascii_uppercase();
    let (body, half) = match (upper.strip_suffix("AM"), upper.strip_suffix("PM")) {
        (Some(body), _) => (body.trim_end(), Some(0.0)),
        (_, Some(body)) => (body.trim_end(), Some(12.0)),
        _ => (upper.as_str(), None),
    };
    let (body, zone_s) = zone(body.trim())?;
    let mut parts: Vec<&str> = body.split(':').collect();
    // `10:02:03:000`: the milliseconds behind a colon.
    let milli_s = if parts.len() == 4 { parts.pop().filter(|ms| ms.len() == 3)?.parse::<u32>().ok()? } else { 0 };
    if !(2..=3).contains(&parts.len()) {
        return None;
    }
    let plain = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.' || byte == b',');
    let number = |text: &str| if plain(text) { text.replace(',', ".").parse::<f64>().ok() } else { None };
    let (mut hours, minutes) = (number(parts[0])?, number(parts[1])?);
    let seconds = parts.get(2).map_or(Some(0.0), |text| number(text))? + f64::from(milli_s) / 1e3;
    if minutes >= 60.0 || seconds >= 61.0 || hours.fract() != 0.0 || hours > 1e6 {
        return None;
    }
    if let Some(half) = half {
        if !(1.0..=12.0).contains(&hours) {
            return None;
        }
        hours = hours % 12.0 + half;
    }
    Some((hours * 3600.0 + minutes * 60.0 + seconds, zone_s))
}

/// Takes `Z`, `+02:00`, `+0200` or `-05` off the end of a time; the second member is its offset in s.
fn zone(time: &str) -> Option<(&str, f64)> {
    if let Some(body) = time.strip_suffix('Z') {
        return Some((body, 0.0));
    }
    let Some(at) = time.rfind(['+', '-']) else { return Some((time, 0.0)) };
    let digits: String = time[at + 1..].chars().filter(|&c| c != ':').collect();
    let whole = |range: std::ops::Range<usize>| digits.get(range)?.parse::<u32>().ok();
    let (hours, minutes) = match digits.len() {
        2 => (whole(0..2)?, 0),
        4 => (whole(0..2)?, whole(2..4)?),
        _ => return None,
    };
    let seconds = f64::from(hours * 3600 + minutes * 60);
    Some((time[..at].trim_end(), if time[at..].starts_with('-') { -seconds } else { seconds }))
}

#[cfg(test)]
#[path = "../../tests/within/timestamp.rs"]
mod tests;
