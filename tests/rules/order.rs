//! Of `sizing/order`: an order of few lines for a job: which part to take where so that parts and order lines
//! cost least together, and what each step away from the part that is cheapest by itself costs and gives.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use refarad::domain::{Job, OtherId, OtherPart, Outcome, Place, PositionId};
use refarad::files::demo;
use refarad::sizing;
use refarad::sizing::board_plan::{PlanScope, plan_base};
use refarad::sizing::few_lines::Limits;
use refarad::sizing::{CatalogIndex, Due, Order, OrderError, OrderOptions, order, purchase};

fn demo_market() -> (Job, CatalogIndex) {
    (demo::job().unwrap().job, CatalogIndex::new(Arc::new(demo::parts().unwrap().catalog)))
}

const REPLACING: OrderOptions = OrderOptions {
    replace_picks: true,
    accept_marginal: false,
    limits: Limits { time: Duration::from_secs(10), nodes: 200_000 },
};

fn find(job: &Job, catalog_index: &CatalogIndex, constraints: &OrderOptions) -> Result<Order, OrderError> {
    order(job, catalog_index, constraints, &AtomicBool::new(false), &mut |_| {})
}

#[test]
fn the_order_of_the_demo_passes_everywhere_and_costs_what_its_purchase_list_says() {
    let (job, catalog_index) = demo_market();
    let found = find(&job, &catalog_index, &REPLACING).unwrap();
    assert!(found.total <= found.separate_total && found.ordered_lines() <= found.separate_lines, "{found:?}");
    assert_eq!(found.picks.len() + found.left_out.len(), job.positions().count());
    let steps: f64 = found.steps.iter().map(|step| step.cost).sum();
    assert!((found.separate_total + steps - found.total).abs() < 1e-6);

    let mut applied = found.applied(&job, &catalog_index);
    let sizing = sizing::size(&applied, &catalog_index);
    for pick in &found.picks {
        assert_eq!(sizing.position(pick.position).unwrap().choice.verdict, Outcome::Pass);
    }
    // The purchase list of these positions alone comes to the same money by its own way.
    for &(id, _) in &found.left_out {
        applied.position_mut(id).unwrap().pick = None;
    }
    let mut sizing = sizing::size(&applied, &catalog_index);
    sizing.positions.retain(|sized| found.picks.iter().any(|pick| pick.position == sized.id));
    let bought = purchase(&applied, &catalog_index, &sizing, None);
    assert!((bought.totals_of_positions(&job).certain_job().unwrap() - found.total).abs() < 1e-6);
    assert_eq!(bought.totals_of_positions(&job).lines, found.ordered_lines());
}

#[test]
fn what_must_be_used_is_used_what_must_not_is_not_and_picks_can_be_kept() {
    let (mut job, catalog_index) = demo_market();
    let found = find(&job, &catalog_index, &REPLACING).unwrap();
    let taken = found.lines[0].part;
    let other = found.picks.iter().find(|pick| pick.cheapest != pick.part).map(|pick| pick.cheapest).unwrap();
    let number = |id| catalog_index.catalog().part_number(id).to_owned();
    job.never_use = vec![number(taken)];
    job.must_use = vec![number(other)];
    let again = find(&job, &catalog_index, &REPLACING).unwrap();
    assert!(again.lines.iter().all(|line| line.part != taken));
    assert!(again.lines.iter().any(|line| line.part == other));
    // Both at once is a contradiction and not a search.
    job.must_use.push(format!(" {} ", number(taken)));
    assert_eq!(
        find(&job, &catalog_index, &OrderOptions::default()).unwrap_err(),
        OrderError::Contradiction(number(taken))
    );
    job.never_use.clear();
    job.must_use.clear();
    let kept = find(&job, &catalog_index, &OrderOptions::default()).unwrap();
    for pick in &kept.picks {
        let old = job.position(pick.position).unwrap().pick.clone();
        assert!(old.is_none_or(|old| old == number(pick.part)));
    }
}

#[test]
fn a_second_source_is_named_for_every_line_or_its_lack_for_the_positions() {
    let (mut job, catalog_index) = demo_market();
    job.second_source = Some(true);
    match find(&job, &catalog_index, &OrderOptions::default()) {
        Ok(found) => {
            let maker = |id| catalog_index.catalog().maker(id).to_owned();
            assert!(
                found.lines.iter().all(|line| line.alternative.is_some_and(|other| maker(other) != maker(line.part)))
            );
        }
        Err(OrderError::Demands(message)) => assert!(message.contains("second source"), "{message}"),
        Err(other) => panic!("{other}"),
    }
}

#[test]
fn wishes_that_cannot_be_met_are_told_with_their_part_number() {
    let (mut job, catalog_index) = demo_market();
    job.must_use = vec!["NO-SUCH".into()];
    assert!(find(&job, &catalog_index, &OrderOptions::default()).unwrap_err().to_string().contains("NO-SUCH"));
    job.must_use.clear();
    job.currency = Some("XXX".into());
    // No price compares: no position is in the order, but the other parts are still bought.
    let found = find(&job, &catalog_index, &OrderOptions::default()).unwrap();
    assert_eq!((found.left_out.len(), found.picks.len()), (job.positions().count(), 0));
    let applied = found.applied(&job, &catalog_index);
    let bought = purchase(&applied, &catalog_index, &found.sized(&applied, &catalog_index), None);
    assert_eq!(bought.lines.iter().filter(|line| line.to_order() && !line.has_positions()).count(), 10);
    let boards = job.boards.iter_mut().map(|board| &mut board.other_parts);
    boards.chain([&mut job.other_parts]).for_each(Vec::clear);
    assert_eq!(find(&job, &catalog_index, &OrderOptions::default()), Err(OrderError::Nothing));
}

#[test]
fn an_order_keeps_picks_lists_what_changes_and_carries_its_own_names() {
    let (mut job, catalog_index) = demo_market();
    let number = |id| catalog_index.catalog().part_number(id).to_owned();
    let replacing = find(&job, &catalog_index, &REPLACING).unwrap();
    // Every position gets another usable part than the order would take; marginal ones count, too: a person picked them.
    let sizing = sizing::size(&job, &catalog_index);
    for pick in &replacing.picks {
        let best = &sizing.position(pick.position).unwrap().best;
        let other = best.iter().find(|part| part.id != pick.part && part.evaluation.verdict.usable());
        job.position_mut(pick.position).unwrap().pick = other.map(|part| number(part.id));
    }
    let picked: Vec<_> = job.positions().filter_map(|(id, position)| Some((id, position.pick.clone()?))).collect();
    let sizing = sizing::size(&job, &catalog_index);
    let kept = find(&job, &catalog_index, &OrderOptions::default()).unwrap();
    let new = kept.picks.iter().filter(|pick| job.position(pick.position).unwrap().pick.is_none()).count();
    assert_eq!(kept.changes(&job, &catalog_index, &sizing).len(), new);
    for (id, pick) in &picked {
        assert!(kept.picks.iter().all(|of| of.position != *id || number(of.part) == *pick));
    }
    let replaced = find(&job, &catalog_index, &REPLACING).unwrap().changes(&job, &catalog_index, &sizing);
    assert!(replaced.iter().filter(|change| change.picked && !change.is_free()).count() > 5);
    let parts = kept.picks.iter().flat_map(|pick| [pick.part, pick.cheapest]).chain(kept.lines.iter().map(|l| l.part));
    assert!(parts.into_iter().all(|part| kept.name(part) == number(part)));
}

#[test]
fn other_parts_share_a_line_where_a_person_gave_alternatives_and_never_without() {
    let (mut job, catalog_index) = demo_market();
    assert_eq!(find(&job, &catalog_index, &REPLACING).unwrap().others, None);
    // The relay K1 may be the one of the other boards: one line and its handling less.
    let [with, other] = ["CAIRNFOLD-24-1NO16", "CAIRNFOLD-24-2CO8"];
    let at = job.all_other_parts().find(|(_, part)| part.part_number() == Some(with)).unwrap().0;
    let relay = |job: &mut Job| job.boards[at.board.unwrap()].other_parts[at.index].clone();
    job.boards[at.board.unwrap()].other_parts[at.index].alternatives = Some(format!(" {other} ;"));
    let found = find(&job, &catalog_index, &REPLACING).unwrap();
    let others = found.others.as_ref().unwrap();
    assert_eq!(others.changes.iter().map(|pick| (pick.other, pick.then.as_str())).collect::<Vec<_>>(), [(at, other)]);
    let mut applied = others.applied(&job);
    assert_eq!((relay(&mut applied).part_number(), relay(&mut applied).own_number()), (Some(other), Some(with)));
    // The purchase list comes to the same money by its own way, before and after.
    let total = |job: &Job| {
        let bought = purchase(job, &catalog_index, &sizing::Sizing::default(), None);
        bought.totals.certain_job().unwrap()
    };
    assert!((total(&applied) - others.total).abs() < 1e-6 && (total(&job) - others.now.unwrap()).abs() < 1e-6);
    assert!(others.total < total(&job));
    job.must_use = vec![with.to_owned()];
    let required = find(&job, &catalog_index, &REPLACING).unwrap().others.unwrap();
    assert!(required.changes.is_empty() && required.total > others.total);
    (job.must_use, job.never_use) = (Vec::new(), vec![other.to_owned()]);
    let kept = find(&job, &catalog_index, &REPLACING).unwrap().others.unwrap();
    assert!(kept.changes.is_empty() && !kept.left_out.is_empty(), "what must not be used is not, and that is said");
}

#[test]
fn one_and_the_same_limit_is_told_of_the_board_the_order_the_plan_and_the_due_date() {
    let (mut job, catalog_index) = demo_market();
    let limits = |job: &Job| {
        let found = find(job, &catalog_index, &REPLACING).unwrap();
        let applied = found.applied(job, &catalog_index);
        let sizing = found.sized(&applied, &catalog_index);
        let board =
            sizing.boards.iter().map(|board| &board.as_chosen).min_by(|a, b| a.years.partial_cmp(&b.years).unwrap());
        let plan = plan_base(&applied, &catalog_index, &sizing, PlanScope::default()).other.unwrap();
        let all = [board.unwrap().limiting, found.intervals.1.limiting, Some(Place::Other(plan.0))];
        let due = Due::of(&Job { interval_years: None, ..applied.clone() }, &sizing);
        assert!(all.iter().all(|limit| *limit == due.limited_by), "{all:?} {:?}", due.limited_by);
        let first = found.steps.iter().all(|step| step.interval_years <= found.intervals.1.years);
        assert!(first && found.intervals.1.years == due.years && due.years == Some(plan.1));
        (job.name_of(due.limited_by.unwrap()).to_owned(), due.years, sizing)
    };
    let (name, years, _) = limits(&job);
    assert_eq!((name.as_str(), years), ("BT301", Some(10.0)));
    // A fan of the whole unit ends every board of it.
    job.other_parts = vec![OtherPart { reference: "M9".into(), interval_years: Some(6.0), ..OtherPart::default() }];
    let (name, years, sizing) = limits(&job);
    assert_eq!((name.as_str(), years), ("M9", Some(6.0)));
    let fan = Some(Place::Other(OtherId { board: None, index: 0 }));
    let longer = |board: &&sizing::BoardSizing| board.as_chosen.limiting != fan || board.as_built.years > Some(6.0);
    assert_eq!(sizing.boards.iter().filter(longer).count(), 0);
    let words = sizing.boards[3].as_chosen.told(&job);
    assert_eq!(words, "lasts 6 years, limited by M9");
    // A relay of which nobody says how often it switches may end it sooner.
    job.boards[3].other_parts[0].operations_per_year = None;
    let words = sizing::size(&job, &catalog_index).boards[3].as_chosen.told(&job);
    assert_eq!(words, "lasts at most 6 years, limited by M9; life not known at K301");
    // Of many the kinds are counted.
    let position = |index| (Place::Position(PositionId { board: 0, index }), None);
    let other = |index| (Place::Other(OtherId { board: Some(0), index }), None);
    let unknown = sizing::Interval::of((0..5).map(position).chain((0..2).map(other)));
    assert!(unknown.told(&job).ends_with("life not known at 5 positions and 2 other parts"), "{}", unknown.told(&job));
}
