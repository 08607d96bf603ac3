//! What a later rebuild shows of an earlier one: measured wear beside the life that was predicted.

use super::unit_record::{PositionRecord, UnitRecord};
use crate::domain::words;

/// Capacitance lost at the end of life, share of the start (makers' endurance limit, common practice).
const CAPACITANCE_LOSS_AT_END: f64 = 0.2;
/// ESR gained at the end of life, share of the start (makers' endurance limit, common practice).
const ESR_GAIN_AT_END: f64 = 1.0;

words! {
    /// Whether a part wore as predicted.
    pub enum Pace {
        /// Less than any of the published laws says.
        #[strum(serialize = "slower than predicted")]
        Slower,
        /// Within the band of the published laws.
        #[strum(serialize = "as predicted")]
        AsPredicted,
        /// More than any of the published laws says.
        #[strum(serialize = "faster than predicted")]
        Faster,
        /// A figure is missing.
        Unknown,
    }
}

/// Wear of one position between two rebuilds, as a share of the life of the part: 1 is the end.
#[derive(Debug, Clone, PartialEq)]
pub struct Wear {
    /// Board of the position.
    pub board: String,
    /// Its reference.
    pub reference: String,
    /// The part that was in it.
    pub part_number: String,
    /// Years in service.
    pub years: f64,
    /// Share of the life used by the prediction; `None` without life or hours.
    pub predicted: Option<f64>,
    /// The same by the longest and the shortest of the published laws.
    pub predicted_band: Option<(f64, f64)>,
    /// Share used by the capacitance lost.
    pub by_capacitance: Option<f64>,
    /// Share used by the ESR gained; only where both readings are at one frequency.
    pub by_esr: Option<f64>,
    /// The larger of the two against the band.
    pub pace: Pace,
}

/// Compares each position of `later` with the rebuild of the same unit before it; `None` when there is none.
///
/// Wear counts as growing evenly to 20 % of capacitance lost or ESR doubled at the end of life. Real parts age faster
/// towards the end, so an even count reads low early in life (assumed, common practice, no source).
pub fn wear(records: &[UnitRecord], later: &UnitRecord) -> Option<Vec<Wear>> {
    let same_unit = |record: &&UnitRecord| record.serial.trim() == later.serial.trim() && record.date < later.date;
    let earlier = records.iter().filter(same_unit).max_by_key(|record| record.date)?;
    let years = earlier.date.years_to(later.date);
    let hours = earlier.hours_per_year.map(|hours| hours * years);
    let compared = later.positions.iter().filter(|now| now.kind.is_empty()).filter_map(|now| {
        let same = |then: &&PositionRecord| then.board == now.board && then.reference == now.reference;
        let then = earlier.positions.iter().find(same)?;
        Some(of_position(then, now, years, hours))
    });
    Some(compared.collect())
}

fn of_position(then: &PositionRecord, now: &PositionRecord, years: f64, hours: Option<f64>) -> Wear {
    let share = |life_h: Option<f64>| Some(hours? / life_h.filter(|life| *life > 0.0)?);
    let (start, end) = (&then.after, &now.before);
    let ratio = |end: Option<f64>, start: Option<f64>| Some(end? / start.filter(|start| *start > 0.0)?);
    let by_capacitance =
        ratio(end.capacitance_uf, start.capacitance_uf).map(|kept| (1.0 - kept) / CAPACITANCE_LOSS_AT_END);
    let same_frequency = start.esr_hz.is_some() && start.esr_hz == end.esr_hz;
    let by_esr =
        ratio(end.esr_mohm, start.esr_mohm).filter(|_| same_frequency).map(|ratio| (ratio - 1.0) / ESR_GAIN_AT_END);
    let predicted_band = share(then.life_high_h).zip(share(then.life_low_h));
    let measured = by_capacitance.into_iter().chain(by_esr).reduce(f64::max);
    let pace = match (measured, predicted_band) {
        (Some(measured), Some((low, _))) if measured < low => Pace::Slower,
        (Some(measured), Some((_, high))) if measured > high => Pace::Faster,
        (Some(_), Some(_)) => Pace::AsPredicted,
        _ => Pace::Unknown,
    };
    Wear {
        board: now.board.clone(),
        reference: now.reference.clone(),
        part_number: then.part_number.clone(),
        years,
        predicted: share(then.life_h),
        predicted_band,
        by_capacitance,
        by_esr,
        pace,
    }
}

#[cfg(test)]
#[path = "../../tests/within/wear.rs"]
mod tests;
