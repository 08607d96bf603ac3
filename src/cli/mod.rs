//! The command line: the calls of the program, a file for each, and their exit statuses.

/// Prints a line. Whoever reads it may have had enough (`| head`): that is no reason to stop, files are still to be written.
macro_rules! say {
    () => { say!("") };
    ($($words:tt)*) => { $crate::cli::terminal::said(&format!($($words)*)) };
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
mod failure;
mod job;
mod live;
mod mistyped;
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

use clap::error::ErrorKind;
use clap::{CommandFactory, FromArgMatches, Parser, Subcommand};

use failure::Failure;
use write::Over;

/// Choose replacement electrolytic capacitors for boards nobody makes any more, and show how long they last.
#[derive(Parser)]
#[command(
    name = "refarad",
    version,
    args_conflicts_with_subcommands = true,
    after_help = "Exit status: 0 and 1 as each call says; 2 when the call or a file could not be used, with one line on standard error."
)]
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
    /// Exit status: 0 every row of the lists was kept or skipped with a reason, 1 written too, but something was
    /// rejected or contradicted, or a question is open.
    New(Box<new::Args>),
    /// Size every position of a job without a window
    ///
    /// Prints a line for each position. Exit status: 0 every position has a part that passes or is marginal, 1 some
    /// position has none.
    Size(size::Args),
    /// Write how long parts last at a position against one condition, as CSV
    Curves(curves::Args),
    /// Read component catalogues, bills of materials and placement files as people really write them
    ///
    /// Writes a catalogue or a job, and beside it everything that was not used, with the reason. Exit status: 0 every row was kept or
    /// skipped with a reason, 1 something was rejected or contradicted, a question is open, or a list gave nothing at all.
    Read(read::Args),
    /// Propose the order that costs least: which parts to take so that parts and order lines together cost least
    ///
    /// Exit status: 0 every position is in the order, 1 some position is not.
    Order(order::Args),
    /// List what changed for a job against an older catalogue or an older state of the job
    ///
    /// Price, stock, status, figures and verdict of each position's part, and parts that are gone. Exit status: 0 nothing changed, 1
    /// something did.
    Changes(changes::Args),
    /// Work out a ripple spectrum from a circuit, an oscilloscope's record or the rise of a case, as JSON for a job file
    Ripple(ripple::Args),
    /// Make operating phases of a temperature log, as JSON for a job file
    Duty(duty::Args),
    /// Find the rims of cans in a photo of a board from rough circles, as CSV
    ///
    /// Prints x, y and r in pixels of the photo as it is stored, a row for each circle.
    Trace(trace::Args),
    /// Keep the service records of the units: add a rebuild, list due dates, export
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

/// Every call with its options, for those who ask what there is.
pub fn calls() -> clap::Command {
    Call::command()
}

/// Carries out the call the program was started with; status 2, with a line on standard error, when it cannot be used.
pub fn run() -> ExitCode {
    let words = mistyped::words();
    let parsed =
        with_negative_numbers(calls()).try_get_matches_from(&words).and_then(|typed| Call::from_arg_matches(&typed));
    let done = match parsed {
        // Clap knows where these go and with which status.
        Err(asked) if matches!(asked.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) => asked.exit(),
        Err(wrong) => Err(mistyped::failure(&calls(), &words, &wrong)),
        Ok(call) => carry_out(call),
    };
    done.and_then(|status| terminal::all_said().map(|()| status)).unwrap_or_else(|failure| {
        tell!("refarad: {failure}");
        ExitCode::from(2)
    })
}

/// With numbers below 0 as values of options, so that the bound of the option is said and not that the number is no option.
fn with_negative_numbers(call: clap::Command) -> clap::Command {
    call.mut_args(|arg| {
        let takes = arg.get_action().takes_values() && !arg.is_positional();
        if takes { arg.allow_negative_numbers(true) } else { arg }
    })
    .mut_subcommands(with_negative_numbers)
}

fn carry_out(call: Call) -> Result<ExitCode, Failure> {
    match call.command {
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
        None => match call.job.as_deref().and_then(|word| mistyped::call(&calls(), word)) {
            Some(failure) => Err(failure),
            None => window::run(call.job.as_deref()),
        },
    }
}

fn example(folder: &Path, over: Over) -> Result<ExitCode, Failure> {
    crate::files::demo::write_unless_there(folder, over.overwrite)?;
    say!("The demo is in {}; all of it is invented. To size it:", folder.display());
    say!("  refarad size {} --out {}", folder.join("observatory.json").display(), folder.join("out").display());
    Ok(ExitCode::SUCCESS)
}
