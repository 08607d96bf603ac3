//! What came out of checking one part at one position.

use crate::domain::{Assumed, Check, Outcome, words};

/// The figures behind the outcomes; `None` where not known.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Figures {
    /// Highest operating voltage, V; in a series string that of the worst share.
    pub peak_v: Option<f64>,
    /// Peak voltage over rated voltage.
    pub voltage_usage: Option<f64>,
    /// Equivalent ripple current in the phase with the largest usage, A.
    pub ripple_eq_a: Option<f64>,
    /// Ripple current allowed in that phase, A.
    pub ripple_allowed_a: Option<f64>,
    /// Largest equivalent over allowed current; infinite where nothing is allowed.
    pub ripple_usage: Option<f64>,
    /// Ambient of that phase, °C.
    pub ripple_ambient_c: Option<f64>,
    /// Core rise in that phase, K.
    pub core_rise_k: Option<f64>,
    /// Life by the law, h, before the cap.
    pub life_uncapped_h: Option<f64>,
    /// Life believed, h.
    pub life_h: Option<f64>,
    /// Shortest life of the published laws, h, capped.
    pub life_low_h: Option<f64>,
    /// Longest life of the published laws, h, capped.
    pub life_high_h: Option<f64>,
    /// Years until the life is used up, capped.
    pub calendar_years: Option<f64>,
    /// ESR at the position's frequency, mΩ.
    pub esr_mohm: Option<f64>,
    /// ESR in the cold, where the part's cold ratio applies, mΩ.
    pub esr_cold_mohm: Option<f64>,
    /// Limit minus largest diameter, mm.
    pub diameter_slack_mm: Option<f64>,
    /// Limit minus largest height, mm; vent clearance not deducted.
    pub height_slack_mm: Option<f64>,
    /// Difference between the part's pitch and the holes, mm.
    pub pitch_error_mm: Option<f64>,
    /// Smallest gap to a neighbour's body, mm.
    pub gap_mm: Option<f64>,
    /// Leakage current, µA, where a limit is set.
    pub leakage_ua: Option<f64>,
    /// The least of the known margins, as a share of the limit; negative over a limit.
    pub headroom: Option<f64>,
}

words! {
    /// The part of the fit that decided it.
    #[derive(Default)]
    pub enum FitFault {
        /// Every part of the fit passes.
        #[default]
        #[strum(serialize = "fit")]
        None,
        /// Kind of mounting.
        Mounting,
        /// Largest diameter.
        Diameter,
        /// Height with vent clearance.
        Height,
        /// Lead spacing or pads.
        Pitch,
        /// Lead in its hole.
        #[strum(serialize = "lead in its hole")]
        Lead,
        /// Gap to a neighbour.
        Neighbour,
    }
}

/// Outcomes and figures of one part at one position.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Evaluation {
    /// Outcome of each check in the order of [`Check::ALL`].
    pub outcomes: [Outcome; Check::ALL.len()],
    /// The verdict over all checks.
    pub verdict: Outcome,
    /// The figures.
    pub figures: Figures,
    /// What decided the fit.
    pub fit_fault: FitFault,
    /// Figures that came from default tables.
    pub assumed: Assumed,
}

impl Evaluation {
    /// Outcome of one check.
    pub fn outcome(&self, check: Check) -> Outcome {
        self.outcomes[check as usize]
    }

    /// Whether the result leans on a stress that nobody entered.
    pub fn on_assumed_stress(&self) -> bool {
        self.assumed.intersects(Assumed::STRESS)
    }

    /// Whether the part passes, but only against a stress that nobody entered.
    pub fn passes_on_assumed_stress(&self) -> bool {
        self.verdict == Outcome::Pass && self.on_assumed_stress()
    }

    pub(super) fn set(&mut self, check: Check, outcome: Outcome) {
        self.outcomes[check as usize] = outcome;
    }

    /// The verdict of a set of outcomes: the worst; an unknown supply alone does not spoil it.
    pub(super) fn verdict_of(outcomes: &[Outcome; Check::ALL.len()]) -> Outcome {
        let counts = |check: &Check, outcome: Outcome| !(*check == Check::Supply && outcome == Outcome::Unknown);
        let relevant = Check::ALL.iter().zip(outcomes).filter(|&(check, &outcome)| counts(check, outcome));
        relevant.map(|(_, &outcome)| outcome).max().unwrap_or_default()
    }

    /// The check that limits the part: the worst outcome, among equals the first in order.
    ///
    /// For a part that passes everything it is the one with the least headroom.
    pub fn limiting_check(&self, margins: impl IntoIterator<Item = (Check, f64)>) -> Option<Check> {
        self.decisive().or_else(|| margins.into_iter().min_by(|a, b| a.1.total_cmp(&b.1)).map(|m| m.0))
    }

    /// The first check that comes out as the verdict; `None` for a part that passes.
    pub fn decisive(&self) -> Option<Check> {
        Check::ALL.into_iter().find(|&check| self.outcome(check) == self.verdict && self.verdict != Outcome::Pass)
    }
}

/// Pass, marginal or fail by two nested conditions.
pub(super) fn graded(pass: bool, marginal: bool) -> Outcome {
    match (pass, marginal) {
        (true, _) => Outcome::Pass,
        (false, true) => Outcome::Marginal,
        (false, false) => Outcome::Fail,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unknown_supply_is_advisory_and_any_other_unknown_is_not() {
        let mut evaluation = Evaluation::default();
        evaluation.set(Check::Supply, Outcome::Unknown);
        assert_eq!(Evaluation::verdict_of(&evaluation.outcomes), Outcome::Pass);
        evaluation.set(Check::Esr, Outcome::Marginal);
        assert_eq!(Evaluation::verdict_of(&evaluation.outcomes), Outcome::Marginal);
        evaluation.set(Check::Esr, Outcome::Unknown);
        assert_eq!(Evaluation::verdict_of(&evaluation.outcomes), Outcome::Unknown);
        evaluation.set(Check::Supply, Outcome::Fail);
        assert_eq!(Evaluation::verdict_of(&evaluation.outcomes), Outcome::Fail);
    }
}
