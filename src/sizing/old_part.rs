//! What is left of the old parts, and what that says about the stress entered.

use super::contexts::Contexts;
use super::position_context::PositionContext;
use super::reasons::figure;
use crate::domain::{Assumed, Catalog, Job, Position, PositionId};
use crate::physics::condition::{Assessment, assess};
use crate::physics::esr::{self, Esr};

/// How the measured wear compares with what the laws predicted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// A measurement, the age, the duty or a figure of the part is missing.
    Unknown,
    /// Less worn than even the most careful law predicted.
    WearsLess,
    /// As worn as the laws predicted.
    AsPredicted,
    /// More worn than even the harshest law predicted: the stress entered is too low, or something is faulty.
    WearsMore,
}

/// The old part of one position.
#[derive(Debug, Clone, PartialEq)]
pub struct OldPart {
    /// Which position.
    pub id: PositionId,
    /// Its condition by what was measured.
    pub assessment: Assessment,
    /// Share of its life used by the measurements: 1 at 20 % of capacitance lost or at twice the ESR limit, linear in between (assumed); the
    /// larger of the two.
    pub measured_wear: Option<f64>,
    /// Age when measured, years.
    pub age_years: Option<f64>,
    /// Whether the year of measuring was not noted and the year given by the caller was taken.
    pub age_assumed: bool,
    /// Energised hours behind it.
    pub hours: Option<f64>,
    /// Share of its life used by the law of the life check, before any cap.
    pub predicted_wear: Option<f64>,
    /// The same by the published laws: least and most.
    pub predicted_range: Option<(f64, f64)>,
    /// How the two compare.
    pub verdict: Verdict,
    /// Hotter core by the 10 K rule that would explain the difference, K; negative for less. `None` unless the verdict is out of the range.
    pub explained_by_k: Option<f64>,
    /// Measured over predicted wear, relative to the middle one of its board; above 2 it suffered more than the others, whatever is wrong with the
    /// hours or the law in common. `None` with fewer than three comparable positions, and outside [`board_by_condition`].
    pub relative_to_board: Option<f64>,
    /// Older than any life makers vouch for: drying out by age alone is then possible.
    pub beyond_calendar_cap: bool,
    /// Figures that came from default tables.
    pub assumed: Assumed,
}

/// Positions of a board from which on they are compared with each other.
const COMPARABLE: usize = 3;

impl OldPart {
    /// Whether it wears more than every law predicted, or more than twice as much as the others of its board by what was predicted.
    pub fn suffered_more(&self) -> bool {
        self.verdict == Verdict::WearsMore || self.relative_to_board.is_some_and(|relative| relative > 2.0)
    }

    fn ratio(&self) -> Option<f64> {
        Some(self.measured_wear? / self.predicted_wear.filter(|&wear| wear > 0.0)?)
    }

    /// What the comparison says, a sentence or two.
    pub fn sentence(&self) -> String {
        let percent = |share: f64| format!("{} %", figure(100.0 * share));
        let (Some(measured), Some(predicted)) = (self.measured_wear, self.predicted_wear) else {
            return "Nothing can be said about the stress: a measurement, the year of manufacture, the hours or the load profile is missing.".into();
        };
        let facts =
            format!("Worn by {} of its life as measured, by {} as predicted", percent(measured), percent(predicted));
        let age = if self.beyond_calendar_cap {
            " It is older than any life makers vouch for, so part of this can be age alone."
        } else {
            ""
        };
        let others = match self.relative_to_board.filter(|_| self.verdict != Verdict::WearsMore && self.suffered_more())
        {
            Some(relative) => format!(
                " It suffered {} times as much as the others of its board: the stress here is underestimated beside theirs.",
                figure(relative)
            ),
            None => String::new(),
        };
        match (self.verdict, self.explained_by_k) {
            (Verdict::WearsMore, Some(kelvin)) => format!(
                "{facts}: the stress here is underestimated (as much as {} K more at the core would do), or the part was faulty. Measure ambient and ripple before trusting the new one.{age}",
                figure(kelvin)
            ),
            (Verdict::WearsLess, Some(kelvin)) => format!(
                "{facts}: the stress here is overestimated ({} K less at the core would explain it), or it ran fewer hours.{others}",
                figure(-kelvin)
            ),
            _ if measured >= 1.0 && predicted >= 1.0 => {
                format!("{facts}: past its end by both, which says no more about the stress.{others}{age}")
            }
            _ => format!("{facts}: the two agree within the published laws.{others}{age}"),
        }
    }
}

/// Condition of the old part by what was measured, and the ESR limit it was held against: that of the part when new, at the
/// frequency measured.
pub fn condition(position: &Position) -> (Assessment, Option<Esr>) {
    let can = &position.original.can;
    let measured = position.measured.clone().unwrap_or_default();
    let capacitance_share = measured.capacitance_uf.zip(can.capacitance_uf).map(|(now, nominal)| now / nominal);
    // A measured ESR without its frequency compares with nothing.
    let limit = measured.esr_mohm.and(measured.esr_hz).and_then(|hz| esr::at_hz(can, hz));
    let esr_ratio = measured.esr_mohm.zip(limit).map(|(now, limit)| now / limit.mohm);
    (assess(capacitance_share, esr_ratio), limit)
}

/// The old part at a position. `now_year` (such as 2026.75) stands in where the date of measuring was not noted; `None` leaves the age unknown then.
///
/// `None` when the job has no such position.
pub fn old_part(job: &Job, catalog: &Catalog, id: PositionId, now_year: Option<f64>) -> Option<OldPart> {
    made_ready(&PositionContext::new(job, catalog, id)?, job, id, now_year)
}

fn made_ready(context: &PositionContext, job: &Job, id: PositionId, now_year: Option<f64>) -> Option<OldPart> {
    let (position, can) = (context.position, &context.position.original.can);
    let measured = position.measured.clone().unwrap_or_default();
    let mut assumed = Assumed::default();
    let (assessment, limit) = condition(position);
    assumed.insert(limit.map(|limit| limit.assumed).unwrap_or_default());

    let noted_year = measured.date.as_deref().and_then(year_of);
    let age_years = position.original.made_year.zip(noted_year.or(now_year)).map(|(made, now)| now - made);
    let age_years = age_years.filter(|&age| age > 0.0);
    let hours = age_years.zip(job.hours_per_year).map(|(age, per_year)| age * per_year);
    let life = context.under_duty(can).and_then(|(under, leaned_on)| {
        assumed.insert(leaned_on);
        under.life(context.duty()?, super::checks::Change::NONE)
    });
    let used = |of: fn(&crate::physics::life::Life) -> f64| Some(hours? / life.as_ref().map(of)?);
    let predicted_wear = used(|life| life.nominal_h);
    let predicted_range = used(|life| life.high_h).zip(used(|life| life.low_h));
    let measured_wear = wear(&assessment);
    let (verdict, explained_by_k) = compare(measured_wear, predicted_range);
    Some(OldPart {
        id,
        assessment,
        measured_wear,
        age_years,
        age_assumed: age_years.is_some() && noted_year.is_none(),
        hours,
        predicted_wear,
        predicted_range,
        verdict,
        explained_by_k,
        relative_to_board: None,
        beyond_calendar_cap: age_years.is_some_and(|age| age > job.policy.calendar_cap_years),
        assumed,
    })
}

/// Every old part of a board, the most worn first; those not measured last. Among equals the ones that suffered more than the others of the board, by
/// what was predicted, come first: that is where the stress is underestimated.
pub fn board_by_condition(job: &Job, catalog: &Catalog, board: usize, now_year: Option<f64>) -> Vec<OldPart> {
    let ids = job.positions().map(|(id, _)| id).filter(|id| id.board == board);
    let places = Contexts::new(job, catalog);
    let mut parts: Vec<OldPart> = ids.filter_map(|id| made_ready(&places.at(id)?, job, id, now_year)).collect();
    let mut ratios: Vec<f64> = parts.iter().filter_map(OldPart::ratio).collect();
    if ratios.len() >= COMPARABLE {
        let at = ratios.len() / 2;
        let middle = *ratios.select_nth_unstable_by(at, f64::total_cmp).1;
        for part in &mut parts {
            part.relative_to_board = part.ratio().filter(|_| middle > 0.0).map(|ratio| ratio / middle);
        }
    }
    let more = |part: &OldPart| !part.suffered_more();
    parts.sort_by(|a, b| {
        let wear = |part: &OldPart| part.measured_wear.unwrap_or(-1.0);
        let condition = |part: &OldPart| part.assessment.condition;
        let order = condition(b).cmp(&condition(a)).then(more(a).cmp(&more(b)));
        order.then(wear(b).total_cmp(&wear(a))).then(a.id.cmp(&b.id))
    });
    parts
}

/// Share of the life used, linear up to makers' end-of-life limits: 20 % of capacitance lost, twice the ESR limit.
pub(super) fn wear(assessment: &Assessment) -> Option<f64> {
    let by_capacitance = assessment.capacitance_share.map(|share| (1.0 - share) / 0.2);
    let by_esr = assessment.esr_ratio.map(|ratio| ratio - 1.0);
    let larger = [by_capacitance, by_esr].into_iter().flatten().reduce(f64::max)?;
    Some(larger.max(0.0))
}

fn compare(measured: Option<f64>, predicted: Option<(f64, f64)>) -> (Verdict, Option<f64>) {
    let (Some(measured), Some((least, most))) = (measured, predicted) else { return (Verdict::Unknown, None) };
    let kelvin = |ratio: f64| (ratio > 0.0).then(|| 10.0 * ratio.log2());
    // Past the end of life nobody has a law: worn out is worn out.
    let outlived = measured < least.min(1.0) && least > 0.0;
    if measured > most {
        (Verdict::WearsMore, kelvin(measured / most))
    } else if outlived {
        // Nothing measurable: at most a twentieth of the life, which is what a meter can tell.
        (Verdict::WearsLess, kelvin(measured.max(0.05).min(least) / least))
    } else {
        (Verdict::AsPredicted, None)
    }
}

/// The year of a date such as `2026-10-02` or `2026`, with the month as its fraction.
fn year_of(date: &str) -> Option<f64> {
    let mut parts = date.trim().split('-');
    let year: u32 = parts.next()?.parse().ok().filter(|year| (1950..=2200).contains(year))?;
    let month = match parts.next() {
        Some(month) => month.parse::<u32>().ok().filter(|month| (1..=12).contains(month))?,
        // The middle of the year.
        None => 7,
    };
    Some(f64::from(year) + f64::from(month - 1) / 12.0)
}

#[cfg(test)]
#[path = "../../tests/within/old_part.rs"]
mod tests;
