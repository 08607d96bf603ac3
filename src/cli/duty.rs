//! `refarad duty`: a temperature log as operating phases, as JSON for a job file.

use std::path::PathBuf;
use std::process::ExitCode;

use crate::domain::style::counted;
use crate::domain::{Bounds, Conditions};
use crate::files::temperature_log::{self, LogAnswers, Scale};
use crate::sizing::duty_from_log::{MOST_PHASES, bin};
use crate::sizing::reasons::figure;

use super::failure::Failure;
use super::write::JsonOut;

/// Arguments of `refarad duty`.
#[derive(clap::Args)]
pub(super) struct Args {
    /// Temperature log (CSV): times and temperatures in any usual notation
    log: PathBuf,
    /// Column of temperatures, by its header; asked for where several can be meant
    #[arg(long, value_name = "NAME")]
    column: Option<String>,
    /// Unit of its temperatures, C, F or K; asked for where the log does not say it
    #[arg(long, value_name = "UNIT", value_parser = scale)]
    unit: Option<Scale>,
    /// Phases to cut it into, at most 24
    #[arg(long, value_name = "COUNT", default_value_t = 4)]
    phases: usize,
    #[command(flatten)]
    out: JsonOut,
}

fn scale(text: &str) -> Result<Scale, String> {
    Scale::parse(text).ok_or_else(|| "expected C, F or K".to_owned())
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let answers = LogAnswers { column: args.column.clone(), scale: args.unit };
    let log = temperature_log::read(&args.log, &answers)?;
    let column = log.column.as_ref().ok_or_else(|| {
        let what = format!("--column, the one beside the can, one of {}", log.columns.join(", "));
        Failure::of_file(&args.log, what)
    })?;
    if log.scale.is_none() {
        return Err(Failure::of_file(&args.log, format!("--unit C, F or K, that of the temperatures of {column}")));
    }
    log.notes.iter().for_each(|note| tell!("note: {note}"));
    if !log.rejected.is_empty() {
        tell!("note: {} skipped.", counted(log.rejected.len(), "row of the log was", "rows of the log were"));
    }
    let cut = bin(&log.stretches, args.phases).ok_or_else(|| {
        let what = format!("1 to {MOST_PHASES}, and a log with duration");
        Failure::expected(format!("--phases {}", args.phases), what)
    })?;
    let outside = [cut.min_c, cut.max_c].into_iter().find_map(|t| Some((t, Bounds::Celsius.complaint(t)?)));
    if let Some((ambient_c, expected)) = outside {
        return Err(Failure::Call(format!("{}: {} °C in the log: {expected}", args.log.display(), figure(ambient_c))));
    }
    tell!(
        "note: column {}: {} to {} °C, mean {} °C; the phases give the life of the log within {} %",
        column,
        figure(cut.min_c),
        figure(cut.max_c),
        figure(cut.mean_c),
        figure((1000.0 * cut.life_error.abs()).ceil() / 10.0)
    );
    let conditions = Conditions { phases: Some(cut.phases), ambient_min_c: Some(cut.min_c), ..Conditions::default() };
    args.out.write(vec![args.log.clone()], &conditions)
}
