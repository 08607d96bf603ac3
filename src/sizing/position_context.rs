//! One position made ready for checking many parts: everything that does not depend on the candidate, worked out once.

use std::sync::Arc;

use super::ambient::{Ambient, DutyPhase};
use super::checks::limits::{self, Window};
use super::footprint::{Footprint, Placed};
use super::market::Market;
use super::neighbours::Neighbours;
use super::voltages::Electrical;
use crate::domain::{Assumed, Board, Can, Catalog, Job, Mounting, PartId, Policy, Position, PositionId, Technology};
use crate::physics::body::{self, Body};
use crate::physics::esr::{Ladder, at_hz_by};
use crate::physics::life::capped_h;

/// Frequency of the ESR limits where none is given, Hz.
const DEFAULT_ESR_HZ: f64 = 1e5;

/// The largest ESR a position takes.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct EsrLimit {
    /// mΩ; `None` when unknown.
    pub mohm: Option<f64>,
    /// The same by the usual dissipation factors of parts on offer, mΩ: more than [`mohm`](Self::mohm) where that rests
    /// on the usual dissipation factors.
    pub most_mohm: Option<f64>,
    /// Whether it rests on the usual dissipation factors.
    pub from_ladder: bool,
    /// What it leaned on.
    pub assumed: Assumed,
}

impl EsrLimit {
    /// The limit given, else the original's ESR.
    fn of(position: &Position, esr_hz: f64) -> Self {
        if let Some(given) = position.needs.esr_max_mohm {
            return Self { mohm: Some(given), most_mohm: Some(given), ..Self::default() };
        }
        let original = &position.original.can;
        let Some(esr) = at_hz_by(Ladder::Limit, original, esr_hz) else { return Self::default() };
        Self {
            mohm: Some(esr.mohm),
            most_mohm: at_hz_by(Ladder::Part, original, esr_hz).map(|esr| esr.mohm),
            from_ladder: esr.from_ladder(),
            assumed: if esr.derived { Assumed::ESR_LIMIT } else { Assumed::default() },
        }
    }
}

#[cfg(test)]
thread_local! {
    /// How often a position was made ready on this thread by itself, with a look at every can of its board.
    pub(crate) static MADE: std::cell::Cell<usize> = const { std::cell::Cell::new(0) };
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

/// One position, ready for [`PositionContext::evaluate`](Self::evaluate).
#[derive(Debug, Clone)]
pub struct PositionContext<'a> {
    pub(super) position: &'a Position,
    pub(super) policy: &'a Policy,
    pub(super) original_technology: Technology,
    pub(super) electrical: Electrical<'a>,
    /// The members of the series string the position belongs to, itself included; empty where it is in none.
    pub(super) string: Vec<Electrical<'a>>,
    pub(super) ambient: Ambient,
    /// Target life, h.
    pub target_h: Option<f64>,
    /// Energised hours in a year.
    pub hours_per_year: Option<f64>,
    pub(super) esr_hz: f64,
    pub(super) esr_max: EsrLimit,
    pub(super) room: Room,
    pub(super) neighbours: Neighbours<'a>,
    pub(super) market: Arc<Market<'a>>,
    /// Pieces this position needs over the whole job, spares included.
    pub need_qty: f64,
}

impl<'a> PositionContext<'a> {
    /// Prepares the position at `id`; `None` when the job has no such position.
    pub fn new(job: &'a Job, catalog: &Catalog, id: PositionId) -> Option<Self> {
        #[cfg(test)]
        MADE.set(MADE.get() + 1);
        let board = job.boards.get(id.board).filter(|board| id.index < board.positions.len())?;
        Self::among(Neighbours::of(board, catalog, id.index), Arc::new(Market::of(job, catalog)), job, id)
    }

    /// The same, for somebody who looks at many positions.
    pub(super) fn among(
        neighbours: Neighbours<'a>,
        market: Arc<Market<'a>>,
        job: &'a Job,
        id: PositionId,
    ) -> Option<Self> {
        let board = job.boards.get(id.board)?;
        let position = board.positions.get(id.index)?;
        let ambient = Ambient::of(job, board, position);
        let esr_hz = position.needs.esr_hz.unwrap_or(DEFAULT_ESR_HZ);
        Some(Self {
            position,
            policy: &job.policy,
            original_technology: position.original.can.technology_or_wet(),
            electrical: Electrical::of(position, ambient.ripple_scale_max),
            string: string(job, board, position),
            ambient,
            target_h: position.needs.life_h.or_else(|| job.interval_h()),
            hours_per_year: job.hours_per_year,
            esr_hz,
            esr_max: EsrLimit::of(position, esr_hz),
            room: room(position, &job.policy),
            neighbours,
            market,
            need_qty: need_qty(job, id.board),
        })
    }

    /// Ripple lines as frequency in Hz and current in A; `None` when unknown.
    pub(super) fn lines(&self) -> Option<&[(f64, f64)]> {
        self.electrical.ripple.lines.as_deref()
    }

    /// The phases of the duty; `None` when unknown.
    pub(super) fn duty(&self) -> Option<&[DutyPhase]> {
        self.ambient.duty()
    }

    /// The same position with this ripple spectrum.
    pub(super) fn with_lines(&self, lines: Vec<(f64, f64)>) -> Self {
        let mut changed = self.clone();
        changed.electrical.ripple.lines = Some(lines);
        changed
    }

    /// Coldest ambient, °C; `None` without any phase.
    pub fn coldest_c(&self) -> Option<f64> {
        self.ambient.min_c
    }

    /// Speed of the air at the part, ft/min; 0 is still air.
    pub fn airflow_lfm(&self) -> f64 {
        self.ambient.airflow_lfm
    }

    /// Pieces of a part to be had: the shop's shelf and the largest stock of all offers; `None` where one does not say.
    pub(super) fn stock(&self, catalog: &Catalog, id: PartId) -> Option<f64> {
        self.market.stock(catalog, id)
    }

    /// What the pieces of a part that this position needs cost in the currency of the job, least over its offers; pieces on the
    /// shelf are free. `None` without a usable price.
    pub fn cost_of_need(&self, catalog: &Catalog, id: PartId) -> Option<f64> {
        self.cost_and_offer(catalog, id).map(|(cost, _)| cost)
    }

    /// The offer that gives [`cost_of_need`](Self::cost_of_need), by its place in the offers of the part; `None` where that is the row of the
    /// catalogue, nothing is bought, or no offer gives a cost.
    pub fn offer_of_need(&self, catalog: &Catalog, id: PartId) -> Option<usize> {
        self.cost_and_offer(catalog, id)?.1
    }

    /// Both at once.
    pub(super) fn cost_and_offer(&self, catalog: &Catalog, id: PartId) -> Option<(f64, Option<usize>)> {
        self.market.cost(catalog, id, self.need_qty)
    }

    /// Target life, years; `None` when the target or the hours in a year are not known.
    pub fn target_years(&self) -> Option<f64> {
        Some(self.target_h? / self.hours_per_year.filter(|&hours| hours > 0.0)?)
    }

    /// Years that a life in hours lasts here, as [`years_of`] has them.
    pub fn years_of(&self, life_h: f64) -> Option<f64> {
        years_of(self.hours_per_year, self.policy, life_h)
    }

    /// Name of a phase of the duty: the one given, else its number.
    pub(super) fn phase_name(&self, at: usize) -> String {
        self.ambient.names.get(at).cloned().flatten().unwrap_or_else(|| format!("phase {}", at + 1))
    }

    /// Largest diameter and height that fit, mm.
    pub fn room_mm(&self) -> (Option<f64>, Option<f64>) {
        (self.room.diameter_max_mm, self.room.height_max_mm)
    }

    /// Frequency of the ESR limits, Hz, and the largest ESR, mΩ.
    pub fn esr_limit(&self) -> (f64, Option<f64>) {
        (self.esr_hz, self.esr_max.mohm)
    }

    /// Nominal capacitances that can pass or be marginal here, µF; unbounded where nothing is known.
    pub(super) fn capacitance_range_uf(&self) -> (f64, f64) {
        self.capacitances_uf(|window| window.marginal)
    }

    /// Nominal capacitances that can pass here, µF; unbounded where nothing is known.
    pub(super) fn capacitance_pass_uf(&self) -> (f64, f64) {
        self.capacitances_uf(|window| window.pass)
    }

    fn capacitances_uf(&self, multiples: fn(Window) -> (f64, f64)) -> (f64, f64) {
        let needs = &self.position.needs;
        let by_role = self.position.role.zip(self.position.original.can.capacitance_uf).map(|(role, original_uf)| {
            let (low, high) = multiples(limits::window(role));
            (low * original_uf, high * original_uf)
        });
        let (low_uf, high_uf) = by_role.unwrap_or((0.0, f64::INFINITY));
        (needs.capacitance_min_uf.unwrap_or(low_uf), needs.capacitance_max_uf.unwrap_or(high_uf))
    }

    /// The one kind of mounting that passes here, and the lead spacings that do, mm; `None` where the original's kind is not known.
    pub(super) fn mounting_pass(&self) -> Option<(Mounting, (f64, f64))> {
        let mounting = self.position.original.can.mounting?;
        // A little wider than the check: a bound rules out only what is certain.
        let around = |hole_mm: f64, mm: f64| (hole_mm - mm - 1e-6, hole_mm + mm + 1e-6);
        let spacing =
            self.room.hole_pitch_mm.zip(limits::pitch_tolerance_mm(mounting)).map(|(hole, mm)| around(hole, mm));
        Some((mounting, spacing.unwrap_or((f64::NEG_INFINITY, f64::INFINITY))))
    }

    /// The shadow of a part at this position; `None` where the position is not located, or the body or the direction
    /// of a lying one not known.
    pub(super) fn shadow(&self, can: &Can, body: &Body) -> Option<Placed> {
        let (x_mm, y_mm) = self.position.centre_mm()?;
        Placed::measured(Footprint::of_body(can, body)?, [x_mm, y_mm], self.position.rotation_deg)
    }

    /// Mountings that can match here; `None` when the original's is not known.
    pub(super) fn mountings(&self) -> Option<Vec<Mounting>> {
        let own = self.position.original.can.mounting?;
        let accepted = self.position.space.accepts.iter().flatten().copied();
        Some(std::iter::once(own).chain(accepted).collect())
    }
}

/// Years that a life in hours lasts, capped as the life check caps them; `None` without hours in a year.
pub fn years_of(hours_per_year: Option<f64>, policy: &Policy, life_h: f64) -> Option<f64> {
    Some((capped_h(life_h) / hours_per_year.filter(|&hours| hours > 0.0)?).min(policy.calendar_cap_years))
}

/// The members of the series string of a position, itself included; empty where it is alone.
fn string<'a>(job: &'a Job, board: &'a Board, position: &'a Position) -> Vec<Electrical<'a>> {
    let Some(name) = position.series_group.as_deref().filter(|name| !name.trim().is_empty()) else { return Vec::new() };
    let members = board.positions.iter().filter(|other| other.series_group.as_deref() == Some(name));
    let members: Vec<Electrical> =
        members.map(|member| Electrical::of(member, Ambient::of(job, board, member).ripple_scale_max)).collect();
    if members.len() > 1 { members } else { Vec::new() }
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

/// Pieces one position of a board needs over the whole job.
fn need_qty(job: &Job, board: usize) -> f64 {
    let exact = job.copies(Some(board)) * (1.0 + job.spare_pct.unwrap_or(0.0) / 100.0);
    // 10 pieces and 10 % are 11, also in binary fractions.
    (exact - 1e-9).ceil()
}

#[cfg(test)]
#[path = "../../tests/within/position_context.rs"]
mod tests;
