//! `refarad duty`: a temperature log as the phases of a duty, as JSON for a job file.

use std::path::PathBuf;
use std::process::ExitCode;

use refarad::domain::Conditions;
use refarad::files::temperature_log;
use refarad::sizing::duty_from_log::{MOST_PHASES, bin};
use refarad::sizing::reasons::figure;

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
    let log = temperature_log::read(&args.log, args.column.as_deref()).map_err(|error| error.to_string())?;
    log.notes.iter().for_each(|note| tell!("note: {note}"));
    if !log.rejected.is_empty() {
        tell!("note: {} rows of the log were not used.", log.rejected.len());
    }
    let cut = bin(&log.stretches, args.phases)
        .ok_or_else(|| format!("--phases {}: expected 1 to {MOST_PHASES}, and a log with duration", args.phases))?;
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
