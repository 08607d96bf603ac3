//! The voltages a part sees at a position: those entered, else what the methods take in their place.

use super::compare::at_least;
use crate::domain::{Assumed, Can, Policy, Position, RippleLine, Stress, Technology};
use crate::physics::esr;
use crate::physics::spectrum::impedance_ohm;
use crate::physics::voltage::HIGH_VOLTAGE_FROM_V;

/// Ripple that nobody measured lifts the operating voltage by no more than this share of it.
const ASSUMED_PEAK_MAX: f64 = 0.1;

/// The ripple spectrum of a position: entered, else the original's own rating.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ripple {
    /// Lines as frequency in Hz and current in A; `None` when unknown.
    pub lines: Option<Vec<(f64, f64)>>,
    /// Whether it is the original's rating, because nobody entered a spectrum.
    pub assumed: bool,
    /// Whether any current flows; `None` when unknown.
    pub flows: Option<bool>,
}

impl Ripple {
    /// A line without frequency or current, or at no frequency above zero, leaves the spectrum unknown.
    fn of(position: &Position) -> Self {
        let complete = |line: &RippleLine| Some((line.hz.filter(|&hz| hz > 0.0)?, line.a?));
        if let Some(given) = &position.stress.ripple {
            let lines: Option<Vec<(f64, f64)>> = given.iter().map(complete).collect();
            let any = given.iter().any(|line| line.a.is_some_and(|a| a > 0.0));
            let flows = if any { Some(true) } else { lines.as_ref().map(|_| false) };
            return Self { lines, assumed: false, flows };
        }
        let original = &position.original.can;
        let lines = original.ripple_hz.filter(|&hz| hz > 0.0).zip(original.ripple_a).map(|line| vec![line]);
        Self { flows: lines.as_ref().map(|lines| lines[0].1 > 0.0), lines, assumed: true }
    }
}

/// Electrical stress of one position, ready for any part.
#[derive(Debug, Clone)]
pub(super) struct Electrical<'a> {
    pub stress: &'a Stress,
    pub original: &'a Can,
    pub ripple: Ripple,
    /// Largest ripple scale of the duty.
    pub ripple_scale_max: f64,
}

/// What one part sees; each `None` when unknown.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Voltages {
    /// Highest operating voltage, V; of a non-polar part its size either way.
    pub peak_v: Option<f64>,
    /// What of an unknown peak is known, V.
    pub least_peak_v: f64,
    /// Highest short overvoltage, V.
    pub transient_v: Option<f64>,
    /// What of an unknown transient is known, V.
    pub least_transient_v: f64,
    /// Lowest voltage, V.
    pub lowest_v: Option<f64>,
    /// Working voltage and ripple peak with their sign, V.
    pub swing_v: Option<f64>,
    /// Ripple peak, V; not needed without a operating voltage.
    pub ripple_peak_v: Option<f64>,
    /// What was taken because nobody entered it.
    pub assumed: Assumed,
}

impl<'a> Electrical<'a> {
    pub(super) fn of(position: &'a Position, ripple_scale_max: f64) -> Self {
        Self {
            stress: &position.stress,
            original: &position.original.can,
            ripple: Ripple::of(position),
            ripple_scale_max,
        }
    }

    /// What `can` sees here. The worse of figures that contradict each other counts.
    pub(super) fn on(&self, policy: &Policy, can: &Can) -> Voltages {
        let Stress { dc_v, ripple_peak_v, transient_v, min_v, .. } = *self.stress;
        let nonpolar = can.technology == Some(Technology::NonPolar);
        let size = |v: f64| if nonpolar { v.abs() } else { v };
        let mut assumed = Assumed::default();
        let mut ripple_v = None;
        let swing_v = if let Some(dc_v) = dc_v {
            ripple_v = ripple_peak_v.or_else(|| self.derived_peak_v(can, dc_v, &mut assumed));
            ripple_v.map(|ripple_v| dc_v + ripple_v)
        } else {
            let taken = self.assumed_swing_v(policy, can);
            assumed.insert_if(taken.is_some(), Assumed::DC);
            taken
        };
        let below_v = min_v.filter(|_| nonpolar).map(f64::abs);
        let reach_v = swing_v.map(|swing| dc_v.zip(ripple_v).map_or(swing, |(dc, ripple)| size(dc) + ripple));
        let peak_v = reach_v.map(|v| below_v.map_or(v, |below| v.max(below)));
        let least_peak_v = dc_v.map(size).into_iter().chain(below_v).fold(f64::NEG_INFINITY, f64::max);
        let entered_v = transient_v.map(size);
        assumed.insert_if(entered_v.is_none() && peak_v.is_some(), Assumed::TRANSIENT);
        let lowest_v = min_v.map(|min_v| dc_v.map_or(min_v, |dc_v| min_v.min(dc_v)));
        let lowest_v = lowest_v.or_else(|| {
            let taken = self.assumed_lowest_v(peak_v, ripple_v);
            assumed.insert_if(taken.is_some(), Assumed::MIN);
            taken
        });
        Voltages {
            peak_v,
            least_peak_v,
            transient_v: peak_v.map(|peak| entered_v.map_or(peak, |entered| entered.max(peak))),
            least_transient_v: entered_v.map_or(least_peak_v, |entered| entered.max(least_peak_v)),
            lowest_v,
            swing_v,
            ripple_peak_v: ripple_v,
            assumed,
        }
    }

    /// Without a operating voltage the original is taken to be used up to the policy's limit, its own or the part's: so no part
    /// rated lower than the original passes.
    fn assumed_swing_v(&self, policy: &Policy, can: &Can) -> Option<f64> {
        Some(self.original.rated_v? * use_max(policy, self.original)?.max(use_max(policy, can)?))
    }

    /// Peak of the ripple voltage over the part with all lines in phase, V: an upper bound.
    fn derived_peak_v(&self, can: &Can, dc_v: f64, assumed: &mut Assumed) -> Option<f64> {
        let mut peak_v = 0.0;
        let mut leaned_on = Assumed::RIPPLE_PEAK;
        for &(hz, a) in self.ripple.lines.as_deref()? {
            let found = esr::at_hz(can, hz)?;
            leaned_on.insert(found.assumed);
            leaned_on.insert_if(self.ripple.assumed, Assumed::RIPPLE);
            let impedance_ohm = impedance_ohm(found.mohm * 1e-3, can.capacitance_uf? * 1e-6, hz);
            peak_v += std::f64::consts::SQRT_2 * a * self.ripple_scale_max * impedance_ohm;
        }
        assumed.insert(leaned_on);
        Some(if self.ripple.assumed { peak_v.min(ASSUMED_PEAK_MAX * dc_v.abs()) } else { peak_v })
    }

    fn assumed_lowest_v(&self, peak_v: Option<f64>, ripple_v: Option<f64>) -> Option<f64> {
        if self.original.technology == Some(Technology::NonPolar) {
            return peak_v.map(|peak_v| -peak_v);
        }
        let Some(dc_v) = self.stress.dc_v else { return Some(0.0) };
        let lowest_v = dc_v - ripple_v?;
        // A bound with all lines in phase does not tell that a part is reversed.
        (self.stress.ripple_peak_v.is_some() || at_least(lowest_v, 0.0)).then_some(lowest_v)
    }

    /// Least voltage any part sees whose impedance is known, V: what a part must be rated for at the very least.
    pub(super) fn least_peak_of_any_v(&self, policy: &Policy) -> Option<f64> {
        match self.stress.dc_v {
            Some(dc_v) => Some(dc_v + self.stress.ripple_peak_v.unwrap_or(0.0)),
            None => Some(self.original.rated_v? * use_max(policy, self.original)?),
        }
    }
}

/// Largest share of the rated voltage by policy.
pub(super) fn use_max(policy: &Policy, can: &Can) -> Option<f64> {
    Some(match can.technology_or_wet() {
        Technology::Hybrid | Technology::Polymer => policy.voltage_use_max_polymer,
        Technology::Wet | Technology::NonPolar if can.rated_v? < HIGH_VOLTAGE_FROM_V => policy.voltage_use_max_wet_lv,
        Technology::Wet | Technology::NonPolar => policy.voltage_use_max_wet_hv,
    })
}
