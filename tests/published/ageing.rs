//! Measured ageing against the limits the program works with.
//!
//! NASA Ames Prognostics Center of Excellence, Capacitor Electrical Stress-2 data set: six 2200 µF 10 V parts (Celaya,
//! Kulkarni, Biswas, Goebel, AIAA 2011-1519). Percent changes from each unit's own first reading. C5 looks smoothed.

use refarad::domain::{Can, Check, Outcome, Role};
use refarad::physics::esr::from_tan_delta_mohm;

use super::assert_printed;
use super::support::{can, evaluate, job, position};

/// The units of the set.
pub(crate) const UNITS: [&str; 6] = ["C1", "C2", "C3", "C4", "C5", "C6"];

/// One reading of a unit.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Reading {
    pub(crate) hours: f64,
    /// Capacitance lost since the first reading, percent.
    pub(crate) loss_pct: f64,
    /// ESR gained since the first reading, percent.
    pub(crate) rise_pct: f64,
}

/// The readings of a unit, the first one at 0 h.
pub(crate) fn readings(unit: &str) -> Vec<Reading> {
    let of_unit = include_str!("data/ageing_measured_2200uf_10v.csv").lines().filter_map(|line| {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |at: usize| cells[at].parse().unwrap();
        (cells[0] == unit).then(|| Reading { hours: number(1), loss_pct: number(2), rise_pct: number(3) })
    });
    let readings: Vec<Reading> = of_unit.collect();
    assert_eq!(readings.len(), 11, "{unit}");
    readings
}

/// Outcome of the capacitance check for a reservoir that has lost this much of its 2200 µF.
fn with_loss(loss_pct: f64) -> Outcome {
    let mut position = position();
    position.role = Some(Role::Reservoir);
    position.original.can.capacitance_uf = Some(2200.0);
    let aged = Can { capacitance_uf: Some(2200.0 * (1.0 - loss_pct / 100.0)), ..can() };
    evaluate(&job(vec![position]), &aged).outcome(Check::Capacitance)
}

/// Loss at a time, linear between readings.
fn loss_at_pct(readings: &[Reading], hours: f64) -> f64 {
    let next = readings.iter().position(|reading| reading.hours >= hours).unwrap().max(1);
    let (from, to) = (readings[next - 1], readings[next]);
    from.loss_pct + (to.loss_pct - from.loss_pct) * (hours - from.hours) / (to.hours - from.hours)
}

/// Hours until the program no longer takes the unit as a reservoir; `None` when it still does at the last reading.
fn worn_out_h(readings: &[Reading]) -> Option<f64> {
    let (mut good_h, mut bad_h) = (0.0, readings.last()?.hours);
    if with_loss(loss_at_pct(readings, bad_h)) != Outcome::Fail {
        return None;
    }
    for _ in 0..40 {
        let middle_h = (good_h + bad_h) / 2.0;
        match with_loss(loss_at_pct(readings, middle_h)) {
            Outcome::Fail => bad_h = middle_h,
            _ => good_h = middle_h,
        }
    }
    Some(good_h)
}

/// 20 % loss of capacitance (MIL-PRF-62F as quoted by the documents of the data set) by linear interpolation.
#[test]
fn the_measured_units_stop_being_reservoirs_when_they_have_lost_a_fifth() {
    let interpolated_h = [None, Some(175.04), Some(181.93), Some(170.92), Some(186.86), Some(184.25)];
    for (unit, expected_h) in UNITS.into_iter().zip(interpolated_h) {
        let ours_h = worn_out_h(&readings(unit));
        assert_eq!(ours_h.is_some(), expected_h.is_some(), "{unit}");
        if let (Some(ours_h), Some(expected_h)) = (ours_h, expected_h) {
            assert_printed(ours_h, expected_h, 2);
        }
    }
}

/// A part that loses capacitance at an unchanged dissipation factor gains ESR as the capacitance falls. The measured
/// ESR rises much more than that, so an old part's ESR must be measured, not derived from its capacitance.
#[test]
fn measured_esr_rises_several_times_more_than_the_loss_of_capacitance_explains() {
    let explained_pct = |loss_pct: f64| {
        let new_mohm = from_tan_delta_mohm(0.19, 2200.0);
        100.0 * (from_tan_delta_mohm(0.19, 2200.0 * (1.0 - loss_pct / 100.0)) / new_mohm - 1.0)
    };
    for unit in UNITS {
        for Reading { hours, loss_pct, rise_pct } in readings(unit).into_iter().skip(1) {
            let ratio = rise_pct / explained_pct(loss_pct);
            println!("{unit} at {hours} h: ESR rise measured over explained {ratio:.2}");
            assert!(ratio > 1.8, "{unit} at {hours} h: {ratio}");
        }
    }
}
