//! Of `sizing/size.rs`: the whole job against the whole catalogue.

use refarad::domain::{Can, Check, Job, Outcome, Part, PartId, PositionId, Status};
use refarad::files::demo;
use refarad::sizing::{KEPT_PER_POSITION, PositionContext, PositionSizing, Source, Supply, better, evaluate_all, size};

use super::testing::{HERE, can, catalog_index, job, job_of, part, position};

fn sized(job: &Job, parts: &[Part]) -> PositionSizing {
    size(job, &catalog_index(parts)).positions.swap_remove(0)
}

fn chosen(job: &Job, parts: &[Part]) -> (Source, Option<String>, Outcome) {
    let catalog_index = catalog_index(parts);
    let choice = size(job, &catalog_index).positions.swap_remove(0).choice;
    (choice.source, choice.part.map(|p| catalog_index.catalog().part_number(p.id).to_owned()), choice.verdict)
}

fn named(number: &str) -> Option<String> {
    Some(number.to_owned())
}

fn marginal() -> Can {
    Can { diameter_max_mm: Some(11.5), ..can() }
}

fn failing() -> Can {
    Can { rated_v: Some(10.0), ..can() }
}

#[test]
fn the_cheapest_passing_part_is_proposed() {
    let parts = [
        part("A", None, can()),
        part("B", Some(0.5), can()),
        part("C", Some(0.1), marginal()),
        part("D", Some(0.4), can()),
        part("E", Some(0.05), failing()),
    ];
    assert_eq!(chosen(&job(position()), &parts), (Source::Proposed, named("D"), Outcome::Pass));
}

#[test]
fn without_a_passing_part_the_best_marginal_one_is_proposed() {
    let roomier = Can { esr_mohm: Some(85.0), ..can() };
    let parts = [part("A", Some(0.1), roomier), part("B", Some(9.0), marginal()), part("C", None, failing())];
    // The ESR over its limit leaves less headroom than a tight body.
    assert_eq!(chosen(&job(position()), &parts), (Source::Proposed, named("B"), Outcome::Marginal));
}

#[test]
fn a_part_with_something_unknown_is_never_proposed() {
    let unknown = Can { endurance_h: None, ..can() };
    assert_eq!(chosen(&job(position()), &[part("A", None, unknown)]), (Source::None, None, Outcome::Unknown));
    assert_eq!(chosen(&job(position()), &[part("A", None, failing())]), (Source::None, None, Outcome::Fail));
    assert_eq!(chosen(&job(position()), &[]), (Source::None, None, Outcome::Fail));
}

#[test]
fn a_pick_stands_even_if_it_fails_and_a_lost_pick_is_unknown() {
    let with_pick = |pick: &str| {
        let mut position = position();
        position.pick = Some(pick.into());
        chosen(&job(position), &[part("A", Some(1.0), failing()), part("B", Some(1.0), can())])
    };
    assert_eq!(with_pick("A"), (Source::Pick, named("A"), Outcome::Fail));
    assert_eq!(with_pick("gone"), (Source::Pick, None, Outcome::Unknown));
}

#[test]
fn a_part_is_counted_at_each_check_it_fails_unless_it_is_ruled_out_at_a_glance() {
    let parts = [
        part("A", None, can()),
        part("B", None, marginal()),
        part("C", None, failing()),
        part("D", None, Can { endurance_h: None, ..can() }),
        Part { status: Some(Status::Obsolete), ..part("E", None, can()) },
    ];
    let failing = sized(&job(position()), &parts).failing.unwrap();
    // C is ruled out at a glance, E is obsolete.
    assert_eq!(failing.iter().sum::<usize>(), 1, "{failing:?}");
    assert_eq!(failing[Check::Supply as usize], 1);
}

#[test]
fn the_twenty_best_are_kept_in_order_and_few_are_filled_up_with_those_ruled_out() {
    let many: Vec<Part> = (0..30).map(|i| part(&format!("P{i:02}"), Some(f64::from(30 - i)), can())).collect();
    let best = sized(&job(position()), &many).best;
    assert_eq!(best.len(), KEPT_PER_POSITION);
    assert_eq!((best[0].id, best[19].id), (PartId(29), PartId(10)));
    let few = [part("A", Some(0.1), failing()), part("B", Some(1.0), can())];
    let best = sized(&job(position()), &few).best;
    assert_eq!(best.iter().map(|r| (r.id.0, r.excess.is_some())).collect::<Vec<_>>(), [(1, false), (0, true)]);
    assert_eq!(best[1].evaluation.verdict, Outcome::Fail);
}

#[test]
fn where_all_parts_are_ruled_out_the_one_least_beyond_the_bounds_stands_first() {
    let of = |number: &str, capacitance_uf: f64, rated_v: f64| {
        part(number, Some(1.0), Can { capacitance_uf: Some(capacitance_uf), rated_v: Some(rated_v), ..can() })
    };
    // The position asks for about 470 µF at a peak of 12.5 V; the catalogue is ordered by capacitance, then voltage.
    let parts = [of("A", 1.0, 25.0), of("B", 470.0, 4.0), of("C", 470.0, 6.3), of("D", 100_000.0, 25.0)];
    let best = sized(&job(position()), &parts).best;
    assert_eq!(best.iter().map(|part| part.id.0).collect::<Vec<_>>(), [2, 1, 3, 0]);
    assert!(best.iter().all(|part| part.excess.is_some_and(|excess| excess > 1.0)));
}

#[test]
fn the_best_are_the_same_whether_all_parts_are_looked_at_or_only_the_cheapest() {
    // Prices that repeat, parts that fail by body or rating, one in seven without a price, minimums and breaks.
    let parts: Vec<Part> = (0..3000_u32)
        .map(|at| {
            let figures = match at % 5 {
                0 => failing(),
                1 => marginal(),
                2 => Can { endurance_h: Some(f64::from(500 + at)), ..can() },
                3 => Can { pitch_mm: Some(f64::from(at % 8)), ..can() },
                _ => can(),
            };
            let price = (at % 7 != 3).then(|| f64::from(at * 7919 % 400) / 100.0);
            let mut part = part(&format!("P{at:04}"), price, figures);
            part.trade.moq = (at % 11 == 0).then_some(40.0);
            part.price_breaks = (at % 13 == 0).then(|| "1:2.00;100:0.01".parse().unwrap());
            part
        })
        .collect();
    let (job, catalog_index) = (job(position()), catalog_index(&parts));
    let found = size(&job, &catalog_index).positions.swap_remove(0);
    let context = PositionContext::new(&job, catalog_index.catalog(), HERE).unwrap();
    let catalog = catalog_index.catalog();
    let mut all = evaluate_all(&context, catalog, &catalog_index.admitted(&context));
    all.sort_by(|a, b| better(catalog, a, b));
    all.truncate(KEPT_PER_POSITION);
    assert_eq!(found.best, all);
    assert_eq!(found.failing, None, "enough pass");
    let (floors, mut passable): (Vec<f64>, Vec<_>) = catalog_index.passable(&context).unzip();
    assert!(floors.is_sorted());
    passable.sort();
    let mut passing = 0;
    for part in evaluate_all(&context, catalog, &catalog_index.admitted(&context)) {
        let passes = context.passes(&catalog.can(part.id), Supply::of(&context, catalog, part.id));
        assert_eq!(passes, part.evaluation.verdict == Outcome::Pass);
        assert!(!passes || passable.binary_search(&part.id).is_ok());
        passing += usize::from(passes);
    }
    assert!(passing > KEPT_PER_POSITION && passable.len() < catalog.len());
}

#[test]
fn the_board_lasts_as_long_as_its_first_position() {
    let mut hot = position();
    hot.stress.phases.as_mut().unwrap()[0].ambient_c = Some(80.0);
    let sizing = size(&job_of(vec![position(), hot]), &catalog_index(&[part("A", None, can())]));
    let second = PositionId { board: 0, index: 1 };
    for interval in [&sizing.boards[0].as_built, &sizing.boards[0].as_chosen] {
        assert_eq!(interval.limiting, Some(second.into()));
        assert!(interval.years.unwrap() < 15.0);
    }
    assert_eq!(sizing.position(HERE).unwrap().chosen_years(), Some(15.0));
}

#[test]
fn a_board_position_without_a_part_leaves_the_interval_uncertain() {
    let sizing = size(&job(position()), &catalog_index(&[part("A", None, failing())]));
    assert!(!sizing.complete());
    assert_eq!(sizing.boards[0].as_chosen.unknown, [HERE.into()]);
    assert_eq!(sizing.boards[0].as_built.years, Some(15.0));
}

#[test]
fn a_job_without_positions_is_complete() {
    assert!(size(&Job::default(), &catalog_index(&[])).complete());
}

/// The short way to a pass says what the whole evaluation says, for each check that can take the pass away.
#[test]
fn a_part_passes_the_short_way_exactly_where_every_check_passes() {
    let (job, catalog) = (demo::job().unwrap().job, &demo::parts().unwrap().catalog);
    let mut alone = [0; Check::ALL.len()];
    for (id, _) in job.positions() {
        let Some(context) = PositionContext::new(&job, catalog, id) else { continue };
        for part in evaluate_all(&context, catalog, &catalog.ids().collect::<Vec<_>>()) {
            let passes = context.passes(&catalog.can(part.id), Supply::of(&context, catalog, part.id));
            assert_eq!(passes, part.evaluation.verdict == Outcome::Pass, "{id:?} {}", catalog.part_number(part.id));
            let not = |check: &&Check| part.evaluation.outcome(**check) != Outcome::Pass;
            if let [one] = Check::ALL.iter().filter(not).collect::<Vec<_>>()[..] {
                alone[*one as usize] += 1;
            }
        }
    }
    assert!(alone.iter().all(|&count| count > 0), "each check alone takes a pass away somewhere: {alone:?}");
}
