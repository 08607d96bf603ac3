//! `refarad duty`: a temperature log as operating phases, as JSON for a job file.

use std::path::PathBuf;
use std::process::ExitCode;

use crate::domain::Conditions;
use crate::files::temperature_log;
use crate::sizing::duty_from_log::{MOST_PHASES, bin};
use crate::sizing::reasons::figure;

use super::Failure;
use super::write::JsonOut;

/// Arguments of `refarad duty`.
#[derive(clap::Args)]
pub(super) struct Args {
    /// Temperature log (CSV): times and temperatures in any usual notation
    log: PathBuf,
    /// Column of temperatures, by its header; without it the first
    #[arg(long, value_name = "NAME")]
    column: Option<String>,
    /// Phases to cut it into, at most 24
    #[arg(long, value_name = "COUNT", default_value_t = 4)]
    phases: usize,
    #[command(flatten)]
    out: JsonOut,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let log = temperature_log::read(&args.log, args.column.as_deref())?;
    log.notes.iter().for_each(|note| tell!("note: {note}"));
    if !log.rejected.is_empty() {
        tell!("note: {} rows of the log were skipped.", log.rejected.len());
    }
    let cut = bin(&log.stretches, args.phases).ok_or_else(|| {
        let what = format!("1 to {MOST_PHASES}, and a log with duration");
        Failure::expected(format!("--phases {}", args.phases), what)
    })?;
    tell!(
        "note: column {}: {} to {} °C, mean {} °C; the phases give the life of the log within {} %",
        log.column,
        figure(cut.min_c),
        figure(cut.max_c),
        figure(cut.mean_c),
        figure((1000.0 * cut.life_error.abs()).ceil() / 10.0)
    );
    let conditions = Conditions { phases: Some(cut.phases), ambient_min_c: Some(cut.min_c), ..Conditions::default() };
    args.out.write(vec![args.log.clone()], &conditions)
}
