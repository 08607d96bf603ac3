//! Energy and discharge of every position, groups together: what the window shows, the sheets print and the caution goes by.

use std::collections::HashMap;

use super::fitted::{Fitted, fitted};
use super::size::{PositionSizing, Sizing};
use crate::domain::safety::{SAFE_V, WITHIN_S};
use crate::domain::{Catalog, Job, Position, PositionId};
use crate::physics::energy::{
    CAUTION_V, Threshold, bleeder_ohm, bleeder_w, needs_caution, stored_j, thresholds_reached, time_to_v_s,
};

/// The charge of one position.
#[derive(Debug, Clone, PartialEq)]
pub struct StoredEnergy {
    /// Which position.
    pub id: PositionId,
    /// Energy of this position at its highest voltage, J: the larger of what is fitted and the original.
    pub energy_j: Option<f64>,
    /// Capacitance that discharges with it, F: of all cans in its parallel group.
    pub together_f: Option<f64>,
    /// Energy of those, J.
    pub together_j: Option<f64>,
    /// Highest voltage, V, and what reaches it.
    pub highest_v: Option<(f64, &'static str)>,
    /// Highest voltage across the series string it stands in, V, as far as those of its cans are known.
    pub string_v: Option<f64>,
    /// Whether the caution belongs beside it: above 60 V, alone or across its string, or 10 J, all cans of the group counted. `None`
    /// when not known, which is no all-clear.
    pub caution: Option<bool>,
    /// Largest resistor that brings it to 60 V within 5 s, Ω; `None` below 60 V.
    pub bleeder_ohm: Option<f64>,
    /// Heat in that resistor if it stays connected, W.
    pub bleeder_w: Option<f64>,
    /// Published thresholds it reaches.
    pub thresholds: Vec<&'static Threshold>,
}

impl StoredEnergy {
    /// Time until 60 V through a resistor of `ohm`, s; 0 when it is there already.
    pub fn time_to_safe_s(&self, ohm: f64) -> Option<f64> {
        self.time_to_s(SAFE_V, ohm)
    }

    /// Time until `volt_v` through a resistor of `ohm`, s; 0 when it is there already.
    pub fn time_to_s(&self, volt_v: f64, ohm: f64) -> Option<f64> {
        time_to_v_s(self.together_f?, ohm, self.highest_v?.0, volt_v)
    }

    /// Whether other cans of a parallel group discharge with this one.
    pub fn in_group(&self) -> bool {
        self.together_j.is_some() && self.together_j != self.energy_j
    }
}

/// The charge of a position of a sized job, with the chosen parts where there are some.
pub fn stored_as_chosen(job: &Job, catalog: &Catalog, sizing: &Sizing, id: PositionId) -> Option<StoredEnergy> {
    stored_energy(job, id, |at| fitted(job, catalog, sizing, at))
}

/// The charge of a position; `fitted` says what sits at each. `None` when the job has no such position.
///
/// Tolerance is left out: a can at its upper limit stores that much more.
pub fn stored_energy(job: &Job, id: PositionId, fitted: impl Fn(PositionId) -> Option<Fitted>) -> Option<StoredEnergy> {
    let position = job.position(id)?;
    let own_f = largest_f(position, fitted(id)?.can.capacitance_uf);
    let same_group =
        |other: &Position| position.parallel_group.is_some() && other.parallel_group == position.parallel_group;
    let together_f: Option<f64> = job
        .positions()
        .filter(|(other_id, other)| *other_id == id || (other_id.board == id.board && same_group(other)))
        .map(|(other_id, other)| largest_f(other, fitted(other_id)?.can.capacitance_uf))
        .sum();
    Some(charged(id, position, own_f, together_f, &strings_v(job)))
}

/// Highest voltage across each series string of a job, V, by board and name.
fn strings_v(job: &Job) -> HashMap<(usize, &str), f64> {
    let mut strings_v = HashMap::new();
    for (id, position) in job.positions() {
        if let Some((string, (volt, _))) = position.series_group.as_deref().zip(highest_v(position)) {
            *strings_v.entry((id.board, string)).or_insert(0.0) += volt;
        }
    }
    strings_v
}

/// The charge of every position of a sized job in its order, as [`stored_as_chosen`] has it.
pub fn all_stored_as_chosen(job: &Job, catalog: &Catalog, sizing: &Sizing) -> Vec<Option<StoredEnergy>> {
    let own_f = |id: PositionId| largest_f(job.position(id)?, fitted(job, catalog, sizing, id)?.can.capacitance_uf);
    let group = |id: PositionId| Some((id.board, job.position(id)?.parallel_group.as_deref()?));
    let mut together_f: HashMap<(usize, &str), Option<f64>> = HashMap::new();
    for (id, own_f) in job.positions().map(|(id, _)| (id, own_f(id))) {
        if let Some(group) = group(id) {
            let sum = together_f.entry(group).or_insert(Some(0.0));
            *sum = sum.zip(own_f).map(|(sum, own)| sum + own);
        }
    }
    let strings_v = strings_v(job);
    let charged = |sized: &PositionSizing| {
        let own_f = own_f(sized.id);
        let of_group = group(sized.id).and_then(|group| together_f.get(&group).copied());
        Some(charged(sized.id, job.position(sized.id)?, own_f, of_group.unwrap_or(own_f), &strings_v))
    };
    sizing.positions.iter().map(charged).collect()
}

/// The charge of a position with `own_f` by itself and `together_f` with its group.
fn charged(
    id: PositionId,
    position: &Position,
    own_f: Option<f64>,
    together_f: Option<f64>,
    strings_v: &HashMap<(usize, &str), f64>,
) -> StoredEnergy {
    let string_v = position.series_group.as_deref().and_then(|string| strings_v.get(&(id.board, string)).copied());
    let highest = highest_v(position);
    let volt_v = highest.map(|(volt, _)| volt);
    let resistor = || bleeder_ohm(together_f?, volt_v?, SAFE_V, WITHIN_S);
    let bleeder_ohm = resistor();
    StoredEnergy {
        id,
        energy_j: own_f.zip(volt_v).and_then(|(farad, volt)| stored_j(farad, volt)),
        together_f,
        together_j: together_f.zip(volt_v).and_then(|(farad, volt)| stored_j(farad, volt)),
        highest_v: highest,
        string_v,
        caution: match (together_f, volt_v) {
            _ if string_v.is_some_and(|volt| volt > CAUTION_V) => Some(true),
            (Some(farad), Some(volt)) => needs_caution(farad, volt),
            // The voltage alone is reason enough.
            (None, Some(volt)) if volt > CAUTION_V => Some(true),
            _ => None,
        },
        bleeder_ohm,
        bleeder_w: bleeder_ohm.zip(volt_v).and_then(|(ohm, volt)| bleeder_w(volt, ohm)),
        thresholds: together_f
            .zip(volt_v)
            .and_then(|(farad, volt)| thresholds_reached(farad, volt))
            .unwrap_or_default(),
    }
}

/// The highest voltage a position reaches, V, and what reaches it; the original's rated voltage where nobody entered the working
/// voltage, `None` where that is not known either. Reversed polarity stores as much.
pub(super) fn highest_v(position: &Position) -> Option<(f64, &'static str)> {
    let stress = &position.stress;
    let working = match stress.dc_v.map(f64::abs) {
        Some(dc_v) => (dc_v, "dc"),
        None => (position.original.can.rated_v?, "rated, operating voltage not entered"),
    };
    let peak_v = stress.dc_v.map(f64::abs).zip(stress.ripple_peak_v).map(|(dc_v, ripple_v)| dc_v + ripple_v.abs());
    let further = [(peak_v, "dc and ripple peak"), (stress.transient_v, "transient"), (stress.min_v, "lowest voltage")];
    let further = further.into_iter().filter_map(|(volt, of)| Some((volt?.abs(), of)));
    Some(further.fold(working, |highest, next| if next.0 > highest.0 { next } else { highest }))
}

/// The larger of the original's capacitance and `fitted_uf`, that of what is or will be fitted, F.
fn largest_f(position: &Position, fitted_uf: Option<f64>) -> Option<f64> {
    let both = [position.original.can.capacitance_uf, fitted_uf];
    both.into_iter().flatten().reduce(f64::max).map(|uf| uf * 1e-6)
}

#[cfg(test)]
#[path = "../../tests/within/stored_energy.rs"]
mod tests;
