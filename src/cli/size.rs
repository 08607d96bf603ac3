//! `refarad size`: every position of a job, without a window.

use std::io;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use refarad::domain::{Date, Job};
use refarad::files::load::{Loaded, load_mapped};
use refarad::files::output::{OutputError, Outputs, Replace};
use refarad::files::{Rejected, SaveError, export, photo, purchase, purchase_workbook, sheets};
use refarad::progress::Progress;
use refarad::sizing::{CatalogIndex, Purchase, Sizing};

use super::{Failure, JobArgs, Over, summary, write};

/// Arguments of `refarad size`.
#[derive(clap::Args)]
#[expect(clippy::struct_excessive_bools, reason = "each is an option of the call")]
pub(super) struct Args {
    #[command(flatten)]
    of: JobArgs,
    /// Folder for selection.csv, candidates.csv, purchase.csv, rejected.csv, worksheet.html, justification.html, inspection.html, kits.html, labels.html and labels_letter.html; made if need be
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Mapping for catalogues with headers of their own, as written by `refarad read`; may be given several times
    #[arg(long, value_name = "JSON")]
    map: Vec<PathBuf>,
    /// Write every part to candidates.csv instead of the 20 best of each position
    #[arg(long)]
    all: bool,
    /// Write a purchase list that names invented parts, too: nobody can buy them
    #[arg(long)]
    invented: bool,
    /// Write a purchase list for each supplier too
    #[arg(long, requires = "out")]
    per_supplier: bool,
    /// Write the purchase list as a workbook too (purchase.xlsx)
    #[arg(long, requires = "out")]
    xlsx: bool,
    #[command(flatten)]
    over: Over,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let mappings = super::mappings(&args.map)?;
    let loaded = load_mapped(&args.of.job, &args.of.parts, &mappings, &Progress::default())
        .map_err(|error| error.to_string())?;
    let Loaded { job, catalog_index, rejected, notes, .. } = loaded;
    let sizing = refarad::sizing::size(&job, &catalog_index);
    summary::print(&job, catalog_index.catalog(), &sizing);
    for note in &notes {
        tell!("note: {note}");
    }
    if !rejected.is_empty() {
        tell!("note: {} cells or rows of the lists were not used; see rejected.csv.", rejected.len());
    }
    if let Some(folder) = &args.out {
        let inputs = write::inputs(&args.of.job, &job, args.of.parts.iter().chain(&args.map));
        let sized = Sized { job: &job, catalog_index: &catalog_index, sizing: &sizing };
        let mut outputs = Outputs::new(inputs.clone(), args.over.overwrite);
        let bought = sized.add_to(&mut outputs, folder, args, &rejected).map_err(|e| write::in_words(&e))?;
        refuse_invented(&job, &catalog_index, &bought, args.invented)?;
        let written = write::all(outputs)?;
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

/// An order of a job that is not invented itself names no part that nobody can buy, unless it is `wanted`.
pub(super) fn refuse_invented(
    job: &Job,
    catalog_index: &CatalogIndex,
    bought: &Purchase,
    wanted: bool,
) -> Result<(), Failure> {
    let invented = bought.invented(catalog_index.catalog());
    if wanted || job.invented == Some(true) || invented.is_empty() {
        return Ok(());
    }
    let shown = invented.iter().take(5).copied().collect::<Vec<_>>().join(", ");
    Err(format!(
        "{} of the parts to order are invented and cannot be bought ({shown}); use another catalogue, or say --invented",
        invented.len()
    ))
}

impl Sized<'_> {
    /// Adds the files of the call; what is to be bought.
    fn add_to(
        &self,
        outputs: &mut Outputs,
        folder: &Path,
        args: &Args,
        rejected: &[Rejected],
    ) -> Result<Purchase, OutputError> {
        let Self { job, catalog_index, sizing } = *self;
        let at = |name: &str| folder.join(name);
        let failed = |name: &str, source: io::Error| SaveError { path: at(name), source };
        outputs.add_table(at("selection.csv"), |out| export::selection(out, job, catalog_index, sizing))?;
        outputs.add_table(at("candidates.csv"), |out| export::candidates(out, job, catalog_index, sizing, args.all))?;
        outputs.add_table(at("rejected.csv"), |out| export::rejected(out, rejected))?;
        let today = Date::today();
        let bought = refarad::sizing::purchase(job, catalog_index, sizing, catalog_index.catalog().offers(), today);
        outputs.add_table(at("purchase.csv"), |out| purchase::csv(out, job, &bought))?;
        if args.per_supplier {
            let lists = purchase::per_supplier(job, &bought).map_err(|error| failed("purchase", error.into()))?;
            lists.into_iter().for_each(|(name, content)| outputs.add(at(&name), content, Replace::Own));
        }
        if args.xlsx {
            let content = purchase_workbook::xlsx(job, &bought)
                .map_err(|error| failed("purchase.xlsx", io::Error::other(error.to_string())))?;
            outputs.add(at("purchase.xlsx"), content, Replace::Own);
        }
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
        let provenance = sheets::Provenance::of(Some(&args.of.job), job, &args.of.parts, false);
        let justification = sheets::justification(job, catalog_index, sizing, &provenance, today);
        outputs.add(at("justification.html"), justification, Replace::Own);
        Ok(bought)
    }
}
