//! One file per check; each reads a [`PositionContext`] and a can and says what comes of it.

mod capacitance;
mod esr;
mod fit;
mod leakage;
mod life;
pub(super) mod limits;
mod ripple;
mod supply;
mod temperature;
mod voltage;

use super::evaluation::Evaluation;
use super::position_context::PositionContext;
use super::voltages::use_max;
use crate::domain::{Assumed, Can, Check, Outcome};

pub(super) use life::{Change, UnderDuty};
pub use supply::Supply;
pub(super) use voltage::USUAL_TOLERANCE_PCT;
pub(super) use voltage::wrong_polarity;

impl PositionContext<'_> {
    /// A part at this position, ready for questions about its life, and what that leans on; `None` where a figure is missing.
    pub(super) fn under_duty(&self, can: &Can) -> Option<(UnderDuty, Assumed)> {
        let mut evaluation = Evaluation::default();
        let rise = ripple::rise(self, can, &mut evaluation)?;
        let under = UnderDuty::new(self, can, rise)?;
        evaluation.assumed.insert_if(can.endurance_basis.is_none(), Assumed::ENDURANCE_BASIS);
        evaluation.assumed.insert_if(can.technology.is_none(), Assumed::TECHNOLOGY);
        Some((under, evaluation.assumed))
    }

    /// Checks a part at this position: every check of the methods, the verdict and the headroom.
    pub fn evaluate(&self, can: &Can, supply: Supply) -> Evaluation {
        let mut evaluation = Evaluation::default();
        voltage::check(self, can, &mut evaluation);
        let rise = ripple::check(self, can, &mut evaluation);
        life::check(self, can, rise.as_ref(), &mut evaluation);
        esr::check(self, can, &mut evaluation);
        capacitance::check(self, can, &mut evaluation);
        fit::check(self, can, &mut evaluation);
        temperature::check(self, can, &mut evaluation);
        leakage::check(self, can, &mut evaluation);
        supply::check(self, supply, &mut evaluation);
        evaluation.verdict = Evaluation::verdict_of(&evaluation.outcomes);
        evaluation.figures.headroom = self.margins(can, &evaluation).map(|m| m.1).reduce(f64::min);
        evaluation
    }

    /// Whether the verdict of [`evaluate`](Self::evaluate) is pass, with no more work than that takes: the checks that rule out most
    /// for the least work come first.
    pub fn passes(&self, can: &Can, supply: Supply) -> bool {
        let mut evaluation = Evaluation::default();
        let mut passes = |check: &dyn Fn(&mut Evaluation)| {
            check(&mut evaluation);
            Evaluation::verdict_of(&evaluation.outcomes) == Outcome::Pass
        };
        passes(&|of| supply::check(self, supply, of))
            && passes(&|of| voltage::check(self, can, of))
            && passes(&|of| fit::check(self, can, of))
            && passes(&|of| capacitance::check(self, can, of))
            && passes(&|of| life::check(self, can, ripple::check(self, can, of).as_ref(), of))
            && passes(&|of| esr::check(self, can, of))
            && passes(&|of| temperature::check(self, can, of))
            && passes(&|of| leakage::check(self, can, of))
    }

    /// Known margins, as a share of the limit: voltage, ripple, life, ESR.
    pub fn margins(&self, can: &Can, evaluation: &Evaluation) -> impl Iterator<Item = (Check, f64)> + use<> {
        let figures = &evaluation.figures;
        let policy = self.policy;
        let voltage = || Some(1.0 - figures.voltage_usage? / use_max(policy, can)?);
        let ripple = || Some(1.0 - figures.ripple_usage? / policy.ripple_use_max);
        let life = || Some(1.0 - policy.life_margin * self.target_h? / figures.life_h?);
        let esr = || Some(1.0 - figures.esr_mohm? / self.esr_max.mohm?);
        [(Check::Voltage, voltage()), (Check::Ripple, ripple()), (Check::Life, life()), (Check::Esr, esr())]
            .into_iter()
            .filter_map(|(check, margin)| Some((check, margin.filter(|m| !m.is_nan())?)))
    }
}
