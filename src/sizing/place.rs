//! One position made ready for checking many parts: everything that does not depend on the candidate, worked out once.

use super::checks::capacitance;
use crate::domain::{Assumed, Board, Catalog, Job, Mounting, Policy, Position, PositionId, Role, Technology};
use crate::physics::{body, esr};

/// Frequency of the ESR limits where none is given, Hz.
const DEFAULT_ESR_HZ: f64 = 1e5;

/// A phase of the duty, complete.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct DutyPhase {
    pub share: f64,
    pub ambient_c: f64,
    pub ripple_scale: f64,
}

/// Limits of the room for a part.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
#[expect(clippy::struct_field_names, reason = "every number carries its unit")]
pub(super) struct Room {
    pub diameter_max_mm: Option<f64>,
    pub height_max_mm: Option<f64>,
    pub hole_pitch_mm: Option<f64>,
    pub pitch_reach_mm: f64,
}

/// Distance to a neighbour's centre and half its largest body; `None` where the body is not known.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Neighbour {
    pub reference: String,
    pub centre_distance_mm: f64,
    pub diameter_max_mm: Option<f64>,
}

/// One position, ready for [`Place::evaluate`](Self::evaluate).
#[derive(Debug, Clone)]
pub struct Place<'a> {
    pub(super) position: &'a Position,
    pub(super) policy: &'a Policy,
    pub(super) original_technology: Technology,
    /// Highest working voltage, V.
    pub(super) peak_v: Option<f64>,
    /// Ripple lines as frequency in Hz and current in A; `None` when unknown.
    pub(super) ripple: Option<Vec<(f64, f64)>>,
    /// `None` when unknown.
    pub(super) phases: Option<Vec<DutyPhase>>,
    pub(super) ambient_min_c: Option<f64>,
    pub(super) ambient_max_c: Option<f64>,
    pub(super) airflow_lfm: f64,
    pub(super) target_h: Option<f64>,
    pub(super) hours_per_year: Option<f64>,
    pub(super) esr_hz: f64,
    pub(super) esr_max_mohm: Option<f64>,
    /// What the ESR limit leaned on.
    pub(super) esr_max_assumed: Assumed,
    pub(super) room: Room,
    pub(super) neighbours: Vec<Neighbour>,
    /// Pieces this position needs over the whole job.
    pub(super) need_qty: f64,
}

impl<'a> Place<'a> {
    /// Prepares the position at `id`; `None` when the job has no such position.
    #[must_use]
    pub fn new(job: &'a Job, catalog: &Catalog, id: PositionId) -> Option<Self> {
        let board = job.boards.get(id.board)?;
        let position = board.positions.get(id.index)?;
        let (stress, needs, original) = (&position.stress, &position.needs, &position.original.can);
        let phases = duty(position);
        let ambients = || phases.iter().flatten().map(|p| p.ambient_c);
        let esr_hz = needs.esr_hz.unwrap_or(DEFAULT_ESR_HZ);
        let original_esr = esr::at_hz(original, esr_hz);
        let mut esr_max_assumed = Assumed::default();
        if needs.esr_max_mohm.is_none() && original_esr.is_some() {
            esr_max_assumed.insert(Assumed::ESR_LIMIT);
        }
        Some(Self {
            position,
            policy: &job.policy,
            original_technology: original.technology_or_wet(),
            peak_v: stress.dc_v.zip(stress.ripple_peak_v).map(|(dc_v, ripple_v)| dc_v + ripple_v),
            ripple: ripple_lines(position),
            ambient_min_c: stress.ambient_min_c.or_else(|| ambients().reduce(f64::min)),
            ambient_max_c: ambients().reduce(f64::max),
            phases,
            airflow_lfm: stress.airflow_lfm.unwrap_or(0.0),
            target_h: needs.life_h.or_else(|| job.interval_h()),
            hours_per_year: job.hours_per_year,
            esr_hz,
            esr_max_mohm: needs.esr_max_mohm.or(original_esr.map(|e| e.mohm)),
            esr_max_assumed,
            room: room(position, &job.policy),
            neighbours: neighbours(board, id.index, catalog),
            need_qty: need_qty(job, board),
        })
    }

    /// The role of the position.
    #[must_use]
    pub fn role(&self) -> Option<Role> {
        self.position.role
    }

    /// Target life, h.
    #[must_use]
    pub fn target_h(&self) -> Option<f64> {
        self.target_h
    }

    /// Energised hours in a year.
    #[must_use]
    pub fn hours_per_year(&self) -> Option<f64> {
        self.hours_per_year
    }

    /// Target life, years; `None` when the target or the hours in a year are not known.
    #[must_use]
    pub fn target_years(&self) -> Option<f64> {
        Some(self.target_h? / self.hours_per_year.filter(|&hours| hours > 0.0)?)
    }

    /// Largest diameter and height that fit, mm.
    #[must_use]
    pub fn room_mm(&self) -> (Option<f64>, Option<f64>) {
        (self.room.diameter_max_mm, self.room.height_max_mm)
    }

    /// Frequency of the ESR limits, Hz, and the largest ESR, mΩ.
    #[must_use]
    pub fn esr_limit(&self) -> (f64, Option<f64>) {
        (self.esr_hz, self.esr_max_mohm)
    }

    /// Pieces this position needs over the whole job, spares included.
    #[must_use]
    pub fn need_qty(&self) -> f64 {
        self.need_qty
    }

    /// Nominal capacitances that can pass or be marginal here, µF; unbounded where nothing is known.
    pub(super) fn capacitance_range_uf(&self) -> (f64, f64) {
        let needs = &self.position.needs;
        if needs.capacitance_min_uf.is_some() || needs.capacitance_max_uf.is_some() {
            return (needs.capacitance_min_uf.unwrap_or(0.0), needs.capacitance_max_uf.unwrap_or(f64::INFINITY));
        }
        match (self.position.role, self.position.original.can.capacitance_uf) {
            (Some(role), Some(original_uf)) => {
                let (low, high) = capacitance::window(role).marginal;
                (low * original_uf, high * original_uf)
            }
            _ => (0.0, f64::INFINITY),
        }
    }

    /// Mountings that can match here; `None` when the original's is not known.
    pub(super) fn mountings(&self) -> Option<Vec<Mounting>> {
        let own = self.position.original.can.mounting?;
        let accepted = self.position.space.accepts.iter().flatten().copied();
        Some(std::iter::once(own).chain(accepted).collect())
    }
}

/// The phases, complete; `None` when there is none or a figure is missing. The share of a single phase may be missing.
fn duty(position: &Position) -> Option<Vec<DutyPhase>> {
    let phases = position.stress.phases.as_deref().filter(|phases| !phases.is_empty())?;
    let only_one = phases.len() == 1;
    let complete = |phase: &crate::domain::Phase| {
        Some(DutyPhase {
            share: phase.share.or(only_one.then_some(1.0))?,
            ambient_c: phase.ambient_c?,
            ripple_scale: phase.ripple_scale.unwrap_or(1.0),
        })
    };
    phases.iter().map(complete).collect()
}

/// The spectrum, complete; `None` when it is absent or a line lacks a figure or has no frequency above zero.
fn ripple_lines(position: &Position) -> Option<Vec<(f64, f64)>> {
    let complete = |line: &crate::domain::RippleLine| Some((line.hz.filter(|&hz| hz > 0.0)?, line.a?));
    position.stress.ripple.as_ref()?.iter().map(complete).collect()
}

fn room(position: &Position, policy: &Policy) -> Room {
    let (space, original) = (&position.space, &position.original.can);
    let body = body::of(original);
    Room {
        diameter_max_mm: space.diameter_max_mm.or(body.diameter_max_mm),
        height_max_mm: space.height_max_mm.or(body.height_max_mm.zip(body.vent_mm).map(|(height, vent)| height + vent)),
        hole_pitch_mm: space.pitch_mm.or(original.pitch_mm),
        pitch_reach_mm: space.pitch_reach_mm.unwrap_or(policy.pitch_reach_mm),
    }
}

/// The located positions on the same side of the board, with the bodies of their picks, else of their originals. A pick
/// the catalogue lacks leaves the body unknown.
fn neighbours(board: &Board, index: usize, catalog: &Catalog) -> Vec<Neighbour> {
    let position = &board.positions[index];
    let Some((x_mm, y_mm)) = position.centre_mm() else { return Vec::new() };
    let side = position.side.unwrap_or_default();
    let others = board.positions.iter().enumerate().filter(|&(at, _)| at != index).map(|(_, other)| other);
    others
        .filter(|other| other.side.unwrap_or_default() == side)
        .filter_map(|other| {
            let (other_x_mm, other_y_mm) = other.centre_mm()?;
            let diameter_max_mm = match &other.pick {
                Some(pick) => catalog.find(pick).and_then(|id| body::of(&catalog.can(id)).diameter_max_mm),
                None => body::of(&other.original.can).diameter_max_mm,
            };
            Some(Neighbour {
                reference: other.reference.clone(),
                centre_distance_mm: (other_x_mm - x_mm).hypot(other_y_mm - y_mm),
                diameter_max_mm,
            })
        })
        .collect()
}

/// Pieces one position of `board` needs over the whole job.
fn need_qty(job: &Job, board: &Board) -> f64 {
    let pieces = board.per_unit_or_one() * job.units.unwrap_or(1.0);
    let exact = pieces * (1.0 + job.spare_pct.unwrap_or(0.0) / 100.0);
    // 10 pieces and 10 % are 11, also in binary fractions.
    (exact - 1e-9).ceil()
}
