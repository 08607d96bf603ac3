//! `refarad changes`: what changed for a job since an older catalogue or an older state of the job.

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use crate::domain::style::counted;
use crate::domain::{Job, OfferBook};
use crate::files::load::load;
use crate::files::parts;
use crate::sizing::CatalogIndex;
use crate::sizing::changed::{Records, State, changed, records};

use super::failure::Failure;
use super::job::JobArgs;

/// Arguments of `refarad changes`.
#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: JobArgs,
    /// The older catalogue (CSV), or the older job (JSON) with the catalogues and offers beside it; without one, what the job file keeps of the parts
    /// from when it was saved in the window
    #[arg(long, value_name = "OLD")]
    against: Option<PathBuf>,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let new = args.of.load()?;
    let (old, what) = match &args.against {
        None if new.as_saved.is_empty() => {
            let what = "an older catalogue or job named by --against: it keeps nothing of its parts yet";
            return Err(Failure::expected(args.of.job.display().to_string(), what));
        }
        None => (new.as_saved.clone(), "what was saved".to_owned()),
        Some(path) => (older(path, &new.job, new.catalog_index.catalog().offers())?, path.display().to_string()),
    };
    let after = crate::sizing::size(&new.job, &new.catalog_index);
    let found = changed(&old, State { job: &new.job, catalog_index: &new.catalog_index, sizing: &after });
    for change in &found {
        let board = new.job.board_name(Some(change.position.board));
        let reference = new.job.references(&[change.position], "");
        let part = if change.part_number.is_empty() { String::new() } else { format!(" {}", change.part_number) };
        say!("{board} {reference}{part}: {}", change.clauses.join("; "));
    }
    let of = counted(after.positions.len(), "position", "positions");
    say!("{} of {of} changed against {what}", found.len());
    Ok(if found.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// What is known of the parts of an older job, or of this one with an older catalogue and the same offers.
fn older(path: &Path, job: &Job, offers: &OfferBook) -> Result<Records, Failure> {
    let is_job = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json"));
    let (job, catalog_index) = if is_job {
        let old = load(path, &[])?;
        old.notes.iter().for_each(|note| tell!("note: {}: {note}", path.display()));
        (old.job, old.catalog_index)
    } else {
        let read = parts::read_files(&[path.to_owned()])?;
        (job.clone(), CatalogIndex::new(Arc::new(read.catalog.with_offers(Arc::new(offers.clone())))))
    };
    let sizing = crate::sizing::size(&job, &catalog_index);
    Ok(records(State { job: &job, catalog_index: &catalog_index, sizing: &sizing }))
}
