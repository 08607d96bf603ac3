//! `refarad size`: every position of a job, without a window.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::domain::Date;
use crate::files::load::Loaded;
use crate::files::output::{Outputs, Replace};
use crate::files::{export, photo, sheets};
use crate::sizing::Purchase;
use crate::sizing::changed::State;

use super::failure::Failure;
use super::job::{JobArgs, ListArgs};
use super::write::Over;
use super::{summary, write};

/// Arguments of `refarad size`.
#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: JobArgs,
    /// Folder for selection.csv, candidates.csv, purchase.csv, rejected.csv, worksheet.html, justification.html, inspection.html, kits.html, labels.html and labels_letter.html; made if need be
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Write every part to candidates.csv instead of the 20 best of each position
    #[arg(long)]
    all: bool,
    #[command(flatten)]
    list: ListArgs,
    #[command(flatten)]
    over: Over,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let Loaded { job, catalog_index, rejected, .. } = args.of.load()?;
    let sizing = crate::sizing::size(&job, &catalog_index);
    summary::print(&job, catalog_index.catalog(), &sizing);
    if !rejected.is_empty() {
        let see = if args.out.is_some() { "see rejected.csv" } else { "--out DIR lists them" };
        tell!("note: {} cells or rows of the lists were not used; {see}.", rejected.len());
    }
    if let Some(folder) = &args.out {
        let inputs = args.of.inputs(&job);
        let state = State { job: &job, catalog_index: &catalog_index, sizing: &sizing };
        let mut outputs = Outputs::new(inputs.clone(), args.over.overwrite);
        outputs.add_table(folder.join("rejected.csv"), |out| export::rejected(out, &rejected))?;
        let bought = add_to(&mut outputs, folder, args, state)?;
        let written = outputs.write()?;
        summary::print_purchase(&job, &bought);
        write::move_stale(folder, written, &inputs);
    }
    Ok(if sizing.complete() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// Adds the files of the call about a sized job; what is to be bought.
fn add_to(outputs: &mut Outputs, folder: &Path, args: &Args, state: State) -> Result<Purchase, Failure> {
    let State { job, catalog_index, sizing } = state;
    let at = |name: &str| folder.join(name);
    outputs.add_table(at("selection.csv"), |out| export::selection(out, job, catalog_index, sizing))?;
    outputs.add_table(at("candidates.csv"), |out| export::candidates(out, job, catalog_index, sizing, args.all))?;
    let today = Date::today();
    let bought = crate::sizing::purchase(job, catalog_index, sizing, today);
    args.list.add_to(outputs, folder, job, catalog_index, &bought)?;
    let photos = photo::beside(&args.of.job, job);
    let provenance = sheets::Provenance::of(Some(&args.of.job), job, args.of.parts(), false);
    let pages = [
        ("worksheet.html", sheets::worksheet(job, catalog_index, sizing, &bought, &photos, today)),
        ("inspection.html", sheets::inspection(job, catalog_index.catalog(), &bought, today)),
        ("justification.html", sheets::justification(job, catalog_index, sizing, &provenance, today)),
    ];
    let pages = pages.into_iter().chain(sheets::packing(job, &bought));
    pages.for_each(|(name, content)| outputs.add(at(name), content, Replace::Own));
    Ok(bought)
}
