//! Plain `refarad`: the window, or on a machine without display the same job in the terminal.

use std::path::Path;
use std::process::ExitCode;

use crate::files::load::{load, load_demo};

use super::failure::Failure;
use super::summary;

pub(super) fn run(job: Option<&Path>) -> Result<ExitCode, Failure> {
    match open(job) {
        Ok(()) => Ok(ExitCode::SUCCESS),
        Err(why) => in_terminal(job, &why),
    }
}

/// Opens the window until it is closed; else says in a sentence why not, and what helps.
#[cfg(feature = "window")]
fn open(job: Option<&Path>) -> Result<(), String> {
    use crate::app;
    let opened = if app::display_is_there() {
        app::run(app::Start { path: job.map(Path::to_owned) })
    } else {
        Err("There is no display".into())
    };
    opened.map_err(|why| format!("{why}: started in a desktop session, refarad opens its window."))
}

#[cfg(not(feature = "window"))]
fn open(_: Option<&Path>) -> Result<(), String> {
    Err("This refarad was built without its window; a build with the feature `window` has it.".into())
}

/// Sizes the job in the terminal and says how to get files and the window.
fn in_terminal(job: Option<&Path>, why: &str) -> Result<ExitCode, Failure> {
    let loaded = match job {
        Some(list) if list.is_file() && list.extension().is_none_or(|ending| !ending.eq_ignore_ascii_case("json")) => {
            let list = list.display();
            let what = format!("{list}: a list and no job; refarad new DIR --from {list} begins a job with it. {why}");
            return Err(Failure::Call(what));
        }
        Some(path) => load(path, &[]),
        None => load_demo(),
    }?;
    let sizing = crate::sizing::size(&loaded.job, &loaded.catalog_index);
    summary::print(&loaded.job, loaded.catalog_index.catalog(), &sizing);
    let name = job.map_or_else(|| "JOB".to_owned(), |path| path.display().to_string());
    say!();
    say!("{why}");
    if job.is_none() {
        say!("This is the built-in demo, all of it invented. To have it as files: refarad example DIR");
    }
    say!("To write selection, candidates, purchase and worksheet files: refarad size {name} --out DIR");
    Ok(ExitCode::SUCCESS)
}
