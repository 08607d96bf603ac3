//! A position and a part that passes every check there, for tests that then change one thing.

use std::sync::Arc;

use super::checks::Supply;
use super::evaluation::Evaluation;
use super::market::Market;
use super::place::Place;
use super::size::Ranked;
use crate::domain::{
    Board, Can, Catalog, CatalogBuilder, Check, EnduranceBasis, Job, Mounting, Needs, Original, Outcome, Part, PartId,
    Phase, Position, PositionId, RippleLine, Role, Space, Status, Stress, Technology, Trade,
};

/// The only position of [`job`].
pub(super) const HERE: PositionId = PositionId { board: 0, index: 0 };

/// A radial 470 µF 25 V part with every figure known.
pub(super) fn can() -> Can {
    Can {
        technology: Some(Technology::Wet),
        mounting: Some(Mounting::Radial),
        endurance_basis: Some(EnduranceBasis::Ripple),
        ripple_temp_factors: "65:2.1;85:1.7;105:1".parse().ok(),
        capacitance_uf: Some(470.0),
        tolerance_pct: Some(20.0),
        rated_v: Some(25.0),
        surge_v: Some(28.75),
        temp_min_c: Some(-40.0),
        temp_max_c: Some(105.0),
        endurance_h: Some(5000.0),
        core_rise_k: Some(5.0),
        ripple_a: Some(1.0),
        ripple_hz: Some(1e5),
        f120: Some(0.7),
        f1k: Some(0.8),
        f10k: Some(0.9),
        f100k: Some(1.0),
        esr_mohm: Some(60.0),
        esr_hz: Some(1e5),
        tan_delta: Some(0.14),
        z_ratio: Some(3.0),
        z_cold_c: Some(-40.0),
        leakage_ua: Some(100.0),
        diameter_mm: Some(10.0),
        height_mm: Some(16.0),
        diameter_max_mm: Some(10.5),
        height_max_mm: Some(17.0),
        pitch_mm: Some(5.0),
        lead_d_mm: Some(0.6),
        ..Can::default()
    }
}

/// A position where [`can`] passes every check, with every stress, need and room given.
pub(super) fn position() -> Position {
    Position {
        reference: "C1".into(),
        role: Some(Role::OutputFilter),
        original: Original { can: can(), ..Original::default() },
        stress: Stress {
            dc_v: Some(12.0),
            ripple_peak_v: Some(0.5),
            transient_v: Some(16.0),
            min_v: Some(0.0),
            ripple: Some(vec![RippleLine { hz: Some(1e5), a: Some(0.5), ..RippleLine::default() }]),
            phases: Some(vec![phase(1.0, 50.0, 1.0)]),
            ambient_min_c: Some(-10.0),
            airflow_lfm: Some(0.0),
            ..Stress::default()
        },
        needs: Needs {
            esr_max_mohm: Some(80.0),
            esr_hz: Some(1e5),
            leakage_max_ua: Some(150.0),
            life_h: Some(30_000.0),
            ..Needs::default()
        },
        space: Space {
            diameter_max_mm: Some(11.0),
            height_max_mm: Some(20.0),
            pitch_mm: Some(5.0),
            hole_mm: Some(0.9),
            ..Space::default()
        },
        ..Position::default()
    }
}

pub(super) fn phase(share: f64, ambient_c: f64, ripple_scale: f64) -> Phase {
    Phase { share: Some(share), ambient_c: Some(ambient_c), ripple_scale: Some(ripple_scale), ..Phase::default() }
}

/// A job of one board with these positions.
pub(super) fn job_of(positions: Vec<Position>) -> Job {
    Job {
        units: Some(4.0),
        spare_pct: Some(10.0),
        hours_per_year: Some(3000.0),
        interval_years: Some(10.0),
        boards: vec![Board { positions, ..Board::default() }],
        ..Job::default()
    }
}

/// A job of one position.
pub(super) fn job(position: Position) -> Job {
    job_of(vec![position])
}

/// Terms of supply that pass.
pub(super) const IN_STOCK: Supply = Supply { status: Some(Status::Active), stock: Some(1000.0) };

/// [`can`] at [`position`], each changed first.
pub(super) fn evaluated(change_position: impl FnOnce(&mut Position), change_can: impl FnOnce(&mut Can)) -> Evaluation {
    evaluated_in(|job| change_position(&mut job.boards[0].positions[0]), change_can)
}

/// [`can`] at the only position of the job, each changed first.
pub(super) fn evaluated_in(change_job: impl FnOnce(&mut Job), change_can: impl FnOnce(&mut Can)) -> Evaluation {
    let mut job = job(position());
    change_job(&mut job);
    let mut can = can();
    change_can(&mut can);
    Place::new(&job, &Catalog::default(), HERE).unwrap().evaluate(&can, IN_STOCK)
}

/// Outcome of one check of [`can`] at [`position`], each changed first.
pub(super) fn outcome(
    check: Check,
    change_position: impl FnOnce(&mut Position),
    change_can: impl FnOnce(&mut Can),
) -> Outcome {
    evaluated(change_position, change_can).outcome(check)
}

/// A part on sale.
pub(super) fn part(number: &str, unit_price: Option<f64>, can: Can) -> Part {
    Part {
        part_number: number.into(),
        can,
        status: Some(Status::Active),
        trade: Trade { unit_price, stock: Some(1000.0), ..Trade::default() },
        ..Part::default()
    }
}

/// A market of these parts.
pub(super) fn market(parts: &[Part]) -> Market {
    let mut builder = CatalogBuilder::default();
    parts.iter().for_each(|part| builder.push(part));
    Market::new(Arc::new(builder.finish().0))
}

/// A ranked part with only what ranking looks at.
pub(super) fn ranked(id: u32, verdict: Outcome, price: Option<f64>, headroom: Option<f64>) -> Ranked {
    let mut evaluation = Evaluation { verdict, ..Evaluation::default() };
    evaluation.figures.headroom = headroom;
    Ranked { id: PartId(id), evaluation, price, ruled_out: false }
}

/// The base case the other tests lean on.
#[test]
fn the_part_passes_every_check_at_the_position() {
    let evaluation = evaluated(|_| (), |_| ());
    assert_eq!(evaluation.outcomes, [Outcome::Pass; Check::ALL.len()]);
    assert!(evaluation.assumed.is_empty());
}
