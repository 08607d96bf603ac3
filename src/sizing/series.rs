//! Cans in series: how the voltage is shared, and the resistors that keep it so.

use super::fitted::Fitted;
use super::parallel::by_name;
use crate::domain::{Assumed, Can, Job, PositionId};
use crate::physics::energy::bleeder_w;
use crate::physics::groups::{balancing_resistor_ohm, even_share_v, worst_share_v};
use crate::physics::leakage::usual_ua;

/// Cans that work in series as one string.
#[derive(Debug, Clone, PartialEq)]
pub struct SeriesString {
    /// The name they share.
    pub name: String,
    /// The positions.
    pub members: Vec<PositionId>,
    /// Voltage over the string, V: the sum of the operating voltages entered.
    pub string_v: Option<f64>,
    /// Capacitance of the string, µF.
    pub capacitance_uf: Option<f64>,
    /// Lowest rated voltage in it, V.
    pub rated_v: Option<f64>,
    /// Voltage of each can if all were equal, V.
    pub even_v: Option<f64>,
    /// Voltage of the worst can at switch-on, V: capacitances at the ends of their tolerance share as 1/C.
    pub switch_on_worst_v: Option<f64>,
    /// Largest difference of the leakage currents, A: one can at its limit, another with none.
    pub leakage_spread_a: Option<f64>,
    /// Largest balancing resistor across each can that keeps the worst at its rated voltage, Ω.
    pub balancing_ohm: Option<f64>,
    /// Heat in one such resistor at the rated voltage, W.
    pub balancing_w: Option<f64>,
    /// Leakage currents that came from the usual limits.
    pub assumed: Assumed,
    /// What to see to, a sentence each.
    pub remarks: Vec<String>,
}

impl SeriesString {
    /// Voltage of the worst can with balancing resistors of `balancing_ohm`, V.
    pub fn worst_v(&self, balancing_ohm: f64) -> Option<f64> {
        worst_share_v(self.string_v?, count(&self.members), balancing_ohm, self.leakage_spread_a?)
    }
}

/// The series strings of a job with at least two cans, board by board. `fitted` says what sits at a position.
pub fn strings(job: &Job, fitted: impl Fn(PositionId) -> Option<Fitted>) -> Vec<SeriesString> {
    by_name(job, |position| position.series_group.as_deref())
        .into_iter()
        .filter_map(|(name, members)| {
            let cans = members.iter().map(|&id| fitted(id).map(|fitted| fitted.can)).collect::<Option<Vec<Can>>>()?;
            Some(string(job, name, members, &cans))
        })
        .collect()
}

fn count(members: &[PositionId]) -> u32 {
    u32::try_from(members.len()).unwrap_or(u32::MAX)
}

fn string(job: &Job, name: String, members: Vec<PositionId>, cans: &[Can]) -> SeriesString {
    let working = members.iter().map(|&id| job.position(id).and_then(|position| position.stress.dc_v));
    let string_v: Option<f64> = working.sum();
    let least =
        |of: fn(&Can) -> Option<f64>| cans.iter().map(of).collect::<Option<Vec<f64>>>()?.into_iter().reduce(f64::min);
    let rated_v = least(|can| can.rated_v);
    let mut assumed = Assumed::default();
    let leakage_ua = cans.iter().map(|can| {
        can.leakage_ua.or_else(|| {
            assumed.insert(Assumed::LEAKAGE);
            Some(usual_ua(can.technology_or_wet(), can.capacitance_uf?, can.rated_v?))
        })
    });
    let largest_ua = leakage_ua.collect::<Option<Vec<f64>>>().and_then(|all| all.into_iter().reduce(f64::max));
    let leakage_spread_a = largest_ua.map(|micro_a| micro_a * 1e-6);
    let number = count(&members);
    let balance = || balancing_resistor_ohm(string_v?, number, rated_v?, leakage_spread_a?);
    let balancing_ohm = balance();
    let switch_on_worst_v = string_v.and_then(|string_v| switch_on_worst_v(string_v, cans));
    let even_v = string_v.and_then(|string_v| even_share_v(string_v, number));
    let mut remarks = Vec::new();
    if let (Some(string_v), Some(rated_v)) = (string_v, rated_v) {
        if string_v >= f64::from(number) * rated_v {
            remarks.push("The string is at or above the sum of its rated voltages: no resistor helps.".to_owned());
        }
        if switch_on_worst_v.is_some_and(|worst| worst > rated_v) {
            remarks.push("At switch-on a can at the low end of its tolerance is above its rated voltage: match the cans or take a higher rating.".into());
        }
    }
    if cans
        .windows(2)
        .any(|pair| pair[0].capacitance_uf != pair[1].capacitance_uf || pair[0].rated_v != pair[1].rated_v)
    {
        remarks.push("The cans differ; a string wants equal ones of one lot.".into());
    }
    remarks.push("Each balancing resistor has to stand the rated voltage of its can continuously, and its heat; it also discharges the string.".into());
    SeriesString {
        name,
        string_v,
        capacitance_uf: cans.iter().map(|can| can.capacitance_uf.map(f64::recip)).sum::<Option<f64>>().map(f64::recip),
        rated_v,
        even_v,
        switch_on_worst_v,
        leakage_spread_a,
        balancing_ohm,
        balancing_w: balancing_ohm.zip(rated_v).and_then(|(ohm, rated_v)| bleeder_w(rated_v, ohm)),
        members,
        assumed,
        remarks,
    }
}

/// The largest share of any can when it is at the low end of its tolerance and the others at the high end; `None` without tolerances.
fn switch_on_worst_v(string_v: f64, cans: &[Can]) -> Option<f64> {
    let ends: Vec<(f64, f64)> = cans
        .iter()
        .map(|can| {
            let (nominal, off) = (can.capacitance_uf?, can.tolerance_pct? / 100.0);
            (off < 1.0).then_some((nominal * (1.0 - off), nominal * (1.0 + off)))
        })
        .collect::<Option<_>>()?;
    let all_high: f64 = ends.iter().map(|(_, high)| high.recip()).sum();
    let share = |&(low, high): &(f64, f64)| low.recip() / (all_high - high.recip() + low.recip());
    ends.iter().map(share).reduce(f64::max).map(|share| share * string_v)
}

#[cfg(test)]
#[path = "../../tests/within/series.rs"]
mod tests;
