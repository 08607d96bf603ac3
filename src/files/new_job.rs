//! A new job from what a person says at its start: what holds for the whole job, before any position is known.

use super::entry;
use crate::domain::schema::{Bounds, Field, JOB, Unit};
use crate::domain::{Job, Phase};

fn named(name: &str) -> Result<&'static Field<Job>, String> {
    let found = JOB.iter().find(|field| field.path.strip_prefix("job.").unwrap_or(field.path) == name);
    found.ok_or_else(|| format!("{name}: no field of a job"))
}

/// Puts a figure of a job, by its name in the job file, as a person types it; nothing typed is not known.
///
/// # Errors
/// In words, why it cannot stand there.
pub fn say(job: &mut Job, name: &str, typed: &str) -> Result<(), String> {
    entry::enter(named(name)?, job, typed)
}

/// What stands in that field of a job of which nothing is said.
pub fn usual(name: &str) -> String {
    named(name).ok().and_then(|field| entry::show(field, &Job::default())).unwrap_or_default()
}

/// Adds an operating phase of the machine: share of the operating time (any scale; 1 where nothing is typed) and ambient beside the
/// boards, °C. Nothing typed adds none.
///
/// # Errors
/// In words, when one is no figure, or there is a share without its ambient.
pub fn add_phase(job: &mut Job, share: &str, ambient: &str) -> Result<(), String> {
    let share =
        entry::read(Unit::Number, Bounds::NotNegative, share).map_err(|why| format!("share of the time: {why}"))?;
    let ambient_c = entry::read(Unit::Celsius, Bounds::Celsius, ambient).map_err(|why| format!("ambient: {why}"))?;
    if ambient_c.is_none() {
        return share.map_or(Ok(()), |_| Err("A phase with a share of the time needs its ambient.".to_owned()));
    }
    let phase = Phase { share: share.or(Some(1.0)), ambient_c, ..Phase::default() };
    job.conditions.phases.get_or_insert_default().push(phase);
    Ok(())
}

/// Puts the ambient as written on the command line: `40`, or `-5..40` with the lowest first.
///
/// # Errors
/// In words, when it is neither.
pub fn say_ambient(job: &mut Job, text: &str) -> Result<(), String> {
    let (lowest, hottest) = text.split_once("..").map_or((None, text), |(lowest, hottest)| (Some(lowest), hottest));
    let said =
        say(job, "conditions.ambient_min_c", lowest.unwrap_or_default()).and_then(|()| add_phase(job, "", hottest));
    let hottest_c = job.conditions.phases.iter().flatten().find_map(|phase| phase.ambient_c);
    let lowest_c = job.conditions.ambient_min_c;
    let complete = said.is_ok() && hottest_c.is_some() && lowest.is_some() == lowest_c.is_some();
    if complete && lowest_c.is_none_or(|lowest| hottest_c.is_some_and(|hottest| lowest <= hottest)) {
        return Ok(());
    }
    Err("expected the ambient in °C as 40, or as -5..40 with the lowest first".to_owned())
}

#[cfg(test)]
#[path = "../../tests/within/new_job.rs"]
mod tests;
