//! From samples to the power in each bin, and from bins to lines.

use std::f64::consts::PI;

use rustfft::{FftPlanner, num_complex::Complex};

use super::record::count;
use crate::physics::range::positive;
use crate::physics::spectrum::Line;

/// Peaks below this share of the power are no lines of their own: a thousandth of the heat is below what a probe can tell.
const LINE_POWER: f64 = 1e-3;

/// The slowest peak with this share of the power sets the period.
const PERIOD_POWER: f64 = 1e-2;

/// Most lines reported; the weakest beyond are merged into their neighbours.
const MOST_LINES: usize = 40;

/// Square roots of the power in each bin from 0 to half the sampling rate, seen through Hann's window and divided by the window's mean
/// square, so that the squares add up to the mean square of the signal.
pub(super) fn hann_amplitudes(signal: &[f64]) -> Vec<f64> {
    let samples = count(signal.len());
    let mut bins: Vec<Complex<f64>> = signal
        .iter()
        .enumerate()
        .map(|(i, &x)| {
            let window = 0.5 - 0.5 * (2.0 * PI * count(i) / samples).cos();
            Complex::new(x * window, 0.0)
        })
        .collect();
    FftPlanner::new().plan_fft_forward(bins.len()).process(&mut bins);
    let half = bins.len() / 2;
    let even = bins.len().is_multiple_of(2);
    bins.truncate(half + 1);
    // the mean square of Hann's window is 3/8; every bin but the first and the one at half the rate has a mirror image
    let scale = (2.0 / (0.375 * samples * samples)).sqrt();
    let mut amplitudes: Vec<f64> = bins.iter().map(|bin| bin.norm() * scale).collect();
    amplitudes[0] *= 0.5_f64.sqrt();
    if even {
        amplitudes[half] *= 0.5_f64.sqrt();
    }
    amplitudes
}

/// Indices of the local maxima that hold, with their two neighbours, at least `share` of the whole power, by rising frequency. Hann's window
/// puts no local maximum beside a lone line.
fn peaks(power: &[f64], share: f64) -> Vec<usize> {
    let least = share * power.iter().sum::<f64>();
    (1..power.len())
        .filter(|&k| {
            let (before, next) = (power[k - 1], power.get(k + 1).copied().unwrap_or(0.0));
            power[k] > 0.0 && power[k] >= before && power[k] > next && before + power[k] + next >= least
        })
        .collect()
}

/// Frequency of the slowest peak with a share of the power worth following, between the bins by the known shape of Hann's main lobe.
pub(super) fn slowest_hz(amplitudes: &[f64], bin_hz: f64) -> Option<f64> {
    let power: Vec<f64> = amplitudes.iter().map(|a| a * a).collect();
    let peak = *peaks(&power, PERIOD_POWER).first()?;
    let (left, right) = (
        // the bin of the mean has no mirror image, so it counts for less than its shape
        if peak > 1 { amplitudes[peak - 1] } else { 0.0 },
        amplitudes.get(peak + 1).copied().unwrap_or(0.0),
    );
    let (larger, sign) = if right >= left { (right, 1.0) } else { (left, -1.0) };
    let ratio = larger / amplitudes[peak];
    let offset = ((2.0 * ratio - 1.0) / (ratio + 1.0)).clamp(0.0, 0.5);
    positive((count(peak) + sign * offset) * bin_hz)
}

/// Every bin added to the nearest peak, the whole scaled to `rms_a`; and the share that lay within the peaks' own width.
pub(super) fn lines(power: &[f64], bin_hz: f64, rms_a: f64) -> (Vec<Line>, f64) {
    let mut kept = peaks(power, LINE_POWER);
    if kept.is_empty() {
        kept = peaks(power, 0.0);
        kept.sort_by(|&x, &y| power[y].total_cmp(&power[x]));
        kept.truncate(1);
    }
    if kept.len() > MOST_LINES {
        kept.sort_by(|&x, &y| power[y].total_cmp(&power[x]));
        kept.truncate(MOST_LINES);
        kept.sort_unstable();
    }
    // sums per peak: all its power; power near it; that times the bin, for the centre
    let mut sums = vec![(0.0, 0.0, 0.0); kept.len()];
    let mut nearest = 0;
    for (bin, &watt) in power.iter().enumerate() {
        while nearest + 1 < kept.len() && kept[nearest + 1].abs_diff(bin) < kept[nearest].abs_diff(bin) {
            nearest += 1;
        }
        let Some(sum) = sums.get_mut(nearest) else {
            break;
        };
        sum.0 += watt;
        if kept[nearest].abs_diff(bin) <= 2 && bin > 0 {
            sum.1 += watt;
            sum.2 += watt * count(bin);
        }
    }
    let total: f64 = sums.iter().map(|sum| sum.0).sum();
    if total <= 0.0 {
        return (Vec::new(), 1.0);
    }
    let scale = rms_a / total.sqrt();
    let found =
        sums.iter().map(|&(all, near, moment)| Line { hz: moment / near * bin_hz, a: scale * all.sqrt() }).collect();
    (found, sums.iter().map(|sum| sum.1).sum::<f64>() / total)
}
