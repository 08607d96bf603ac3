//! What changed for a job between two states of catalogue and offers: prices, stock, status, figures, verdicts, parts that are gone.

use std::collections::BTreeMap;

use super::catalog_index::CatalogIndex;
use super::contexts::Contexts;
use super::reasons::{check_name, figure, reason};
use super::size::{PositionSizing, Sizing};
use crate::domain::schema::{self, Access};
use crate::domain::{Job, PositionId, style};

/// A sized job with its parts.
#[derive(Clone, Copy)]
pub struct State<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its parts and offers.
    pub catalog_index: &'a CatalogIndex,
    /// What came out.
    pub sizing: &'a Sizing,
}

/// What was known of the chosen parts at one time: by board and reference what stood there, as `part=NUMBER | verdict=pass | cost=5.00 | …`. A job file
/// keeps it from one saving to the next opening.
pub type Records = BTreeMap<String, String>;

/// What changed at a position.
#[derive(Debug, Clone, PartialEq)]
pub struct Changed {
    /// Where, in the newer job.
    pub position: PositionId,
    /// The part there before; empty where there was none.
    pub part_number: String,
    /// What changed, a clause each.
    pub clauses: Vec<String>,
    /// The verdict is another, or the part is gone.
    pub grave: bool,
}

const BETWEEN: &str = " | ";

/// The chosen parts of a state by board and reference, so that a position is found again in a later one.
pub fn records(state: State) -> Records {
    let places = Contexts::new(state.job, state.catalog_index.catalog());
    let told = |sized: &PositionSizing| {
        let terms = terms(&state, &places, sized).into_iter();
        let terms: Vec<String> = terms.map(|(name, value)| format!("{name}={value}")).collect();
        (state.job.full_name(sized.id.into()), terms.join(BETWEEN))
    };
    state.sizing.positions.iter().map(told).collect()
}

/// The positions of the newer job at which something changed since `old`, found again by board and reference; those that are new are named so.
pub fn changed(old: &Records, new: State) -> Vec<Changed> {
    let places = Contexts::new(new.job, new.catalog_index.catalog());
    let found = new.sizing.positions.iter().map(|sized| {
        let Some(record) = old.get(&new.job.full_name(sized.id.into())) else {
            let clauses = vec!["a new position".into()];
            return Changed { position: sized.id, part_number: String::new(), clauses, grave: false };
        };
        let before: BTreeMap<&str, &str> = record.split(BETWEEN).filter_map(|term| term.split_once('=')).collect();
        let after = terms(&new, &places, sized);
        let part_number = before.get("part").copied().unwrap_or_default();
        let same_part = after.get("part").is_some_and(|part| part == part_number);
        let gone = !part_number.is_empty() && new.catalog_index.catalog().find(part_number).is_none();
        let mut clauses = Vec::new();
        if gone {
            clauses.push(format!("{part_number} is gone from the catalogue"));
        }
        let names: std::collections::BTreeSet<&str> = before.keys().copied().chain(after.keys().copied()).collect();
        for name in names {
            let (a, b) = (before.get(name).copied(), after.get(name).map(String::as_str));
            // The same part on both sides is compared figure by figure; another one has other figures anyway.
            if a == b || name == "verdict" || (name != "part" && (!same_part || gone)) {
                continue;
            }
            clauses.extend(clause(name, a, b));
        }
        let (was, is) = (before.get("verdict").copied(), after.get("verdict").map(String::as_str));
        if was != is {
            clauses.push(verdict(&new, sized, was.unwrap_or("unknown"), &places));
        }
        Changed { position: sized.id, part_number: part_number.to_owned(), clauses, grave: gone || was != is }
    });
    found.filter(|changed| !changed.clauses.is_empty()).collect()
}

/// One difference in words; `None` for a figure this program does not know.
fn clause(name: &str, before: Option<&str>, after: Option<&str>) -> Option<String> {
    let field = schema::of_part().find(|field| field.path == name);
    let label = field.map_or(name, |field| field.about.label);
    let known = field.is_some() || ["part", "cost", "stock", "years", "status"].contains(&name);
    if field.is_some_and(|field| matches!(field.access, Access::Text(..))) {
        return Some(format!("{label} is another"));
    }
    let is_word = field.is_some_and(|field| matches!(field.access, Access::Word(..)));
    let none = if name == "part" { "no part" } else { "unknown" };
    let word = |value: &str| if is_word { schema::spoken(value) } else { value.to_owned() };
    let told = |value: Option<&str>| value.map_or_else(|| none.to_owned(), word);
    known.then(|| format!("{label} {} to {}", told(before), told(after)))
}

fn verdict(new: &State, now: &PositionSizing, before: &str, places: &Contexts) -> String {
    let word = now.choice.verdict.word();
    let why = now.choice.part.zip(places.at(now.id)).and_then(|(part, context)| {
        let (check, can) = (part.evaluation.decisive()?, new.catalog_index.catalog().can(part.id));
        Some(format!(" ({} {})", check_name(check), reason(&context, &can, &part.evaluation, check)))
    });
    format!("verdict {before} to {word}{}", why.unwrap_or_default())
}

/// Part, verdict, cost, stock, status, life and figures of the chosen part, each by its name; what is not known is left out.
fn terms(state: &State, places: &Contexts, sized: &PositionSizing) -> BTreeMap<&'static str, String> {
    let catalog = state.catalog_index.catalog();
    let mut terms = BTreeMap::from([("verdict", sized.choice.verdict.word().to_owned())]);
    let Some(part) = sized.choice.part else {
        terms.extend(state.job.position(sized.id).and_then(|position| Some(("part", position.pick.clone()?))));
        return terms;
    };
    terms.insert("part", catalog.part_number(part.id).to_owned());
    let context = places.at(sized.id);
    let mut add = |name, value: Option<String>| terms.extend(value.map(|value| (name, value)));
    add("cost", context.as_ref().and_then(|at| at.cost_of_need(catalog, part.id)).map(style::money));
    add("stock", context.as_ref().and_then(|at| at.stock(catalog, part.id)).map(figure));
    add("years", part.evaluation.figures.calendar_years.map(figure));
    add("status", catalog.status(part.id).map(|status| <&str>::from(status).to_owned()));
    let can = catalog.can(part.id);
    for field in schema::of_part() {
        add(
            field.path,
            match field.access {
                Access::Number(get, _) => get(&can).map(figure),
                Access::Word(get, _) => get(&can).map(str::to_owned),
                Access::Text(get, _) => get(&can),
                _ => None,
            },
        );
    }
    terms
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Can, Part, Status};
    use crate::sizing::size;
    use crate::sizing::testing::{HERE, can, catalog_index, job_of, part, position};

    #[test]
    fn price_stock_status_figures_verdict_and_parts_that_are_gone_are_told() {
        let mut job = job_of(vec![position(), position(), position()]);
        job.currency = Some("EUR".into());
        for (at, (reference, pick)) in [("C1", "A"), ("C2", "B"), ("C3", "C")].into_iter().enumerate() {
            let position = &mut job.boards[0].positions[at];
            (position.reference, position.pick) = (reference.into(), Some(pick.into()));
        }
        let euro = |part: Part| Part { currency: "EUR".into(), ..part };
        let old = [("A", 1.0), ("B", 1.0), ("C", 1.0)].map(|(number, price)| euro(part(number, Some(price), can())));
        let mut new = vec![
            Part { status: Some(Status::Obsolete), ..old[0].clone() },
            euro(part("C", Some(1.5), Can { endurance_h: Some(4000.0), ..can() })),
        ];
        new[0].trade.stock = Some(3.0);
        let (old_index, new_index) = (catalog_index(&old), catalog_index(&new));
        let (before, after) = (size(&job, &old_index), size(&job, &new_index));
        let state = |catalog_index, sizing| State { job: &job, catalog_index, sizing };
        let old = records(state(&old_index, &before));
        let found = changed(&old, state(&new_index, &after));
        assert_eq!(found.iter().map(|changed| changed.grave).collect::<Vec<_>>(), [true, true, false]);
        let told = |index: usize| found.iter().find(|c| c.position.index == index).unwrap().clauses.join("; ");
        for clause in ["stock 1000 to 3", "status active to obsolete", "verdict pass to fail (availability"] {
            assert!(told(0).contains(clause), "{clause}: {}", told(0));
        }
        assert!(
            told(1).contains("B is gone from the catalogue") && told(1).contains("verdict pass to unknown"),
            "{}",
            told(1)
        );
        assert!(told(2).contains("cost 5.00 to 7.50") && told(2).contains("5000 to 4000"), "{}", told(2));
        assert!(changed(&old, state(&old_index, &before)).is_empty());
        // The other way round a verdict is one that changed as well.
        let back = changed(&records(state(&new_index, &after)), state(&old_index, &before));
        assert_eq!(back.iter().map(|changed| changed.grave).collect::<Vec<_>>(), [true, true, false]);
        assert!(back[0].clauses.contains(&"verdict fail to pass".to_owned()), "{:?}", back[0].clauses);
        let mut more = job.clone();
        more.boards[0].positions[0].reference = "C9".into();
        let sized = size(&more, &old_index);
        let new = State { job: &more, catalog_index: &old_index, sizing: &sized };
        let clauses = vec!["a new position".into()];
        assert_eq!(changed(&old, new), [Changed { position: HERE, part_number: String::new(), clauses, grave: false }]);
    }
}
