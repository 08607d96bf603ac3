//! A job of positions that are told apart by their duty, each with one wet can, for tests of lives and of groups.

pub(super) use super::testing::phase;
use refarad::domain::{Board, Can, EnduranceBasis, Job, Mounting, Original, Phase, Position, RippleLine, Role, Stress};

/// 100 µF, 63 V, 105 °C, 5000 h with ripple, 1 A at 100 kHz; rise and multipliers are left to the default tables.
pub(super) fn wet_can() -> Can {
    Can {
        technology: Some(refarad::domain::Technology::Wet),
        mounting: Some(Mounting::Radial),
        capacitance_uf: Some(100.0),
        tolerance_pct: Some(20.0),
        rated_v: Some(63.0),
        temp_min_c: Some(-40.0),
        temp_max_c: Some(105.0),
        endurance_h: Some(5000.0),
        endurance_basis: Some(EnduranceBasis::Ripple),
        ripple_a: Some(1.0),
        ripple_hz: Some(1e5),
        esr_mohm: Some(100.0),
        esr_hz: Some(1e5),
        diameter_mm: Some(10.0),
        height_mm: Some(20.0),
        pitch_mm: Some(5.0),
        ..Can::default()
    }
}

/// Phases of share, ambient and ripple scale.
pub(super) fn duty(phases: &[(f64, f64, f64)]) -> Vec<Phase> {
    phases.iter().map(|&(share, ambient_c, scale)| phase(share, ambient_c, scale)).collect()
}

/// Half an ampere at 100 kHz on 40 V.
pub(super) fn position(reference: &str, phases: Vec<Phase>) -> Position {
    Position {
        reference: reference.into(),
        role: Some(Role::OutputFilter),
        original: Original { can: wet_can(), ..Original::default() },
        stress: Stress {
            dc_v: Some(40.0),
            ripple_peak_v: Some(1.0),
            transient_v: Some(45.0),
            min_v: Some(0.0),
            ripple: Some(vec![RippleLine { hz: Some(1e5), a: Some(0.5), ..RippleLine::default() }]),
            phases: Some(phases),
            ..Stress::default()
        },
        ..Position::default()
    }
}

/// 3000 h a year, 10 years, one board.
pub(super) fn job_of(positions: Vec<Position>) -> Job {
    Job {
        hours_per_year: Some(3000.0),
        interval_years: Some(10.0),
        boards: vec![Board { name: "B".into(), positions, ..Board::default() }],
        ..Job::default()
    }
}

/// One position, C1.
pub(super) fn job_with(phases: Vec<Phase>) -> Job {
    job_of(vec![position("C1", phases)])
}
