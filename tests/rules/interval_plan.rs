//! Of `sizing/interval_plan.rs`: the interval between rebuilds: what a longer one costs, which
//! picks are the cheapest over a horizon.

use proptest::prelude::*;

use refarad::sizing::interval_plan::{
    PlanError, PlanOption, best_over_horizon, cheapest_for_target, frontier, rebuilds,
};

fn option(cost: f64, years: f64) -> PlanOption {
    PlanOption { cost: Some(cost), years: Some(years) }
}

const UNKNOWN_YEARS: PlanOption = PlanOption { cost: Some(0.01), years: None };

#[test]
fn the_frontier_rises_in_years_and_cost_and_names_its_picks() {
    let board =
        [vec![option(1.0, 5.0), option(3.0, 12.0), option(2.0, 4.0)], vec![option(0.5, 8.0), option(0.7, 15.0)]];
    let plans = frontier(&board).unwrap();
    let shape: Vec<_> = plans.iter().map(|p| (p.interval_years, p.parts_cost, p.picks.clone())).collect();
    assert_eq!(shape, [(5.0, 1.5, vec![0, 0]), (8.0, 3.5, vec![1, 0]), (12.0, 3.7, vec![1, 1])]);
}

#[test]
fn an_option_with_unknown_years_is_never_picked() {
    let board = [vec![UNKNOWN_YEARS, option(4.0, 9.0)]];
    assert_eq!(frontier(&board).unwrap()[0].picks, [1]);
    assert_eq!(frontier(&[vec![option(1.0, 1.0)], vec![UNKNOWN_YEARS]]), Err(PlanError::NoCandidate(vec![1])));
    assert_eq!(frontier(&[]), Err(PlanError::NoPositions));
}

#[test]
fn teardown_decides_between_cheap_parts_and_long_life() {
    let plans = frontier(&[vec![option(100.0, 5.0), option(600.0, 10.0)]]).unwrap();
    let best = |teardown| best_over_horizon(&plans, 20.0, teardown).unwrap().unwrap();
    assert_eq!(best(0.0).total_cost, 400.0);
    assert_eq!(best(1800.0).total_cost, 4800.0);
    assert_eq!(best(1800.0).rebuilds, 2.0);
    // 4 * (400 + 100) = 2 * (400 + 600): the longer interval.
    assert_eq!(best(400.0).plan.interval_years, 10.0);
}

#[test]
fn rebuilds_are_not_added_by_floating_error() {
    assert_eq!(rebuilds(20.0, 10.0), Some(2.0));
    assert_eq!(rebuilds(20.0, 10.0 - 2e-15), Some(2.0));
    assert_eq!(rebuilds(20.0, 9.99), Some(3.0));
    assert_eq!(rebuilds(5.0, 80.0), Some(1.0));
    assert_eq!(rebuilds(20.0, 0.0), None);
    assert_eq!(rebuilds(f64::NAN, 1.0), None);
}

#[test]
fn the_target_is_reached_by_the_cheapest_plan_that_lasts_it() {
    let plans = frontier(&[vec![option(1.0, 5.0), option(2.0, 8.0), option(4.0, 20.0)]]).unwrap();
    assert_eq!(cheapest_for_target(&plans, 8.0).unwrap().parts_cost, 2.0);
    assert_eq!(cheapest_for_target(&plans, 8.1).unwrap().parts_cost, 4.0);
    assert_eq!(cheapest_for_target(&plans, 21.0), None);
}

/// Every combination of options: (interval, cost).
fn all_picks(board: &[Vec<PlanOption>]) -> Vec<(f64, f64)> {
    let mut all = vec![(f64::INFINITY, 0.0)];
    for options in board {
        all = all
            .iter()
            .flat_map(|(years, cost)| options.iter().filter_map(move |o| Some((years.min(o.years?), cost + o.cost?))))
            .collect();
    }
    all
}

fn boards() -> impl Strategy<Value = Vec<Vec<PlanOption>>> {
    let item = (0_u32..40, prop::option::weighted(0.85, 1_u32..25)).prop_map(|(cost, years)| PlanOption {
        cost: Some(f64::from(cost) / 4.0),
        years: years.map(|y| f64::from(y) / 2.0),
    });
    prop::collection::vec(prop::collection::vec(item, 1..6), 1..5)
}

proptest! {
    #[test]
    fn frontier_and_plans_match_every_combination_of_picks(
        board in boards(), horizon in 1_u32..60, teardown in 0_u32..50, target in 0_u32..26,
    ) {
        let all = all_picks(&board);
        let Ok(plans) = frontier(&board) else {
            prop_assert!(all.is_empty());
            return Ok(());
        };
        for plan in &plans {
            prop_assert!(all.iter().all(|(y, c)| *y < plan.interval_years || *c >= plan.parts_cost - 1e-9));
        }
        for (years, cost) in &all {
            prop_assert!(plans.iter().any(|p| p.interval_years >= *years && p.parts_cost <= cost + 1e-9));
        }
        let (horizon, teardown) = (f64::from(horizon), f64::from(teardown));
        let best = best_over_horizon(&plans, horizon, teardown).unwrap().unwrap();
        let least = all.iter().map(|(y, c)| (horizon / y).ceil() * (teardown + c)).fold(f64::INFINITY, f64::min);
        prop_assert!((best.total_cost - least).abs() < 1e-6);
        let target = f64::from(target) / 2.0;
        let cheapest = all.iter().filter(|(y, _)| *y >= target).map(|(_, c)| *c).fold(f64::INFINITY, f64::min);
        let found = cheapest_for_target(&plans, target).map_or(f64::INFINITY, |p| p.parts_cost);
        prop_assert!((found - cheapest).abs() < 1e-9 || found == cheapest);
    }
}
