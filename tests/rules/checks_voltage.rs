//! Of `sizing/checks/voltage.rs`: working, surge and reverse voltage, alone and in a series string.

use refarad::domain::{Assumed, Can, Catalog, Check, Outcome, Position, Technology};
use refarad::sizing::{Evaluation, PositionContext};

use super::testing::{HERE, IN_STOCK, can, evaluated, job_of, outcome, position};
use Outcome::{Fail, Marginal, Pass, Unknown};

fn at(dc_v: f64, rated_v: f64, technology: Technology) -> Outcome {
    let part = |can: &mut Can| {
        can.rated_v = Some(rated_v);
        can.surge_v = None;
        can.technology = Some(technology);
    };
    let stress = |p: &mut Position| {
        p.stress.dc_v = Some(dc_v);
        p.stress.ripple_peak_v = Some(0.0);
        p.stress.transient_v = Some(dc_v);
    };
    outcome(Check::Voltage, stress, part)
}

#[test]
fn the_limit_is_the_policy_share_of_the_rating_and_the_rating_itself_is_marginal() {
    assert_eq!([at(20.0, 25.0, Technology::Wet), at(20.01, 25.0, Technology::Wet)], [Pass, Marginal]);
    assert_eq!([at(25.0, 25.0, Technology::Wet), at(25.01, 25.0, Technology::Wet)], [Marginal, Fail]);
}

#[test]
fn wet_parts_from_160_v_may_be_used_closer_to_their_rating_and_polymer_never() {
    assert_eq!([at(144.0, 160.0, Technology::Wet), at(144.1, 160.0, Technology::Wet)], [Pass, Marginal]);
    assert_eq!(at(135.0, 159.0, Technology::Wet), Marginal);
    assert_eq!(at(144.0, 160.0, Technology::NonPolar), Pass);
    for technology in [Technology::Polymer, Technology::Hybrid] {
        assert_eq!([at(128.0, 160.0, technology), at(128.1, 160.0, technology)], [Pass, Marginal]);
    }
}

#[test]
fn the_peak_is_working_plus_ripple_voltage() {
    let usage = evaluated(|p| p.stress.ripple_peak_v = Some(3.0), |_| ()).figures.voltage_usage;
    assert_eq!(usage, Some(15.0 / 25.0));
}

/// A part of this rating with a transient, working far below it.
fn transient(transient_v: f64, rated_v: f64, own_surge_v: Option<f64>, technology: Technology) -> Outcome {
    let part = |can: &mut Can| {
        (can.rated_v, can.surge_v, can.technology) = (Some(rated_v), own_surge_v, Some(technology));
    };
    outcome(Check::Voltage, |p| p.stress.transient_v = Some(transient_v), part)
}

#[test]
fn a_transient_above_the_surge_voltage_fails() {
    use Technology::{Hybrid, NonPolar, Polymer, Wet};
    let own = |v, technology| transient(v, 25.0, Some(26.0), technology);
    for technology in [Wet, Polymer, Hybrid, NonPolar] {
        assert_eq!([own(26.0, technology), own(26.1, technology)], [Pass, Fail]);
    }
    let usual = |v, technology| transient(v, 25.0, None, technology);
    for technology in [Wet, NonPolar] {
        assert_eq!([usual(28.75, technology), usual(28.76, technology)], [Pass, Fail]);
    }
    for technology in [Polymer, Hybrid] {
        assert_eq!([25.0, 25.1, 28.75, 28.76].map(|v| usual(v, technology)), [Pass, Marginal, Marginal, Fail]);
    }
}

#[test]
fn from_160_to_315_v_only_the_smaller_usual_surge_voltage_is_sure() {
    let at = |times: f64, rated_v: f64| transient(times * rated_v, rated_v, None, Technology::Wet);
    for rated_v in [160.0, 315.0] {
        assert_eq!([1.10, 1.11, 1.15, 1.151].map(|times| at(times, rated_v)), [Pass, Marginal, Marginal, Fail]);
    }
    assert_eq!([at(1.15, 159.0), at(1.10, 316.0), at(1.11, 316.0)], [Pass, Pass, Fail]);
}

#[test]
fn a_default_surge_voltage_is_marked_and_an_own_one_is_not() {
    assert!(evaluated(|_| (), |can| can.surge_v = None).assumed.contains(Assumed::SURGE));
    assert!(!evaluated(|_| (), |_| ()).assumed.contains(Assumed::SURGE));
}

#[test]
fn reverse_voltage_is_marginal_down_to_minus_one_volt() {
    let at = |min_v, technology| {
        outcome(Check::Voltage, |p| p.stress.min_v = Some(min_v), |can| can.technology = Some(technology))
    };
    assert_eq!([0.0, -0.01, -1.0, -1.01].map(|v| at(v, Technology::Wet)), [Pass, Marginal, Marginal, Fail]);
    assert_eq!(at(-1.01, Technology::Polymer), Fail);
    // Where the lowest voltage is not entered it is the operating one less the peak of the ripple.
    let below = |ripple_peak_v| {
        let stress = |p: &mut Position| {
            (p.stress.dc_v, p.stress.min_v, p.stress.ripple_peak_v) = (Some(5.0), None, Some(ripple_peak_v));
        };
        outcome(Check::Voltage, stress, |_| ())
    };
    assert_eq!([5.0, 5.5, 6.5].map(below), [Pass, Marginal, Fail]);
}

#[test]
fn a_non_polar_part_is_used_both_ways_and_reversed_every_cycle_it_is_at_best_marginal() {
    let at = |min_v, ripple: bool| {
        let stress = |p: &mut Position| {
            p.stress.min_v = Some(min_v);
            if !ripple {
                p.stress.ripple = Some(Vec::new());
            }
        };
        outcome(Check::Voltage, stress, |can| can.technology = Some(Technology::NonPolar))
    };
    // 25 V rated: 20 V either way pass, 25 V are marginal.
    assert_eq!([-20.0, -20.1, -25.0, -25.1].map(|v| at(v, false)), [Pass, Marginal, Marginal, Fail]);
    assert_eq!([at(-12.0, true), at(0.0, true), at(-12.0, false)], [Marginal, Pass, Pass]);
    let unknown = |min_v| {
        let stress = |p: &mut Position| {
            (p.stress.ripple_peak_v, p.stress.ripple, p.original.can.ripple_a) = (None, None, None);
            p.stress.min_v = Some(min_v);
        };
        outcome(Check::Voltage, stress, |can| can.technology = Some(Technology::NonPolar))
    };
    assert_eq!([unknown(-12.0), unknown(-60.0)], [Unknown, Fail], "what is known of the peak fails already");
}

#[test]
fn a_non_polar_original_takes_only_non_polar_parts() {
    let at = |original, own| {
        outcome(Check::Voltage, |p| p.original.can.technology = Some(original), |can| can.technology = own)
    };
    assert_eq!(at(Technology::NonPolar, Some(Technology::NonPolar)), Pass);
    assert_eq!(at(Technology::NonPolar, Some(Technology::Wet)), Fail);
    assert_eq!(at(Technology::NonPolar, None), Fail);
    assert_eq!(at(Technology::Wet, Some(Technology::NonPolar)), Pass);
}

#[test]
fn what_nobody_entered_is_taken_and_marked() {
    let at = |change: fn(&mut Position)| {
        let found = evaluated(change, |_| ());
        assert_eq!(found.outcome(Check::Voltage), Pass, "{found:?}");
        assert!(found.passes_on_assumed_stress());
        (found.figures.peak_v.unwrap(), found.assumed.list())
    };
    // The original is rated 25 V and may be used to 80 %.
    assert_eq!(at(|p| p.stress.dc_v = None), (20.0, "dc_v".into()));
    assert_eq!(at(|p| p.stress.transient_v = None), (12.5, "transient_v".into()));
    assert_eq!(at(|p| p.stress.min_v = None), (12.5, "min_v".into()));
    let (peak_v, assumed) = at(|p| p.stress.ripple_peak_v = None);
    // sqrt(2) * 0.5 A at 100 kHz over 60 mohm, the reactance being 3.4 mohm.
    let by_hand = 2f64.sqrt() * 0.5 * 0.060_f64.hypot(1.0 / (std::f64::consts::TAU * 1e5 * 470e-6));
    assert!((peak_v - 12.0 - by_hand).abs() < 1e-12, "{peak_v}");
    assert_eq!(assumed, "ripple_peak_v");
}

#[test]
fn ripple_that_nobody_measured_lifts_the_voltage_by_a_tenth_at_most() {
    let stress = |p: &mut Position| {
        (p.stress.ripple_peak_v, p.stress.ripple) = (None, None);
        (p.original.can.ripple_a, p.original.can.ripple_hz) = (Some(30.0), Some(100.0));
    };
    let found = evaluated(stress, |_| ());
    assert!((found.figures.peak_v.unwrap() - 13.2).abs() < 1e-12);
    assert!(found.assumed.contains(Assumed::RIPPLE.with(Assumed::RIPPLE_PEAK)));
}

#[test]
fn without_a_working_voltage_no_part_rated_lower_than_the_original_passes() {
    let at = |rated_v, technology| {
        outcome(
            Check::Voltage,
            |p| (p.stress.dc_v, p.stress.transient_v) = (None, None),
            |can| (can.rated_v, can.technology) = (Some(rated_v), Some(technology)),
        )
    };
    for technology in [Technology::Wet, Technology::Polymer] {
        assert_eq!([at(25.0, technology), at(24.9, technology)], [Pass, Marginal]);
    }
    assert_eq!(at(19.9, Technology::Wet), Fail);
}

#[test]
fn of_figures_that_contradict_each_other_the_worse_counts() {
    let below_peak = |p: &mut Position| (p.stress.dc_v, p.stress.transient_v) = (Some(29.0), Some(16.0));
    assert_eq!(outcome(Check::Voltage, below_peak, |can| can.rated_v = Some(40.0)), Fail, "surge 28.75 V");
    let above_dc = |p: &mut Position| (p.stress.dc_v, p.stress.min_v) = (Some(-2.0), Some(5.0));
    assert_eq!(outcome(Check::Voltage, above_dc, |_| ()), Fail);
}

#[test]
fn what_no_rule_supplies_leaves_it_unknown_unless_something_known_fails() {
    let unrated = |p: &mut Position| (p.stress.dc_v, p.original.can.rated_v) = (None, None);
    assert_eq!(outcome(Check::Voltage, unrated, |_| ()), Unknown);
    assert_eq!(outcome(Check::Voltage, |_| (), |can| can.rated_v = None), Unknown);
    let no_peak = |p: &mut Position| {
        (p.stress.ripple_peak_v, p.stress.ripple, p.original.can.ripple_a) = (None, None, None);
    };
    assert_eq!(outcome(Check::Voltage, no_peak, |_| ()), Unknown);
    assert_eq!(outcome(Check::Voltage, no_peak, |can| can.rated_v = Some(11.9)), Fail, "12 V are known");
    let reversed = |p: &mut Position| {
        no_peak(p);
        p.stress.min_v = Some(-5.0);
    };
    assert_eq!(outcome(Check::Voltage, reversed, |_| ()), Fail);
}

/// Two cans on a string, each at this voltage, with this balancing resistor.
fn in_a_string(each_v: f64, balance_kohm: Option<f64>, change: impl FnOnce(&mut Can)) -> Evaluation {
    let mut one = position();
    one.series_group = Some("link".into());
    (one.stress.dc_v, one.stress.ripple_peak_v, one.stress.transient_v) = (Some(each_v), Some(0.0), None);
    (one.needs.balance_kohm, one.needs.leakage_max_ua) = (balance_kohm, None);
    let job = job_of(vec![one.clone(), one]);
    let mut part = Can { rated_v: Some(450.0), surge_v: None, leakage_ua: Some(1000.0), ..can() };
    change(&mut part);
    PositionContext::new(&job, &Catalog::default(), HERE).unwrap().evaluate(&part, IN_STOCK)
}

#[test]
fn what_is_assumed_of_another_can_of_the_string_is_said_to_be_its_and_its_lowest_voltage_does_not_count() {
    let mut one = position();
    (one.series_group, one.needs.balance_kohm) = (Some("link".into()), Some(10.0));
    let mut other = one.clone();
    other.stress = refarad::domain::Stress::default();
    let job = job_of(vec![one, other]);
    let place = PositionContext::new(&job, &Catalog::default(), HERE).unwrap();
    let part = Can { rated_v: Some(63.0), ..can() };
    let found = place.evaluate(&part, IN_STOCK);
    assert!(!found.assumed.contains(Assumed::MIN));
    let told = refarad::sizing::assumed::assumed_values(&place, &part, &found);
    assert!(told.contains("dc_v=of another can of the string;transient_v=of another can of the string"), "{told}");
}

#[test]
fn a_short_overvoltage_of_a_non_polar_part_contradicts_its_peak_by_its_size() {
    let wrong = |transient_v| {
        let mut place = position();
        place.original.can.technology = Some(Technology::NonPolar);
        (place.stress.dc_v, place.stress.ripple_peak_v) = (Some(-100.0), Some(1.0));
        (place.stress.min_v, place.stress.transient_v) = (Some(-110.0), Some(transient_v));
        refarad::domain::schema::contradictions(&place).len()
    };
    assert_eq!([wrong(-115.0), wrong(115.0), wrong(-90.0)], [0, 0, 1]);
}

#[test]
fn in_a_string_the_smallest_can_takes_most_at_switch_on() {
    // 800 V on two cans of 20 %: 480 V, the usual surge voltage of 450 V is 495 V, of 400 V 440 V.
    let at = |rated_v| in_a_string(400.0, Some(10.0), |can| can.rated_v = Some(rated_v)).outcome(Check::Voltage);
    assert_eq!([at(450.0), at(400.0)], [Marginal, Fail]);
}

#[test]
fn in_a_string_the_worst_share_takes_the_place_of_the_peak() {
    // (600 V + 100 kohm * 1 mA * 4^(30/65)) / 2, hottest ambient 50 °C
    let found = in_a_string(300.0, Some(100.0), |_| ());
    let by_hand = (600.0 + 100.0 * 4f64.powf(30.0 / 65.0)) / 2.0;
    assert!((found.figures.peak_v.unwrap() - by_hand).abs() < 1e-9);
    assert_eq!(found.outcome(Check::Voltage), Pass);
    assert_eq!(in_a_string(300.0, None, |_| ()).outcome(Check::Voltage), Unknown);
    assert_eq!(in_a_string(460.0, None, |_| ()).outcome(Check::Voltage), Fail);
    let usual = in_a_string(300.0, Some(10.0), |can| (can.leakage_ua, can.tolerance_pct) = (None, None));
    assert_eq!(usual.outcome(Check::Voltage), Marginal, "a usual leakage above 100 V is never sure");
    assert!(usual.assumed.contains(Assumed::LEAKAGE.with(Assumed::TOLERANCE)));
    let no_resistor = in_a_string(300.0, None, |can| can.leakage_ua = None);
    assert!(!no_resistor.assumed.contains(Assumed::LEAKAGE), "without a resistor no leakage is asked");
    // The worst share of 395 V is above the surge voltage, though nothing higher was entered.
    let weak = |surge_v| in_a_string(300.0, Some(100.0), |can| can.surge_v = Some(surge_v)).outcome(Check::Voltage);
    assert_eq!([weak(396.0), weak(394.0)], [Pass, Fail]);
}

#[test]
fn in_a_string_the_usual_leakage_above_100_v_is_another_and_never_sure() {
    // 470 µF: 0.01 C U at 100 V, 0.003 C U above; balanced by 10 kohm, hottest ambient 50 °C.
    let at = |rated_v| {
        let found = in_a_string(60.0, Some(10.0), |can| (can.rated_v, can.leakage_ua) = (Some(rated_v), None));
        (found.figures.peak_v.unwrap(), found.outcome(Check::Voltage))
    };
    for (rated_v, share, outcome) in [(100.0, 0.01, Pass), (110.0, 0.003, Marginal)] {
        let by_hand = (120.0 + 10e3 * share * 470.0 * rated_v * 1e-6 * 4f64.powf(30.0 / 65.0)) / 2.0;
        let (peak_v, found) = at(rated_v);
        assert!((peak_v - by_hand).abs() < 1e-9, "{peak_v} {by_hand}");
        assert_eq!(found, outcome, "{rated_v}");
    }
}

#[test]
fn of_a_string_of_unlike_cans_without_a_resistor_an_even_share_is_known() {
    let mut one = position();
    one.series_group = Some("link".into());
    (one.stress.dc_v, one.stress.ripple_peak_v, one.stress.transient_v) = (Some(10.0), Some(0.0), None);
    let at = |other_v| {
        let mut other = one.clone();
        other.stress.dc_v = Some(other_v);
        let job = job_of(vec![one.clone(), other]);
        let place = PositionContext::new(&job, &Catalog::default(), HERE).unwrap();
        // Stands every short overvoltage.
        place.evaluate(&Can { surge_v: Some(100.0), ..can() }, IN_STOCK).outcome(Check::Voltage)
    };
    assert_eq!([at(40.0), at(40.1)], [Unknown, Fail], "25 V rated, half of 50 V on each");
}
