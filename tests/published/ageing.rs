//! Measured ageing against the limits the program works with.
//!
//! NASA Ames Prognostics Center of Excellence, Capacitor Electrical Stress-2 data set: six 2200 µF 10 V parts (Celaya,
//! Kulkarni, Biswas, Goebel, AIAA 2011-1519). Percent changes from each unit's own first reading. C5 looks smoothed.

use refarad::domain::{Can, Check, Outcome, Role};
use refarad::physics::esr::from_tan_delta_mohm;

use super::assert_printed;
use super::support::{can, evaluate, job, position};

/// Hours of the readings after the first.
const HOURS: [f64; 10] = [24., 47., 71., 94., 116., 139., 149., 161., 171., 194.];

/// Unit, loss of capacitance and rise of ESR in percent at [`HOURS`].
const UNITS: [(&str, [f64; 10], [f64; 10]); 6] = [
    (
        "C1",
        [0.45, 1.243, 1.595, 2.954, 4.96, 7.234, 9.65, 11.96, 15.854, 17.45],
        [8.967, 16.89, 24.675, 29.86, 35.59, 40.15, 43.96, 51.63, 52.6, 53.54],
    ),
    (
        "C2",
        [0.784, 1.687, 2.34, 3.86, 6.23, 9.435, 11.89, 14.96, 19.642, 21.68],
        [9.267, 17.459, 24.78, 30.5, 32.567, 37.157, 40.895, 47.987, 49.68, 51.04],
    ),
    (
        "C3",
        [0.642, 1.584, 2.203, 3.576, 6.45, 9.32, 11.54, 14.694, 19.054, 21.045],
        [9.019, 17.056, 25.035, 30.298, 33.49, 39.858, 42.295, 49.56, 51.034, 52.389],
    ),
    (
        "C4",
        [0.83, 1.862, 2.48, 3.89, 6.236, 9.03, 11.365, 14.75, 20.04, 22.675],
        [9.809, 16.987, 25.243, 28.98, 32.658, 37.97, 41.856, 49.893, 52.12, 53.298],
    ),
    (
        "C5",
        [0.6082, 1.5643, 2.097, 3.5283, 5.9977, 8.5915, 10.8658, 13.6457, 18.23, 20.7967],
        [9.4325, 17.0688, 24.8562, 30.0693, 33.9075, 38.4197, 42.6283, 49.9325, 51.5723, 52.5262],
    ),
    (
        "C6",
        [0.442, 1.55, 1.99, 3.25, 5.99, 7.54, 9.76, 12.68, 17.23, 22.04],
        [9.89, 17.02, 24.874, 30.78, 34.98, 37.086, 43.894, 49.985, 51.65, 52.03],
    ),
];

/// Outcome of the capacitance check for a reservoir that has lost this much of its 2200 µF.
fn with_loss(loss_pct: f64) -> Outcome {
    let mut position = position();
    position.role = Some(Role::Reservoir);
    position.original.can.capacitance_uf = Some(2200.0);
    let aged = Can { capacitance_uf: Some(2200.0 * (1.0 - loss_pct / 100.0)), ..can() };
    evaluate(&job(vec![position]), &aged).outcome(Check::Capacitance)
}

/// Loss at a time, linear between readings.
fn loss_at_pct(losses_pct: &[f64; 10], hours: f64) -> f64 {
    let next = HOURS.iter().position(|&h| h >= hours).unwrap();
    let (from_h, from_pct) = if next == 0 { (0.0, 0.0) } else { (HOURS[next - 1], losses_pct[next - 1]) };
    from_pct + (losses_pct[next] - from_pct) * (hours - from_h) / (HOURS[next] - from_h)
}

/// Hours until the program no longer takes the unit as a reservoir; `None` when it still does at the last reading.
fn worn_out_h(losses_pct: &[f64; 10]) -> Option<f64> {
    let (mut good_h, mut bad_h) = (0.0, 194.0);
    if with_loss(loss_at_pct(losses_pct, bad_h)) != Outcome::Fail {
        return None;
    }
    for _ in 0..40 {
        let middle_h = (good_h + bad_h) / 2.0;
        match with_loss(loss_at_pct(losses_pct, middle_h)) {
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
    for ((unit, losses_pct, _), expected_h) in UNITS.iter().zip(interpolated_h) {
        let ours_h = worn_out_h(losses_pct);
        assert_eq!(ours_h.is_some(), expected_h.is_some(), "{unit}");
        if let (Some(ours_h), Some(expected_h)) = (ours_h, expected_h) {
            assert_printed(ours_h, expected_h, 2);
        }
    }
}

/// A part that loses capacitance at an unchanged loss factor gains ESR as the capacitance falls. The measured ESR rises much
/// more than that, so an old part's ESR must be measured, not derived from its capacitance.
#[test]
fn measured_esr_rises_several_times_more_than_the_loss_of_capacitance_explains() {
    let explained_pct = |loss_pct: f64| {
        let new_mohm = from_tan_delta_mohm(0.19, 2200.0);
        100.0 * (from_tan_delta_mohm(0.19, 2200.0 * (1.0 - loss_pct / 100.0)) / new_mohm - 1.0)
    };
    for (unit, losses_pct, rises_pct) in UNITS {
        for ((hours, loss_pct), rise_pct) in HOURS.into_iter().zip(losses_pct).zip(rises_pct) {
            let ratio = rise_pct / explained_pct(loss_pct);
            println!("{unit} at {hours} h: ESR rise measured over explained {ratio:.2}");
            assert!(ratio > 1.8, "{unit} at {hours} h: {ratio}");
        }
    }
}
