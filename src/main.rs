//! The program: a copy that reads a stranger's file, else the command line.

use std::process::ExitCode;

fn main() -> ExitCode {
    // A copy that reads a stranger's file does nothing else.
    refarad::files::child::serve(refarad::files::APART).unwrap_or_else(refarad::cli::run)
}
