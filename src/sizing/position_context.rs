//! One position made ready for checking many parts: everything that does not depend on the candidate, worked out once.

use std::sync::Arc;

use super::checks::capacitance;
use super::footprint::{Footprint, Placed};
use super::neighbours::{Neighbours, Surroundings};
use crate::domain::{Assumed, Board, Can, Catalog, Job, Mounting, Policy, Position, PositionId, Role, Technology};
use crate::physics::body::{self, Body};
use crate::physics::esr;
use crate::physics::life::capped_h;

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

/// One position, ready for [`PositionContext::evaluate`](Self::evaluate).
#[derive(Debug, Clone)]
pub struct PositionContext<'a> {
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
    pub(super) neighbours: Neighbours<'a>,
    /// Pieces this position needs over the whole job.
    pub(super) need_qty: f64,
}

impl<'a> PositionContext<'a> {
    /// Prepares the position at `id`; `None` when the job has no such position.
    #[must_use]
    pub fn new(job: &'a Job, catalog: &Catalog, id: PositionId) -> Option<Self> {
        Self::among(Arc::new(Surroundings::of(job.boards.get(id.board)?, catalog)), job, id)
    }

    /// The same, for somebody who has the surroundings on its board at hand.
    pub(super) fn among(surroundings: Arc<Surroundings<'a>>, job: &'a Job, id: PositionId) -> Option<Self> {
        let board = job.boards.get(id.board)?;
        let position = board.positions.get(id.index)?;
        let (stress, needs, original) = (&position.stress, &position.needs, &position.original.can);
        let phases = duty(position);
        let ambients = || phases.iter().flatten().map(|p| p.ambient_c);
        let esr_hz = needs.esr_hz.unwrap_or(DEFAULT_ESR_HZ);
        let original_esr = esr::at_hz(original, esr_hz);
        let mut esr_max_assumed = Assumed::default();
        if needs.esr_max_mohm.is_none() && original_esr.is_some_and(|esr| esr.derived) {
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
            neighbours: surroundings.around(id.index),
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

    /// Years that a life in hours lasts here, capped as the life check caps them; `None` without hours in a year.
    #[must_use]
    pub fn years_of(&self, life_h: f64) -> Option<f64> {
        let hours_per_year = self.hours_per_year.filter(|&hours| hours > 0.0)?;
        Some((capped_h(life_h) / hours_per_year).min(self.policy.calendar_cap_years))
    }

    /// Name of a phase of the duty: the one given, else its number.
    pub(super) fn phase_name(&self, at: usize) -> String {
        let given = self.position.stress.phases.as_ref().and_then(|phases| phases.get(at)?.name.clone());
        given.unwrap_or_else(|| format!("phase {}", at + 1))
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

    /// The shadow of a part at this position; `None` where the position is not located or the body not known.
    pub(super) fn shadow(&self, can: &Can, body: &Body) -> Option<Placed> {
        let (x_mm, y_mm) = self.position.centre_mm()?;
        Some(Placed::at(Footprint::of_body(can, body)?, [x_mm, y_mm], self.position.rotation_deg))
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

/// Pieces one position of `board` needs over the whole job.
fn need_qty(job: &Job, board: &Board) -> f64 {
    let pieces = board.per_unit_or_one() * job.units.unwrap_or(1.0);
    let exact = pieces * (1.0 + job.spare_pct.unwrap_or(0.0) / 100.0);
    // 10 pieces and 10 % are 11, also in binary fractions.
    (exact - 1e-9).ceil()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Phase, RippleLine};
    use crate::sizing::testing::{HERE, job, phase, position};

    /// Asks something of the position after a change of the job.
    fn asked<T>(change: impl FnOnce(&mut Job), ask: impl FnOnce(&PositionContext) -> T) -> T {
        let mut job = job(position());
        change(&mut job);
        ask(&PositionContext::new(&job, &Catalog::default(), HERE).unwrap())
    }

    /// The same after a change of its position.
    fn asked_at<T>(change: impl FnOnce(&mut Position), ask: impl FnOnce(&PositionContext) -> T) -> T {
        asked(|job| change(&mut job.boards[0].positions[0]), ask)
    }

    #[test]
    fn a_position_the_job_lacks_is_none() {
        let job = job(position());
        for id in [PositionId { board: 1, index: 0 }, PositionId { board: 0, index: 1 }] {
            assert!(PositionContext::new(&job, &Catalog::default(), id).is_none());
        }
    }

    #[test]
    fn a_single_phase_needs_no_share_and_an_absent_ripple_scale_is_one() {
        let only = Phase { ambient_c: Some(50.0), ..Phase::default() };
        let duty_of =
            |phases: Vec<Phase>| asked_at(|p| p.stress.phases = Some(phases), |context| context.phases.clone());
        assert_eq!(
            duty_of(vec![only.clone()]),
            Some(vec![DutyPhase { share: 1.0, ambient_c: 50.0, ripple_scale: 1.0 }])
        );
        assert_eq!(duty_of(vec![only.clone(), only]), None);
        assert_eq!(duty_of(vec![phase(0.5, 50.0, 1.0), Phase { ambient_c: None, ..phase(0.5, 50.0, 1.0) }]), None);
        assert_eq!(duty_of(Vec::new()), None);
    }

    #[test]
    fn the_ambient_is_from_the_coolest_to_the_hottest_phase_unless_the_coolest_is_given() {
        let ambient = |given: Option<f64>| {
            let change = |p: &mut Position| {
                p.stress.phases = Some(vec![phase(0.5, 60.0, 1.0), phase(0.5, 20.0, 1.0)]);
                p.stress.ambient_min_c = given;
            };
            asked_at(change, |context| (context.ambient_min_c, context.ambient_max_c))
        };
        assert_eq!(ambient(None), (Some(20.0), Some(60.0)));
        assert_eq!(ambient(Some(-15.0)), (Some(-15.0), Some(60.0)));
    }

    #[test]
    fn an_incomplete_spectrum_is_unknown_and_an_empty_one_is_known() {
        let spectrum =
            |lines: Option<Vec<RippleLine>>| asked_at(|p| p.stress.ripple = lines, |context| context.ripple.clone());
        let line = |hz, a| RippleLine { hz, a, ..RippleLine::default() };
        assert_eq!(spectrum(None), None);
        assert_eq!(spectrum(Some(Vec::new())), Some(Vec::new()));
        assert_eq!(spectrum(Some(vec![line(Some(100.0), Some(1.0)), line(None, Some(1.0))])), None);
        assert_eq!(spectrum(Some(vec![line(Some(0.0), Some(1.0))])), None);
        assert_eq!(spectrum(Some(vec![line(Some(100.0), Some(1.0))])), Some(vec![(100.0, 1.0)]));
    }

    #[test]
    fn the_target_is_the_positions_own_else_the_interval() {
        assert_eq!(asked(|_| (), |context| context.target_h()), Some(30_000.0));
        let no_own = |p: &mut Position| p.needs.life_h = None;
        assert_eq!(asked_at(no_own, |context| context.target_h()), Some(10.0 * 3000.0));
    }

    #[test]
    fn the_peak_voltage_needs_both_its_parts() {
        assert_eq!(asked(|_| (), |context| context.peak_v), Some(12.5));
        assert_eq!(asked_at(|p| p.stress.ripple_peak_v = None, |context| context.peak_v), None);
    }

    #[test]
    fn the_esr_limit_falls_back_on_the_original() {
        assert_eq!(asked(|_| (), |context| context.esr_limit()), (1e5, Some(80.0)));
        let no_own = |p: &mut Position| (p.needs.esr_max_mohm, p.needs.esr_hz) = (None, None);
        assert_eq!(asked_at(no_own, |context| context.esr_limit()), (1e5, Some(60.0)));
    }

    #[test]
    fn room_is_what_was_measured_else_what_the_original_took() {
        assert_eq!(asked(|_| (), |context| context.room_mm()), (Some(11.0), Some(20.0)));
        let unmeasured = |p: &mut Position| {
            (p.space.diameter_max_mm, p.space.height_max_mm) = (None, None);
            (p.original.can.diameter_max_mm, p.original.can.height_max_mm) = (None, None);
        };
        // 10 x 16 mm radial: +0.5 mm, +1 mm and 2 mm for the vent.
        assert_eq!(asked_at(unmeasured, |context| context.room_mm()), (Some(10.5), Some(19.0)));
        let lying = |p: &mut Position| {
            unmeasured(p);
            p.original.can.mounting = Some(Mounting::Axial);
        };
        assert_eq!(asked_at(lying, |context| context.room_mm()), (Some(10.5), Some(10.5)));
    }

    #[test]
    fn the_reach_of_the_position_wins_over_that_of_the_policy() {
        let reach =
            |own: Option<f64>| asked_at(|p| p.space.pitch_reach_mm = own, |context| context.room.pitch_reach_mm);
        assert_eq!([reach(None), reach(Some(0.0))], [2.5, 0.0]);
    }

    #[test]
    fn need_is_pieces_and_spares_rounded_up() {
        let need = |per_unit, units, spare_pct| {
            let change = |job: &mut Job| {
                job.boards[0].per_unit = per_unit;
                (job.units, job.spare_pct) = (units, spare_pct);
            };
            asked(change, |context| context.need_qty())
        };
        assert_eq!(need(None, None, None), 1.0);
        assert_eq!(need(Some(1.0), Some(10.0), Some(10.0)), 11.0, "exactly 11, not 12 by binary rounding");
        assert_eq!(need(Some(2.0), Some(4.0), Some(10.0)), 9.0);
    }

    #[test]
    fn capacitance_bounds_come_from_needs_else_from_the_role() {
        let range = |change: fn(&mut Position)| asked_at(change, |context| context.capacitance_range_uf());
        assert_eq!(range(|_| ()), (0.8 * 470.0, 3.0 * 470.0));
        assert_eq!(range(|p| p.needs.capacitance_min_uf = Some(100.0)), (100.0, f64::INFINITY));
        assert_eq!(range(|p| p.needs.capacitance_max_uf = Some(100.0)), (0.0, 100.0));
        assert_eq!(range(|p| p.role = None), (0.0, f64::INFINITY));
    }

    #[test]
    fn mountings_are_the_originals_and_those_accepted() {
        let mountings = |change: fn(&mut Position)| asked_at(change, |context| context.mountings());
        assert_eq!(mountings(|_| ()), Some(vec![Mounting::Radial]));
        let accepts = |p: &mut Position| p.space.accepts = Some(vec![Mounting::SnapIn]);
        assert_eq!(mountings(accepts), Some(vec![Mounting::Radial, Mounting::SnapIn]));
        assert_eq!(mountings(|p| p.original.can.mounting = None), None);
    }
}
