//! The spread of a life under uncertain figures.

use refarad::physics::spread::{Input, Uncertainty, importance, sample};

const TYPICAL: Uncertainty = Uncertainty { ambient_k: 3.0, ripple: 0.2, endurance: 0.15 };

/// 5000 h at 105 C, 60 C ambient, rise 5 K at rated ripple, 70 % of it used.
fn wet(_: usize, shift_k: f64, ripple: f64, endurance: f64) -> Option<f64> {
    let rise_k = 5.0 * (0.7 * ripple).powi(2);
    Some(5000.0 * endurance * 2_f64.powf((45.0 - shift_k + 5.0 - rise_k) / 10.0))
}

#[test]
fn the_same_seed_gives_the_same_spread_and_another_seed_another() {
    let once = sample(TYPICAL, 1, 500, 7, wet).unwrap();
    assert_eq!(once, sample(TYPICAL, 1, 500, 7, wet).unwrap());
    assert_ne!(once.sorted, sample(TYPICAL, 1, 500, 8, wet).unwrap().sorted);
}

#[test]
fn without_uncertainty_every_sample_is_the_nominal_life() {
    let certain = Uncertainty { ambient_k: 0.0, ripple: 0.0, endurance: 0.0 };
    let spread = sample(certain, 1, 10, 1, wet).unwrap();
    let nominal = wet(0, 0.0, 1.0, 1.0).unwrap();
    assert!(spread.sorted.iter().all(|&life| (life - nominal).abs() < 1e-9));
    assert_eq!(importance(certain, 1, 10, 1, wet), None);
}

#[test]
fn a_board_lasts_no_longer_than_its_weakest_and_tells_which_it_was() {
    let board = |position: usize, shift: f64, ripple: f64, endurance: f64| {
        wet(position, shift, ripple, endurance).map(|life| if position == 1 { life / 2.0 } else { life })
    };
    let spread = sample(TYPICAL, 3, 2000, 3, board).unwrap();
    assert_eq!(spread.limited_by.iter().sum::<u32>(), 2000);
    assert!(spread.limited_by[1] > 1900, "{:?}", spread.limited_by);
    let single = sample(TYPICAL, 1, 2000, 3, wet).unwrap();
    assert!(spread.percentiles.p50 < single.percentiles.p50);
}

#[test]
fn a_lognormal_factor_has_the_relative_deviation_asked_for_and_median_one() {
    let uncertainty = Uncertainty { ambient_k: 0.0, ripple: 0.0, endurance: 0.5 };
    let spread = sample(uncertainty, 1, 100_000, 11, |_, _, _, endurance| Some(endurance)).unwrap();
    let mean = spread.sorted.iter().sum::<f64>() / 1e5;
    let deviation = (spread.sorted.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / 1e5).sqrt();
    assert!((deviation / mean - 0.5).abs() < 0.015, "{}", deviation / mean);
    assert!((spread.percentiles.p50 - 1.0).abs() < 0.01);
}

#[test]
fn what_is_unknown_or_out_of_range_has_no_spread() {
    assert_eq!(sample(TYPICAL, 1, 10, 1, |_, _, _, _| None), None);
    assert_eq!(sample(TYPICAL, 1, 10, 1, |_, _, _, _| Some(0.0)), None);
    assert_eq!(sample(TYPICAL, 1, 0, 1, wet), None);
    assert_eq!(sample(TYPICAL, 0, 10, 1, wet), None);
    let negative = Uncertainty { ambient_k: -1.0, ..TYPICAL };
    assert_eq!(sample(negative, 1, 10, 1, wet), None);
}

#[test]
fn the_input_that_moves_the_life_most_comes_first_and_the_shares_make_one() {
    let ranked = importance(TYPICAL, 1, 4000, 5, wet).unwrap();
    assert_eq!(ranked[0].input, Input::Ambient);
    assert!((ranked.iter().map(|each| each.share).sum::<f64>() - 1.0).abs() < 1e-12);
    // variances of ln L: ambient (3 ln2/10)^2 = 0.0432, endurance ln(1.0225) = 0.02225
    let endurance = ranked.iter().find(|each| each.input == Input::Endurance).unwrap();
    let ratio = endurance.share / ranked[0].share;
    assert!((ratio / (0.022_25 / 0.043_24) - 1.0).abs() < 0.05, "{ratio}");
    let hot = Uncertainty { ripple: 1.0, ambient_k: 0.1, endurance: 0.01 };
    assert_eq!(importance(hot, 1, 1000, 5, wet).unwrap()[0].input, Input::Ripple);
}
