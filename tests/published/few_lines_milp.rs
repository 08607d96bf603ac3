//! The few-lines search against scipy.optimize.milp (HiGHS) on stored instances.
//!
//! Source of the optima: `scripts/few_lines_milp.py`, which makes the instances (invented) and solves
//! them with its own formulation; the version of scipy stands in each file.

use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use refarad::sizing::few_lines::{
    Demand, Ended, FewLinesError, Limits, Part, Position, Preference, Problem, price, solve,
};
use refarad::sizing::quantities::{Offer, PriceBreak, Terms};
use serde::Deserialize;

#[derive(Deserialize)]
struct Instance {
    name: String,
    spare_pct: f64,
    line_cost: f64,
    second_source: bool,
    preference: Option<StoredPreference>,
    positions: Vec<StoredPosition>,
    parts: Vec<StoredPart>,
    /// `null` where the solver proved that there is no choice.
    optimum: Option<f64>,
}

#[derive(Deserialize)]
struct StoredPreference {
    makers: Vec<String>,
    worth_per_line: f64,
}

#[derive(Deserialize)]
struct StoredPosition {
    pieces: u64,
    passing: Vec<usize>,
}

#[derive(Deserialize)]
struct StoredPart {
    maker: String,
    shelf_qty: u64,
    demand: String,
    offers: Vec<StoredOffer>,
}

#[derive(Deserialize)]
struct StoredOffer {
    rate_to_job: f64,
    moq: u64,
    pack: u64,
    price_breaks: Vec<(u64, f64)>,
}

impl From<StoredOffer> for Offer {
    fn from(stored: StoredOffer) -> Self {
        let breaks =
            stored.price_breaks.into_iter().map(|(from_qty, unit_price)| PriceBreak { from_qty, unit_price }).collect();
        Offer {
            terms: Terms::new(breaks, Some(stored.moq), Some(stored.pack)).unwrap(),
            rate_to_job: Some(stored.rate_to_job),
            stock_qty: None,
            lead_time_d: None,
        }
    }
}

fn problem(instance: Instance) -> Problem {
    let part = |stored: StoredPart| Part {
        maker: Some(stored.maker),
        offers: stored.offers.into_iter().map(Offer::from).collect(),
        shelf_qty: stored.shelf_qty,
        demand: match stored.demand.as_str() {
            "free" => Demand::Free,
            "must" => Demand::Must,
            "never" => Demand::Never,
            other => panic!("unknown demand {other}"),
        },
    };
    let position = |stored: StoredPosition| Position { pieces: stored.pieces, passing: stored.passing };
    Problem {
        positions: instance.positions.into_iter().map(position).collect(),
        parts: instance.parts.into_iter().map(part).collect(),
        spare_pct: instance.spare_pct,
        line_cost: instance.line_cost,
        second_source: instance.second_source,
        preference: instance
            .preference
            .map(|stored| Preference { makers: stored.makers, worth_per_line: stored.worth_per_line }),
    }
}

#[test]
fn the_search_finds_what_scipy_milp_finds_on_every_stored_instance() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published/few_lines");
    let mut checked = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let instance: Instance = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
        let (name, optimum) = (instance.name.clone(), instance.optimum);
        let problem = problem(instance);
        let limits = Limits { time: Duration::from_mins(10), nodes: u64::MAX };
        let found = solve(&problem, limits, &AtomicBool::new(false), &mut |_| {});
        match optimum {
            None => assert_eq!(found, Err(FewLinesError::Impossible), "{name}"),
            Some(optimum) => {
                let found = found.unwrap();
                assert_eq!(found.ended, Ended::Proven, "{name}");
                let choice = found.choice.unwrap();
                // HiGHS works to 1e-6 relative; prices are in thousandths.
                let difference = (choice.objective() - optimum).abs();
                assert!(difference < 5e-4, "{name}: {} {optimum}", choice.objective());
                for (position, part) in problem.positions.iter().zip(&choice.picks) {
                    assert!(position.passing.contains(part), "{name}");
                }
                assert_eq!(price(&problem, &choice.picks), Ok(choice), "{name}");
            }
        }
        checked += 1;
    }
    assert!(checked >= 20, "{checked} stored instances");
}
