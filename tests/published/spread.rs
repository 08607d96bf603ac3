//! Sampled life against the closed form and against scipy (`scripts/spread_scipy.py`).

use refarad::physics::spread::{Uncertainty, percentiles, sample};

use crate::printed::near;

const LIFE_H: f64 = 64_000.0;
const SAMPLES: u32 = 100_000;

fn no_ripple(_: usize, shift_k: f64, _: f64, endurance: f64) -> Option<f64> {
    Some(LIFE_H * endurance * 2_f64.powf(-shift_k / 10.0))
}

#[test]
fn sampling_the_ambient_alone_gives_scipys_lognormal() {
    // scipy 1.17.1: stats.lognorm(s=3 ln2/10, scale=64000).ppf
    let uncertainty = Uncertainty { ambient_k: 3.0, ripple: 0.0, endurance: 0.0 };
    let sampled = sample(uncertainty, 1, SAMPLES, 20_260, no_ripple).unwrap().percentiles;
    near(sampled.p10, 49028.0178, 5e-3);
    near(sampled.p50, 64_000.0, 5e-3);
    near(sampled.p90, 83544.0669, 5e-3);
}

#[test]
fn sampling_ambient_and_endurance_gives_scipys_lognormal() {
    // scipy 1.17.1: sigma of ln = hypot(3 ln2/10, sqrt(ln(1 + 0.15^2)))
    let uncertainty = Uncertainty { ambient_k: 3.0, ripple: 0.0, endurance: 0.15 };
    let sampled = sample(uncertainty, 1, SAMPLES, 1, no_ripple).unwrap().percentiles;
    near(sampled.p10, 46_104.824, 7e-3);
    near(sampled.p50, 64_000.0, 7e-3);
    near(sampled.p90, 88841.0289, 7e-3);
}

#[test]
fn sampling_all_three_gives_scipys_quadrature() {
    // scipy 1.17.1: distribution function by quadrature over the ripple, inverted
    let uncertainty = Uncertainty { ambient_k: 3.0, ripple: 0.2, endurance: 0.15 };
    let sampled = sample(uncertainty, 1, SAMPLES, 2, |_, shift_k, ripple, endurance| {
        let rise_k = 5.0 * (0.7 * ripple).powi(2);
        Some(LIFE_H * endurance * 2_f64.powf((5.0 - rise_k - shift_k) / 10.0))
    })
    .unwrap()
    .percentiles;
    near(sampled.p10, 53485.4687, 7e-3);
    near(sampled.p50, 75414.4485, 7e-3);
    near(sampled.p90, 105_923.543, 7e-3);
}

#[test]
fn percentiles_are_numpys() {
    // numpy 2.4.6: percentile([1, 2, 4, 8, 16, 32, 64], [10, 50, 90]) = 1.6, 8, 44.8
    let found = percentiles(&[1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0]).unwrap();
    near(found.p10, 1.6, 1e-12);
    near(found.p50, 8.0, 1e-12);
    near(found.p90, 44.8, 1e-12);
}
