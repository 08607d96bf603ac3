//! The laws of life at their edges.

use refarad::domain::Technology;
use refarad::physics::life::{Conditions, Life, linear_damage};

const RATED: Conditions = Conditions {
    endurance_h: 5000.0,
    temp_max_c: 105.0,
    rated_rise_k: 5.0,
    rise_assumed: false,
    tested_with_ripple: true,
    ambient_c: 105.0,
    rise_share: 1.0,
    voltage_factor: 1.0,
};

#[test]
fn every_law_gives_the_endurance_at_the_test_conditions() {
    for rise_assumed in [false, true] {
        let life = Conditions { rise_assumed, ..RATED }.life(Technology::Wet);
        for hours in [life.nominal_h, life.low_h, life.high_h] {
            assert!((hours - 5000.0).abs() < 1e-6, "{hours}");
        }
    }
    assert_eq!(RATED.life(Technology::Polymer).nominal_h, 5000.0);
}

#[test]
fn ambients_below_40_c_count_as_40_c() {
    let at = |ambient_c| Conditions { ambient_c, ..RATED }.life(Technology::Wet);
    assert_eq!(at(-20.0), at(40.0));
    assert!(at(41.0).nominal_h < at(40.0).nominal_h);
}

#[test]
fn ripple_above_the_rating_costs_twice_as_much_in_hot_rated_parts_without_a_step() {
    let at = |rise_share, temp_max_c| {
        Conditions { rise_share, temp_max_c, ambient_c: temp_max_c, ..RATED }.life(Technology::Wet).nominal_h
    };
    // 10 K above the rated 5 K.
    assert!((at(3.0, 105.0) - 5000.0 / 4.0).abs() < 1e-9);
    assert!((at(3.0, 85.0) - 5000.0 / 2.0).abs() < 1e-9);
    assert!((at(1.0 + 1e-9, 105.0) - at(1.0, 105.0)).abs() < 1e-4);
}

#[test]
fn a_default_rise_widens_the_band_to_both_published_rises_and_leaves_the_law_as_it_is() {
    let half = Conditions { rise_share: 0.25, ambient_c: 60.0, ..RATED };
    let (own, usual) = (half.life(Technology::Wet), Conditions { rise_assumed: true, ..half }.life(Technology::Wet));
    assert_eq!(own.nominal_h, usual.nominal_h);
    assert!(usual.low_h < own.low_h && usual.high_h >= own.high_h, "{own:?} {usual:?}");
}

#[test]
fn a_phase_without_time_does_no_damage_and_bad_shares_give_nothing() {
    let life = |hours| Life { nominal_h: hours, low_h: hours, high_h: hours };
    let mixed = linear_damage([(2.0, life(1000.0)), (0.0, life(0.0))]).unwrap();
    assert!((mixed.nominal_h - 1000.0).abs() < 1e-9);
    assert_eq!(linear_damage([(0.0, life(1.0))]), None);
    assert_eq!(linear_damage([(-1.0, life(1.0)), (3.0, life(1.0))]), None);
    assert_eq!(linear_damage([]), None);
}

#[test]
fn the_band_stays_finite_at_the_pole_of_the_sliding_law() {
    // 1.99 times the rated ripple of a 10 K part is 39.6 K: revision 1 gave 1e-117 of the life there.
    let hot = Conditions { rated_rise_k: 10.0, rise_share: 1.99 * 1.99, ..RATED };
    let life = hot.life(Technology::Wet);
    assert!(life.low_h > 0.01 * life.nominal_h, "{life:?}");
}
