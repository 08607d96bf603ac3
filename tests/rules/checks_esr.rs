//! Of `sizing/checks/esr.rs`: equivalent series resistance against its limits.

use refarad::domain::{Assumed, Can, Catalog, Check, Outcome, Position, Technology};
use refarad::sizing::PositionContext;

use super::testing::{HERE, can, evaluated, job, outcome, position};
use Outcome::{Fail, Marginal, Pass, Unknown};

fn at(esr_mohm: f64) -> Outcome {
    outcome(Check::Esr, |_| (), |can| can.esr_mohm = Some(esr_mohm))
}

#[test]
fn up_to_ten_percent_above_the_limit_is_marginal() {
    assert_eq!([80.0, 80.1, 88.0, 88.1].map(at), [Pass, Marginal, Marginal, Fail]);
}

#[test]
fn a_loop_that_needs_resistance_counts_on_half_of_a_sheets_maximum() {
    let at = |esr| outcome(Check::Esr, |p| p.needs.esr_min_mohm = Some(30.0), |can| can.esr_mohm = Some(esr));
    assert_eq!([60.0, 59.9, 30.0, 29.9].map(at), [Pass, Marginal, Marginal, Fail]);
    let no_limit = |p: &mut Position| {
        (p.needs.esr_min_mohm, p.needs.esr_max_mohm, p.original.can) = (Some(61.0), None, Can::default());
    };
    assert_eq!(outcome(Check::Esr, no_limit, |_| ()), Fail, "found also where the upper limit is unknown");
}

#[test]
fn without_a_limit_it_is_the_originals_esr_at_the_same_frequency_and_marked_where_derived() {
    let no_limit = |p: &mut Position| p.needs.esr_max_mohm = None;
    let same = evaluated(no_limit, |_| ());
    assert_eq!(same.outcome(Check::Esr), Pass);
    assert!(!same.assumed.contains(Assumed::ESR_LIMIT), "given at this very frequency");
    let elsewhere = |p: &mut Position| {
        no_limit(p);
        p.needs.esr_hz = Some(120.0);
    };
    assert!(evaluated(elsewhere, |_| ()).assumed.contains(Assumed::ESR_LIMIT));
    assert_eq!(outcome(Check::Esr, no_limit, |can| can.esr_mohm = Some(66.1)), Fail);
    let nothing_known = |p: &mut Position| {
        no_limit(p);
        p.original.can = Can::default();
    };
    let unknown = evaluated(nothing_known, |_| ());
    assert_eq!(unknown.outcome(Check::Esr), Unknown);
    assert!(!unknown.assumed.contains(Assumed::ESR_LIMIT));
}

#[test]
fn the_frequency_of_the_limits_is_100_khz_unless_given() {
    let at_frequency = |hz| evaluated(|p| p.needs.esr_hz = hz, |_| ()).figures.esr_mohm.unwrap();
    assert_eq!(at_frequency(None), 60.0);
    // Multiplier 0.7 at 120 Hz against 1 at 100 kHz.
    assert!((at_frequency(Some(120.0)) - 60.0 / 0.49).abs() < 1e-9);
}

/// ESR in the cold at 120 Hz, where the part has 60 mohm, three times that at -40 °C; the outcome against a limit there.
fn in_the_cold(ambient_min_c: f64, max_mohm: f64, change: impl FnOnce(&mut Can)) -> (Option<f64>, Outcome) {
    let stress = |p: &mut Position| {
        p.stress.ambient_min_c = Some(ambient_min_c);
        (p.needs.esr_hz, p.needs.esr_cold_max_mohm) = (Some(120.0), Some(max_mohm));
    };
    let part = |can: &mut Can| {
        can.esr_hz = Some(120.0);
        change(can);
    };
    let evaluation = evaluated(stress, part);
    (evaluation.figures.esr_cold_mohm, evaluation.outcome(Check::Esr))
}

#[test]
fn the_cold_ratio_is_taken_to_the_coldest_ambient() {
    let at = |ambient_c, max| in_the_cold(ambient_c, max, |_| ());
    assert_eq!([at(-40.0, 180.0), at(-40.0, 170.0)], [(Some(180.0), Pass), (Some(180.0), Marginal)]);
    assert_eq!(at(-40.0, 163.0).1, Fail);
    // Half way on the line of the logarithm.
    assert!((at(-10.0, 500.0).0.unwrap() - 60.0 * 3f64.sqrt()).abs() < 1e-9);
    assert_eq!([at(-45.0, 500.0).1, at(-45.1, 500.0).1], [Pass, Marginal], "more than 5 K below its temperature");
    assert!((at(-55.0, 500.0).0.unwrap() - 360.0).abs() < 1e-9, "doubles in 15 K");
    assert_eq!([at(-56.0, 500.0), at(-56.0, 54.0)], [(None, Unknown), (None, Fail)]);
    assert_eq!(at(25.0, 60.0), (Some(60.0), Pass));
}

#[test]
fn from_160_v_on_a_ratio_for_another_temperature_is_no_pass_in_the_cold() {
    let at = |rated_v, ambient_c| in_the_cold(ambient_c, 1e6, |can| can.rated_v = Some(rated_v)).1;
    assert_eq!([at(159.9, -30.0), at(160.0, -30.0), at(160.0, -40.0)], [Pass, Marginal, Pass]);
    // From 20 °C on it is not cold, whatever is not known of the cold.
    let warm = |ambient_c| in_the_cold(ambient_c, 60.0, |can| can.z_ratio = None);
    assert_eq!([warm(20.0), warm(19.9)], [(Some(60.0), Pass), (None, Unknown)]);
}

#[test]
fn without_a_ratio_only_polymer_and_hybrid_are_known_in_the_cold() {
    let at = |technology, max| in_the_cold(-40.0, max, |can| (can.z_ratio, can.technology) = (None, Some(technology)));
    assert_eq!(at(Technology::Polymer, 75.0), (Some(75.0), Pass));
    assert_eq!(at(Technology::Hybrid, 90.0), (Some(90.0), Pass));
    let ratio_at_20 = in_the_cold(-40.0, 75.0, |can| {
        (can.z_cold_c, can.technology) = (Some(20.0), Some(Technology::Polymer));
    });
    assert_eq!(ratio_at_20, (Some(75.0), Pass), "a ratio at 20 °C tells nothing of the cold");
    assert_eq!([at(Technology::Wet, 500.0), at(Technology::Wet, 54.0)], [(None, Unknown), (None, Fail)]);
}

#[test]
fn above_one_kilohertz_a_wet_part_is_never_sure_in_the_cold() {
    let stress = |p: &mut Position| {
        p.stress.ambient_min_c = Some(-40.0);
        p.needs.esr_cold_max_mohm = Some(480.0);
    };
    let found = evaluated(stress, |_| ());
    // 8 times at -40 °C, whatever the ratio at 120 Hz.
    assert_eq!((found.figures.esr_cold_mohm, found.outcome(Check::Esr)), (Some(480.0), Marginal));
}

#[test]
fn a_part_from_the_ladder_passes_or_is_unknown() {
    let ladder = |can: &mut Can| (can.esr_mohm, can.tan_delta) = (None, None);
    let at = |max| {
        let needs = |p: &mut Position| (p.needs.esr_hz, p.needs.esr_max_mohm) = (Some(120.0), Some(max));
        outcome(Check::Esr, needs, ladder)
    };
    // 0.16 / (2 pi 120 Hz 470 uF) = 451.5 mohm
    assert_eq!([at(452.0), at(451.0), at(1.0)], [Pass, Unknown, Unknown]);
}

#[test]
fn against_a_limit_from_the_ladder_a_part_like_the_original_passes() {
    let original = |p: &mut Position| {
        (p.needs.esr_hz, p.needs.esr_max_mohm) = (Some(120.0), None);
        (p.original.can.esr_mohm, p.original.can.tan_delta) = (None, None);
    };
    let ladder = |can: &mut Can| (can.esr_mohm, can.tan_delta) = (None, None);
    assert_eq!(outcome(Check::Esr, original, ladder), Pass);
    let at = |tan_delta| outcome(Check::Esr, original, |can| (can.esr_mohm, can.tan_delta) = (None, Some(tan_delta)));
    // The lower ladder has 0.14, the higher 0.16 at 25 V: 0.176 are 1.1 times that.
    assert_eq!([0.14, 0.141, 0.176, 0.177].map(at), [Pass, Marginal, Marginal, Fail]);
}

#[test]
fn without_any_resistance_figure_it_falls_back_on_the_loss_factor_and_says_so() {
    let at = |change: fn(&mut Can)| evaluated(|p| p.needs.esr_hz = Some(120.0), change);
    let own = at(|can| can.esr_mohm = None);
    assert!((own.figures.esr_mohm.unwrap() - 395.07).abs() < 0.01, "0.14 / (2 pi 120 Hz 470 uF)");
    assert!(!own.assumed.contains(Assumed::TAN_DELTA));
    let usual = at(|can| (can.esr_mohm, can.tan_delta) = (None, None));
    assert!((usual.figures.esr_mohm.unwrap() - 451.50).abs() < 0.01, "0.16 at 25 V");
    assert!(usual.assumed.contains(Assumed::TAN_DELTA));
    let without_frequency = at(|can| can.esr_hz = None);
    assert_eq!(without_frequency.figures.esr_mohm, own.figures.esr_mohm);
}

#[test]
fn nothing_to_go_by_is_unknown() {
    let bare = |can: &mut Can| (can.esr_mohm, can.tan_delta, can.capacitance_uf) = (None, None, None);
    assert_eq!(outcome(Check::Esr, |_| (), bare), Unknown);
    let needs_min = |p: &mut Position| p.needs.esr_min_mohm = Some(1.0);
    assert_eq!(outcome(Check::Esr, needs_min, bare), Unknown);
}

#[test]
fn a_lower_limit_the_ladder_misses_is_unknown() {
    let at = |min| {
        let needs = |p: &mut Position| (p.needs.esr_hz, p.needs.esr_min_mohm) = (Some(120.0), Some(min));
        let ladder = |can: &mut Can| (can.esr_mohm, can.tan_delta) = (None, None);
        let with_room = |p: &mut Position| {
            needs(p);
            p.needs.esr_max_mohm = Some(1e6);
        };
        outcome(Check::Esr, with_room, ladder)
    };
    // 451.5 mohm by the ladder, of which half is counted on.
    assert_eq!([225.0, 226.0, 451.0, 452.0].map(at), [Pass, Marginal, Marginal, Unknown]);
}

#[test]
fn nothing_is_assumed_of_the_cold_from_20_degrees_on_where_it_is_given_and_where_it_is_unknown() {
    let mut job = job(position());
    let mut assumed = |ambient_c, can: &Can| {
        job.boards[0].positions[0].stress.ambient_min_c = Some(ambient_c);
        PositionContext::new(&job, &Catalog::default(), HERE).unwrap().cold_esr_is_assumed(can)
    };
    let bare = |technology| Can { z_ratio: None, z_cold_c: None, technology: Some(technology), ..can() };
    assert_eq!([19.9, 20.0].map(|ambient_c| assumed(ambient_c, &bare(Technology::Polymer))), [true, false]);
    // The part has its ratio at -40 °C.
    assert_eq!([-30.0, -40.0].map(|ambient_c| assumed(ambient_c, &can())), [true, false]);
    assert!(!assumed(-40.0, &bare(Technology::Wet)));
}
