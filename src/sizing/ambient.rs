//! The ambient of a position: its own, else that of its board, else that of the job.

use crate::domain::{Board, Job, Phase, Position};

/// A phase of the duty, complete.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct DutyPhase {
    pub share: f64,
    pub ambient_c: f64,
    pub ripple_scale: f64,
}

/// Whose phases a position goes through that has none of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, strum::IntoStaticStr)]
#[strum(serialize_all = "lowercase")]
pub enum Inherited {
    /// Those of its board.
    Board,
    /// Those of the job, as far as it has any.
    Job,
}

/// The phases a position goes through: its own, else those of its board, else of the job, which are warmer by its own rise.
pub fn phases(job: &Job, board: &Board, position: &Position) -> (Vec<Phase>, Option<Inherited>) {
    let stress = &position.stress;
    let filled = |phases: &Option<Vec<Phase>>| phases.as_ref().is_some_and(|phases| !phases.is_empty());
    let (phases, inherited) = if filled(&stress.phases) {
        (&stress.phases, None)
    } else if filled(&board.conditions.phases) {
        (&board.conditions.phases, Some(Inherited::Board))
    } else {
        (&job.conditions.phases, Some(Inherited::Job))
    };
    let rise_k = stress.ambient_rise_k.filter(|_| inherited.is_some()).unwrap_or(0.0);
    let warmer =
        |phase: &Phase| Phase { ambient_c: phase.ambient_c.map(|ambient_c| ambient_c + rise_k), ..phase.clone() };
    (phases.iter().flatten().map(warmer).collect(), inherited)
}

/// What surrounds a can through its duty.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Ambient {
    /// The phases whose ambient is known, in their order.
    pub phases: Vec<DutyPhase>,
    /// Names of the phases as given, in the order of all of them.
    pub names: Vec<Option<String>>,
    /// Whether there are phases and each has an ambient.
    pub complete: bool,
    /// Largest ripple scale of all phases; 1 without any.
    pub ripple_scale_max: f64,
    /// Coldest known, °C; `None` without any phase.
    pub min_c: Option<f64>,
    /// Hottest known, °C; `None` without any phase.
    pub max_c: Option<f64>,
    pub airflow_lfm: f64,
}

impl Ambient {
    /// A field the position lacks is taken by itself from its board's conditions, else the job's. Inherited phases are warmer
    /// by the position's own rise; the coldest ambient is not, as a cold start has none; moving air counts only where the
    /// phases come from there too.
    pub(super) fn of(job: &Job, board: &Board, position: &Position) -> Self {
        let stress = &position.stress;
        let (of_board, of_job) = (&board.conditions, &job.conditions);
        let (given, inherited) = phases(job, board, position);
        let air = inherited.and_then(|from| match from {
            Inherited::Board => of_board.airflow_lfm,
            Inherited::Job => of_job.airflow_lfm,
        });
        let scale = |phase: &Phase| phase.ripple_scale.unwrap_or(1.0);
        let known = |phase: &Phase| {
            let (share, ambient_c) = (phase.share.unwrap_or(1.0), phase.ambient_c?);
            Some(DutyPhase { share, ambient_c, ripple_scale: scale(phase) })
        };
        let phases: Vec<DutyPhase> = given.iter().filter_map(known).collect();
        let coldest_c = stress.ambient_min_c.or(of_board.ambient_min_c).or(of_job.ambient_min_c);
        let ambients = || phases.iter().map(|phase| phase.ambient_c);
        Self {
            names: given.iter().map(|phase| phase.name.clone()).collect(),
            complete: !given.is_empty() && phases.len() == given.len(),
            ripple_scale_max: given.iter().map(scale).reduce(f64::max).unwrap_or(1.0),
            min_c: ambients().chain(coldest_c.filter(|_| !given.is_empty())).reduce(f64::min),
            max_c: ambients().reduce(f64::max),
            airflow_lfm: stress.airflow_lfm.or(air).unwrap_or(0.0),
            phases,
        }
    }

    /// The duty, when it is complete.
    pub(super) fn duty(&self) -> Option<&[DutyPhase]> {
        self.complete.then_some(&self.phases)
    }
}

#[cfg(test)]
#[path = "../../tests/within/ambient.rs"]
mod tests;
