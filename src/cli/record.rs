//! `refarad record`: what was done to each unit, and when it is due.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::domain::{Date, Job, UnitType};
use crate::files::output::Outputs;
use crate::files::unit_record::{self, RecordsRead, UnitRecord};
use crate::files::unit_table;
use crate::files::wear::wear;
use crate::files::{Rejected, bounded};
use crate::sizing::reasons::figure;

use super::failure::Failure;
use super::job::JobArgs;
use super::write::Over;

/// Arguments of `refarad record`.
#[derive(clap::Args)]
#[command(arg_required_else_help = false)]
pub(super) struct Args {
    #[command(subcommand)]
    action: Action,
}

#[derive(clap::Subcommand)]
enum Action {
    /// Add the rebuild of one unit to the record beside the job
    Add(Add),
    /// List the units and when they are due
    Due {
        /// Job file
        job: PathBuf,
    },
    /// Write the record as a table (CSV)
    Export {
        /// Job file
        job: PathBuf,
        /// File to write to
        out: PathBuf,
        #[command(flatten)]
        over: Over,
    },
}

#[derive(clap::Args)]
struct Add {
    #[command(flatten)]
    of: JobArgs,
    /// Serial number of the unit
    #[arg(long)]
    serial: String,
    /// Who did it
    #[arg(long)]
    technician: String,
    /// Day of the rebuild, as 2026-10-02; without it today
    #[arg(long)]
    date: Option<Date>,
    /// Type of the unit, where the job has several; without it the first
    #[arg(long, value_name = "NAME")]
    unit_type: Option<String>,
    /// Lots, date codes and measurements: a list with the columns of the export, at least board and ref
    #[arg(long, value_name = "CSV")]
    values: Option<PathBuf>,
    /// Remark
    #[arg(long, default_value = "")]
    note: String,
    /// Record a second rebuild of the unit on this day
    #[arg(long)]
    again: bool,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    match &args.action {
        Action::Add(add) => self::add(add),
        Action::Due { job } => due(job),
        Action::Export { job, out, over } => export(job, out, *over),
    }
}

fn add(args: &Add) -> Result<ExitCode, Failure> {
    let loaded = args.of.load()?;
    let sizing = crate::sizing::size(&loaded.job, &loaded.catalog_index);
    let date = args.date.or_else(Date::today).ok_or(Failure::NoClock)?;
    let of = unit_type(&loaded.job, args.unit_type.as_deref())?;
    let catalog = loaded.catalog_index.catalog();
    let mut record = UnitRecord::planned(&loaded.job, catalog, &sizing, &of, &args.serial, date);
    args.technician.trim().clone_into(&mut record.technician);
    if record.technician.is_empty() {
        tell!("note: nobody said who did it: the technician is unknown");
    }
    record.note.clone_from(&args.note);
    if let Some(path) = &args.values {
        let bytes = bounded::read(path, bounded::TABLE_BYTES_MAX).map_err(Failure::system(path.display()))?;
        let (rejected, note) = unit_table::complete(&mut record, &bytes, path)?;
        note.iter().for_each(|note| tell!("note: {note}"));
        if let Some(first) = rejected.first() {
            complain(&rejected);
            return Err(Failure::Values { path: path.clone(), line: first.line });
        }
    }
    for at in record.positions.iter().filter(|at| !at.date_code.is_empty()) {
        if Date::of_date_code(&at.date_code, date).is_none() {
            tell!(
                "note: {} {}: the date code {} gives no day: expected year and week up to the rebuild, as 2319",
                at.board,
                at.reference,
                at.date_code
            );
        }
    }
    let path = unit_record::path_beside(&args.of.job);
    let earlier = read(&path)?;
    unit_record::append(&path, &record, args.again, Date::today())?;
    let due = record.next_due.map_or_else(|| "an unknown day".to_owned(), |due| due.to_string());
    say!("{}: {} added, due on {due}", path.display(), record.serial);
    for wear in wear(&earlier.records, &record).unwrap_or_default() {
        let share =
            |share: Option<f64>| share.map_or_else(|| "unknown".to_owned(), |s| format!("{} %", figure(s * 100.0)));
        say!(
            "{} {} {}: {} years, life used by capacitance {}, by ESR {}, predicted {}: {}",
            wear.board,
            wear.reference,
            wear.part_number,
            figure(wear.years),
            share(wear.by_capacitance),
            share(wear.by_esr),
            share(wear.predicted),
            wear.pace.word()
        );
    }
    Ok(ExitCode::SUCCESS)
}

/// The type that is meant; the first where nobody said, which is told.
fn unit_type(job: &Job, name: Option<&str>) -> Result<UnitType, Failure> {
    let mut types = job.unit_types_or_one();
    let names = types.iter().map(|of| of.name.clone()).collect::<Vec<_>>().join(", ");
    let at = match name {
        None if types.len() == 1 => Some(0),
        None => {
            tell!(
                "note: the type of the unit is not said: {} is taken (assumed); --unit-type has {names}",
                types[0].name
            );
            Some(0)
        }
        Some(name) => types.iter().position(|of| of.name.trim().eq_ignore_ascii_case(name.trim())),
    };
    let wrong = || Failure::expected(format!("--unit-type {}", name.unwrap_or_default()), format!("one of {names}"));
    at.map(|at| types.swap_remove(at)).ok_or_else(wrong)
}

fn due(job: &Path) -> Result<ExitCode, Failure> {
    let path = unit_record::path_beside(job);
    let RecordsRead { records, rejected } = read(&path)?;
    if records.is_empty() && !rejected.is_empty() {
        return Err(Failure::of_file(&path, "records of rebuilds; no line could be read"));
    }
    let units = unit_record::due_dates(&records, Date::today());
    if units.is_empty() {
        say!("{}: no unit recorded yet; add one by: refarad record add", path.display());
    }
    for unit in units {
        let due = unit.due.map_or_else(|| "unknown   ".to_owned(), |due| due.to_string());
        let left = match unit.years_left {
            Some(left) if left < 0.0 => format!("overdue by {} years", figure(-left)),
            Some(left) => format!("in {} years", figure(left)),
            None => String::new(),
        };
        say!("{due}  {}  rebuilt {}  {left}", unit.serial, unit.last);
    }
    Ok(ExitCode::SUCCESS)
}

fn export(job: &Path, out: &Path, over: Over) -> Result<ExitCode, Failure> {
    let record = unit_record::path_beside(job);
    let read = read(&record)?;
    let mut outputs = Outputs::new(vec![job.to_owned(), record], over.overwrite);
    outputs.add_table(out.to_owned(), |table| unit_table::export(table, &read.records))?;
    outputs.write()?;
    say!("{}: {} rebuilds", out.display(), read.records.len());
    Ok(ExitCode::SUCCESS)
}

fn read(path: &Path) -> Result<RecordsRead, Failure> {
    let read = unit_record::read(path)?;
    complain(&read.rejected);
    Ok(read)
}

fn complain(rejected: &[Rejected]) {
    for row in rejected {
        tell!("note: {}: line {}: {}: {} ({})", row.file.display(), row.line, row.field, row.reason, row.value);
    }
}
