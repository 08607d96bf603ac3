//! The command line: opens the window, or sizes a job in the terminal.

mod cli;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run()
}
