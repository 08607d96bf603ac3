//! Parts on the shelf: how old they are and whether they have to be re-formed before use.

use crate::domain::{Catalog, Spare, Technology};
use crate::physics::condition::{Reforming, reforming};

/// A date code read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DateCode {
    /// Year of manufacture with the week or month as its fraction.
    pub year: f64,
    /// Whether only the year was given: the part may be up to a year younger.
    pub year_only: bool,
}

/// `2019` reads as the year, though it can be week 19 of 2020: the older reading is the careful one.
///
/// Reads `2341` (year and week), `2023-41` or `2023W41` (week, from 13 on unmistakably; up to 12 it counts as a month when written `2023-10`), `2023-10-05`
/// or `2023`. Four digits are a year from 1950 to `now_year`, else year and week; two-digit years of the future belong to the last century. `None`
/// for anything else. Makers' own letters have to be looked up.
#[must_use]
pub fn read_date_code(text: &str, now_year: f64) -> Option<DateCode> {
    let text = text.trim();
    let digits = |text: &str| {
        (!text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse::<f64>().ok()).flatten()
    };
    let plausible = |year: f64| (1950.0..now_year + 1.0).contains(&year);
    let week = |year: f64, week: f64| {
        (plausible(year) && (1.0..=53.0).contains(&week))
            .then(|| DateCode { year: year + (week - 1.0) / 52.2, year_only: false })
    };
    let month = |year: f64, month: f64| {
        (plausible(year) && (1.0..=12.0).contains(&month))
            .then(|| DateCode { year: year + (month - 1.0) / 12.0, year_only: false })
    };
    if let Some((year, rest)) = text.split_once(['-', 'W', 'w']) {
        let year = digits(year).filter(|_| year.len() == 4)?;
        let weekly = !text.contains('-') || rest.starts_with(['W', 'w']);
        let rest = rest.trim_start_matches(['W', 'w']);
        if let Some((of_year, _)) = rest.split_once('-') {
            return month(year, digits(of_year)?);
        }
        let number = digits(rest)?;
        return if weekly || number > 12.0 { week(year, number) } else { month(year, number) };
    }
    let number = digits(text).filter(|_| text.len() == 4)?;
    if plausible(number) {
        return Some(DateCode { year: number, year_only: true });
    }
    let (short, weeks) = ((number / 100.0).floor(), number % 100.0);
    let year = if plausible(2000.0 + short) { 2000.0 + short } else { 1900.0 + short };
    week(year, weeks)
}

/// What a part on the shelf needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Advice {
    /// The date code, the rated voltage or the technology is not known: treat it as old.
    Unknown(&'static str),
    /// Solid polymer: not re-formed; measure it.
    NotApplicable,
    /// As the age says.
    Reform(Reforming),
}

/// A part on the shelf with its age.
#[derive(Debug, Clone, PartialEq)]
pub struct ShelfLine {
    /// Index into the spares of the job.
    pub index: usize,
    /// Years since it was made; a part of which only the year is known counts from its first day.
    pub age_years: Option<f64>,
    /// What it needs.
    pub advice: Advice,
    /// Whether the technology was taken as wet for want of better knowledge.
    pub technology_assumed: bool,
}

/// Cautions for re-forming.
pub const REFORMING_CAUTIONS: [&str; 3] = [
    "Work behind a shield with the supply's current limited; a part that draws a steady current or warms up is scrap.",
    "Rated voltage is applied: isolate, keep clear, discharge through the resistor named and verify with a meter.",
    "Measure leakage, capacitance and ESR afterwards; local codes and licensed practice decide.",
];

/// Advice for every spare. `now_year` such as 2026.75.
#[must_use]
pub fn shelf(spares: &[Spare], catalog: &Catalog, now_year: f64) -> Vec<ShelfLine> {
    spares.iter().enumerate().map(|(index, spare)| line(index, spare, catalog, now_year)).collect()
}

fn line(index: usize, spare: &Spare, catalog: &Catalog, now_year: f64) -> ShelfLine {
    let can = spare
        .part_number
        .as_ref()
        .and_then(|number| catalog.find(number))
        .map(|id| catalog.can(id))
        .unwrap_or_default();
    let technology = spare.technology.or(can.technology);
    let code = spare.date_code.as_ref().and_then(|code| read_date_code(code, now_year));
    let age_years = code.map(|code| (now_year - code.year).max(0.0));
    let advice = if technology == Some(Technology::Polymer) {
        Advice::NotApplicable
    } else {
        match (age_years, spare.rated_v.or(can.rated_v)) {
            (None, _) => Advice::Unknown("no date code that can be read: treat it as older than two years"),
            (_, None) => Advice::Unknown("rated voltage not known"),
            (Some(age), Some(rated_v)) => {
                reforming(rated_v, age).map_or(Advice::Unknown("a figure is out of range"), Advice::Reform)
            }
        }
    };
    ShelfLine { index, age_years, advice, technology_assumed: technology.is_none() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn year(text: &str) -> Option<f64> {
        read_date_code(text, 2026.75).map(|code| (code.year * 100.0).round() / 100.0)
    }

    #[test]
    fn date_codes_are_read_as_people_print_them() {
        for (text, expected) in [
            ("2341", 2023.77),
            ("9612", 1996.21),
            ("2023-41", 2023.77),
            ("2023W05", 2023.08),
            ("2023-W05", 2023.08),
            ("2023-10", 2023.75),
            ("2023-10-05", 2023.75),
            ("2023", 2023.0),
            (" 0152 ", 2001.98),
        ] {
            assert_eq!(year(text), Some(expected), "{text}");
        }
        assert!(read_date_code("1996", 2026.0).unwrap().year_only);
        for text in ["", "A7", "99", "2354", "2023-54", "2023-0", "12345", "2040-01", "-", "20é3"] {
            assert_eq!(year(text), None, "{text}");
        }
    }

    #[test]
    fn old_wet_parts_are_reformed_young_ones_not_and_unknown_ones_are_called_so() {
        let spare = |date_code: &str, rated_v: Option<f64>, technology: Option<Technology>| Spare {
            date_code: Some(date_code.into()),
            rated_v,
            technology,
            ..Spare::default()
        };
        let wet = Some(Technology::Wet);
        let spares = [
            spare("2019-05", Some(400.0), wet),
            spare("2620", Some(400.0), wet),
            spare("??", Some(400.0), wet),
            spare("2019-05", None, None),
            spare("2019-05", Some(16.0), Some(Technology::Polymer)),
        ];
        let lines = shelf(&spares, &Catalog::default(), 2026.75);
        let Advice::Reform(Reforming::Needed(recipe)) = lines[0].advice else { panic!("{:?}", lines[0]) };
        assert_eq!((recipe.voltage_v, recipe.series_ohm), (400.0, 1000.0));
        assert_eq!(lines[1].advice, Advice::Reform(Reforming::NotNeeded));
        assert!(matches!(lines[2].advice, Advice::Unknown(_)) && matches!(lines[3].advice, Advice::Unknown(_)));
        assert!(lines[3].technology_assumed);
        assert_eq!(lines[4].advice, Advice::NotApplicable);
    }
}
