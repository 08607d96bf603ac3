//! The index rules out only what fails, and neither order nor threads change anything.

use std::sync::Arc;

use proptest::prelude::*;
use refarad::domain::{Job, Outcome, Part};
use refarad::sizing::{CatalogIndex, PositionContext, Sizing, evaluate_all, size};

use super::scenes::{Dice, anything, dice, job_of, part, runs};
use super::support::{HERE, catalog};

fn parts(dice: Vec<Dice>, missing: f64) -> Vec<Part> {
    dice.into_iter().enumerate().map(|(at, mut dice)| part(&mut dice, format!("P{at:03}"), missing)).collect()
}

fn catalog_index(parts: &[Part]) -> CatalogIndex {
    CatalogIndex::new(Arc::new(catalog(parts)))
}

fn job(mut dice: Dice) -> Job {
    let position = anything(&mut dice);
    job_of(&mut dice, position)
}

/// What a person sees: part numbers with their evaluation, best first, and how many came out how.
fn seen(sizing: &Sizing, catalog_index: &CatalogIndex) -> Vec<String> {
    let of_position = |p: &refarad::sizing::PositionSizing| {
        let best: Vec<_> =
            p.best.iter().map(|r| (catalog_index.catalog().part_number(r.id), r.evaluation, r.price)).collect();
        let chosen = p.choice.part.map(|r| catalog_index.catalog().part_number(r.id));
        format!("{best:?} {:?} {chosen:?} {:?} {:?}", p.failing, p.choice.source, p.choice.verdict)
    };
    sizing.positions.iter().map(of_position).collect()
}

proptest! {
    #![proptest_config(runs(300))]

    #[test]
    fn the_index_admits_what_a_full_scan_admits_and_all_others_fail(
        here in dice(), rolled in prop::collection::vec(dice(), 0..24), missing in prop::sample::select(vec![0.0, 0.1, 0.4]),
    ) {
        let catalog_index = catalog_index(&parts(rolled, missing));
        let job = job(here);
        let place = PositionContext::new(&job, catalog_index.catalog(), HERE).unwrap();
        let mut admitted = catalog_index.admitted(&place);
        admitted.sort();
        prop_assert_eq!(&admitted, &catalog_index.admitted_by_full_scan(&place));
        let others: Vec<_> = catalog_index.catalog().ids().filter(|id| !admitted.contains(id)).collect();
        for ranked in evaluate_all(&place, catalog_index.catalog(), &others) {
            prop_assert_eq!(ranked.evaluation.verdict, Outcome::Fail);
        }
        let passable: Vec<_> = catalog_index.passable(&place).map(|(_, id)| id).collect();
        for ranked in evaluate_all(&place, catalog_index.catalog(), &admitted) {
            prop_assert!(ranked.evaluation.verdict != Outcome::Pass || passable.contains(&ranked.id));
        }
    }

    #[test]
    fn the_order_of_the_catalogue_changes_nothing(
        here in dice(),
        (parts, shuffled) in prop::collection::vec(dice(), 0..40)
            .prop_map(|rolled| parts(rolled, 0.1))
            .prop_flat_map(|parts| (Just(parts.clone()), Just(parts).prop_shuffle())),
    ) {
        let job = job(here);
        let (one, other) = (catalog_index(&parts), catalog_index(&shuffled));
        prop_assert_eq!(seen(&size(&job, &one), &one), seen(&size(&job, &other), &other));
    }
}

proptest! {
    #![proptest_config(runs(3))]

    /// Enough parts and positions that the work is split.
    #[test]
    fn the_number_of_threads_changes_nothing(
        here in prop::collection::vec(dice(), 5), rolled in prop::collection::vec(dice(), 60),
    ) {
        let kinds = parts(rolled, 0.05);
        let numbered = |(at, kind): (usize, &Part)| Part { part_number: format!("Q{at:05}"), ..kind.clone() };
        let many: Vec<Part> = kinds.iter().cycle().take(1500).enumerate().map(numbered).collect();
        let catalog_index = catalog_index(&many);
        let mut jobs: Vec<Job> = here.into_iter().map(job).collect();
        let positions = jobs.iter_mut().map(|job| job.boards[0].positions.remove(0)).collect();
        jobs[0].boards[0].positions = positions;
        let with = |threads| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            pool.install(|| size(&jobs[0], &catalog_index))
        };
        let alone = with(1);
        prop_assert_eq!(&alone, &with(2));
        prop_assert_eq!(&alone, &with(8));
    }
}
