//! The interval of a board, or of the whole job, and the picks that make it longer or cheaper.

use rayon::prelude::*;

use super::catalog_index::CatalogIndex;
use super::contexts::Contexts;
use super::evaluation::Evaluation;
use super::interval_plan::{
    HorizonPlan, Plan, PlanError, PlanOption, best_over_horizon, cheapest_for_target, frontier, over_horizon,
};
use super::pick_change::picked;
use super::position_context::PositionContext;
use super::rank::{Ranked, better};
use super::reasons::check_name;
use super::size::{Sizing, evaluate_all, size_position};
use super::why_not::against;
use crate::domain::{Catalog, Check, Job, OtherId, Outcome, PartId, PositionId};

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
    /// Positions none of whose options has both a price and known years, each with the reason, a clause; the plan leaves them out and says so.
    pub left_out: Vec<(PositionId, String)>,
    /// The other part with the shortest interval of its own, and its years: no plan of capacitors lasts longer than that.
    pub other: Option<(OtherId, f64)>,
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
    /// The cheapest plan whose capacitors reach the target; `None` without a target, or when none does.
    pub for_target: Option<Plan>,
    /// What it costs over the chosen parts; negative when it saves. `None` where either is not known.
    pub extra_for_target: Option<f64>,
    /// The frontier with its cost over the horizon; empty without a horizon or a teardown cost.
    pub over_horizon: Vec<HorizonPlan>,
    /// The cheapest over the horizon.
    pub best: Option<HorizonPlan>,
}

/// Collects the options of every position in scope: parts that pass, marginal and short-lived ones where the scope says so, checked beside the
/// neighbours as they are chosen now. Looks at every part of the catalogue that is not ruled out at a glance.
pub fn plan_base(job: &Job, catalog_index: &CatalogIndex, sizing: &Sizing, scope: PlanScope) -> PlanBase {
    let catalog = catalog_index.catalog();
    let positions: Vec<PositionId> =
        job.positions().map(|(id, _)| id).filter(|id| scope.board.is_none_or(|board| id.board == board)).collect();
    let places = Contexts::new(job, catalog);
    let found: Vec<(Vec<PlanCandidate>, usize, Option<String>)> = positions
        .par_iter()
        .map(|&id| {
            let Some(context) = places.at(id) else { return Default::default() };
            let ranked = evaluate_all(&context, catalog, &catalog_index.admitted(&context));
            let mut other_currency = 0;
            let usable = ranked.iter().filter(|part| takes(&part.evaluation, scope));
            let candidates: Vec<PlanCandidate> = usable
                .map(|part| {
                    let cost = part.cost.or_else(|| context.cost_of_need(catalog, part.id));
                    other_currency += usize::from(cost.is_none() && part.price.is_some());
                    let Evaluation { figures, verdict, .. } = part.evaluation;
                    PlanCandidate { part: part.id, cost, years: figures.calendar_years, verdict }
                })
                .collect();
            let bare = candidates.iter().all(|option| option.cost.is_none() || option.years.is_none());
            let why = bare.then(|| why_left_out(&context, catalog, &ranked, &candidates));
            (candidates, other_currency, why)
        })
        .collect();
    let other_currency = found.iter().map(|(_, count, _)| count).sum();
    let left_out = positions.iter().zip(&found).filter_map(|(&id, (.., why))| Some((id, why.clone()?))).collect();
    let options: Vec<Vec<PlanCandidate>> = found.into_iter().map(|(candidates, ..)| candidates).collect();
    let sized = |id: &PositionId| sizing.position(*id);
    let chosen_cost =
        positions.iter().map(|id| places.at(*id)?.cost_of_need(catalog, sized(id)?.choice.part?.id)).sum();
    PlanBase {
        other: sizing
            .others_of(scope.board)
            .filter_map(|(id, years)| Some((id, years?)))
            .min_by(|a, b| a.1.total_cmp(&b.1)),
        chosen_cost,
        target_years: job.interval_years,
        teardown_cost: job.teardown_cost.map(|cost| cost * job.units_in_all()),
        left_out,
        positions,
        options,
        other_currency,
    }
}

/// Why a position has no option with both a price and known years: what the usable parts lack, else what speaks against the best part.
fn why_left_out(context: &PositionContext, catalog: &Catalog, ranked: &[Ranked], usable: &[PlanCandidate]) -> String {
    if !usable.is_empty() {
        let lacking = match (usable.iter().any(|o| o.cost.is_some()), usable.iter().any(|o| o.years.is_some())) {
            (false, true) => "no usable part has a price that compares",
            (true, false) => "the years of every usable part with a price are unknown",
            _ => "no usable part has both a price and known years",
        };
        return lacking.to_owned();
    }
    let Some(best) = ranked.iter().min_by(|a, b| better(catalog, a, b)) else {
        return "every part is excluded by capacitance, voltage, mounting or size".to_owned();
    };
    let (can, evaluation) = (catalog.can(best.id), &best.evaluation);
    let why = against(context, &can, evaluation)
        .map(|(check, words)| format!(": {} {}, {words}", check_name(check), evaluation.outcome(check).word()));
    format!("no usable part; the nearest is {}{}", catalog.part_number(best.id), why.unwrap_or_default())
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
        let left_out = |at: usize| self.left_out.iter().any(|(id, _)| *id == self.positions[at]);
        (0..self.positions.len()).filter(move |&at| !left_out(at))
    }

    /// The other part that is used up before the target: no choice of capacitors reaches it.
    pub fn ended_before_target(&self) -> Option<(OtherId, f64)> {
        self.other.filter(|(_, years)| self.target_years.is_some_and(|target| *years < target))
    }

    /// How long the whole lasts when its capacitors last `years`: other parts with an interval of their own may end it before.
    pub fn with_others(&self, years: f64) -> f64 {
        self.other.map_or(years, |(_, own)| years.min(own))
    }

    /// Everything about the interval for a horizon in years; `None` leaves out what needs one.
    ///
    /// A plan covers the positions that are not left out; its interval is not longer than they allow, and says nothing of the others. Over a
    /// horizon the rebuilds are counted by what ends first, capacitor or other part. The
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
        let (costed, best) = match horizon_years.zip(self.teardown_cost) {
            Some((horizon, teardown)) => {
                let last = |plan: &Plan| Plan { interval_years: self.with_others(plan.interval_years), ..plan.clone() };
                let lasting: Vec<Plan> = frontier.iter().map(last).collect();
                (over_horizon(&lasting, horizon, teardown)?, best_over_horizon(&lasting, horizon, teardown)?)
            }
            None => (Vec::new(), None),
        };
        Ok(IntervalAnswer { frontier, for_target, extra_for_target, over_horizon: costed, best })
    }

    /// The longest any option lasts at each position, shortest first: the first is what keeps every plan from lasting longer.
    pub fn ceilings(&self) -> Vec<(PositionId, f64)> {
        let longest = |at: usize| self.options[at].iter().filter_map(|o| o.cost.and(o.years)).reduce(f64::max);
        let mut found: Vec<(PositionId, f64)> =
            self.planned().filter_map(|at| Some((self.positions[at], longest(at)?))).collect();
        found.sort_by(|a, b| a.1.total_cmp(&b.1));
        found
    }

    /// Positions whose verdict is worse than planned once all picks of a plan are made, with that verdict: picks change each other's neighbours.
    /// Empty when the plan holds.
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
    pub fn picks(&self, plan: &Plan, catalog_index: &CatalogIndex) -> Vec<(PositionId, String)> {
        let pick = |(at, &option): (usize, &usize)| {
            let part = self.options.get(at)?.get(option)?.part;
            Some((self.positions[at], catalog_index.catalog().part_number(part).to_owned()))
        };
        self.planned().zip(&plan.picks).filter_map(pick).collect()
    }
}
