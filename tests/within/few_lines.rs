//! Of `sizing/few_lines/`, from within it: the search against every combination, its limits, its demands.

use std::sync::atomic::AtomicBool;
use std::time::Duration;

use proptest::prelude::*;

use super::super::quantities::{Offer, PriceBreak, Terms};
use super::*;

fn part(maker: &str, breaks: &[(u64, f64)]) -> Part {
    let breaks = breaks.iter().map(|&(from_qty, unit_price)| PriceBreak { from_qty, unit_price }).collect();
    Part {
        maker: Some(maker.to_owned()),
        offers: vec![Offer {
            terms: Terms::new(breaks, None, None).unwrap(),
            rate_to_job: Some(1.0),
            stock_qty: None,
            lead_time_d: None,
        }],
        shelf_qty: 0,
        demand: Demand::Free,
    }
}

fn board(passing: &[&[usize]], parts: Vec<Part>, line_cost: f64) -> Problem {
    Problem {
        positions: passing.iter().map(|passing| Position { pieces: 4, passing: passing.to_vec() }).collect(),
        parts,
        spare_pct: 0.0,
        line_cost,
        second_source: false,
        preference: None,
    }
}

fn run(problem: &Problem) -> Result<SearchOutcome, FewLinesError> {
    let limits = Limits { time: Duration::from_mins(10), nodes: u64::MAX };
    solve(problem, limits, &AtomicBool::new(false), &mut |_| {})
}

fn picks(problem: &Problem) -> Vec<usize> {
    run(problem).unwrap().choice.unwrap().picks
}

#[test]
fn one_dearer_part_replaces_two_cheap_ones_when_lines_are_dear() {
    let parts = vec![part("A", &[(1, 1.0)]), part("B", &[(1, 1.0)]), part("C", &[(1, 1.2)])];
    let mut problem = board(&[&[0, 2], &[1, 2]], parts, 0.5);
    assert_eq!(picks(&problem), [0, 1]);
    problem.line_cost = 5.0;
    assert_eq!(picks(&problem), [2, 2]);
}

#[test]
fn a_price_break_reached_together_is_used() {
    let parts = vec![part("A", &[(1, 1.0)]), part("B", &[(1, 1.5), (8, 0.8)])];
    let problem = board(&[&[0, 1], &[0, 1]], parts, 0.0);
    let choice = run(&problem).unwrap().choice.unwrap();
    assert_eq!(choice.picks, [1, 1]);
    assert!((choice.parts_cost - 6.4).abs() < 1e-9);
}

#[test]
fn a_part_that_must_be_used_is_used_and_a_forbidden_one_is_not() {
    let mut problem = board(&[&[0, 1], &[0, 1]], vec![part("A", &[(1, 1.0)]), part("B", &[(1, 9.0)])], 5.0);
    assert_eq!(picks(&problem), [0, 0]);
    problem.parts[1].demand = Demand::Must;
    let mut used = picks(&problem);
    used.sort_unstable();
    // Both on part 1: 72 + 5; one of each: 4 + 36 + 10.
    assert_eq!(used, [0, 1]);
    problem.parts[1].demand = Demand::Free;
    problem.parts[0].demand = Demand::Never;
    assert_eq!(picks(&problem), [1, 1]);
}

#[test]
fn a_second_source_passes_everywhere_the_part_is_used() {
    let mut problem = board(
        &[&[0, 1, 3], &[0, 2, 3], &[0, 1, 3]],
        vec![part("A", &[(1, 1.0)]), part("B", &[(1, 2.0)]), part("C", &[(1, 2.0)]), part("A", &[(1, 1.1)])],
        3.0,
    );
    assert_eq!(picks(&problem), [0, 0, 0]);
    problem.second_source = true;
    let choice = run(&problem).unwrap().choice.unwrap();
    assert_eq!(choice.picks[0], choice.picks[2]);
    assert_ne!(choice.picks[0], choice.picks[1]);
    assert!(choice.lines.iter().all(|line| line.alternative.is_some()));
    // Nobody else makes a part for position 1.
    problem.positions[1].passing = vec![0, 3];
    assert_eq!(run(&problem), Err(FewLinesError::NoPart(vec![1])));
}

#[test]
fn a_preferred_maker_is_worth_what_the_buyer_says() {
    let mut problem = board(&[&[0, 1]], vec![part("A", &[(1, 1.0)]), part("B", &[(1, 1.5)])], 5.0);
    let prefer = |worth_per_line| Some(Preference { makers: vec!["B".to_owned()], worth_per_line });
    problem.preference = prefer(1.0);
    let cheap = run(&problem).unwrap().choice.unwrap();
    assert_eq!((cheap.picks[0], cheap.preference_cost), (0, 1.0));
    problem.preference = prefer(3.0);
    assert_eq!(picks(&problem), [1]);
}

#[test]
fn a_part_on_the_shelf_needs_no_order_line() {
    let mut problem = board(&[&[0, 1]], vec![part("A", &[(1, 0.1)]), part("B", &[(1, 9.0)])], 5.0);
    problem.parts[1].shelf_qty = 4;
    let choice = run(&problem).unwrap().choice.unwrap();
    assert_eq!(choice.picks, [1]);
    assert_eq!(choice.objective(), 0.0);
}

#[test]
fn a_part_cheaper_at_every_quantity_does_not_displace_one_when_its_shelf_runs_out() {
    let mut parts = vec![part("A", &[(1, 1.0)]), part("B", &[(1, 5.0)])];
    parts[1].shelf_qty = 4;
    // Part 1 alone costs nothing at either position, but 20 for the second four pieces.
    assert_eq!(picks(&board(&[&[0, 1], &[1]], parts, 0.0)), [0, 1]);
}

#[test]
fn parts_that_cannot_be_needed_are_not_searched() {
    let parts = vec![
        part("A", &[(1, 1.0), (8, 0.9)]),
        part("B", &[(1, 1.1)]),
        part("C", &[(1, 1.2), (8, 0.8)]),
        part("D", &[(1, 2.0)]),
    ];
    let outcome = run(&board(&[&[0, 1, 2, 3], &[0, 2, 1]], parts, 1.0)).unwrap();
    // 0, 1 and 2 serve the same positions and count as one, 3 is dearer at all of its.
    assert_eq!(outcome.parts_considered, 1);
    assert_eq!(outcome.choice.unwrap().picks, [2, 2]);
}

#[test]
fn problems_without_a_choice_say_why() {
    let parts = || vec![part("A", &[(1, 1.0)]), part("B", &[(1, 1.0)])];
    assert_eq!(run(&board(&[], parts(), 0.0)), Err(FewLinesError::NoPositions));
    assert_eq!(run(&board(&[&[0], &[]], parts(), 0.0)), Err(FewLinesError::NoPart(vec![1])));
    assert_eq!(run(&board(&[&[2]], parts(), 0.0)), Err(FewLinesError::UnknownPart { position: 0, part: 2 }));
    assert_eq!(run(&board(&[&[0]], parts(), -1.0)), Err(FewLinesError::Cost(-1.0)));
    let mut both = board(&[&[0, 1]], parts(), 0.0);
    both.parts[0].demand = Demand::Must;
    both.parts[1].demand = Demand::Must;
    assert_eq!(run(&both), Err(FewLinesError::Impossible));
    both.positions[0].passing = vec![0];
    assert_eq!(run(&both), Err(FewLinesError::MustUse(1)));
    both.parts[1].demand = Demand::Free;
    both.parts[0].offers.clear();
    assert_eq!(run(&both), Err(FewLinesError::MustUse(0)));
}

/// A board on which the search has to branch.
fn hard_board() -> Problem {
    let mixed = |n: u64| n.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 40;
    let passing: Vec<Vec<usize>> = (0..24)
        .map(|p| (0..36).filter(move |j| mixed(mixed(p * 36 + j) + p) % 3 == 0))
        .map(|parts| parts.filter_map(|j| usize::try_from(j).ok()).collect())
        .collect();
    let passing: Vec<&[usize]> = passing.iter().map(Vec::as_slice).collect();
    let parts = (0..36)
        .map(|j: u64| {
            let price = 1.0 + (mixed(j) % 41) as f64 / 100.0;
            let maker = ["A", "B", "C"][usize::try_from(j % 3).unwrap()];
            part(maker, &[(1, price), (20, 0.8 * price), (50, 0.6 * price)])
        })
        .collect();
    board(&passing, parts, 2.0)
}

#[test]
fn a_cancelled_search_returns_a_choice_with_a_bound_below_it() {
    let found = solve(&hard_board(), Limits::default(), &AtomicBool::new(true), &mut |_| {}).unwrap();
    assert_eq!(found.ended, Ended::Cancelled);
    assert!(found.choice.is_some());
    assert!(found.gap().unwrap() > 0.0);
}

#[test]
fn a_search_out_of_branches_brackets_the_optimum() {
    let problem = hard_board();
    let optimum = run(&problem).unwrap();
    assert_eq!((optimum.ended, optimum.gap()), (Ended::Proven, Some(0.0)));
    let least = optimum.choice.unwrap().objective();
    let limits = Limits { time: Duration::from_mins(10), nodes: 1 };
    let mut heard = Vec::new();
    let short = solve(&problem, limits, &AtomicBool::new(false), &mut |p| heard.push(p)).unwrap();
    assert!(short.lower_bound <= least + 1e-9);
    assert!(short.choice.unwrap().objective() >= least - 1e-9);
    assert!(optimum.nodes > 1 && heard.len() > 1);
    assert!(heard.windows(2).all(|w| w[0].nodes <= w[1].nodes));
}

#[test]
fn the_same_problem_gives_the_same_answer_on_one_core_and_on_four() {
    let problem = hard_board();
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
        pool.unwrap().install(|| run(&problem))
    };
    assert_eq!(with(1), with(4));
}

/// The least cost over every combination of picks that meets the demands.
fn brute_force(problem: &Problem) -> Option<f64> {
    let mut least: Option<f64> = None;
    let count = problem.positions.len();
    let mut at = vec![0; count];
    if problem.positions.iter().any(|p| p.passing.is_empty()) {
        return None;
    }
    loop {
        let picks: Vec<usize> = (0..count).map(|p| problem.positions[p].passing[at[p]]).collect();
        let demands = problem.parts.iter().enumerate().all(|(j, part)| match part.demand {
            Demand::Free => true,
            Demand::Must => picks.contains(&j),
            Demand::Never => !picks.contains(&j),
        });
        if demands {
            let choice = price(problem, &picks).unwrap();
            let sourced = choice.lines.iter().all(|l| l.alternative.is_some());
            if sourced || !problem.second_source {
                let cost = choice.objective();
                least = Some(least.map_or(cost, |l| l.min(cost)));
            }
        }
        let Some(next) = (0..count).find(|p| at[*p] + 1 < problem.positions[*p].passing.len()) else {
            return least;
        };
        at[next] += 1;
        at[..next].fill(0);
    }
}

fn any_offer() -> impl Strategy<Value = Offer> {
    (
        prop::collection::btree_map(1_u64..40, 1_u32..300, 1..4),
        prop::option::of(1_u64..20),
        prop::option::of(1_u64..8),
        prop::sample::select(vec![1.0, 0.91, 1.17]),
        prop::option::weighted(0.2, 1_u64..30),
    )
        .prop_map(|(steps, moq, pack, rate, stock_qty)| Offer {
            terms: Terms::new(
                steps
                    .into_iter()
                    .map(|(from_qty, cents)| PriceBreak { from_qty, unit_price: f64::from(cents) / 100.0 })
                    .collect(),
                moq,
                pack,
            )
            .unwrap(),
            rate_to_job: Some(rate),
            stock_qty,
            lead_time_d: None,
        })
}

fn any_part() -> impl Strategy<Value = Part> {
    (
        prop::option::weighted(0.9, prop::sample::select(vec!["A", "B", "C"])),
        prop::collection::vec(any_offer(), 1..3),
        prop::sample::select(vec![0_u64, 0, 0, 5, 11]),
        prop::sample::select(vec![
            Demand::Free,
            Demand::Free,
            Demand::Free,
            Demand::Free,
            Demand::Free,
            Demand::Must,
            Demand::Never,
        ]),
    )
        .prop_map(|(maker, offers, shelf_qty, demand)| Part {
            maker: maker.map(str::to_owned),
            offers,
            shelf_qty,
            demand,
        })
}

fn any_problem() -> impl Strategy<Value = Problem> {
    (
        prop::collection::vec(any_part(), 1..7),
        prop::collection::vec((1_u64..6, 1_u8..64), 1..6),
        prop::sample::select(vec![0.0, 10.0, 7.5]),
        prop::sample::select(vec![0.0, 0.7, 8.0]),
        any::<bool>(),
        prop::option::weighted(0.3, 0_u32..5),
    )
        .prop_map(|(parts, places, spare_pct, line_cost, second_source, prefer)| {
            let positions = places
                .into_iter()
                .map(|(pieces, mask)| Position {
                    pieces,
                    passing: (0..parts.len()).filter(|j| mask >> j & 1 == 1).collect(),
                })
                .collect();
            Problem {
                positions,
                parts,
                spare_pct,
                line_cost,
                second_source,
                preference: prefer
                    .map(|worth| Preference { makers: vec!["B".to_owned()], worth_per_line: f64::from(worth) }),
            }
        })
}

/// The least cost by the search alone: no first choice, so that no good guess hides a lost branch.
fn unaided(problem: &Problem) -> Option<f64> {
    let reduced = reduce::reduce(&model::build(problem).ok()?);
    let found = search::search_from(
        &reduced,
        None,
        Limits { time: Duration::MAX, nodes: u64::MAX },
        &AtomicBool::new(false),
        &|| false,
        &mut |_| {},
    );
    let picks = reduced.picks(&found.ok()?.best?);
    Some(price(problem, &picks).unwrap().objective())
}

#[test]
fn the_search_alone_finds_what_it_finds_with_a_first_choice() {
    let problem = hard_board();
    let aided = run(&problem).unwrap().choice.unwrap().objective();
    let alone = unaided(&problem).unwrap();
    assert!((aided - alone).abs() < 2e-4, "{aided} {alone}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]
    #[test]
    fn the_search_finds_the_least_cost_of_every_combination(problem in any_problem()) {
        let least = brute_force(&problem);
        let alone = unaided(&problem);
        prop_assert_eq!(alone.is_some(), least.is_some());
        prop_assert!((alone.unwrap_or(0.0) - least.unwrap_or(0.0)).abs() < 2e-4);
        match (run(&problem), least) {
            (Ok(found), Some(least)) => {
                prop_assert_eq!(found.ended, Ended::Proven);
                let choice = found.choice.unwrap();
                prop_assert!((choice.objective() - least).abs() < 2e-4, "{} {}", choice.objective(), least);
                for (position, pick) in problem.positions.iter().zip(&choice.picks) {
                    prop_assert!(position.passing.contains(pick));
                }
                for (j, part) in problem.parts.iter().enumerate() {
                    prop_assert!(part.demand != Demand::Must || choice.picks.contains(&j));
                    prop_assert!(part.demand != Demand::Never || !choice.picks.contains(&j));
                }
                prop_assert!(!problem.second_source || choice.lines.iter().all(|l| l.alternative.is_some()));
            }
            (Err(_), None) => {}
            (found, least) => prop_assert!(false, "{found:?} {least:?}"),
        }
    }
}
