//! Stock already in the shop: what of it is used, and whether it has to be re-formed first.

use crate::domain::{Can, Date, Job, Technology};
use crate::physics::condition::{Recipe, STORAGE_WITHOUT_REFORMING_YEARS, reforming};

/// What shelf stock needs before it goes in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Before {
    /// Nothing.
    Nothing,
    /// Stored too long: re-form, with the recipe when the rated voltage is known.
    Reform(Option<Recipe>),
    /// Age unknown: to be treated as stored too long, with the recipe when the rated voltage is known.
    AgeUnknown(Option<Recipe>),
}

impl Before {
    /// What is to be done, in words; empty where nothing is.
    pub fn words(&self) -> String {
        let recipe = |recipe: &Option<Recipe>| {
            recipe.as_ref().map_or_else(String::new, |recipe| format!(" ({})", steps(recipe)))
        };
        match self {
            Self::Nothing => String::new(),
            Self::Reform(how) => {
                format!("stored over {STORAGE_WITHOUT_REFORMING_YEARS} years: re-form before use{}", recipe(how))
            }
            Self::AgeUnknown(how) => format!("age unknown: re-form before use{}", recipe(how)),
        }
    }
}

/// Pieces taken from one lot on the shelf.
#[derive(Debug, Clone, PartialEq)]
pub struct ShelfUse {
    /// Pieces.
    pub qty: u64,
    /// Date code of the lot; empty when unknown.
    pub date_code: String,
    /// What they need before use.
    pub before: Before,
}

impl ShelfUse {
    /// The use in words.
    pub fn note(&self) -> String {
        let code =
            if self.date_code.is_empty() { "no date code".into() } else { format!("date code {}", self.date_code) };
        let before = self.before.words();
        let before = if before.is_empty() { before } else { format!(", {before}") };
        format!("{} from the shelf, {code}{before}", self.qty)
    }
}

/// What pieces with this date code need before they go in; `today` is `None` where nobody knows it, which leaves the age unknown.
pub fn before_use(can: Option<&Can>, date_code: &str, today: Option<Date>) -> Before {
    before(can, age_years(date_code, today))
}

fn age_years(date_code: &str, today: Option<Date>) -> Option<f64> {
    let today = today?;
    Date::of_date_code(date_code, today).map(|made| made.years_to(today))
}

/// [`before_use`] as sentences for the person at the bench, shelf stock and spares alike: age, recipe, cautions.
pub fn reforming_advice(can: Option<&Can>, date_code: &str, today: Option<Date>) -> String {
    if can.is_some_and(|can| can.technology == Some(Technology::Polymer)) {
        return "Solid polymer is not re-formed; measure leakage, capacitance and ESR before use.".into();
    }
    let age_years = age_years(date_code, today);
    let age = match age_years {
        Some(years) => format!("Date code {}: {years:.1} years old", date_code.trim()),
        None if date_code.trim().is_empty() => "No date code, so the age is unknown".into(),
        None => format!("Date code {} cannot be read, so the age is unknown", date_code.trim()),
    };
    match before(can, age_years) {
        Before::Nothing => format!("{age}; up to {STORAGE_WITHOUT_REFORMING_YEARS} years it goes in as it is."),
        Before::Reform(recipe) => format!("{age}: re-form before use. {}", instructions(recipe)),
        Before::AgeUnknown(recipe) => {
            format!("{age}: re-form before use as if it was stored too long. {}", instructions(recipe))
        }
    }
}

/// The steps of a recipe in one phrase.
fn steps(recipe: &Recipe) -> String {
    let Recipe { voltage_v, series_ohm, hold_h, discharge_ohm, rest_min_h, rest_max_h, .. } = recipe;
    format!(
        "{voltage_v} V through {series_ohm} Ω for {hold_h} h, discharge through about {discharge_ohm} Ω, rest {rest_min_h} to {rest_max_h} h"
    )
}

/// The recipe with everything the bench has to know about it.
fn instructions(recipe: Option<Recipe>) -> String {
    let Some(recipe) = recipe else {
        return "The rated voltage is not known, so there is no recipe.".into();
    };
    format!(
        "{} (ECA/EIA-815 abstract), then measure leakage, capacitance and ESR. The resistor takes {:.3} W if the part is shorted. A part that keeps drawing current or warms up is scrap. Work behind a shield, keep clear of the vent, mind the polarity; local codes and licensed practice decide.",
        steps(&recipe),
        recipe.fault_w
    )
}

/// Takes up to `need_qty` pieces of a part from the shelf of the job: oldest lots first, those of unknown age last.
pub(super) fn take(
    job: &Job,
    part_number: &str,
    can: Option<&Can>,
    need_qty: u64,
    today: Option<Date>,
) -> Vec<ShelfUse> {
    let mut lots: Vec<(Option<Date>, u64, String)> = lots_of(job, part_number)
        .map(|(qty, code)| (today.and_then(|today| Date::of_date_code(&code, today)), qty, code))
        .collect();
    lots.sort_by_key(|(made, ..)| (made.is_none(), *made));
    let mut missing = need_qty;
    let mut used = Vec::new();
    for (made, qty, date_code) in lots {
        let qty = qty.min(missing);
        if qty > 0 {
            let age_years = made.zip(today).map(|(made, today)| made.years_to(today));
            used.push(ShelfUse { qty, date_code, before: before(can, age_years) });
            missing -= qty;
        }
    }
    used
}

/// Pieces of a part on the shelf.
pub(super) fn qty(job: &Job, part_number: &str) -> u64 {
    lots_of(job, part_number).fold(0, |sum, (qty, _)| sum.saturating_add(qty))
}

/// Lots of a part on the shelf: pieces and date code, empty when unknown.
pub fn lots_of<'a>(job: &'a Job, part_number: &'a str) -> impl Iterator<Item = (u64, String)> + 'a {
    let of_part = job.shelf.iter().filter(move |lot| lot.part_number.trim() == part_number);
    of_part.filter_map(|lot| {
        let qty = super::asked::whole(lot.qty?.floor())?;
        Some((qty, lot.date_code.clone().unwrap_or_default().trim().to_owned()))
    })
}

/// Dry polymer parts are not re-formed; a part whose technology is not known counts as wet.
fn before(can: Option<&Can>, age_years: Option<f64>) -> Before {
    if can.is_some_and(|can| can.technology == Some(Technology::Polymer)) {
        return Before::Nothing;
    }
    let recipe = can.and_then(|can| reforming(can.rated_v?));
    match age_years {
        Some(years) if years <= STORAGE_WITHOUT_REFORMING_YEARS => Before::Nothing,
        Some(_) => Before::Reform(recipe),
        None => Before::AgeUnknown(recipe),
    }
}

#[cfg(test)]
#[path = "../../tests/within/shelf.rs"]
mod tests;
