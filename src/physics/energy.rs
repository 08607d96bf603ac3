//! Stored energy, discharge, and the thresholds that published rules name.
//!
//! The figures here inform; they make nothing safe. Isolate, discharge, then verify with a meter; local codes and licensed practice decide.

use super::range::{finite, non_negative, positive};

/// Voltage in V above which a position is shown with its stored energy and the caution (IEC 60204-1 6.2.4, quoted: 60 V).
pub const CAUTION_V: f64 = crate::domain::safety::SAFE_V;

/// Stored energy in J above which a position is shown with the caution (DOE/LBNL electrical safety manual, table 2.2.13: 10 J).
pub const CAUTION_J: f64 = 10.0;

/// Energy in J of `capacitance_f` at `volt_v`: `C U^2/2`.
///
/// ```
/// // By hand: 470 µF at 400 V hold 37.6 J.
/// assert!((refarad::physics::energy::stored_j(470e-6, 400.0).unwrap() - 37.6).abs() < 1e-9);
/// ```
pub fn stored_j(capacitance_f: f64, volt_v: f64) -> Option<f64> {
    let volt_v = non_negative(volt_v)?;
    finite(0.5 * non_negative(capacitance_f)? * volt_v * volt_v)
}

/// Charge in C of `capacitance_f` at `volt_v`: `C U`.
///
/// ```
/// // By hand: 1 µF at 60 V holds 60 µC, the exemption of IEC 60204-1 6.2.4 (quoted).
/// assert!((refarad::physics::energy::charge_c(1e-6, 60.0).unwrap() - 60e-6).abs() < 1e-15);
/// ```
pub fn charge_c(capacitance_f: f64, volt_v: f64) -> Option<f64> {
    finite(non_negative(capacitance_f)? * non_negative(volt_v)?)
}

/// Time in s until `start_v` has fallen to `safe_v` through `bleeder_ohm`: `R C ln(U/V)`, 0 if it is there already.
///
/// Dielectric absorption brings a few percent of the voltage back afterwards: leave the short in place.
///
/// ```
/// // Our ngspice netlist 11: 470 µF, 400 V, 5.6 kohm: 60 V after 4.99322 s.
/// let time_s = refarad::physics::energy::time_to_v_s(470e-6, 5600.0, 400.0, 60.0).unwrap();
/// assert!((time_s - 4.99322).abs() < 1e-5);
/// ```
pub fn time_to_v_s(capacitance_f: f64, bleeder_ohm: f64, start_v: f64, safe_v: f64) -> Option<f64> {
    let time_constant_s = positive(capacitance_f)? * positive(bleeder_ohm)?;
    finite(time_constant_s * log_ratio(start_v, safe_v)?)
}

/// Largest bleeder in ohm that brings `start_v` to `safe_v` within `time_s`: `t/(C ln(U/V))`.
///
/// `None` if `start_v` does not exceed `safe_v`: nothing has to be discharged.
///
/// ```
/// // The same netlist the other way: 60 V within 4.99322 s take 5600 ohm.
/// let ohm = refarad::physics::energy::bleeder_ohm(470e-6, 400.0, 60.0, 4.99322).unwrap();
/// assert!((ohm - 5600.0).abs() < 0.01);
/// ```
pub fn bleeder_ohm(capacitance_f: f64, start_v: f64, safe_v: f64, time_s: f64) -> Option<f64> {
    let fall = positive(log_ratio(start_v, safe_v)?)?;
    finite(positive(time_s)? / (positive(capacitance_f)? * fall))
}

/// Heat in W of a bleeder or balancing resistor that stays connected at `volt_v` (for the rating of one of a string the worst share, for
/// the running cost the even one), and the first moment's when it does not: `U^2/R`.
///
/// ```
/// // By hand: 400 V over 5.6 kohm are 28.57 W.
/// assert!((refarad::physics::energy::bleeder_w(400.0, 5600.0).unwrap() - 28.571).abs() < 1e-3);
/// ```
pub fn bleeder_w(volt_v: f64, bleeder_ohm: f64) -> Option<f64> {
    let volt_v = non_negative(volt_v)?;
    finite(volt_v * volt_v / positive(bleeder_ohm)?)
}

/// Resistor in ohm that keeps the charging current of an empty capacitor at `current_max_a` when `peak_v` is switched on: `U / I`.
/// It has to take [`stored_j`] once (published, Ametherm application note).
///
/// ```
/// // By hand: 325 V and 20 A.
/// assert_eq!(refarad::physics::energy::charging_resistor_ohm(325.0, 20.0), Some(16.25));
/// ```
pub fn charging_resistor_ohm(peak_v: f64, current_max_a: f64) -> Option<f64> {
    finite(non_negative(peak_v)? / positive(current_max_a)?)
}

/// Time in s for which `capacitance_f` feeds a constant power while it falls from `from_v` to `to_v`: `C (U1^2 - U2^2) / (2 P)`,
/// 0 if it is there already.
///
/// ```
/// // TI UCC28180, SLUSBQ5A page 30: 247 uF hold 360 W for 21.28 ms from 390 to 300 V.
/// let held_s = refarad::physics::energy::hold_up_s(247e-6, 390.0, 300.0, 360.0).unwrap();
/// assert!((held_s * 1e3 - 21.28).abs() < 0.05);
/// ```
pub fn hold_up_s(capacitance_f: f64, from_v: f64, to_v: f64, power_w: f64) -> Option<f64> {
    let fall = (non_negative(from_v)?.powi(2) - non_negative(to_v)?.powi(2)).max(0.0);
    finite(non_negative(capacitance_f)? * fall / (2.0 * positive(power_w)?))
}

fn log_ratio(start_v: f64, safe_v: f64) -> Option<f64> {
    let (start_v, safe_v) = (non_negative(start_v)?, positive(safe_v)?);
    Some(if start_v > safe_v { (start_v / safe_v).ln() } else { 0.0 })
}

/// A published limit on a charged capacitor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Threshold {
    /// Document and clause.
    pub source: &'static str,
    /// Whether the clause was read only where another document quotes it.
    pub quoted: bool,
    /// Applies from this voltage in V, which is included or not by `above_v_inclusive`.
    pub from_v: f64,
    /// Whether exactly `from_v` counts.
    pub from_v_inclusive: bool,
    /// Applies below this voltage in V, excluded.
    pub below_v: f64,
    /// Applies from this energy in J.
    pub from_j: f64,
    /// Whether exactly `from_j` counts.
    pub from_j_inclusive: bool,
    /// Charge in C up to which the rule does not apply.
    pub exempt_c: f64,
    /// Time in s after switching off within which the voltage must have gone, where the rule names one.
    pub within_s: Option<f64>,
    /// The rule in words.
    pub says: &'static str,
}

/// A rule that counts from a voltage and an energy on, both included.
const fn rule(source: &'static str, from_v: f64, from_j: f64, says: &'static str) -> Threshold {
    let (quoted, from_v_inclusive, below_v, from_j_inclusive) = (false, true, f64::INFINITY, true);
    let (exempt_c, within_s) = (0.0, None);
    Threshold { source, quoted, from_v, from_v_inclusive, below_v, from_j, from_j_inclusive, exempt_c, within_s, says }
}

/// The published thresholds, in the order of the documents.
pub const THRESHOLDS: [Threshold; 5] = {
    let machine = "live parts at 60 V or less within 5 s of switching off; a charge of 60 µC or less is exempt";
    let machine = rule("IEC 60204-1, 6.2.4", 60.0, 0.0, machine);
    let hazard = "hazardous energy: more than 20 J at 2 V or more";
    let hazard = rule("IEC 60950-1, hazardous energy test", 2.0, 20.0, hazard);
    let thermal = "thermal: less than 100 V with more than 100 J";
    let thermal = rule("DOE/LBNL electrical safety manual, table 2.3.5", 0.0, 100.0, thermal);
    let shock = "shock: 100 V or more with 10 J or more";
    let arc = "arc flash: 100 V or more with 10 kJ or more";
    [
        Threshold { quoted: true, from_v_inclusive: false, exempt_c: 60e-6, within_s: Some(5.0), ..machine },
        Threshold { quoted: true, from_j_inclusive: false, ..hazard },
        rule("DOE/LBNL electrical safety manual, table 2.2.13", 100.0, 10.0, shock),
        rule("DOE/LBNL electrical safety manual, table 2.3.3", 100.0, 10_000.0, arc),
        Threshold { below_v: 100.0, from_j_inclusive: false, ..thermal },
    ]
};

impl Threshold {
    /// Whether `capacitance_f` at `volt_v` reaches this threshold; `None` for figures out of range.
    ///
    /// ```
    /// use refarad::physics::energy::THRESHOLDS;
    /// // DOE/LBNL electrical safety manual, table 2.2.13: 100 V and 10 J; 2 mF at 100 V hold just 10 J.
    /// let shock = THRESHOLDS.iter().find(|t| t.source.contains("2.2.13")).unwrap();
    /// assert_eq!((shock.reached(2e-3, 100.0), shock.reached(1.9e-3, 100.0)), (Some(true), Some(false)));
    /// ```
    pub fn reached(&self, capacitance_f: f64, volt_v: f64) -> Option<bool> {
        let energy_j = stored_j(capacitance_f, volt_v)?;
        let reaches = |value: f64, from: f64, inclusive: bool| value > from || (inclusive && value >= from);
        Some(
            reaches(volt_v, self.from_v, self.from_v_inclusive)
                && volt_v < self.below_v
                && reaches(energy_j, self.from_j, self.from_j_inclusive)
                && charge_c(capacitance_f, volt_v)? > self.exempt_c,
        )
    }
}

/// The thresholds that `capacitance_f` at `volt_v` reaches; `None` for figures out of range.
///
/// ```
/// // By hand: 100 µF at 12 V hold 7 mJ and reach none.
/// assert!(refarad::physics::energy::thresholds_reached(100e-6, 12.0).unwrap().is_empty());
/// ```
pub fn thresholds_reached(capacitance_f: f64, volt_v: f64) -> Option<Vec<&'static Threshold>> {
    let all = THRESHOLDS.iter().map(|threshold| Some((threshold, threshold.reached(capacitance_f, volt_v)?)));
    let all = all.collect::<Option<Vec<_>>>()?;
    Some(all.into_iter().filter_map(|(threshold, reached)| reached.then_some(threshold)).collect())
}

/// Whether a position shows its energy and the caution: above [`CAUTION_V`] or above [`CAUTION_J`]. `None` for figures out of range.
///
/// A position that shows none is not thereby harmless: other capacitors and the mains share the board.
///
/// ```
/// // IEC 60204-1 6.2.4 (quoted): 60 V is the limit itself.
/// assert_eq!(refarad::physics::energy::needs_caution(1e-6, 60.1), Some(true));
/// assert_eq!(refarad::physics::energy::needs_caution(1e-6, 60.0), Some(false));
/// ```
pub fn needs_caution(capacitance_f: f64, volt_v: f64) -> Option<bool> {
    Some(stored_j(capacitance_f, volt_v)? > CAUTION_J || volt_v > CAUTION_V)
}

#[cfg(test)]
#[path = "../../tests/within/energy.rs"]
mod tests;
