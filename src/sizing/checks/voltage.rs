//! Working, surge and reverse voltage, alone and in a series string.

use crate::domain::{Assumed, Can, Check, Outcome, Technology};
use crate::physics::groups::{switch_on_worst_v, worst_share_v};
use crate::physics::leakage::{high_voltage_ua, hot_factor, usual_ua};
use crate::physics::voltage::usual_surge_v;
use crate::sizing::compare::{at_least, at_most};
use crate::sizing::evaluation::{Evaluation, graded};
use crate::sizing::position_context::PositionContext;
use crate::sizing::voltages::{Voltages, use_max};

/// Reverse voltage a polar part stands for a moment, V (makers print 1 to 1.5 V).
const REVERSE_MAX_V: f64 = 1.0;

/// Tolerance of a can whose sheet does not say, percent (common practice, no source).
pub(in crate::sizing) const USUAL_TOLERANCE_PCT: f64 = 20.0;

/// The worst of: peak against the derated rating, transient against surge, reverse voltage, polarity, and the share of a
/// series string. What nobody entered is taken as [`Voltages`] says and marked; what cannot be taken leaves the check unknown.
pub(super) fn check(context: &PositionContext, can: &Can, evaluation: &mut Evaluation) {
    let nonpolar = can.technology == Some(Technology::NonPolar);
    let mut voltages = context.electrical.on(context.policy, can);
    evaluation.assumed.insert(voltages.assumed);
    evaluation.assumed.insert_if(can.technology.is_none(), Assumed::TECHNOLOGY);
    let mut outcome = string(context, can, &mut voltages, evaluation);

    let usage = voltages.peak_v.zip(can.rated_v).map(|(peak_v, rated_v)| peak_v / rated_v);
    evaluation.figures.voltage_usage = usage;
    evaluation.figures.peak_v = voltages.peak_v;
    outcome = outcome.max(match usage.zip(use_max(context.policy, can)) {
        Some((usage, use_max)) => graded(at_most(usage, use_max), at_most(usage, 1.0)),
        None => fails_if(can.rated_v.is_some_and(|rated_v| !at_most(voltages.least_peak_v / rated_v, 1.0))),
    });
    outcome = outcome.max(match voltages.transient_v {
        Some(transient_v) => surge(can, transient_v),
        None => fails_if(surge(can, voltages.least_transient_v) == Outcome::Fail),
    });
    let surge_assumed = can.surge_v.is_none() && can.rated_v.is_some() && voltages.transient_v.is_some();
    evaluation.assumed.insert_if(surge_assumed, Assumed::SURGE);
    outcome = outcome.max(if nonpolar { every_cycle(context, &voltages) } else { reverse(voltages.lowest_v) });
    evaluation.set(Check::Voltage, if wrong_polarity(context, can) { Outcome::Fail } else { outcome });
}

/// A polar part where the original is bipolar.
pub(in crate::sizing) fn wrong_polarity(context: &PositionContext, can: &Can) -> bool {
    context.original_technology == Technology::NonPolar && can.technology != Some(Technology::NonPolar)
}

/// What is not known, unless what is known of it fails already.
fn fails_if(fails: bool) -> Outcome {
    if fails { Outcome::Fail } else { Outcome::Unknown }
}

/// A short overvoltage against the part's own surge voltage, else the usual one.
fn surge(can: &Can, transient_v: f64) -> Outcome {
    if let Some(own_v) = can.surge_v {
        return graded(at_most(transient_v, own_v), false);
    }
    can.rated_v.map_or(Outcome::Unknown, |rated_v| {
        let usual = usual_surge_v(can.technology_or_wet(), rated_v);
        graded(at_most(transient_v, usual.sure_v), at_most(transient_v, usual.most_v))
    })
}

fn reverse(lowest_v: Option<f64>) -> Outcome {
    lowest_v.map_or(Outcome::Unknown, |lowest_v| graded(at_least(lowest_v, 0.0), at_least(lowest_v, -REVERSE_MAX_V)))
}

/// Makers say that even non-polar parts are not for alternating voltage: reversed every cycle is at best marginal.
fn every_cycle(context: &PositionContext, voltages: &Voltages) -> Outcome {
    let reversed = voltages.lowest_v.map(|lowest_v| !at_least(lowest_v, 0.0));
    let forward = voltages.swing_v.map(|swing_v| !at_most(swing_v, 0.0));
    match [reversed, forward, context.electrical.ripple.flows] {
        all if all.contains(&Some(false)) => Outcome::Pass,
        [Some(true), Some(true), Some(true)] => Outcome::Marginal,
        _ => Outcome::Unknown,
    }
}

/// The part in its series string: at switch-on the capacitances share the voltage, later leakage and balancing resistors do. The
/// larger share takes the place of the peak.
fn string(context: &PositionContext, can: &Can, voltages: &mut Voltages, evaluation: &mut Evaluation) -> Outcome {
    let Some(count) = u32::try_from(context.string.len()).ok().filter(|&count| count > 1) else { return Outcome::Pass };
    let members = || context.string.iter().map(|member| member.on(context.policy, can));
    // The string is judged by peaks and transients: the lowest voltage of another can does not count.
    members().for_each(|member| evaluation.assumed.insert(member.assumed.without(Assumed::MIN)));
    let peaks_v: Option<f64> = members().map(|member| member.peak_v).sum();
    let transients_v: Option<f64> = members().map(|member| member.transient_v).sum();
    let tolerance = can.tolerance_pct.unwrap_or(USUAL_TOLERANCE_PCT) / 100.0;
    evaluation.assumed.insert_if(can.tolerance_pct.is_none(), Assumed::TOLERANCE);
    let switch_on_v = transients_v.and_then(|string_v| switch_on_worst_v(string_v, count, tolerance));
    let mut outcome = switch_on_v.map_or(Outcome::Unknown, |switch_on_v| surge(can, switch_on_v));

    let leakage = leakage_spread_a(context, can);
    let balance_ohm = context.position.needs.balance_kohm.map(|kohm| kohm * 1e3);
    // A usual limit for high voltage does not tell how far two cans of one lot are apart.
    let high_voltage_usual = can.leakage_ua.is_none() && can.rated_v.is_some_and(|rated_v| rated_v > 100.0);
    if balance_ohm.is_some() && high_voltage_usual {
        outcome = outcome.max(Outcome::Marginal);
    }
    let worst = || worst_share_v(peaks_v?, count, balance_ohm?, leakage?);
    let worst_v = worst();
    evaluation.assumed.insert_if(worst_v.is_some() && can.leakage_ua.is_none(), Assumed::LEAKAGE);
    let least_v = peaks_v.map_or(f64::NEG_INFINITY, |string_v| string_v / f64::from(count));
    let least_v = voltages.peak_v.map_or(least_v, |peak_v| peak_v.max(least_v));
    voltages.least_peak_v = voltages.least_peak_v.max(least_v);
    voltages.least_transient_v = voltages.least_transient_v.max(voltages.least_peak_v);
    voltages.peak_v = voltages.peak_v.zip(worst_v).map(|(peak_v, worst_v)| peak_v.max(worst_v));
    voltages.transient_v = voltages.transient_v.zip(worst_v).map(|(transient_v, worst_v)| transient_v.max(worst_v));
    outcome
}

/// Largest difference of the leakage currents of a string, A, at the hottest ambient: one can at its limit, another with none.
fn leakage_spread_a(context: &PositionContext, can: &Can) -> Option<f64> {
    let hottest_c = context.ambient.max_c.filter(|_| context.ambient.complete)?;
    let usual = || {
        let (capacitance_uf, rated_v) = (can.capacitance_uf?, can.rated_v?);
        Some(if rated_v > 100.0 {
            high_voltage_ua(capacitance_uf, rated_v)
        } else {
            usual_ua(can.technology_or_wet(), capacitance_uf, rated_v)
        })
    };
    Some(can.leakage_ua.or_else(usual)? * 1e-6 * hot_factor(hottest_c))
}
