//! What changed for a job between two states of catalogue and offers: prices, stock, status, figures, verdicts, parts that are gone.

use super::catalog_index::CatalogIndex;
use super::contexts::Contexts;
use super::reasons::{check_name, figure, reason};
use super::size::{PositionSizing, Ranked, Sizing};
use crate::domain::schema::{self, Access};
use crate::domain::{Check, Job, PositionId, style};

/// One side of the comparison: a sized job with its parts.
#[derive(Clone, Copy)]
pub struct State<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its parts and offers.
    pub catalog_index: &'a CatalogIndex,
    /// What came out.
    pub sizing: &'a Sizing,
}

/// What changed at a position.
#[derive(Debug, Clone, PartialEq)]
pub struct Changed {
    /// Where, in the newer job.
    pub position: PositionId,
    /// The part there before; empty where there was none.
    pub part_number: String,
    /// What changed, a clause each.
    pub clauses: Vec<String>,
}

/// The positions of the newer job at which something changed, found again by board and reference; those that are new are named so.
#[must_use]
pub fn changed(old: State, new: State) -> Vec<Changed> {
    let (before, after) =
        (Contexts::new(old.job, old.catalog_index.catalog()), Contexts::new(new.job, new.catalog_index.catalog()));
    let name =
        |job: &Job, id: PositionId| Some((job.boards.get(id.board)?.name.clone(), job.position(id)?.reference.clone()));
    let found = new.sizing.positions.iter().map(|now| {
        let here = name(new.job, now.id);
        let then = old.sizing.positions.iter().find(|then| name(old.job, then.id) == here);
        let Some(then) = then else {
            return Changed { position: now.id, part_number: String::new(), clauses: vec!["a new position".into()] };
        };
        let number = |state: &State, sized: &PositionSizing| match sized.choice.part {
            Some(part) => state.catalog_index.catalog().part_number(part.id).to_owned(),
            None => state.job.position(sized.id).and_then(|position| position.pick.clone()).unwrap_or_default(),
        };
        let (part_number, part_now) = (number(&old, then), number(&new, now));
        let mut clauses = Vec::new();
        if !part_number.is_empty() && new.catalog_index.catalog().find(&part_number).is_none() {
            clauses.push(format!("{part_number} is gone from the catalogue"));
        }
        if part_number != part_now {
            let told = |number: &str| if number.is_empty() { "no part".to_owned() } else { number.to_owned() };
            clauses.push(format!("part {} to {}", told(&part_number), told(&part_now)));
        }
        // The same part on both sides is compared figure by figure; another one has other figures anyway.
        if let (Some(a), Some(b), true) = (then.choice.part, now.choice.part, part_number == part_now) {
            clauses.extend(terms(&old, &new, (then.id, a), (now.id, b), &before, &after));
        }
        if then.choice.verdict != now.choice.verdict {
            clauses.push(verdict(&new, now, then.choice.verdict.word(), &after));
        }
        Changed { position: now.id, part_number, clauses }
    });
    found.filter(|changed| !changed.clauses.is_empty()).collect()
}

fn verdict(new: &State, now: &PositionSizing, before: &str, after: &Contexts) -> String {
    let word = now.choice.verdict.word();
    let why = now.choice.part.zip(after.at(now.id)).and_then(|(part, context)| {
        let check = Check::ALL.into_iter().find(|&check| part.evaluation.outcome(check) == now.choice.verdict)?;
        let can = new.catalog_index.catalog().can(part.id);
        Some(format!(" ({} {})", check_name(check), reason(&context, &can, &part.evaluation, check)))
    });
    let why = why.filter(|_| now.choice.verdict != crate::domain::Outcome::Pass);
    format!("verdict {before} to {word}{}", why.unwrap_or_default())
}

/// Cost, stock, status, life and figures of one part.
fn terms(
    old: &State,
    new: &State,
    (id_a, a): (PositionId, Ranked),
    (id_b, b): (PositionId, Ranked),
    before: &Contexts,
    after: &Contexts,
) -> Vec<String> {
    let (old, new) = (old.catalog_index.catalog(), new.catalog_index.catalog());
    let number = |name: &str, a: Option<f64>, b: Option<f64>, word: &dyn Fn(f64) -> String| {
        let told = |value: Option<f64>| value.map_or_else(|| "unknown".to_owned(), word);
        (a != b && told(a) != told(b)).then(|| format!("{name} {} to {}", told(a), told(b)))
    };
    let cost = |places: &Contexts, catalog, id, part: Ranked| places.at(id)?.cost_of_need(catalog, part.id);
    let status = |catalog: &crate::domain::Catalog, part: Ranked| {
        catalog.status(part.id).map_or("unknown", <&str>::from).to_owned()
    };
    let years = |part: Ranked| part.evaluation.figures.calendar_years;
    let mut clauses: Vec<String> = [
        number("cost", cost(before, old, id_a, a), cost(after, new, id_b, b), &style::money),
        number("stock", old.trade(a.id).stock, new.trade(b.id).stock, &figure),
        number("years", years(a), years(b), &figure),
    ]
    .into_iter()
    .flatten()
    .collect();
    let (was, is) = (status(old, a), status(new, b));
    if was != is {
        clauses.push(format!("status {was} to {is}"));
    }
    let (can_a, can_b) = (old.can(a.id), new.can(b.id));
    for field in schema::of_part() {
        clauses.extend(match field.access {
            Access::Number(get, _) => number(field.about.label, get(&can_a), get(&can_b), &figure),
            Access::Word(get, _) if get(&can_a) != get(&can_b) => {
                let told = |word: Option<&'static str>| word.map_or_else(|| "unknown".to_owned(), schema::spoken);
                Some(format!("{} {} to {}", field.about.label, told(get(&can_a)), told(get(&can_b))))
            }
            Access::Text(get, _) if get(&can_a) != get(&can_b) => Some(format!("{} is another", field.about.label)),
            _ => None,
        });
    }
    clauses
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
        let found = changed(state(&old_index, &before), state(&new_index, &after));
        let told = |index: usize| found.iter().find(|c| c.position.index == index).unwrap().clauses.join("; ");
        for clause in ["stock 1000 to 3", "status active to obsolete", "verdict pass to fail (supply"] {
            assert!(told(0).contains(clause), "{clause}: {}", told(0));
        }
        assert!(
            told(1).contains("B is gone from the catalogue") && told(1).contains("verdict pass to unknown"),
            "{}",
            told(1)
        );
        assert!(told(2).contains("cost 5.00 to 7.50") && told(2).contains("5000 to 4000"), "{}", told(2));
        assert!(changed(state(&old_index, &before), state(&old_index, &before)).is_empty());
        let mut more = job.clone();
        more.boards[0].positions[0].reference = "C9".into();
        let sized = size(&more, &old_index);
        let new = State { job: &more, catalog_index: &old_index, sizing: &sized };
        assert_eq!(
            changed(state(&old_index, &before), new),
            [Changed { position: HERE, part_number: String::new(), clauses: vec!["a new position".into()] }]
        );
    }
}
