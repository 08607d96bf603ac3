//! Of `app/state/candidates.rs`, whose module this is.

use super::*;
use crate::app::work::worker::{AnyWorker, Worker};
use crate::files::load::load_demo;
use std::sync::Arc;

/// Asks for the candidates as the window does.
fn candidates(position: PositionId) -> (crate::files::load::Loaded, Candidates) {
    let loaded = load_demo().unwrap();
    let (job, catalog_index) = (loaded.job.clone(), Arc::new(loaded.catalog_index.clone()));
    let worker = Worker::default();
    worker.request("", move |progress| Candidates::of(&job, &catalog_index, position, progress));
    worker.wait();
    (loaded, worker.take().unwrap().unwrap().unwrap())
}

#[test]
fn what_is_kept_of_a_part_is_what_came_out_for_it_and_the_best_stands_first() {
    let position = PositionId { board: 0, index: 2 };
    let (loaded, candidates) = candidates(position);
    let catalog = loaded.catalog_index.catalog();
    let place = PositionContext::new(&loaded.job, catalog, position).unwrap();
    let rows = candidates.rows(catalog, true);
    assert_eq!(rows.len(), catalog.len());
    assert!(candidates.len() > 10 && candidates.ruled_out > 10);
    let mut before: Option<sizing::Ranked> = None;
    for row in 0..candidates.len() {
        let ranked = sizing::evaluate_part(&place, catalog, rows.id(row).unwrap());
        for check in Check::ALL {
            assert_eq!(rows.outcome(check, row), Some(ranked.evaluation.outcome(check)));
        }
        assert_eq!(rows.verdict(row), ranked.evaluation.verdict);
        for kept in Kept::ALL {
            let exact = kept.of(&ranked.evaluation.figures);
            let own = rows.figure(kept, row);
            assert!(exact.map_or(own.is_nan(), |e| own == e || (own - e).abs() <= 1e-6 * e.abs()), "{kept:?}");
        }
        assert!(before.is_none_or(|b| sizing::better(catalog, &b, &ranked).is_lt()));
        before = Some(ranked);
    }
}

#[test]
fn the_parts_ruled_out_follow_by_number_and_were_not_looked_at() {
    let (loaded, candidates) = candidates(PositionId::default());
    let catalog = loaded.catalog_index.catalog();
    let rows = candidates.rows(catalog, true);
    let numbers: Vec<&str> =
        (candidates.len()..rows.len()).map(|row| catalog.part_number(rows.id(row).unwrap())).collect();
    assert_eq!(numbers.len(), candidates.ruled_out);
    assert!(numbers.windows(2).all(|pair| pair[0] < pair[1]));
    let last = rows.len() - 1;
    assert!(rows.is_ruled_out(last) && rows.figure(Kept::Years, last).is_nan());
    assert_eq!((rows.verdict(last), rows.outcome(Check::Life, last)), (Outcome::Fail, None));
    assert_eq!(rows.id(rows.len()), None);
}

#[test]
fn outcomes_are_packed_without_loss() {
    let outcomes: [Outcome; Check::ALL.len()] = std::array::from_fn(|at| Outcome::ALL[at % 4]);
    let packed = Outcomes::pack(&outcomes, Outcome::Unknown);
    assert_eq!(std::array::from_fn(|at| packed.at(at)), outcomes);
    assert_eq!(packed.verdict(), Outcome::Unknown);
}
