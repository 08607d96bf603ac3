//! Link capacitor of a three-phase voltage-source inverter.

use std::f64::consts::PI;

use crate::physics::range::{finite, non_negative, positive};
use crate::physics::spectrum::{Line, Ripple};

/// Carrier harmonics listed.
const CARRIERS: u32 = 8;

/// Points over one sixth of the output period, where the link current repeats.
const POINTS: u32 = 600;

/// Link capacitor of a three-phase inverter: `Iph sqrt(2M (sqrt3/(4 pi) + cos^2(phi) (sqrt3/pi - 9M/16)))` in A rms
/// (Kolar and Round, IEE Proceedings Electric Power Applications 2006; the abstract was read, the formula is from memory).
///
/// `phase_a` is the rms of a sinusoidal phase current, `modulation` the peak of the phase voltage's fundamental over half the link
/// voltage (0 to 2/sqrt3, the limit of linear modulation), `power_factor` `cos(phi)` between -1 and 1, `switching_hz` the carrier.
/// The rms does not depend on how the zero sequence is chosen; its distribution over the carrier's multiples does, and is
/// computed here for the space-vector pattern (symmetric carrier, half the outer phases' sum as zero sequence), quasi-statically: each line
/// stands for a group of sidebands (derived; its sum is checked against the formula). The rectifier's own ripple is not in here.
///
/// ```
/// // Kolar and Round; the same switched out step by step by us: 5.8111 A.
/// let ripple = refarad::physics::circuits::inverter::three_phase_link(10.0, 0.8, 0.85, 1e4).unwrap();
/// assert!((ripple.rms_a - 5.811).abs() < 1e-3);
/// ```
pub fn three_phase_link(phase_a: f64, modulation: f64, power_factor: f64, switching_hz: f64) -> Option<Ripple> {
    let phase_a = non_negative(phase_a)?;
    let switching_hz = positive(switching_hz)?;
    // a hair above 2/sqrt3 is rounding, not overmodulation
    let modulation = positive(modulation).filter(|&m| m <= 2.0 / 3_f64.sqrt() + 1e-12)?;
    if !(-1.0..=1.0).contains(&power_factor) {
        return None;
    }
    let root3 = 3_f64.sqrt();
    let square =
        2.0 * modulation * (root3 / (4.0 * PI) + power_factor * power_factor * (root3 / PI - 9.0 * modulation / 16.0));
    let rms_a = phase_a * finite(square.sqrt())?;
    let lines = (1..=CARRIERS)
        .map(|k| Line {
            hz: f64::from(k) * switching_hz,
            a: phase_a * carrier_harmonic(modulation, power_factor.acos(), f64::from(k)),
        })
        .filter(|line| line.a > 1e-9 * rms_a)
        .collect();
    Ripple::completed(lines, f64::from(CARRIERS + 1) * switching_hz, rms_a)
}

/// Rms of carrier harmonic `k` of the link current for 1 A rms of phase current: with a symmetric carrier the three upper switches
/// conduct around a common centre, so their pulses' harmonics add in phase.
fn carrier_harmonic(modulation: f64, phi_rad: f64, k: f64) -> f64 {
    let mean_square: f64 = (0..POINTS)
        .map(|i| {
            let angle = (f64::from(i) + 0.5) * PI / 3.0 / f64::from(POINTS);
            let thirds = [0.0, 2.0 * PI / 3.0, 4.0 * PI / 3.0];
            let volts = thirds.map(|shift| modulation * (angle - shift).cos());
            let outer = volts.iter().copied().fold(f64::MIN, f64::max) + volts.iter().copied().fold(f64::MAX, f64::min);
            let amplitude: f64 = thirds
                .iter()
                .zip(volts)
                .map(|(shift, volt)| {
                    let current = 2_f64.sqrt() * (angle - shift - phi_rad).cos();
                    let duty = 0.5 * (1.0 + volt - outer / 2.0);
                    current * (PI * k * duty).sin() / (PI * k)
                })
                .sum();
            2.0 * amplitude * amplitude
        })
        .sum();
    (mean_square / f64::from(POINTS)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::spectrum::rms_a;

    #[test]
    fn carrier_harmonics_of_all_orders_add_up_to_the_formula() {
        for (modulation, power_factor) in [(0.8_f64, 0.85_f64), (0.3, 1.0), (1.1, 0.5), (0.6, 0.0), (0.9, -0.8)] {
            let sum: f64 =
                (1..=300).map(|k| carrier_harmonic(modulation, power_factor.acos(), f64::from(k)).powi(2)).sum();
            let formula = three_phase_link(1.0, modulation, power_factor, 1e4).unwrap().rms_a.powi(2);
            assert!((sum / formula - 1.0).abs() < 1e-2, "M {modulation} pf {power_factor}: {sum} {formula}");
        }
    }

    #[test]
    fn most_of_the_ripple_lies_at_twice_the_carrier_and_the_lines_carry_the_rms() {
        let ripple = three_phase_link(10.0, 0.8, 0.85, 8e3).unwrap();
        assert!((rms_a(&ripple.lines) / ripple.rms_a - 1.0).abs() < 1e-12);
        let strongest = ripple.lines.iter().max_by(|x, y| x.a.total_cmp(&y.a)).unwrap();
        assert!((strongest.hz - 16e3).abs() < 1e-6, "{ripple:?}");
    }

    #[test]
    fn overmodulation_and_impossible_power_factors_have_no_answer() {
        assert_eq!(three_phase_link(1.0, 1.2, 0.9, 1e4), None);
        assert_eq!(three_phase_link(1.0, 0.8, 1.1, 1e4), None);
        assert_eq!(three_phase_link(1.0, 0.8, f64::NAN, 1e4), None);
    }
}
