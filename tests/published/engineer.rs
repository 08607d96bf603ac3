//! Duty from a log, spread of years and an oscilloscope file, each through its reader or a whole job, against numpy and scipy
//! (`scripts/engineer_numpy.py` and `scripts/waveform_numpy.py` make the same inputs and the figures).

use std::f64::consts::PI;
use std::path::Path;

use refarad::domain::{
    Board, Can, Catalog, EnduranceBasis, Job, Phase, Position, PositionId, RippleLine, Stress, Technology,
};
use refarad::files::{oscilloscope, temperature_log};
use refarad::physics::spread::Uncertainty;
use refarad::sizing::duty_from_log::bin;
use refarad::sizing::{PositionContext, spread};

use crate::printed::near;

/// A week in steps of ten minutes, as a logger writes it.
fn week() -> String {
    let mut text = String::from("Zeit;Temperatur (°C)\n");
    for at in 0..7 * 144_u32 {
        let t = f64::from(at);
        let day = 48.0 + 14.0 * (2.0 * PI * t / 144.0).sin() + 6.0 * (2.0 * PI * t / 1008.0).sin();
        let temp = if at > 950 { day - 30.0 } else { day };
        let cell = format!("{temp:.2}").replace('.', ",");
        text.push_str(&format!("{:02}.10.2026 {:02}:{:02};{cell}\n", 5 + at / 144, at % 144 / 6, at % 6 * 10));
    }
    text
}

#[test]
fn a_log_cut_into_phases_errs_as_much_as_numpy_says() {
    let log =
        temperature_log::from_bytes(week().as_bytes(), Path::new("week.csv"), &temperature_log::LogAnswers::default())
            .unwrap();
    assert_eq!((log.stretches.len(), log.rejected.len()), (1008, 0));
    // numpy 2.4.6: count, relative error of the life, share and ambient of the hottest phase
    for (count, error, share, ambient_c) in [
        (1, 0.0526375986234, 1.0, 51.5669802416),
        (3, 0.0139219534647, 0.551587301587, 57.5842936283),
        (6, 0.00610157954932, 0.259920634921, 62.0345554174),
    ] {
        let found = bin(&log.stretches, count).unwrap();
        near(found.life_error, error, 1e-6);
        let hottest = found.phases.last().unwrap();
        near(hottest.share.unwrap(), share, 1e-9);
        near(hottest.ambient_c.unwrap(), ambient_c, 1e-9);
    }
}

#[test]
fn the_spread_of_a_parts_years_is_scipys_quadrature() {
    let can = Can {
        technology: Some(Technology::Wet),
        capacitance_uf: Some(100.0),
        rated_v: Some(63.0),
        temp_max_c: Some(105.0),
        endurance_h: Some(4000.0),
        endurance_basis: Some(EnduranceBasis::Ripple),
        core_rise_k: Some(5.0),
        ripple_a: Some(1.0),
        ripple_hz: Some(1e5),
        f100k: Some(1.0),
        ..Can::default()
    };
    let stress = Stress {
        ripple: Some(vec![RippleLine { hz: Some(1e5), a: Some(0.7), ..RippleLine::default() }]),
        phases: Some(vec![Phase { ambient_c: Some(65.0), ..Phase::default() }]),
        ..Stress::default()
    };
    let positions = vec![Position { stress, ..Position::default() }];
    let boards = vec![Board { positions, ..Board::default() }];
    let job = Job { hours_per_year: Some(3000.0), boards, ..Job::default() };
    let place = PositionContext::new(&job, &Catalog::default(), PositionId::default()).unwrap();
    let uncertainty = Uncertainty { ambient_k: 3.0, ripple: 0.2, endurance: 0.15 };
    let settings = spread::Settings { uncertainty, samples: 100_000, seed: 3, assumed: Vec::new() };
    let years = spread::of_part(&place, &can, &settings).unwrap().uncapped_years;
    // scipy 1.17.1: distribution function by quadrature over the ripple, inverted
    near(years.p10, 17.7417621, 7e-3);
    near(years.p50, 25.1125107, 7e-3);
    near(years.p90, 35.2996627, 7e-3);
}

#[test]
fn an_oscilloscope_file_has_the_rms_and_lines_of_numpy_fft() {
    let mut text = String::from("Model,bench\nTime,CH2\n(us),(mV)\n");
    for i in 0..26_300_u32 {
        let t = f64::from(i) * 4e-6;
        let slow = ((2.0 * PI * 50.0 * t + 0.2).cos().powi(2) - 0.75).max(0.0) * 16.0;
        let fast = if (12_500.0 * t + 0.27).fract() < 0.3 { 1.2 } else { 0.0 };
        text.push_str(&format!("{},{:.9}\n", i * 4, (0.35 + slow + fast) * 100.0));
    }
    let record = oscilloscope::from_bytes(text.as_bytes(), Path::new("scope.csv")).unwrap();
    assert_eq!((record.channels[0].unit.as_str(), record.notes.len()), ("mV", 0));
    // a probe of 100 mV/A
    let found = record.analyse(0, 0.01, None).unwrap();
    // numpy 2.4.6: ten periods
    near(found.mean_a, 1.581_982_468, 1e-6);
    near(found.ripple.rms_a, 1.519_901_955_96, 1e-6);
    for (hz, a) in [(100.0, 1.105_921_437_6), (200.0, 0.779_696_646_634), (12_500.0, 0.438_775_539_483)] {
        let line = found.ripple.lines.iter().find(|line| (line.hz - hz).abs() < found.resolution_hz / 2.0).unwrap();
        near(line.a, a, 5e-3);
    }
}
