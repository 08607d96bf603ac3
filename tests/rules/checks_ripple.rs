//! Of `sizing/checks/ripple.rs`: ripple current against what is allowed at the ambient, and the core rise it
//! makes.

use refarad::domain::{Assumed, Can, Catalog, Check, Outcome, Position, RippleLine, Technology};

use refarad::sizing::PositionContext;

use super::testing::{HERE, IN_STOCK, can, evaluated, job, outcome, phase, position};
use Outcome::{Fail, Marginal, Pass, Unknown};

fn lines(lines: &[(f64, f64)]) -> Option<Vec<RippleLine>> {
    let line = |&(hz, a): &(f64, f64)| RippleLine { hz: Some(hz), a: Some(a), ..RippleLine::default() };
    Some(lines.iter().map(line).collect())
}

/// One line at the rating frequency at one ambient; the part is rated 1 A with factors 1, 1.7, 2.1 at 105, 85, 65 °C.
fn at(a: f64, ambient_c: f64) -> Outcome {
    let stress = |p: &mut Position| {
        p.stress.ripple = lines(&[(1e5, a)]);
        p.stress.phases = Some(vec![phase(1.0, ambient_c, 1.0)]);
    };
    outcome(Check::Ripple, stress, |_| ())
}

#[test]
fn the_policy_share_of_the_allowed_current_passes_and_the_allowed_current_is_marginal() {
    assert_eq!([at(0.8, 105.0), at(0.801, 105.0), at(1.0, 105.0), at(1.001, 105.0)], [Pass, Marginal, Marginal, Fail]);
}

#[test]
fn above_the_rated_current_it_is_at_best_marginal_however_cool_the_air() {
    assert_eq!([at(1.0, 65.0), at(1.001, 65.0), at(2.1, 65.0), at(2.11, 65.0)], [Pass, Marginal, Marginal, Fail]);
}

#[test]
fn above_the_upper_category_temperature_nothing_is_allowed_even_without_ripple() {
    assert_eq!([at(0.0, 105.0), at(0.0, 105.1)], [Pass, Fail]);
    let hot = |p: &mut Position| {
        p.stress.ripple = Some(Vec::new());
        p.stress.phases = Some(vec![phase(1.0, 106.0, 1.0)]);
    };
    let evaluation = evaluated(hot, |_| ());
    assert_eq!(evaluation.figures.ripple_usage, Some(f64::INFINITY));
    assert_eq!(evaluation.figures.headroom, Some(f64::NEG_INFINITY));
}

#[test]
fn a_current_that_is_small_is_allowed_like_a_large_one() {
    let small = |p: &mut Position| {
        p.stress.ripple = lines(&[(1e5, 0.04)]);
        p.stress.phases = Some(vec![phase(1.0, 105.0, 1.0)]);
    };
    assert_eq!(outcome(Check::Ripple, small, |can| can.ripple_a = Some(0.05)), Pass);
}

#[test]
fn of_two_phases_the_one_used_more_counts_and_of_two_used_alike_the_one_with_more_current() {
    let worst = |first: (f64, f64), second: (f64, f64)| {
        let phases = [first, second].map(|(ambient_c, ripple_scale)| phase(0.5, ambient_c, ripple_scale));
        let figures = evaluated(|p| p.stress.phases = Some(phases.to_vec()), |_| ()).figures;
        (figures.ripple_usage.unwrap(), figures.ripple_eq_a.unwrap(), figures.ripple_ambient_c.unwrap())
    };
    let (hot, cool) = ((105.0, 1.0), (65.0, 2.1));
    assert_eq!([worst(hot, cool), worst(cool, hot)], [(0.5, 1.05, 65.0); 2]);
    assert_eq!(worst(hot, (65.0, 2.0)), (0.5, 0.5, 105.0), "more current, yet further from what is allowed");
    // Below the coolest factor of the part nothing more is allowed.
    assert_eq!(worst((40.0, 1.0), (30.0, 1.0)).2, 40.0, "of two quite alike the first is named");
}

#[test]
fn each_margin_is_a_share_of_its_limit_and_the_least_is_the_headroom() {
    let job = job(position());
    let context = PositionContext::new(&job, &Catalog::default(), HERE).unwrap();
    let evaluation = context.evaluate(&can(), IN_STOCK);
    let life = 1.0 - job.policy.life_margin * 30_000.0 / evaluation.figures.life_h.unwrap();
    // 12.5 of 25 V, 0.5 of 1 A at 50 °C, 60 of 80 mΩ.
    let voltage = 1.0 - 0.5 / job.policy.voltage_use_max_wet_lv;
    let ripple = 1.0 - evaluation.figures.ripple_usage.unwrap() / job.policy.ripple_use_max;
    let expected = [(Check::Voltage, voltage), (Check::Ripple, ripple), (Check::Life, life), (Check::Esr, 0.25)];
    let found: Vec<(Check, f64)> = context.margins(&can(), &evaluation).collect();
    assert_eq!(found.len(), expected.len());
    for (found, expected) in found.iter().zip(expected) {
        assert!(found.0 == expected.0 && (found.1 - expected.1).abs() < 1e-12, "{found:?} {expected:?}");
    }
    assert_eq!(evaluation.figures.headroom, found.iter().map(|margin| margin.1).reduce(f64::min));
}

#[test]
fn lines_add_as_squares_over_their_multipliers() {
    let figures = evaluated(|p| p.stress.ripple = lines(&[(120.0, 0.21), (1e5, 0.4)]), |_| ()).figures;
    assert!((figures.ripple_eq_a.unwrap() - 0.5).abs() < 1e-12, "0.21 A over 0.7 and 0.4 A over 1");
    assert!((figures.core_rise_k.unwrap() - 5.0 * 0.25).abs() < 1e-12);
}

#[test]
fn the_figures_are_those_of_the_phase_with_the_largest_usage() {
    let phases = vec![phase(0.9, 40.0, 1.0), phase(0.1, 85.0, 0.9)];
    let figures = evaluated(|p| p.stress.phases = Some(phases), |_| ()).figures;
    assert!((figures.ripple_eq_a.unwrap() - 0.45).abs() < 1e-12);
    assert_eq!(figures.ripple_allowed_a, Some(1.7));
    assert!((figures.ripple_usage.unwrap() - 0.45 / 1.7).abs() < 1e-12);
}

#[test]
fn a_ripple_scale_below_zero_counts_by_its_size() {
    let scaled = |scale| evaluated(|p| p.stress.phases = Some(vec![phase(1.0, 60.0, scale)]), |_| ());
    assert_eq!(scaled(-3.0), scaled(3.0));
    assert_eq!(scaled(-5.0).outcome(Check::Ripple), Fail);
}

#[test]
fn an_empty_spectrum_is_no_ripple_and_an_absent_one_is_the_originals_rating() {
    assert_eq!(outcome(Check::Ripple, |p| p.stress.ripple = Some(Vec::new()), |_| ()), Pass);
    let rated = |p: &mut Position| (p.stress.ripple, p.original.can.ripple_a) = (None, Some(1.2));
    let found = evaluated(rated, |_| ());
    // 1.2 A on a part rated 1 A at 50 °C, where 2.1 A are allowed: nobody measured that it is above the rating.
    assert_eq!((found.outcome(Check::Ripple), found.figures.ripple_eq_a), (Pass, Some(1.2)));
    assert!(found.assumed.contains(Assumed::RIPPLE) && found.passes_on_assumed_stress());
    assert_eq!(outcome(Check::Ripple, |p| p.stress.ripple = lines(&[(1e5, 1.2)]), |_| ()), Marginal);
    let unrated = |p: &mut Position| (p.stress.ripple, p.original.can.ripple_hz) = (None, None);
    assert_eq!(outcome(Check::Ripple, unrated, |_| ()), Unknown);
}

#[test]
fn a_phase_without_ambient_leaves_it_unknown_unless_a_known_one_fails() {
    let at = |ambient_c| {
        let open = refarad::domain::Phase { ambient_c: None, ..phase(0.5, 0.0, 1.0) };
        let phases = vec![phase(0.5, ambient_c, 1.0), open];
        let found = evaluated(|p| p.stress.phases = Some(phases), |_| ());
        (found.outcome(Check::Ripple), found.outcome(Check::Life), found.figures.ripple_usage)
    };
    assert_eq!([at(50.0), at(110.0)], [(Unknown, Unknown, None), (Fail, Unknown, None)]);
}

#[test]
fn a_missing_figure_leaves_it_unknown_and_without_figures() {
    let removals: [fn(&mut Can); 3] = [|c| c.ripple_a = None, |c| c.ripple_hz = None, |c| c.temp_max_c = None];
    for remove in removals {
        let evaluation = evaluated(|_| (), remove);
        assert_eq!(evaluation.outcome(Check::Ripple), Unknown);
        assert_eq!(evaluation.figures.ripple_usage, None);
        assert_eq!(evaluation.figures.core_rise_k, None);
    }
    assert_eq!(outcome(Check::Ripple, |p| p.stress.phases = None, |_| ()), Unknown);
    assert_eq!(outcome(Check::Ripple, |p| p.stress.phases = Some(Vec::new()), |_| ()), Unknown);
    let half_a_line = vec![RippleLine { hz: Some(1e5), ..RippleLine::default() }];
    assert_eq!(outcome(Check::Ripple, |p| p.stress.ripple = Some(half_a_line), |_| ()), Unknown);
}

#[test]
fn default_tables_are_marked() {
    let bare = |can: &mut Can| {
        (can.f120, can.f1k, can.f10k, can.f100k) = (None, None, None, None);
        can.core_rise_k = None;
        can.ripple_temp_factors = None;
    };
    let assumed = evaluated(|p| p.stress.ripple = lines(&[(120.0, 0.2)]), bare).assumed;
    for mark in [Assumed::FREQUENCY_MULTIPLIERS, Assumed::CORE_RISE, Assumed::RIPPLE_TEMP_FACTORS] {
        assert!(assumed.contains(mark));
    }
}

#[test]
fn the_default_rise_follows_technology_and_category_temperature() {
    let rise_k = |technology, temp_max_c| {
        let change = |can: &mut Can| {
            can.core_rise_k = None;
            can.technology = Some(technology);
            can.temp_max_c = Some(temp_max_c);
        };
        evaluated(|p| p.stress.ripple = lines(&[(1e5, 1.0)]), change).figures.core_rise_k.unwrap()
    };
    assert_eq!([99.9, 100.0, 119.9, 120.0].map(|t| rise_k(Technology::Wet, t)), [10.0, 5.0, 5.0, 3.0]);
    assert_eq!(rise_k(Technology::Hybrid, 125.0), 3.0);
    assert_eq!([85.0, 125.0].map(|t| rise_k(Technology::Polymer, t)), [20.0, 20.0]);
}

#[test]
fn moving_air_lowers_the_rise_but_not_the_usage() {
    let blown = evaluated(|p| p.stress.airflow_lfm = Some(200.0), |_| ()).figures;
    let still = evaluated(|_| (), |_| ()).figures;
    assert!((blown.core_rise_k.unwrap() - still.core_rise_k.unwrap() / 2.25).abs() < 1e-12);
    assert_eq!(blown.ripple_usage, still.ripple_usage);
}
