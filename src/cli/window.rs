//! Plain `refarad`: the window, or on a machine without display the same job in the terminal.

use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use refarad::files::demo;
use refarad::sizing::Market;

use super::job_files::{Loaded, load};
use super::{Failure, summary};

pub(super) fn run(job: Option<&Path>) -> Result<ExitCode, Failure> {
    in_terminal(job)
}

/// Sizes the job in the terminal and says how to get files and the window.
fn in_terminal(job: Option<&Path>) -> Result<ExitCode, Failure> {
    let loaded = match job {
        Some(path) => load(path, &[])?,
        None => demo_loaded()?,
    };
    let sizing = refarad::sizing::size(&loaded.job, &loaded.market);
    summary::print(&loaded.job, loaded.market.catalog(), &sizing);
    let name = job.map_or_else(|| "JOB".to_owned(), |path| path.display().to_string());
    println!();
    println!(
        "There is no display on this machine, so the window stays closed; started in a desktop session, refarad opens it."
    );
    if job.is_none() {
        println!("This is the built-in demo, all of it invented. To have it as files: refarad example DIR");
    }
    println!("To write selection, candidates, purchase and worksheet files: refarad size {name} --out DIR");
    Ok(ExitCode::SUCCESS)
}

fn demo_loaded() -> Result<Loaded, Failure> {
    let read = demo::job().map_err(|error| error.to_string())?;
    let parts = demo::parts().map_err(|error| error.to_string())?;
    let market = Market::new(Arc::new(parts.catalog));
    Ok(Loaded { job: read.job, market, rejected: parts.rejected, notes: read.notes, newer: false })
}
