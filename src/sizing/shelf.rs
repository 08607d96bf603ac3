//! Stock already in the shop: what of it is used, and whether it has to be re-formed first.

use crate::domain::{Can, Date, Job, Technology};
use crate::physics::condition::{Recipe, Reforming, STORAGE_WITHOUT_REFORMING_YEARS, reforming};

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
    #[must_use]
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
    #[must_use]
    pub fn note(&self) -> String {
        let code =
            if self.date_code.is_empty() { "no date code".into() } else { format!("date code {}", self.date_code) };
        let before = self.before.words();
        let before = if before.is_empty() { before } else { format!(", {before}") };
        format!("{} from the shelf, {code}{before}", self.qty)
    }
}

/// What pieces with this date code need before they go in; `today` is `None` where nobody knows it, which leaves the age unknown.
#[must_use]
pub fn before_use(can: Option<&Can>, date_code: &str, today: Option<Date>) -> Before {
    before(can, age_years(date_code, today))
}

fn age_years(date_code: &str, today: Option<Date>) -> Option<f64> {
    let today = today?;
    Date::of_date_code(date_code, today).map(|made| made.years_to(today))
}

/// [`before_use`] as sentences for the person at the bench, shelf stock and spares alike: age, recipe, cautions.
#[must_use]
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
    let rated_v = can.and_then(|can| can.rated_v);
    let recipe = |years: f64| match reforming(rated_v?, years) {
        Some(Reforming::Needed(recipe)) => Some(recipe),
        _ => None,
    };
    match age_years {
        Some(years) if years <= STORAGE_WITHOUT_REFORMING_YEARS => Before::Nothing,
        Some(years) => Before::Reform(recipe(years)),
        None => Before::AgeUnknown(recipe(f64::MAX)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::ShelfStock;

    fn job(lots: &[(f64, &str)]) -> Job {
        let lot = |&(qty, code): &(f64, &str)| ShelfStock {
            part_number: "A".into(),
            qty: Some(qty),
            date_code: (!code.is_empty()).then(|| code.to_owned()),
            ..ShelfStock::default()
        };
        Job { shelf: lots.iter().map(lot).collect(), ..Job::default() }
    }

    #[test]
    fn the_oldest_lot_goes_first_and_is_re_formed_after_two_years() {
        let can = Can { rated_v: Some(400.0), ..Can::default() };
        let used =
            take(&job(&[(5.0, "2640"), (3.0, ""), (4.0, "2210")]), "A", Some(&can), 10, "2026-11-25".parse().ok());
        assert_eq!(used.iter().map(|u| u.qty).collect::<Vec<_>>(), [4, 5, 1]);
        assert!(used[0].note().contains(
            "re-form before use (400 V through 1000 Ω for 1 h, discharge through about 400 Ω, rest 12 to 48 h)"
        ));
        assert_eq!(used[1].before, Before::Nothing);
        assert!(matches!(used[2].before, Before::AgeUnknown(Some(_))), "{:?}", used[2]);
    }

    #[test]
    fn polymer_is_not_re_formed_and_other_parts_stay_on_the_shelf() {
        let can = Can { technology: Some(Technology::Polymer), ..Can::default() };
        let used = take(&job(&[(5.0, "1801")]), "A", Some(&can), 2, "2026-11-25".parse().ok());
        assert_eq!((used[0].qty, used[0].before), (2, Before::Nothing));
        assert!(take(&job(&[(5.0, "1801")]), "B", None, 2, None).is_empty());
    }

    #[test]
    fn the_advice_follows_the_date_code_and_gives_the_published_recipe() {
        let can = Can { rated_v: Some(63.0), ..Can::default() };
        let today = Date::new(2026, 11, 25);
        let advice = |code: &str| reforming_advice(Some(&can), code, today);
        assert!(advice("2610").ends_with("up to 2 years it goes in as it is."), "{}", advice("2610"));
        // ECA/EIA-815 abstract: rated voltage through 100 ohm up to 100 V, 1 h, rest 12 to 48 h.
        let old = advice("2101");
        assert!(old.contains("re-form before use. 63 V through 100 Ω for 1 h"), "{old}");
        assert!(old.contains("rest 12 to 48 h") && old.contains("local codes"), "{old}");
        assert!(advice("").starts_with("No date code, so the age is unknown: re-form"), "{}", advice(""));
        assert!(advice("soon").contains("cannot be read"));
        let high = Can { rated_v: Some(400.0), ..Can::default() };
        assert!(reforming_advice(Some(&high), "2101", today).contains("400 V through 1000 Ω"));
        let dry = Can { technology: Some(Technology::Polymer), ..can.clone() };
        assert!(reforming_advice(Some(&dry), "2101", today).starts_with("Solid polymer is not re-formed"));
        assert_eq!(before_use(Some(&can), "2610", today), Before::Nothing);
        assert!(matches!(before_use(Some(&can), "2610", None), Before::AgeUnknown(Some(_))));
    }
}
