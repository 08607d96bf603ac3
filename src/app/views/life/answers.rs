//! What the panels show, worked out on another thread: for the sized job, the position and the selected candidate.

use std::sync::Arc;

use super::panels::record::RecordForm;
use crate::app::state::{Candidate, Same, Snapshot, can_of};
use crate::domain::{Can, Catalog, Date, Job, Position, PositionId};
use crate::files::temperature_log::TemperatureLog;
use crate::physics::{spread::Percentiles, waveform::Analysis};
use crate::sizing::board_plan::{IntervalAnswer, PlanBase, PlanScope, plan_base};
use crate::sizing::circuit::{CircuitEntry, CircuitFault, CircuitRipple};
use crate::sizing::duty_from_log::{Binned, bin, life_error};
use crate::sizing::heat_opinion::{Explained, HeatOpinions, explain_rise, opinions};
use crate::sizing::old_part::{OldPart, board_by_condition, old_part};
use crate::sizing::pick_change::{LimitStays, LimitStep, PickChange, limit_step, pick_changes};
use crate::sizing::substitution::{self, applied, one_for_all, two_for_one};
use crate::sizing::{
    CatalogIndex, Contexts, PositionContext, Sizing, duty::DutyDamage, duty::damage_by_phase, fitted::Fitted,
    fitted::fitted, inrush::Inrush, inrush::inrush, interval_plan::Plan, parallel::ParallelGroup, parallel::groups,
    series::SeriesString, series::strings, spread, spread::Settings, spread::YearsSpread, stored_energy::StoredEnergy,
    stored_energy::stored_energy,
};

/// Substitutions shown for each way.
const PROPOSALS_SHOWN: usize = 3;

#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Question {
    /// The sized job.
    pub snapshot: Same<Snapshot>,
    pub position: PositionId,
    pub candidate: Candidate,
    /// The circuit whose ripple is asked for, once a figure of it was entered.
    pub circuit: Option<CircuitEntry>,
    /// A measured rise of the case, K.
    pub case_rise_k: Option<f64>,
    /// The frequency most of the ripple has, where it was said with the rise, Hz.
    pub case_hz: Option<f64>,
    /// An oscilloscope's record and how it is to be read.
    pub record: Option<RecordForm>,
    /// A temperature log and how many phases to cut it into.
    pub log: Option<(Same<TemperatureLog>, usize)>,
    /// Years the cost of rebuilds is added up over.
    pub horizon_years: Option<f64>,
    /// What the plan may take; its board is that of the position.
    pub scope: PlanScope,
}

/// A temperature log cut into phases.
#[derive(Debug, Clone)]
pub(crate) struct CutLog {
    pub binned: Binned,
    /// Relative error of the candidate's life by the cutting.
    pub of_candidate: Option<f64>,
}

/// How the years of the chosen part of one position spread, and the second opinion on its heat.
#[derive(Debug, Clone)]
pub(crate) struct Each {
    pub id: PositionId,
    /// P10, P50, P90; `None` where the life is not known.
    pub years: Option<Percentiles>,
    /// Share of the samples that reach the target.
    pub reaches_target: Option<f64>,
    /// Core rise by the law and by the heat balance.
    pub heat: Option<HeatOpinions>,
}

/// What concerns the whole board.
#[derive(Debug, Clone)]
pub(crate) struct BoardAnswers {
    snapshot: Same<Snapshot>,
    scope: PlanScope,
    /// The part that takes the board past its limit, or why it stays.
    pub limit: Result<LimitStep, LimitStays>,
    /// The options of every position.
    pub base: PlanBase,
    /// Spread of the years of the board as chosen; the positions whose life is not known where there is none.
    pub spread: Result<YearsSpread, Vec<PositionId>>,
    /// The same position by position.
    pub each: Vec<Each>,
    /// Positions without a part, which the spread of the board leaves out.
    pub open: Vec<PositionId>,
    /// The old parts, the most worn first.
    pub old_parts: Vec<OldPart>,
}

/// A plan of the board with its picks.
#[derive(Debug, Clone)]
pub(crate) struct Proposal {
    pub interval_years: f64,
    pub parts_cost: f64,
    /// The positions that get another part.
    pub changes: Vec<PickChange>,
    /// Positions that would not hold once all picks are made.
    pub spoiled: Vec<PositionId>,
}

#[derive(Debug, Clone)]
pub(crate) struct Answers {
    /// What was asked.
    pub question: Question,
    /// Which phase eats the life.
    pub damage: Option<DutyDamage>,
    pub cut_log: Option<CutLog>,
    /// How uncertain the inputs are taken to be.
    pub settings: Settings,
    pub spread: Option<YearsSpread>,
    pub heat: Option<HeatOpinions>,
    /// What would explain the measured rise of the case.
    pub explained: Option<Explained>,
    /// What the record says, or why it says nothing.
    pub record: Option<Result<Analysis, String>>,
    pub circuit: Option<Result<CircuitRipple, CircuitFault>>,
    /// The parallel group the position belongs to.
    pub group: Option<ParallelGroup>,
    /// One can for the group, or two for one; with the job once it is carried out.
    pub exchanges: Vec<(substitution::Proposal, Option<Arc<Job>>)>,
    /// What stood in the way of one.
    pub obstacles: Vec<String>,
    /// The series string the position belongs to.
    pub string: Option<SeriesString>,
    pub old_part: Option<OldPart>,
    pub energy: Option<StoredEnergy>,
    /// What the supply sees of it.
    pub inrush: Option<Inrush>,
    /// What concerns the whole board.
    pub board: Arc<BoardAnswers>,
    /// The plan of the interval, or why there is none.
    pub interval: Result<IntervalAnswer, String>,
    /// The cheapest picks that reach the target.
    pub for_target: Option<Proposal>,
    /// The cheapest picks over the horizon.
    pub best: Option<Proposal>,
}

impl Answers {
    /// Answers a question; what `previous` knows of the board is kept while it holds. `None` when the job has no such position.
    pub(crate) fn of(question: Question, previous: Option<&Arc<BoardAnswers>>) -> Option<Self> {
        let snapshot = question.snapshot.clone();
        let Snapshot { job, catalog_index, sizing } = &**snapshot;
        let catalog = catalog_index.catalog();
        let (id, candidate) = (question.position, question.candidate);
        let place = PositionContext::new(job, catalog, id)?;
        let position = job.position(id)?;
        let can = can_of(candidate, position, catalog);
        let sits = |at: PositionId| {
            if at == id { Some(as_fitted(candidate, &can, catalog)) } else { fitted(job, catalog, sizing, at) }
        };
        let settings = Settings::of(job).unwrap_or_else(Settings::usual);
        let known = previous.filter(|known| known.scope == question.scope && known.snapshot == snapshot);
        let board = known.cloned().unwrap_or_else(|| Arc::new(board(&question, &settings)));
        let interval = board.base.answer(question.horizon_years).map_err(|error| error.to_string());
        let proposal = |plan: &Plan| proposal(&board.base, plan, job, catalog_index, sizing);
        let found = interval.as_ref().ok();
        let for_target = found.and_then(|answer| answer.for_target.as_ref()).map(proposal);
        let best = found.and_then(|answer| answer.best.as_ref()).map(|best| proposal(&best.plan));
        let group = groups(job, catalog, sits).into_iter().find(|group| group.members.iter().any(|m| m.id == id));
        let proposals = match &group {
            Some(group) => {
                let members: Vec<PositionId> = group.members.iter().map(|member| member.id).collect();
                one_for_all(job, catalog_index, &members, PROPOSALS_SHOWN)
            }
            None => two_for_one(job, catalog_index, id, PROPOSALS_SHOWN),
        };
        let explain = |rise_k: f64| explained(&place, position, rise_k, question.case_hz);
        Some(Self {
            damage: damage_by_phase(&place, &can),
            cut_log: question.log.as_ref().and_then(|(log, count)| {
                let binned = bin(&log.stretches, *count)?;
                let of_candidate = life_error(&place, &can, &log.stretches, &binned.phases);
                Some(CutLog { binned, of_candidate })
            }),
            spread: spread::of_part(&place, &can, &settings),
            heat: opinions(&place, &can),
            explained: question.case_rise_k.and_then(explain),
            record: question.record.as_ref().and_then(RecordForm::analyse),
            circuit: question.circuit.as_ref().map(CircuitEntry::ripple),
            string: strings(job, sits).into_iter().find(|string| string.members.contains(&id)),
            old_part: old_part(job, catalog, id, Date::today().map(Date::fractional_year)),
            energy: stored_energy(job, id, sits),
            inrush: inrush(job, id, &can),
            settings,
            group,
            exchanges: proposals
                .found
                .into_iter()
                .map(|proposal| {
                    let carried_out = applied(job, catalog_index, &proposal).map(Arc::new);
                    (proposal, carried_out)
                })
                .collect(),
            obstacles: proposals.obstacles,
            board,
            interval,
            for_target,
            best,
            question,
        })
    }
}

/// What a plan brings, in part numbers, and what its picks spoil for each other.
fn proposal(base: &PlanBase, plan: &Plan, job: &Job, catalog_index: &CatalogIndex, sizing: &Sizing) -> Proposal {
    let spoiled = base.worse_than_planned(plan, job, catalog_index).into_iter().map(|(id, _)| id).collect();
    let changes = pick_changes(job, catalog_index, sizing, &base.picks(plan, catalog_index));
    Proposal { interval_years: plan.interval_years, parts_cost: plan.parts_cost, changes, spoiled }
}

/// The ripple behind a measured case rise; where no frequency is given it is that of the heaviest line, else that of the
/// measured ESR.
fn explained(place: &PositionContext, position: &Position, rise_k: f64, hz: Option<f64>) -> Option<Explained> {
    let heaviest_hz = || {
        let lines = position.stress.ripple.iter().flatten().filter_map(|line| Some((line.hz?, line.a?)));
        lines.max_by(|a, b| a.1.total_cmp(&b.1)).map(|line| line.0)
    };
    let measured = position.measured.as_ref().and_then(|m| m.esr_mohm.zip(m.esr_hz));
    let hz = hz.or_else(heaviest_hz).or(measured.map(|m| m.1))?;
    let esr_mohm = measured.filter(|m| m.1 == hz).map(|m| m.0);
    explain_rise(place, &position.original.can, rise_k, hz, esr_mohm)
}

fn as_fitted(candidate: Candidate, can: &Can, catalog: &Catalog) -> Fitted {
    match candidate {
        Candidate::Original => Fitted { name: "original part".into(), can: can.clone(), part: None },
        Candidate::Part(id) => Fitted::part(catalog, id),
    }
}

fn board(question: &Question, settings: &Settings) -> BoardAnswers {
    let Question { snapshot, scope, position: PositionId { board, .. }, .. } = question;
    let (scope, board) = (*scope, *board);
    let Snapshot { job, catalog_index, sizing } = &***snapshot;
    let catalog = catalog_index.catalog();
    let places = Contexts::new(job, catalog);
    let chosen = |id: PositionId| Some((id, places.at(id)?, fitted(job, catalog, sizing, id)?.can));
    let ids = job.positions().map(|(id, _)| id).filter(|id| id.board == board);
    let positions: Vec<(PositionId, PositionContext, Can)> = ids.filter_map(chosen).collect();
    // The board is told as chosen: a position still without a part is named, not counted with a new original.
    let is_open = |id: PositionId| fitted(job, catalog, sizing, id).is_some_and(|fitted| fitted.part.is_none());
    let open: Vec<PositionId> = positions.iter().map(|(id, ..)| *id).filter(|&id| is_open(id)).collect();
    let chosen: Vec<_> = positions.iter().filter(|(id, ..)| !open.contains(id)).cloned().collect();
    BoardAnswers {
        snapshot: snapshot.clone(),
        base: plan_base(job, catalog_index, sizing, scope),
        limit: limit_step(job, catalog_index, sizing, (board, &[]), scope.accept_marginal),
        scope,
        each: positions
            .iter()
            .map(|(id, place, can)| {
                let spread = spread::of_part(place, can, settings);
                Each {
                    id: *id,
                    years: spread.as_ref().map(|spread| spread.years),
                    reaches_target: spread.and_then(|spread| spread.reaches_target),
                    heat: opinions(place, can),
                }
            })
            .collect(),
        spread: spread::of_board(&chosen, settings),
        open,
        old_parts: board_by_condition(job, catalog, board, Date::today().map(Date::fractional_year)),
    }
}
