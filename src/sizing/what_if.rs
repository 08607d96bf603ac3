//! What other conditions do to the parts as they are chosen: how long each board lasts, and which positions change their verdict.

use rayon::prelude::*;

use super::catalog_index::CatalogIndex;
use super::contexts::Contexts;
use super::interval::Interval;
use super::pick_change::picked;
use super::size::{Sizing, evaluate_part};
use crate::domain::{Job, Outcome, PositionId, Variant};

/// A job under other conditions, beside what it is.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct WhatIf {
    /// For each board how long it lasts as entered and under the variant.
    pub boards: Vec<(Interval, Interval)>,
    /// Positions whose verdict changes, with the one as entered and that under the variant.
    pub changed: Vec<(PositionId, Outcome, Outcome)>,
}

impl WhatIf {
    /// Positions that do worse than as entered.
    pub fn worse(&self) -> usize {
        self.changed.iter().filter(|(_, before, after)| after > before).count()
    }
}

/// The chosen parts under a variant. Nothing is proposed anew: what is picked or proposed as entered is judged under other conditions.
pub fn what_if(job: &Job, catalog_index: &CatalogIndex, sizing: &Sizing, variant: &Variant) -> WhatIf {
    let catalog = catalog_index.catalog();
    let chosen = |sized: &super::size::PositionSizing| {
        sized.choice.part.map(|part| (sized.id, catalog.part_number(part.id).to_owned()))
    };
    // Neighbours are the chosen parts on both sides.
    let varied = picked(&variant.applied(job), sizing.positions.iter().filter_map(chosen));
    let places = Contexts::new(&varied, catalog);
    let after = |sized: &super::size::PositionSizing| {
        let part = sized.choice.part?;
        let context = places.at(sized.id)?;
        let evaluation = evaluate_part(&context, catalog, part.id).evaluation;
        Some((evaluation.verdict, evaluation.figures.calendar_years))
    };
    let found: Vec<Option<(Outcome, Option<f64>)>> = sizing.positions.par_iter().map(after).collect();
    let pairs = || sizing.positions.iter().zip(&found);
    let board = |board: usize| {
        let after = pairs().filter(|(sized, _)| sized.id.board == board);
        let after = Interval::of(after.map(|(sized, after)| (sized.id, after.and_then(|after| after.1))));
        // What wears by use does so whatever the ambient.
        (sizing.interval_with(Some(board), |_| None), after.and(sizing.others_of(Some(board))))
    };
    let changed = pairs().filter_map(|(sized, after)| {
        let (before, after) = (sized.choice.verdict, after.as_ref()?.0);
        (before != after).then_some((sized.id, before, after))
    });
    WhatIf { boards: (0..job.boards.len()).map(board).collect(), changed: changed.collect() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sizing::size;
    use crate::sizing::testing::{HERE, can, catalog_index, job_of, part, position};

    #[test]
    fn ten_kelvin_halve_the_life_and_what_was_entered_stays() {
        let mut hot = position();
        hot.stress.phases.as_mut().unwrap()[0].ambient_c = Some(78.0);
        hot.pick = Some("A".into());
        hot.needs.life_h = None;
        let job = job_of(vec![hot, position()]);
        let catalog_index = catalog_index(&[part("A", Some(1.0), can())]);
        let sizing = size(&job, &catalog_index);
        let before = job.clone();
        let by = |variant: Variant| what_if(&job, &catalog_index, &sizing, &variant);
        let warmer = by(Variant { ambient_shift_k: Some(10.0), ..Variant::default() });
        let (entered, varied) = &warmer.boards[0];
        assert_eq!(entered.years, sizing.boards[0].as_chosen.years);
        assert!((entered.years.unwrap() / varied.years.unwrap() - 2.0).abs() < 1e-9, "{warmer:?}");
        assert_eq!(warmer.changed.iter().map(|changed| changed.0).collect::<Vec<_>>(), [HERE]);
        assert_eq!(warmer.worse(), 1);
        // Twice the hours use up the years in half the time; a shorter interval asks for less.
        let hours = by(Variant { hours_per_year: Some(6000.0), ..Variant::default() });
        assert!((hours.boards[0].1.years.unwrap() - entered.years.unwrap() / 2.0).abs() < 1e-9);
        let sooner = by(Variant { ambient_shift_k: Some(10.0), interval_years: Some(1.0), ..Variant::default() });
        assert_eq!(sooner.worse(), 0, "{sooner:?}");
        let same = by(Variant::default());
        assert!(same.changed.is_empty() && same.boards.iter().all(|(before, after)| before == after));
        assert!(by(Variant { ripple_factor: Some(3.0), ..Variant::default() }).worse() >= 1);
        assert_eq!(job, before);
    }
}
