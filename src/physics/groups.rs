//! Cans in parallel and in series.

use std::f64::consts::PI;

use super::range::{finite, non_negative, positive};
use super::spectrum::Line;

/// One can of a parallel group at one frequency.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Branch {
    /// Capacitance in F.
    pub capacitance_f: f64,
    /// ESR in ohm at the frequency looked at.
    pub esr_ohm: f64,
}

/// Admittance `1/(ESR + 1/(j w C))` in S, real and imaginary part (published circuit theory).
fn admittance_s(branch: &Branch, rad_s: f64) -> Option<(f64, f64)> {
    let reactance_ohm = 1.0 / (rad_s * positive(branch.capacitance_f)?);
    let esr_ohm = non_negative(branch.esr_ohm)?;
    let square = esr_ohm * esr_ohm + reactance_ohm * reactance_ohm;
    positive(square).map(|square| (esr_ohm / square, reactance_ohm / square))
}

/// Current of each can in A rms when `total_a` (A rms, >= 0) of frequency `hz` flows into the group.
///
/// The shares follow the admittances; since these differ in angle, the results may add up to more than `total_a` (their phasors do not).
/// Inductance of cans and tracks is left out: above some 100 kHz the nearer can takes more than this says. `None` for an empty
/// group or a figure out of range.
///
/// ```
/// use refarad::physics::groups::{Branch, parallel_split_a};
/// // Our ngspice netlist 06: 1000 µF 25 mohm beside 470 µF 80 mohm, 3 A at 100 kHz: 2.285194 and 0.714929 A.
/// let pair = [Branch { capacitance_f: 1e-3, esr_ohm: 0.025 }, Branch { capacitance_f: 470e-6, esr_ohm: 0.080 }];
/// let split = parallel_split_a(3.0, 1e5, &pair).unwrap();
/// assert!((split[0] - 2.285194).abs() < 1e-5 && (split[1] - 0.714929).abs() < 1e-5);
/// ```
pub fn parallel_split_a(total_a: f64, hz: f64, group: &[Branch]) -> Option<Vec<f64>> {
    let total_a = non_negative(total_a)?;
    let rad_s = 2.0 * PI * positive(hz)?;
    let each = group.iter().map(|branch| admittance_s(branch, rad_s)).collect::<Option<Vec<_>>>()?;
    let (re, im) = each.iter().fold((0.0, 0.0), |(re, im), y| (re + y.0, im + y.1));
    let all = positive(f64::hypot(re, im))?;
    Some(each.iter().map(|y| total_a * f64::hypot(y.0, y.1) / all).collect())
}

/// The spectrum of each can when `total` flows into a group with these capacitances in F.
///
/// `esr_ohm(can, hz)` is the ESR of can number `can` at that frequency; where it is unknown, so is the split, and the answer is `None`.
///
/// ```
/// use refarad::physics::{groups::parallel_split, spectrum::Line};
/// // By hand: two equal cans carry half each.
/// let cans = parallel_split(&[Line { hz: 100.0, a: 3.0 }], &[1e-3, 1e-3], |_, _| Some(0.1)).unwrap();
/// assert!((cans[0][0].a - 1.5).abs() < 1e-12);
/// ```
pub fn parallel_split(
    total: &[Line],
    capacitances_f: &[f64],
    esr_ohm: impl Fn(usize, f64) -> Option<f64>,
) -> Option<Vec<Vec<Line>>> {
    let mut cans = vec![Vec::with_capacity(total.len()); capacitances_f.len()];
    for line in total {
        let group = capacitances_f
            .iter()
            .enumerate()
            .map(|(can, &capacitance_f)| Some(Branch { capacitance_f, esr_ohm: esr_ohm(can, line.hz)? }))
            .collect::<Option<Vec<_>>>()?;
        for (can, a) in cans.iter_mut().zip(parallel_split_a(line.a, line.hz, &group)?) {
            can.push(Line { hz: line.hz, a });
        }
    }
    (!cans.is_empty()).then_some(cans)
}

/// Voltage of each can in V when `string_v` is shared evenly by `count` cans: `U/N`.
///
/// ```
/// // By hand.
/// assert_eq!(refarad::physics::groups::even_share_v(800.0, 2), Some(400.0));
/// ```
pub fn even_share_v(string_v: f64, count: u32) -> Option<f64> {
    Some(non_negative(string_v)? / positive(f64::from(count))?)
}

/// Voltage in V of the can with the least leakage in a string of `count` equal cans, each bridged by `balancing_ohm`, when every
/// other leaks `leakage_spread_a` more: `(U + (N-1) R dI)/N` (derived; ngspice-checked).
///
/// `None` for fewer than two cans. The result is the voltage after hours; at switch-on capacitances share it, as `1/C`.
///
/// ```
/// // Our ngspice netlist 12: 800 V, two cans, 100 kohm, 1 mA apart: 450 V.
/// assert_eq!(refarad::physics::groups::worst_share_v(800.0, 2, 1e5, 1e-3), Some(450.0));
/// ```
pub fn worst_share_v(string_v: f64, count: u32, balancing_ohm: f64, leakage_spread_a: f64) -> Option<f64> {
    let count = string_count(count)?;
    let spread_v = (count - 1.0) * positive(balancing_ohm)? * non_negative(leakage_spread_a)?;
    Some((finite(string_v)? + spread_v) / count)
}

/// Voltage in V at switch-on of a can at the low end of its tolerance in a string of `count` cans, the others at the high end,
/// when capacitances share `string_v`: `U / (1 + (N-1)(1-t)/(1+t))` (derived; charge is the same in every can).
///
/// `tolerance` is a share, 0.2 for 20 %. From 1 on the can takes all. `None` for fewer than two cans.
///
/// ```
/// // By hand: two cans of 20 % on 800 V, the smaller takes 800 / (1 + 0.8/1.2) = 480 V.
/// let worst = refarad::physics::groups::switch_on_worst_v(800.0, 2, 0.2).unwrap();
/// assert!((worst - 480.0).abs() < 1e-9);
/// ```
pub fn switch_on_worst_v(string_v: f64, count: u32, tolerance: f64) -> Option<f64> {
    let tolerance = non_negative(tolerance)?;
    let others = (string_count(count)? - 1.0) * (1.0 - tolerance).max(0.0) / (1.0 + tolerance);
    Some(string_v / (1.0 + others))
}

/// Largest balancing resistor in ohm across each of `count` cans that keeps the least leaky one at `rated_v`:
/// `R <= (N U_R - U)/((N-1) dI)` (derived; ngspice-checked; the common `(N U_R - U)/dI` is wrong from three cans on).
///
/// `None` for fewer than two cans, for a string already above its rating, and without leakage spread, where any resistor does.
///
/// ```
/// // Our ngspice netlist 12: 100 kohm put one can exactly at 450 V.
/// let ohm = refarad::physics::groups::balancing_resistor_ohm(800.0, 2, 450.0, 1e-3).unwrap();
/// assert!((ohm - 1e5).abs() < 1e-6);
/// ```
pub fn balancing_resistor_ohm(string_v: f64, count: u32, rated_v: f64, leakage_spread_a: f64) -> Option<f64> {
    let count = string_count(count)?;
    let spare_v = positive(count * positive(rated_v)? - non_negative(string_v)?)?;
    Some(spare_v / ((count - 1.0) * positive(leakage_spread_a)?))
}

fn string_count(count: u32) -> Option<f64> {
    (count >= 2).then(|| f64::from(count))
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAIR: [Branch; 2] =
        [Branch { capacitance_f: 1000e-6, esr_ohm: 0.025 }, Branch { capacitance_f: 470e-6, esr_ohm: 0.080 }];

    #[test]
    fn equal_cans_share_evenly_and_one_can_takes_all() {
        let three = [PAIR[0]; 3];
        for share in parallel_split_a(3.0, 1e4, &three).unwrap() {
            assert!((share - 1.0).abs() < 1e-12);
        }
        assert!((parallel_split_a(3.0, 1e4, &PAIR[..1]).unwrap()[0] - 3.0).abs() < 1e-12);
    }

    #[test]
    fn a_spectrum_splits_line_by_line_with_the_esr_of_that_frequency() {
        let lines = [Line { hz: 100.0, a: 3.0 }, Line { hz: 1e5, a: 1.0 }];
        let cans = parallel_split(&lines, &[1000e-6, 470e-6], |can, _| Some(PAIR[can].esr_ohm)).unwrap();
        assert!((cans[0][0].a - parallel_split_a(3.0, 100.0, &PAIR).unwrap()[0]).abs() < 1e-12);
        assert!((cans[1][1].a - parallel_split_a(1.0, 1e5, &PAIR).unwrap()[1]).abs() < 1e-12);
    }

    #[test]
    fn an_unknown_esr_leaves_the_split_unknown() {
        let lines = [Line { hz: 100.0, a: 3.0 }];
        assert_eq!(parallel_split(&lines, &[1e-3, 1e-3], |can, _| (can == 0).then_some(0.1)), None);
        assert_eq!(parallel_split(&lines, &[], |_, _| Some(0.1)), None);
        assert_eq!(parallel_split_a(1.0, 100.0, &[]), None);
    }

    #[test]
    fn the_balancing_resistor_puts_the_worst_can_exactly_at_its_rating() {
        for count in 2..6 {
            let string_v = 350.0 * f64::from(count);
            let ohm = balancing_resistor_ohm(string_v, count, 400.0, 1e-3).unwrap();
            assert!((worst_share_v(string_v, count, ohm, 1e-3).unwrap() - 400.0).abs() < 1e-9);
        }
        assert_eq!(balancing_resistor_ohm(801.0, 2, 400.0, 1e-3), None);
        assert_eq!(balancing_resistor_ohm(300.0, 1, 400.0, 1e-3), None);
        assert_eq!(balancing_resistor_ohm(700.0, 2, 400.0, 0.0), None);
    }
}
