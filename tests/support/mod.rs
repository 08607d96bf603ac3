//! A position and a part that passes every check there, for tests that then change one thing.

use refarad::domain::{
    Board, Can, Catalog, CatalogBuilder, EnduranceBasis, Job, Mounting, Needs, Original, Part, Phase, Position,
    PositionId, RippleLine, Role, Space, Status, Stress, Technology,
};
use refarad::sizing::{Evaluation, PositionContext, Supply};

/// The first position of a job.
pub(crate) const HERE: PositionId = PositionId { board: 0, index: 0 };

/// Terms of supply that pass.
pub(crate) const IN_STOCK: Supply = Supply { status: Some(Status::Active), stock: Some(1e6) };

/// A radial 470 µF 25 V part, 10 x 16 mm, with every figure known that a check looks at.
pub(crate) fn can() -> Can {
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

/// One line of ripple.
pub(crate) fn line(hz: f64, a: f64) -> RippleLine {
    RippleLine { hz: Some(hz), a: Some(a), ..RippleLine::default() }
}

/// One phase of the duty.
pub(crate) fn phase(share: f64, ambient_c: f64, ripple_scale: f64) -> Phase {
    Phase { share: Some(share), ambient_c: Some(ambient_c), ripple_scale: Some(ripple_scale), ..Phase::default() }
}

/// A position where [`can`] passes every check, with every stress, need and room given.
pub(crate) fn position() -> Position {
    Position {
        reference: "C1".into(),
        role: Some(Role::OutputFilter),
        original: Original { can: can(), ..Original::default() },
        stress: Stress {
            dc_v: Some(12.0),
            ripple_peak_v: Some(0.5),
            transient_v: Some(16.0),
            min_v: Some(0.0),
            ripple: Some(vec![line(1e5, 0.5)]),
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

/// A job of one board with these positions.
pub(crate) fn job(positions: Vec<Position>) -> Job {
    Job {
        units: Some(4.0),
        hours_per_year: Some(3000.0),
        interval_years: Some(10.0),
        boards: vec![Board { positions, ..Board::default() }],
        ..Job::default()
    }
}

/// A part at the first position of a job, without looking at a catalogue.
pub(crate) fn evaluate(job: &Job, can: &Can) -> Evaluation {
    PositionContext::new(job, &Catalog::default(), HERE).unwrap().evaluate(can, IN_STOCK)
}

/// A catalogue of these parts.
pub(crate) fn catalog(parts: &[Part]) -> Catalog {
    let mut builder = CatalogBuilder::default();
    parts.iter().for_each(|part| builder.push(part));
    builder.finish().0
}
