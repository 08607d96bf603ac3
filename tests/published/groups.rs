//! Parallel and series groups against our own ngspice-39 runs.

use std::f64::consts::{PI, SQRT_2};

use refarad::physics::groups::{
    Branch, balancing_resistor_ohm, even_share_v, parallel_split, parallel_split_a, worst_share_v,
};
use refarad::physics::spectrum::{Line, rms_a};

use crate::printed::{near, reads};

const ESR_OHM: [f64; 2] = [0.025, 0.080];
const CAPACITANCE_F: [f64; 2] = [1000e-6, 470e-6];

#[test]
fn parallel_cans_share_by_admittance() {
    // ngspice-39, run 06: 1000 uF/25 mohm beside 470 uF/80 mohm, 3 A rms
    let pair = [0, 1].map(|can| Branch { capacitance_f: CAPACITANCE_F[can], esr_ohm: ESR_OHM[can] });
    for (hz, a, b) in [
        (100.0, "2.040932", "0.959089"),
        (1e3, "2.051845", "0.950040"),
        (1e4, "2.242778", "0.765121"),
        (1e5, "2.285194", "0.714929"),
    ] {
        let split = parallel_split_a(3.0, hz, &pair).unwrap();
        reads(split[0], a);
        reads(split[1], b);
    }
}

#[test]
fn a_square_current_splits_harmonic_by_harmonic() {
    // ngspice-39, run 07: same pair, +/-5 A square at 50 kHz: 3.80554 / 1.19362 A; recorded harmonic sum 3.80650 / 1.19392 A
    let lines: Vec<Line> = (0..4000)
        .map(|n| 2.0 * f64::from(n) + 1.0)
        .map(|k| Line { hz: k * 50e3, a: 5.0 * 4.0 / (PI * k * SQRT_2) })
        .collect();
    let cans = parallel_split(&lines, &CAPACITANCE_F, |can, _| Some(ESR_OHM[can])).unwrap();
    near(rms_a(&cans[0]), 3.80650, 1e-4);
    near(rms_a(&cans[1]), 1.19392, 1e-4);
    near(rms_a(&cans[0]), 3.80554, 5e-4);
    near(rms_a(&cans[1]), 1.19362, 5e-4);
}

#[test]
fn series_cans_settle_where_the_simulation_says() {
    // ngspice-39, run 12: two in series on 800 V, 1 mA more leakage in one, 100 kohm each: 450 V, exactly the rating
    reads(worst_share_v(800.0, 2, 100e3, 1e-3).unwrap(), "450");
    reads(balancing_resistor_ohm(800.0, 2, 450.0, 1e-3).unwrap(), "100000");
    reads(refarad::physics::energy::bleeder_w(450.0, 100e3).unwrap(), "2.025"); // arithmetic
    // run 12b: three on 1000 V, 0.5 mA: 400.0 V with 200 kohm, 466.67 V with 400 kohm
    reads(worst_share_v(1000.0, 3, 200e3, 0.5e-3).unwrap(), "400.0");
    reads(worst_share_v(1000.0, 3, 400e3, 0.5e-3).unwrap(), "466.67");
    reads(balancing_resistor_ohm(1000.0, 3, 400.0, 0.5e-3).unwrap(), "200000");
    reads(even_share_v(1000.0, 3).unwrap(), "333.33");
}
