//! `refarad changes`: what changed for a job since an older catalogue or an older state of the job.

use std::path::PathBuf;
use std::process::ExitCode;

use crate::files::load::load;
use crate::files::parts;
use crate::sizing::CatalogIndex;
use crate::sizing::changed::{State, changed};

use super::Failure;
use super::job::JobArgs;

/// Arguments of `refarad changes`.
#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: JobArgs,
    /// The older catalogue (CSV), or the older job (JSON) with the catalogues and offers beside it
    #[arg(long, value_name = "OLD")]
    against: PathBuf,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let new = args.of.load()?;
    let is_job = args.against.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json"));
    let (old_job, old_index) = if is_job {
        let old = load(&args.against, &[])?;
        old.notes.iter().for_each(|note| tell!("note: {}: {note}", args.against.display()));
        (old.job, old.catalog_index)
    } else {
        let read = parts::read_files(std::slice::from_ref(&args.against))?;
        (new.job.clone(), CatalogIndex::new(std::sync::Arc::new(read.catalog)))
    };
    let before = crate::sizing::size(&old_job, &old_index);
    let after = crate::sizing::size(&new.job, &new.catalog_index);
    let found = changed(
        State { job: &old_job, catalog_index: &old_index, sizing: &before },
        State { job: &new.job, catalog_index: &new.catalog_index, sizing: &after },
    );
    for change in &found {
        let board = new.job.boards.get(change.position.board).map_or("", |board| board.name.as_str());
        let reference = new.job.references(&[change.position], "");
        let part = if change.part_number.is_empty() { String::new() } else { format!(" {}", change.part_number) };
        say!("{board} {reference}{part}: {}", change.clauses.join("; "));
    }
    say!("{} of {} positions changed against {}", found.len(), after.positions.len(), args.against.display());
    Ok(if found.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}
