//! `refarad size`: every position of a job, without a window.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::domain::{Date, Job};
use crate::files::load::Loaded;
use crate::files::output::{Outputs, Replace};
use crate::files::{Rejected, export, photo, sheets};
use crate::sizing::{CatalogIndex, Purchase, Sizing};

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
        let sized = Sized { job: &job, catalog_index: &catalog_index, sizing: &sizing };
        let mut outputs = Outputs::new(inputs.clone(), args.over.overwrite);
        let bought = sized.add_to(&mut outputs, folder, args, &rejected)?;
        let written = outputs.write()?;
        summary::print_purchase(&job, &bought);
        write::move_stale(folder, written, &inputs);
    }
    Ok(if sizing.complete() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// A sized job.
struct Sized<'a> {
    job: &'a Job,
    catalog_index: &'a CatalogIndex,
    sizing: &'a Sizing,
}

impl Sized<'_> {
    /// Adds the files of the call; what is to be bought.
    fn add_to(
        &self,
        outputs: &mut Outputs,
        folder: &Path,
        args: &Args,
        rejected: &[Rejected],
    ) -> Result<Purchase, Failure> {
        let Self { job, catalog_index, sizing } = *self;
        let at = |name: &str| folder.join(name);
        outputs.add_table(at("selection.csv"), |out| export::selection(out, job, catalog_index, sizing))?;
        outputs.add_table(at("candidates.csv"), |out| export::candidates(out, job, catalog_index, sizing, args.all))?;
        outputs.add_table(at("rejected.csv"), |out| export::rejected(out, rejected))?;
        let today = Date::today();
        let bought = crate::sizing::purchase(job, catalog_index, sizing, catalog_index.catalog().offers(), today);
        args.list.add_to(outputs, folder, job, catalog_index, &bought)?;
        let worksheet =
            sheets::worksheet(job, catalog_index, sizing, &bought, &photo::beside(&args.of.job, job), today);
        outputs.add(at("worksheet.html"), worksheet, Replace::Own);
        outputs.add(
            at("inspection.html"),
            sheets::inspection(job, catalog_index.catalog(), &bought, today),
            Replace::Own,
        );
        sheets::packing(job, &bought)
            .into_iter()
            .for_each(|(name, content)| outputs.add(at(name), content, Replace::Own));
        let provenance = sheets::Provenance::of(Some(&args.of.job), job, args.of.parts(), false);
        let justification = sheets::justification(job, catalog_index, sizing, &provenance, today);
        outputs.add(at("justification.html"), justification, Replace::Own);
        Ok(bought)
    }
}
