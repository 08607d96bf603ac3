//! A new job from what a person says at its start: what holds for the whole job, before any position is known.

use std::path::Path;

use super::job::{self, JobError};
use crate::domain::{Conditions, Job, Phase};

/// What is said of a new job; everything but the name may be left out and is then unknown or the documented default.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct NewJob {
    /// What the shop calls it.
    pub name: String,
    /// Units to rebuild, whole and at least 1.
    pub units: Option<f64>,
    /// Spare pieces over the need, percent.
    pub spare_pct: Option<f64>,
    /// Energised hours in a year, at most 8784.
    pub hours_per_year: Option<f64>,
    /// Years until the next scheduled rebuild.
    pub interval_years: Option<f64>,
    /// Currency of the costs.
    pub currency: Option<String>,
    /// Operating phases of the machine: share of the operating time (any scale) and ambient beside the boards, °C.
    pub phases: Vec<(f64, f64)>,
    /// Lowest ambient, also while switched off, °C.
    pub ambient_min_c: Option<f64>,
}

impl NewJob {
    /// The job, without boards and parts.
    ///
    /// # Errors
    /// When a figure is outside the bounds of a job file; the message names the field and the bound.
    pub fn job(&self) -> Result<Job, JobError> {
        let phase = |&(share, ambient_c): &(f64, f64)| Phase {
            share: Some(share),
            ambient_c: Some(ambient_c),
            ..Phase::default()
        };
        let phases: Vec<Phase> = self.phases.iter().map(phase).collect();
        let conditions = Conditions {
            phases: Some(phases).filter(|phases| !phases.is_empty()),
            ambient_min_c: self.ambient_min_c,
            ..Conditions::default()
        };
        let new = Job {
            name: self.name.trim().to_owned(),
            units: self.units,
            spare_pct: self.spare_pct,
            hours_per_year: self.hours_per_year,
            interval_years: self.interval_years,
            currency: self.currency.clone().filter(|currency| !currency.trim().is_empty()),
            conditions,
            ..Job::default()
        };
        // The bounds of a job file hold here too.
        job::from_slice(job::to_text(&new).as_bytes(), Path::new("new job")).map(|read| read.job)
    }
}

/// Lowest ambient and the phases as share and ambient, °C.
pub type Ambients = (Option<f64>, Vec<(f64, f64)>);

/// Ambients as written on the command line: `40`, or `-5..40` with the lowest first: `(lowest, phases)`.
///
/// # Errors
/// In words, when it is neither.
pub fn ambient(text: &str) -> Result<Ambients, String> {
    let figure = |text: &str| {
        let text = text.trim().trim_end_matches('C').trim_end_matches('°').trim();
        text.replace('−', "-").parse::<f64>().ok().filter(|value| value.is_finite())
    };
    let expected = || "expected the ambient in °C as 40, or as -5..40 with the lowest first".to_owned();
    let (lowest, hottest) = match text.split_once("..") {
        Some((lowest, hottest)) => (Some(figure(lowest).ok_or_else(expected)?), hottest),
        None => (None, text),
    };
    let hottest = figure(hottest).ok_or_else(expected)?;
    if lowest.is_some_and(|lowest| lowest > hottest) {
        return Err(expected());
    }
    Ok((lowest, vec![(1.0, hottest)]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_becomes_the_conditions_of_the_job_and_what_is_not_stays_unknown() {
        let new = NewJob { name: " Kiln ".into(), phases: vec![(1.0, 55.0)], ..NewJob::default() };
        let job = new.job().unwrap();
        assert_eq!(job.name, "Kiln");
        assert_eq!(job.conditions.phases.as_ref().map(|phases| phases[0].ambient_c), Some(Some(55.0)));
        assert_eq!((job.units, job.hours_per_year, job.conditions.ambient_min_c), (None, None, None));
        assert!(NewJob::default().job().unwrap().conditions.is_empty());
    }

    #[test]
    fn a_figure_out_of_bounds_is_refused_by_its_name() {
        let error = NewJob { spare_pct: Some(-1.0), ..NewJob::default() }.job().unwrap_err().to_string();
        assert!(error.contains("spare_pct"), "{error}");
    }

    #[test]
    fn an_ambient_is_one_figure_or_two() {
        assert_eq!(ambient("40"), Ok((None, vec![(1.0, 40.0)])));
        assert_eq!(ambient("-5 .. 40 °C"), Ok((Some(-5.0), vec![(1.0, 40.0)])));
        for wrong in ["", "warm", "40..5", "5..", "NaN"] {
            assert!(ambient(wrong).is_err(), "{wrong}");
        }
    }
}
