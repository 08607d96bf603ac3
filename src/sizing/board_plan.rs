//! The interval of a board, or of the whole job, and the picks that make it longer or cheaper.

use rayon::prelude::*;

use super::catalog_index::CatalogIndex;
use super::contexts::Contexts;
use super::evaluation::Evaluation;
use super::interval_plan::{
    HorizonPlan, Limits, Plan, PlanError, PlanOption, best_over_horizon, cheapest_for_target, frontier, limits,
    over_horizon,
};
use super::pick_change::picked;
use super::size::{Sizing, evaluate_all, size_position};
use crate::domain::{Check, Job, Outcome, PartId, PositionId};

/// What is planned.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct PlanScope {
    /// One board; `None` plans all boards of the job together: the machine is opened for all of them.
    pub board: Option<usize>,
    /// Whether parts with the verdict marginal may be taken.
    pub accept_marginal: bool,
    /// Whether parts that fail nothing but the life check may be taken: for intervals shorter than the job's.
    pub short_lived: bool,
}

/// A part that could be fitted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlanCandidate {
    /// The part.
    pub part: PartId,
    /// Cost of this position's own need by the best offer, in the currency of the job; `None` without a price that compares.
    pub cost: Option<f64>,
    /// Calendar years it lasts there.
    pub years: Option<f64>,
    /// The verdict on it.
    pub verdict: Outcome,
}

/// The options of every position, ready for planning.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanBase {
    /// The positions planned, in the order of the job.
    pub positions: Vec<PositionId>,
    /// The options of each, in no particular order.
    pub options: Vec<Vec<PlanCandidate>>,
    /// Positions none of whose options has both a price and known years; the plan leaves them out and says so.
    pub left_out: Vec<PositionId>,
    /// Limits with the original parts new.
    pub as_built: Limits,
    /// Limits with the chosen parts.
    pub as_chosen: Limits,
    /// Cost of the chosen parts; `None` while a position has none, or one without a price.
    pub chosen_cost: Option<f64>,
    /// Years to be reached, from the job's interval.
    pub target_years: Option<f64>,
    /// Cost of opening and closing every unit once; `None` when not given.
    pub teardown_cost: Option<f64>,
    /// Usable parts with a price that does not compare: another currency without a rate.
    pub other_currency: usize,
}

/// Everything about the interval.
#[derive(Debug, Clone, PartialEq)]
pub struct IntervalAnswer {
    /// Every interval worth having with its least cost, shortest first: the curve of years against cost.
    pub frontier: Vec<Plan>,
    /// The cheapest plan that reaches the target; `None` without a target, or when none does.
    pub for_target: Option<Plan>,
    /// What it costs over the chosen parts; negative when it saves. `None` where either is not known.
    pub extra_for_target: Option<f64>,
    /// The frontier with its cost over the horizon; empty without a horizon or a teardown cost.
    pub over_horizon: Vec<HorizonPlan>,
    /// The cheapest over the horizon.
    pub best: Option<HorizonPlan>,
    /// What was not given: `teardown_cost`, `horizon`, `interval_years`.
    pub missing: Vec<&'static str>,
}

/// Collects the options of every position in scope: parts that pass, marginal and short-lived ones where the scope says so, checked beside the
/// neighbours as they are chosen now. Looks at every part of the catalogue that is not ruled out at a glance.
#[must_use]
pub fn plan_base(job: &Job, catalog_index: &CatalogIndex, sizing: &Sizing, scope: PlanScope) -> PlanBase {
    let catalog = catalog_index.catalog();
    let positions: Vec<PositionId> =
        job.positions().map(|(id, _)| id).filter(|id| scope.board.is_none_or(|board| id.board == board)).collect();
    let places = Contexts::new(job, catalog);
    let found: Vec<(Vec<PlanCandidate>, usize)> = positions
        .par_iter()
        .map(|&id| {
            let Some(context) = places.at(id) else { return Default::default() };
            let ranked = evaluate_all(&context, catalog, &catalog_index.admitted(&context));
            let mut other_currency = 0;
            let usable = ranked.into_iter().filter(|part| takes(&part.evaluation, scope));
            let candidates = usable
                .map(|part| {
                    let cost = context.cost_of_need(catalog, part.id);
                    other_currency += usize::from(cost.is_none() && part.price.is_some());
                    let Evaluation { figures, verdict, .. } = part.evaluation;
                    PlanCandidate { part: part.id, cost, years: figures.calendar_years, verdict }
                })
                .collect();
            (candidates, other_currency)
        })
        .collect();
    let other_currency = found.iter().map(|(_, count)| count).sum();
    let options: Vec<Vec<PlanCandidate>> = found.into_iter().map(|(candidates, _)| candidates).collect();
    let bare = |options: &Vec<PlanCandidate>| options.iter().all(|o| o.cost.is_none() || o.years.is_none());
    let left_out = positions.iter().zip(&options).filter(|(_, options)| bare(options)).map(|(&id, _)| id).collect();
    let sized = |id: &PositionId| sizing.position(*id);
    let built: Vec<Option<f64>> = positions.iter().map(|id| sized(id)?.original.figures.calendar_years).collect();
    let chosen: Vec<Option<f64>> = positions.iter().map(|id| sized(id)?.chosen_years()).collect();
    let chosen_cost =
        positions.iter().map(|id| places.at(*id)?.cost_of_need(catalog, sized(id)?.choice.part?.id)).sum();
    PlanBase {
        as_built: limits(&built),
        as_chosen: limits(&chosen),
        chosen_cost,
        target_years: job.interval_years,
        teardown_cost: job.teardown_cost.map(|cost| cost * job.units_in_all()),
        left_out,
        positions,
        options,
        other_currency,
    }
}

/// Whether a plan may take a part with this outcome: it passes; is marginal or fails nothing but its life where the scope says so.
fn takes(evaluation: &Evaluation, scope: PlanScope) -> bool {
    let worst = if scope.accept_marginal { Outcome::Marginal } else { Outcome::Pass };
    if evaluation.verdict <= worst {
        return true;
    }
    let others = Check::ALL.into_iter().filter(|&check| check != Check::Life);
    scope.short_lived
        && evaluation.outcome(Check::Life) != Outcome::Unknown
        && others.into_iter().all(|check| {
            let outcome = evaluation.outcome(check);
            outcome <= worst || (check == Check::Supply && outcome == Outcome::Unknown)
        })
}

impl PlanBase {
    /// Indices of the positions that are planned.
    fn planned(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.positions.len()).filter(|&at| !self.left_out.contains(&self.positions[at]))
    }

    /// The position that limits and the next three, with their years, of [`Limits`] in this base.
    #[must_use]
    pub fn shortest(&self, limits: &Limits) -> Vec<(PositionId, f64)> {
        limits.shortest.iter().filter_map(|&(at, years)| Some((*self.positions.get(at)?, years))).collect()
    }

    /// Everything about the interval for a horizon in years; `None` leaves out what needs one.
    ///
    /// A plan covers the positions that are not left out; its interval is not longer than they allow, and says nothing of the others. The
    /// whole cost of a rebuild is that of all units: their teardown and the parts with spares.
    ///
    /// # Errors
    /// As [`frontier`] and [`over_horizon`].
    pub fn answer(&self, horizon_years: Option<f64>) -> Result<IntervalAnswer, PlanError> {
        let options: Vec<Vec<PlanOption>> = self
            .planned()
            .map(|at| self.options[at].iter().map(|o| PlanOption { cost: o.cost, years: o.years }).collect())
            .collect();
        let frontier = frontier(&options)?;
        let for_target = self.target_years.and_then(|target| cheapest_for_target(&frontier, target).cloned());
        let chosen_cost = self.chosen_cost.filter(|_| self.left_out.is_empty());
        let extra_for_target = for_target.as_ref().zip(chosen_cost).map(|(plan, chosen)| plan.parts_cost - chosen);
        let mut missing = Vec::new();
        let given = [
            (self.teardown_cost.is_none(), "teardown_cost"),
            (horizon_years.is_none(), "horizon"),
            (self.target_years.is_none(), "interval_years"),
        ];
        missing.extend(given.into_iter().filter(|&(absent, _)| absent).map(|(_, name)| name));
        let (costed, best) = match horizon_years.zip(self.teardown_cost) {
            Some((horizon, teardown)) => {
                (over_horizon(&frontier, horizon, teardown)?, best_over_horizon(&frontier, horizon, teardown)?)
            }
            None => (Vec::new(), None),
        };
        Ok(IntervalAnswer { frontier, for_target, extra_for_target, over_horizon: costed, best, missing })
    }

    /// The longest any option lasts at each position, shortest first: the first is what keeps every plan from lasting longer.
    #[must_use]
    pub fn ceilings(&self) -> Vec<(PositionId, f64)> {
        let longest = |at: usize| self.options[at].iter().filter_map(|o| o.cost.and(o.years)).reduce(f64::max);
        let mut found: Vec<(PositionId, f64)> =
            self.planned().filter_map(|at| Some((self.positions[at], longest(at)?))).collect();
        found.sort_by(|a, b| a.1.total_cmp(&b.1));
        found
    }

    /// Positions whose verdict is worse than planned once all picks of a plan are made, with that verdict: picks change each other's neighbours.
    /// Empty when the plan holds.
    #[must_use]
    pub fn worse_than_planned(
        &self,
        plan: &Plan,
        job: &Job,
        catalog_index: &CatalogIndex,
    ) -> Vec<(PositionId, Outcome)> {
        let picked = picked(job, self.picks(plan, catalog_index));
        let planned: Vec<(usize, usize)> = self.planned().zip(plan.picks.iter().copied()).collect();
        let check = |&(at, option): &(usize, usize)| {
            let expected = self.options.get(at)?.get(option)?.verdict;
            let id = self.positions[at];
            let verdict = size_position(&picked, catalog_index, id)?.choice.verdict;
            (verdict > expected).then_some((id, verdict))
        };
        planned.par_iter().filter_map(check).collect()
    }

    /// The picks of a plan of this base, for one undoable step.
    #[must_use]
    pub fn picks(&self, plan: &Plan, catalog_index: &CatalogIndex) -> Vec<(PositionId, String)> {
        let pick = |(at, &option): (usize, &usize)| {
            let part = self.options.get(at)?.get(option)?.part;
            Some((self.positions[at], catalog_index.catalog().part_number(part).to_owned()))
        };
        self.planned().zip(&plan.picks).filter_map(pick).collect()
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::testing_duty::{duty, job_of, position, wet_can};
    use super::*;
    use crate::domain::{Can, CatalogBuilder, OfferBook, Part, Status};
    use crate::sizing::size;

    /// Parts of several endurances and prices.
    fn catalog_index() -> CatalogIndex {
        let mut builder = CatalogBuilder::default();
        for (number, endurance_h, price) in [
            ("SHORT", 1000.0, 0.5),
            ("USUAL", 5000.0, 1.0),
            ("LONG", 7000.0, 3.0),
            ("LONGEST", 10_000.0, 8.0),
            ("UNPRICED", 20_000.0, f64::NAN),
        ] {
            let can = Can { endurance_h: Some(endurance_h), ..wet_can() };
            let mut part: Part = Part {
                part_number: number.into(),
                can,
                status: Some(Status::Active),
                currency: "EUR".into(),
                ..Part::default()
            };
            part.trade.unit_price = (!price.is_nan()).then_some(price);
            builder.push(&part);
        }
        CatalogIndex::new(Arc::new(builder.finish().0))
    }

    fn job() -> Job {
        let mut job = job_of(vec![
            position("C1", duty(&[(1.0, 78.0, 1.0)])),
            position("C2", duty(&[(1.0, 83.0, 1.0)])),
            position("C3", duty(&[(1.0, 60.0, 1.0)])),
        ]);
        job.currency = Some("EUR".into());
        job.units = Some(4.0);
        job.teardown_cost = Some(500.0);
        job
    }

    const ALL: PlanScope = PlanScope { board: None, accept_marginal: true, short_lived: false };

    #[test]
    fn the_frontier_is_that_of_every_combination_and_the_target_is_reached_at_least_cost() {
        let (job, catalog_index) = (job(), catalog_index());
        let sizing = size(&job, &catalog_index);
        let base = plan_base(&job, &catalog_index, &sizing, PlanScope { short_lived: true, ..ALL });
        let answer = base.answer(Some(20.0)).unwrap();
        // every combination
        let known = |at: usize| base.options[at].iter().filter_map(|o| Some((o.cost?, o.years?))).collect::<Vec<_>>();
        let (mut target, mut best) = (f64::INFINITY, f64::INFINITY);
        for a in known(0) {
            for b in known(1) {
                for c in known(2) {
                    let (years, cost) = (a.1.min(b.1).min(c.1), a.0 + b.0 + c.0);
                    if years >= 10.0 {
                        target = target.min(cost);
                    }
                    best = best.min((20.0 / years - 1e-9).ceil() * (2000.0 + cost));
                }
            }
        }
        assert!((answer.for_target.as_ref().unwrap().parts_cost - target).abs() < 1e-9);
        assert!((answer.best.as_ref().unwrap().total_cost - best).abs() < 1e-9);
        assert!(
            answer
                .frontier
                .windows(2)
                .all(|w| w[0].interval_years < w[1].interval_years && w[0].parts_cost < w[1].parts_cost)
        );
        assert!(answer.missing.is_empty() && base.left_out.is_empty());
    }

    #[test]
    fn applying_the_picks_of_a_plan_gives_its_interval() {
        let (mut job, catalog_index) = (job(), catalog_index());
        let sizing = size(&job, &catalog_index);
        let base = plan_base(&job, &catalog_index, &sizing, ALL);
        let plan = base.answer(None).unwrap().for_target.unwrap();
        let picks = base.picks(&plan, &catalog_index);
        assert_eq!(picks.len(), 3);
        assert!(base.worse_than_planned(&plan, &job, &catalog_index).is_empty());
        for (id, part_number) in picks {
            job.position_mut(id).unwrap().pick = Some(part_number);
        }
        let after = size(&job, &catalog_index);
        assert_eq!(after.boards[0].as_chosen.years, Some(plan.interval_years));
        let base = plan_base(&job, &catalog_index, &after, ALL);
        assert!((base.chosen_cost.unwrap() - plan.parts_cost).abs() < 1e-9);
        assert_eq!(base.answer(None).unwrap().extra_for_target, Some(0.0));
    }

    #[test]
    fn the_limiting_position_and_the_next_are_named_and_gaps_are_said() {
        let (mut job, catalog_index) = (job(), catalog_index());
        job.boards[0].positions[2].stress.ripple = None;
        job.boards[0].positions[2].original.can.ripple_a = None;
        job.teardown_cost = None;
        let base = plan_base(&job, &catalog_index, &size(&job, &catalog_index), ALL);
        let order: Vec<usize> = base.shortest(&base.as_built).iter().map(|(id, _)| id.index).collect();
        assert_eq!(order, [1, 0]);
        assert_eq!(base.left_out, [PositionId { board: 0, index: 2 }]);
        assert_eq!((base.as_chosen.interval_years, base.chosen_cost), (None, None));
        let answer = base.answer(None).unwrap();
        assert_eq!(answer.missing, ["teardown_cost", "horizon"]);
        assert!(answer.best.is_none() && answer.extra_for_target.is_none());
        assert_eq!(base.picks(&answer.frontier[0], &catalog_index).len(), 2);
    }

    #[test]
    fn parts_short_of_life_are_taken_only_where_the_scope_says_so() {
        let (job, catalog_index) = (job(), catalog_index());
        let sizing = size(&job, &catalog_index);
        let years = |short_lived: bool| {
            let base = plan_base(&job, &catalog_index, &sizing, PlanScope { board: Some(0), short_lived, ..ALL });
            base.answer(None).unwrap().frontier[0].interval_years
        };
        assert!(years(true) < 10.0 && years(false) >= 10.0);
        let mut hot = job.clone();
        hot.boards[0].positions[1].stress.phases = Some(duty(&[(1.0, 88.0, 1.0)]));
        let ceilings = plan_base(&hot, &catalog_index, &size(&hot, &catalog_index), ALL).ceilings();
        assert_eq!((ceilings.len(), ceilings[0].0.index), (3, 1));
        let nowhere = plan_base(&job, &catalog_index, &sizing, PlanScope { board: Some(9), short_lived: true, ..ALL });
        assert_eq!(nowhere.answer(None).unwrap_err(), PlanError::NoPositions);
    }

    #[test]
    fn marginal_parts_are_planned_only_where_the_scope_says_so() {
        let (mut job, catalog_index) = (job(), catalog_index());
        // 51 V on 63 V is 81 %, over the 80 % of the policy.
        job.boards[0].positions[0].stress.dc_v = Some(50.0);
        let sizing = size(&job, &catalog_index);
        let verdicts = |accept_marginal| {
            let base = plan_base(&job, &catalog_index, &sizing, PlanScope { accept_marginal, ..ALL });
            (base.left_out.len(), base.options.iter().flatten().any(|option| option.verdict != Outcome::Pass))
        };
        assert_eq!((verdicts(false), verdicts(true)), ((1, false), (0, true)));
    }

    #[test]
    fn the_cost_of_an_option_is_that_of_its_best_offer_for_the_need() {
        let (mut job, catalog_index) = (job(), catalog_index());
        let mut book = OfferBook::default();
        let mut offer =
            crate::domain::SupplierOffer { supplier: "Cairn".into(), currency: "JPY".into(), ..Default::default() };
        (offer.trade.unit_price, offer.trade.moq) = (Some(100.0), Some(10.0));
        book.add("USUAL", offer);
        let catalog_index = catalog_index.with_offers(Arc::new(book));
        let cost = |job: &Job| {
            let base = plan_base(job, &catalog_index, &Sizing::default(), ALL);
            let part = catalog_index.catalog().find("USUAL").unwrap();
            base.options[2].iter().find(|option| option.part == part).unwrap().cost
        };
        // Four units at 1 EUR; without a rate the yen do not count; at 0.0061 EUR ten pieces cost 6.10, at 0.001 they cost 1.
        assert_eq!(cost(&job), Some(4.0));
        job.currency_rates.insert("JPY".into(), 0.0061);
        assert_eq!(cost(&job), Some(4.0));
        job.currency_rates.insert("JPY".into(), 0.001);
        assert_eq!(cost(&job), Some(1.0));
        job.shelf.push(crate::domain::ShelfStock { part_number: "USUAL".into(), qty: Some(4.0), ..Default::default() });
        assert_eq!(cost(&job), Some(0.0));
    }

    #[test]
    fn picks_that_stand_in_each_others_way_are_found() {
        let mut builder = CatalogBuilder::default();
        // The originals leave 1.5 mm; two of these leave less than the gap asked for.
        let can =
            Can { diameter_mm: Some(10.5), diameter_max_mm: Some(11.4), endurance_h: Some(10_000.0), ..wet_can() };
        let mut part: Part = Part {
            part_number: "WIDE".into(),
            can,
            status: Some(Status::Active),
            currency: "EUR".into(),
            ..Part::default()
        };
        part.trade.unit_price = Some(1.0);
        builder.push(&part);
        let catalog_index = CatalogIndex::new(Arc::new(builder.finish().0));
        let mut positions = ["C1", "C2"].map(|name| position(name, duty(&[(1.0, 60.0, 1.0)])));
        for (at, position) in positions.iter_mut().enumerate() {
            (position.x_mm, position.y_mm) = (Some(12.0 * at as f64), Some(0.0));
            position.space.diameter_max_mm = Some(12.0);
        }
        let job = Job { currency: Some("EUR".into()), ..job_of(positions.to_vec()) };
        let base = plan_base(&job, &catalog_index, &size(&Job::default(), &catalog_index), ALL);
        let plan = base.answer(None).unwrap().for_target.unwrap();
        let worse = base.worse_than_planned(&plan, &job, &catalog_index);
        assert_eq!(worse.iter().map(|(_, verdict)| *verdict).collect::<Vec<_>>(), [Outcome::Marginal; 2]);
    }

    #[test]
    fn prices_in_another_currency_do_not_compare() {
        let mut builder = CatalogBuilder::default();
        let mut part: Part =
            Part { part_number: "A".into(), can: wet_can(), currency: "USD".into(), ..Part::default() };
        part.trade.unit_price = Some(1.0);
        builder.push(&part);
        let catalog_index = CatalogIndex::new(Arc::new(builder.finish().0));
        let mut job = job_of(vec![position("C1", duty(&[(1.0, 60.0, 1.0)]))]);
        job.currency = Some("EUR".into());
        let base = plan_base(&job, &catalog_index, &size(&job, &catalog_index), ALL);
        assert_eq!((base.other_currency, base.left_out.len(), base.chosen_cost), (1, 1, None));
    }
}
