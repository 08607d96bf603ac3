//! The calls of the program and their exit statuses.

/// Prints a line. Whoever reads it may have had enough (`| head`): that is no reason to stop, files are still to be written.
macro_rules! say {
    () => { say!("") };
    ($($words:tt)*) => { $crate::cli::terminal::line(&mut std::io::stdout(), &format!($($words)*)) };
}

/// The same on standard error.
macro_rules! tell {
    ($($words:tt)*) => { $crate::cli::terminal::line(&mut std::io::stderr(), &format!($($words)*)) };
}

mod changes;
mod curves;
#[cfg(feature = "window")]
mod desktop;
mod duty;
mod live;
mod new;
mod order;
mod read;
mod read_report;
mod record;
mod ripple;
mod size;
mod summary;
mod terminal;
mod trace;
mod window;
mod write;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Parser, Subcommand};
use refarad::files::import::mapping::Mapping;

/// Choose replacement electrolytic capacitors for boards nobody makes any more, and prove that they hold.
#[derive(Parser)]
#[command(name = "refarad", version, args_conflicts_with_subcommands = true)]
struct Call {
    #[command(subcommand)]
    command: Option<Command>,
    /// Job file to open, or a list to begin a new job with; without one the start is shown, on a machine without display the demo
    job: Option<PathBuf>,
}

#[derive(Subcommand)]
enum Command {
    /// Begin a job of your own in a folder: from lists, with what holds for all of it
    ///
    /// Exit status: 0 written, 1 written and something of the lists was rejected, not used or contradicted, 2 the call or a file
    /// could not be used.
    New(new::Args),
    /// Size every position of a job without a window
    ///
    /// Prints a line for each position. Exit status: 0 every position has a part that passes or is marginal, 1 some
    /// position has none, 2 the call or a file could not be used.
    Size(size::Args),
    /// Write how long parts last at a position against one condition, as CSV
    ///
    /// Exit status: 0 written, 2 the call or a file could not be used.
    Curves(curves::Args),
    /// Read parts lists, parts lists of boards and placement files as people really write them
    ///
    /// Writes a catalogue or a job, and beside it everything that was not used, with the reason. Exit status: 0 every row was kept or
    /// set aside with a reason, 1 something was rejected, not used or contradicted, 2 the call or a file could not be used.
    Read(read::Args),
    /// Propose an order of few lines: which parts to take so that parts and order lines cost least together
    ///
    /// Exit status: 0 every position is in the order, 1 some position is not, 2 the call or a file could not be used.
    Order(order::Args),
    /// List what changed for a job against an older catalogue or an older state of the job
    ///
    /// Price, stock, status, figures and verdict of each position's part, and parts that are gone. Exit status: 0 nothing changed, 1
    /// something did, 2 the call or a file could not be used.
    Changes(changes::Args),
    /// Work out a ripple spectrum from a circuit, an oscilloscope's record or the rise of a case, as JSON for a job file
    Ripple(ripple::Args),
    /// Make the phases of a duty from a temperature log, as JSON for a job file
    Duty(duty::Args),
    /// Find the rims of cans in a photo of a board from rough circles, as CSV
    ///
    /// Prints x, y and r in pixels of the photo as it is stored, a row for each circle. Exit status: 0 printed, 2 the call or the
    /// photo could not be used.
    Trace(trace::Args),
    /// Keep the record of the units: add a rebuild, list due dates, export
    Record(record::Args),
    /// Write a desktop entry and the icon, for the menu of a Linux desktop
    #[cfg(feature = "window")]
    Desktop(desktop::Args),
    /// Write the built-in demo job and catalogue (all of it invented) to a folder
    Example {
        /// Folder to write to; made if need be
        folder: PathBuf,
        #[command(flatten)]
        over: Over,
    },
}

/// The job a call is about, and its parts.
#[derive(clap::Args)]
struct JobArgs {
    /// Job file
    job: PathBuf,
    /// Catalogue to use beside the job's own; may be given several times, later rows win
    #[arg(long, value_name = "CSV")]
    parts: Vec<PathBuf>,
}

/// What may be replaced.
#[derive(Clone, Copy, clap::Args)]
struct Over {
    /// Replace files that were read, jobs, records and files this program did not write; each is kept as NAME.previous
    #[arg(long)]
    overwrite: bool,
}

/// Something could not be used: one line for standard error.
type Failure = String;

pub(crate) fn run() -> ExitCode {
    let call = match Call::try_parse() {
        Ok(call) => call,
        // Help and version also come this way; clap knows where each goes and with which status.
        Err(error) => error.exit(),
    };
    let done = match call.command {
        Some(Command::New(args)) => new::run(&args),
        Some(Command::Size(args)) => size::run(&args),
        Some(Command::Curves(args)) => curves::run(&args),
        Some(Command::Read(args)) => read::run(&args),
        Some(Command::Order(args)) => order::run(&args),
        Some(Command::Changes(args)) => changes::run(&args),
        Some(Command::Ripple(args)) => ripple::run(&args),
        Some(Command::Duty(args)) => duty::run(&args),
        Some(Command::Trace(args)) => trace::run(&args),
        Some(Command::Record(args)) => record::run(&args),
        #[cfg(feature = "window")]
        Some(Command::Desktop(args)) => desktop::run(&args),
        Some(Command::Example { folder, over }) => example(&folder, over),
        None => window::run(call.job.as_deref()),
    };
    done.unwrap_or_else(|failure| {
        tell!("refarad: {failure}");
        ExitCode::from(2)
    })
}

fn example(folder: &Path, over: Over) -> Result<ExitCode, Failure> {
    refarad::files::demo::write_unless_there(folder, over.overwrite).map_err(|error| write::in_words(&error))?;
    say!("The demo is in {}; all of it is invented. To size it:", folder.display());
    say!("  refarad size {} --out {}", folder.join("observatory.json").display(), folder.join("out").display());
    Ok(ExitCode::SUCCESS)
}

/// Mappings from the disk.
fn mappings(paths: &[PathBuf]) -> Result<Vec<Mapping>, Failure> {
    paths.iter().map(|path| Mapping::read(path).map_err(|error| error.to_string())).collect()
}
