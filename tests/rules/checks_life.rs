//! Of `sizing/checks/life.rs`: life with the load profile against the target.

use refarad::domain::{Assumed, Can, Check, EnduranceBasis, Job, LifeBasis, Outcome, RippleLine, Technology};

use super::testing::{evaluated, evaluated_in, outcome, phase};
use Outcome::{Fail, Marginal, Pass, Unknown};

fn at_test_conditions(job: &mut Job) {
    let position = &mut job.boards[0].positions[0];
    position.stress.ripple = Some(vec![RippleLine { hz: Some(1e5), a: Some(1.0), ..RippleLine::default() }]);
    position.stress.phases = Some(vec![phase(1.0, 105.0, 1.0)]);
}

fn life_h(change_job: impl FnOnce(&mut Job), change_can: impl FnOnce(&mut Can)) -> f64 {
    evaluated_in(change_job, change_can).figures.life_h.unwrap()
}

#[test]
fn the_margin_over_the_target_passes_and_the_target_itself_is_marginal() {
    let with_target = |target_h| {
        let change = |job: &mut Job| {
            at_test_conditions(job);
            job.boards[0].positions[0].needs.life_h = Some(target_h);
        };
        evaluated_in(change, |_| ()).outcome(Check::Life)
    };
    assert_eq!([4000.0, 4000.1, 5000.0, 5000.1].map(with_target), [Pass, Marginal, Marginal, Fail]);
}

#[test]
fn without_an_own_target_it_is_the_interval_of_the_job() {
    let with_interval = |years: Option<f64>, hours: Option<f64>| {
        let change = |job: &mut Job| {
            at_test_conditions(job);
            job.boards[0].positions[0].needs.life_h = None;
            (job.interval_years, job.hours_per_year) = (years, hours);
        };
        evaluated_in(change, |_| ()).outcome(Check::Life)
    };
    assert_eq!(with_interval(Some(2.0), Some(2000.0)), Pass);
    assert_eq!(with_interval(Some(2.0), Some(2500.0)), Marginal);
    assert_eq!(with_interval(Some(2.1), Some(2500.0)), Fail);
    assert_eq!([with_interval(None, Some(1.0)), with_interval(Some(1.0), None)], [Unknown, Unknown]);
}

#[test]
fn an_endurance_without_ripple_is_believed_less() {
    let voltage_basis = |can: &mut Can| can.endurance_basis = Some(EnduranceBasis::Voltage);
    assert!((life_h(at_test_conditions, voltage_basis) - 5000.0 * 0.5f64.sqrt()).abs() < 1e-6);
    let unknown_basis = evaluated_in(at_test_conditions, |can| can.endurance_basis = None);
    assert!((unknown_basis.figures.life_h.unwrap() - 5000.0 * 0.5f64.sqrt()).abs() < 1e-6);
    assert!(unknown_basis.assumed.contains(Assumed::ENDURANCE_BASIS));
}

#[test]
fn life_is_capped_at_15_years_and_calendar_years_by_policy() {
    let figures = evaluated(|_| (), |_| ()).figures;
    assert!(figures.life_uncapped_h.unwrap() > 200_000.0);
    assert_eq!((figures.life_h, figures.life_high_h), (Some(131_400.0), Some(131_400.0)));
    assert_eq!(figures.calendar_years, Some(15.0), "131400 h at 3000 h a year would be 43.8 years");
    let all_day = evaluated_in(|job| job.hours_per_year = Some(8760.0), |_| ()).figures;
    assert_eq!(all_day.calendar_years, Some(15.0));
    let short = evaluated_in(|job| job.policy.calendar_cap_years = 10.0, |_| ()).figures;
    assert_eq!(short.calendar_years, Some(10.0));
}

#[test]
fn without_hours_per_year_there_are_no_calendar_years_but_a_life() {
    let figures = evaluated_in(|job| job.hours_per_year = None, |_| ()).figures;
    assert!(figures.life_h.is_some() && figures.calendar_years.is_none());
}

#[test]
fn phases_combine_by_linear_damage_with_shares_brought_to_one() {
    let two = |job: &mut Job| {
        at_test_conditions(job);
        let phases = vec![phase(3.0, 105.0, 1.0), phase(1.0, 95.0, 1.0)];
        job.boards[0].positions[0].stress.phases = Some(phases);
    };
    assert!((life_h(two, |_| ()) - 1.0 / (0.75 / 5000.0 + 0.25 / 10_000.0)).abs() < 1e-6);
}

#[test]
fn the_cap_comes_after_the_phases_are_combined() {
    let two = |job: &mut Job| {
        at_test_conditions(job);
        let phases = vec![phase(1.0, 40.0, 1.0), phase(1.0, 65.0, 1.0)];
        job.boards[0].positions[0].stress.phases = Some(phases);
    };
    // 452 548 h and 80 000 h; capping the first before would give 99 451 h.
    assert_eq!(life_h(two, |_| ()), 131_400.0);
}

#[test]
fn working_below_the_rating_counts_only_by_policy_and_only_for_high_voltage_wet_parts() {
    let gain = |counted, rated_v: f64, technology| {
        let change = |job: &mut Job| {
            at_test_conditions(job);
            job.policy.count_voltage_derating = counted;
            job.boards[0].positions[0].stress.dc_v = Some(0.8 * rated_v);
        };
        let life_h = life_h(change, |can| {
            can.rated_v = Some(rated_v);
            can.technology = Some(technology);
        });
        life_h / 5000.0
    };
    assert!((gain(true, 160.0, Technology::Wet) - 0.8f64.powf(-2.5)).abs() < 1e-9);
    assert_eq!(gain(false, 160.0, Technology::Wet), 1.0);
    assert_eq!(gain(true, 159.9, Technology::Wet), 1.0);
    assert_eq!(gain(true, 160.0, Technology::Hybrid), 1.0);
    assert_eq!(gain(true, 160.0, Technology::NonPolar), 1.0);
    let unmeasured = |job: &mut Job| {
        job.policy.count_voltage_derating = true;
        job.boards[0].positions[0].stress.dc_v = None;
    };
    // Without a measured voltage nothing is gained by it.
    let uncounted = evaluated_in(unmeasured, |can| can.rated_v = Some(200.0)).figures.life_uncapped_h;
    assert_eq!(uncounted, evaluated(|_| (), |_| ()).figures.life_uncapped_h);
}

#[test]
fn the_band_contains_the_law_and_polymer_has_none() {
    let warm = |job: &mut Job| job.boards[0].positions[0].stress.phases = Some(vec![phase(1.0, 80.0, 1.5)]);
    let wet = evaluated_in(warm, |_| ()).figures;
    let (low, nominal, high) = (wet.life_low_h.unwrap(), wet.life_h.unwrap(), wet.life_high_h.unwrap());
    assert!(low < nominal && nominal <= high, "{low} {nominal} {high}");
    let hot = |job: &mut Job| job.boards[0].positions[0].stress.phases = Some(vec![phase(1.0, 100.0, 1.0)]);
    let polymer = evaluated_in(hot, |can| can.technology = Some(Technology::Polymer)).figures;
    assert!(polymer.life_h.unwrap() < 131_400.0);
    assert_eq!((polymer.life_low_h, polymer.life_high_h), (polymer.life_h, polymer.life_h));
}

#[test]
fn a_useful_life_is_at_best_marginal_where_the_circuit_does_not_stand_the_wear() {
    use LifeBasis::{Endurance, Useful};
    let at =
        |basis, end_of_life| outcome(Check::Life, |p| p.needs.end_of_life = end_of_life, |can| can.life_basis = basis);
    assert_eq!([at(Some(Useful), None), at(Some(Useful), Some(Endurance))], [Marginal, Marginal]);
    assert_eq!([at(Some(Useful), Some(Useful)), at(Some(Endurance), None), at(None, None)], [Pass; 3]);
}

#[test]
fn a_missing_figure_leaves_it_unknown() {
    let removals: [fn(&mut Can); 4] =
        [|c| c.endurance_h = None, |c| c.temp_max_c = None, |c| c.ripple_a = None, |c| c.ripple_hz = None];
    for remove in removals {
        assert_eq!(outcome(Check::Life, |_| (), remove), Unknown);
    }
    let unrated = |p: &mut refarad::domain::Position| (p.stress.ripple, p.original.can.ripple_a) = (None, None);
    assert_eq!(outcome(Check::Life, unrated, |_| ()), Unknown);
    let negative_share = vec![phase(-1.0, 100.0, 1.0), phase(2.0, 40.0, 1.0)];
    assert_eq!(outcome(Check::Life, |p| p.stress.phases = Some(negative_share), |_| ()), Unknown);
}
