//! How far the life may spread when its inputs are not known exactly: seeded sampling.
//!
//! Ambient is off by a normal error in K; ripple and endurance by lognormal factors of median 1. The same seed gives the same figures on every
//! machine of one kind (the generator is exact; the logarithm and the cosine may differ in the last digit between systems).

use std::f64::consts::PI;

use super::range::{non_negative, positive};
use crate::domain::words;

/// How uncertain the inputs are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncertainty {
    /// Standard deviation of the ambient in K.
    pub ambient_k: f64,
    /// Relative standard deviation of the ripple (0.2 = 20 %).
    pub ripple: f64,
    /// Relative standard deviation of the endurance L0.
    pub endurance: f64,
}

words! {
    /// The inputs that can be uncertain.
    pub enum Input {
        /// Ambient beside the can.
        Ambient,
        /// Ripple current.
        Ripple,
        /// Endurance of the part.
        Endurance,
    }
}

/// Percentiles: with P10 one in ten lasts less.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Percentiles {
    /// One in ten lasts less.
    pub p10: f64,
    /// Half last less.
    pub p50: f64,
    /// One in ten lasts longer.
    pub p90: f64,
}

/// Result of sampling.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// Percentiles of the life, in the unit the life function returns.
    pub percentiles: Percentiles,
    /// All samples in rising order, for a histogram or a curve.
    pub sorted: Vec<f64>,
    /// How many samples each position limited, in the order of the positions. Equal lives count for the first of them, so let the
    /// life function leave out the caps where this matters.
    pub limited_by: Vec<u32>,
}

/// Share of the variance of ln(life) that one input causes alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Importance {
    /// The input.
    pub input: Input,
    /// Its share, all shares together 1.
    pub share: f64,
}

/// Samples the least life of `positions` positions `samples` times.
///
/// `life(position, ambient_shift_k, ripple_factor, endurance_factor)` returns the life in any unit. All positions of a board see the same
/// ambient error in one sample (one cabinet, one summer), each its own ripple and endurance. One position is the case of a single part.
/// `None` if an uncertainty is negative or no number, if there is nothing to sample, or if any life is unknown or not above zero: what is unknown
/// has no spread.
///
/// ```
/// use refarad::physics::spread::{Uncertainty, sample};
/// // Closed form: with nothing uncertain every sample is the life itself.
/// let certain = Uncertainty { ambient_k: 0.0, ripple: 0.0, endurance: 0.0 };
/// let spread = sample(certain, 1, 10, 1, |_, _, _, endurance| Some(5000.0 * endurance)).unwrap();
/// assert_eq!(spread.percentiles.p50, 5000.0);
/// ```
pub fn sample(
    uncertainty: Uncertainty,
    positions: usize,
    samples: u32,
    seed: u64,
    life: impl Fn(usize, f64, f64, f64) -> Option<f64>,
) -> Option<Spread> {
    let ambient_k = non_negative(uncertainty.ambient_k)?;
    let ripple_sigma = log_sigma(uncertainty.ripple)?;
    let endurance_sigma = log_sigma(uncertainty.endurance)?;
    let mut random = Random::new(seed);
    let mut limited_by = vec![0; positions];
    let mut sorted = Vec::with_capacity(samples as usize);
    for _ in 0..samples {
        let shift_k = ambient_k * random.normal();
        let mut least: Option<(usize, f64)> = None;
        for position in 0..positions {
            let ripple = (ripple_sigma * random.normal()).exp();
            let endurance = (endurance_sigma * random.normal()).exp();
            let lasts = positive(life(position, shift_k, ripple, endurance)?)?;
            if least.is_none_or(|(_, so_far)| lasts < so_far) {
                least = Some((position, lasts));
            }
        }
        let (position, lasts) = least?;
        *limited_by.get_mut(position)? += 1;
        sorted.push(lasts);
    }
    sorted.sort_by(f64::total_cmp);
    Some(Spread { percentiles: percentiles(&sorted)?, sorted, limited_by })
}

/// Which input matters most: each is varied alone with the same seed, and the variances of ln(life) are compared; largest first.
///
/// Interactions and the caps of the life (which flatten whatever lies behind them) belong to no input alone, so the shares are a ranking, not
/// an account. `None` as for [`sample`], and where no input moves the life at all.
///
/// ```
/// use refarad::physics::spread::{Input, Uncertainty, importance};
/// // By hand: where only the endurance is uncertain, all of the spread is its.
/// let only = Uncertainty { ambient_k: 0.0, ripple: 0.0, endurance: 0.2 };
/// let ranked = importance(only, 1, 100, 1, |_, _, _, endurance| Some(endurance)).unwrap();
/// assert_eq!((ranked[0].input, ranked[0].share), (Input::Endurance, 1.0));
/// ```
pub fn importance(
    uncertainty: Uncertainty,
    positions: usize,
    samples: u32,
    seed: u64,
    life: impl Fn(usize, f64, f64, f64) -> Option<f64>,
) -> Option<[Importance; 3]> {
    const CERTAIN: Uncertainty = Uncertainty { ambient_k: 0.0, ripple: 0.0, endurance: 0.0 };
    let alone = [
        (Input::Ambient, Uncertainty { ambient_k: uncertainty.ambient_k, ..CERTAIN }),
        (Input::Ripple, Uncertainty { ripple: uncertainty.ripple, ..CERTAIN }),
        (Input::Endurance, Uncertainty { endurance: uncertainty.endurance, ..CERTAIN }),
    ];
    let mut ranked = [Importance { input: Input::Ambient, share: 0.0 }; 3];
    for (slot, (input, only)) in ranked.iter_mut().zip(alone) {
        let share = log_variance(&sample(only, positions, samples, seed, &life)?.sorted);
        *slot = Importance { input, share };
    }
    let total = positive(ranked.iter().map(|each| each.share).sum())?;
    for each in &mut ranked {
        each.share /= total;
    }
    ranked.sort_by(|left, right| right.share.total_cmp(&left.share));
    Some(ranked)
}

/// P10, P50, P90 of rising `sorted`, linear between samples at `(n-1) p` (as numpy's default); `None` if it is empty.
///
/// ```
/// // By hand: of 0, 1 ... 10 the tenth percentile is 1, the median 5.
/// let sorted: Vec<f64> = (0..=10).map(f64::from).collect();
/// let found = refarad::physics::spread::percentiles(&sorted).unwrap();
/// assert_eq!((found.p10, found.p50, found.p90), (1.0, 5.0, 9.0));
/// ```
pub fn percentiles(sorted: &[f64]) -> Option<Percentiles> {
    Some(Percentiles { p10: percentile(sorted, 0.1)?, p50: percentile(sorted, 0.5)?, p90: percentile(sorted, 0.9)? })
}

fn percentile(sorted: &[f64], share: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let place = last as f64 * share;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 <= place <= last")]
    let below = place.floor() as usize;
    let (low, high) = (sorted.get(below)?, sorted.get((below + 1).min(last))?);
    Some(low + (high - low) * (place - place.floor()))
}

/// Sigma of the logarithm of a lognormal factor whose relative standard deviation is `relative`.
fn log_sigma(relative: f64) -> Option<f64> {
    let relative = non_negative(relative)?;
    Some((relative * relative).ln_1p().sqrt())
}

fn log_variance(samples: &[f64]) -> f64 {
    // seen from the first sample, so that equal samples have a variance of exactly 0
    let origin = samples.first().map_or(0.0, |first| first.ln());
    let (count, sum, squares) = samples
        .iter()
        .map(|x| x.ln() - origin)
        .fold((0.0, 0.0, 0.0), |(count, sum, squares), x| (count + 1.0, sum + x, squares + x * x));
    (squares / count - (sum / count).powi(2)).max(0.0)
}

/// `SplitMix64` (Steele, Lea, Flood, OOPSLA 2014) with Box and Muller's normal transform: small, seeded, good far beyond the few million
/// draws made here.
struct Random {
    state: u64,
    spare: Option<f64>,
}

impl Random {
    const fn new(seed: u64) -> Self {
        Self { state: seed, spare: None }
    }

    const fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Uniform in (0, 1], in steps of 2^-53, so that its logarithm is finite.
    fn uniform(&mut self) -> f64 {
        let whole = ((self.bits() >> 11) + 1) as f64;
        whole / 9_007_199_254_740_992.0
    }

    fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        let (sine, cosine) = (2.0 * PI * self.uniform()).sin_cos();
        self.spare = Some(radius * sine);
        radius * cosine
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_generator_gives_the_published_sequence() {
        // SplitMix64 with seed 1234567, as listed in public test vectors of the algorithm (from memory)
        let mut random = Random::new(1_234_567);
        assert_eq!(random.bits(), 6_457_827_717_110_365_317);
        assert_eq!(random.bits(), 3_203_168_211_198_807_973);
        assert_eq!(random.bits(), 9_817_491_932_198_370_423);
    }
}
