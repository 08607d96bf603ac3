//! `refarad size`: every position of a job, without a window.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use refarad::domain::{Date, Job, OfferBook};
use refarad::files::load::{Loaded, load_mapped};
use refarad::files::{export, offers, purchase, save, sheets};
use refarad::progress::Progress;
use refarad::sizing::{CatalogIndex, Purchase, Sizing};

use super::{Failure, JobArgs, summary, write};

/// Arguments of `refarad size`.
#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: JobArgs,
    /// Folder for selection.csv, candidates.csv, purchase.csv, rejected.csv, worksheet.html and justification.html; made if need be
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
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let mappings = super::mappings(&args.map)?;
    let loaded = load_mapped(&args.of.job, &args.of.parts, &mappings, &Progress::default())
        .map_err(|error| error.to_string())?;
    let Loaded { job, catalog_index, mut rejected, notes, .. } = loaded;
    let offers = offers::read_for_job(&job, &args.of.job).map_err(|error| error.to_string())?;
    rejected.extend(offers.rejected);
    let sizing = refarad::sizing::size(&job, &catalog_index);
    summary::print(&job, catalog_index.catalog(), &sizing);
    for note in notes.iter().chain(&offers.notes) {
        eprintln!("note: {note}");
    }
    if !rejected.is_empty() {
        eprintln!("note: {} cells or rows of the lists were not used; see rejected.csv.", rejected.len());
    }
    if let Some(folder) = &args.out {
        let bought = refarad::sizing::purchase(&job, &catalog_index, &sizing, &offers.book, Date::today());
        refuse_invented(&job, &catalog_index, &bought, args.invented)?;
        write::make(folder)?;
        write::csv(folder, "selection.csv", |out| export::selection(out, &job, &catalog_index, &sizing))?;
        write::csv(folder, "candidates.csv", |out| export::candidates(out, &job, &catalog_index, &sizing, args.all))?;
        write::csv(folder, "rejected.csv", |out| export::rejected(out, &rejected))?;
        let today = Date::today();
        let bought = buy(folder, &job, &catalog_index, &sizing, &offers.book, today)?;
        if args.per_supplier {
            per_supplier(folder, &job, &bought)?;
        }
        if args.xlsx {
            let content = purchase::xlsx(&job, &bought).map_err(|error| format!("purchase.xlsx: {error}"))?;
            save(&folder.join("purchase.xlsx"), &content).map_err(|error| error.to_string())?;
        }
        write::text(folder, "worksheet.html", &sheets::worksheet(&job, &catalog_index, &sizing, &bought, today))?;
        write::text(folder, "justification.html", &sheets::justification(&job, &catalog_index, &sizing, today))?;
    }
    Ok(if sizing.complete() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// Writes `purchase.csv` and says what it comes to.
pub(super) fn buy(
    folder: &Path,
    job: &Job,
    catalog_index: &CatalogIndex,
    sizing: &Sizing,
    book: &OfferBook,
    today: Option<Date>,
) -> Result<Purchase, Failure> {
    let bought = refarad::sizing::purchase(job, catalog_index, sizing, book, today);
    write::csv(folder, "purchase.csv", |out| purchase::csv(out, job, &bought))?;
    summary::print_purchase(job, &bought);
    Ok(bought)
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

fn per_supplier(folder: &Path, job: &Job, bought: &Purchase) -> Result<(), Failure> {
    let (_, stale) = purchase::write_per_supplier(folder, job, bought).map_err(|error| error.to_string())?;
    for path in stale {
        eprintln!("note: {} is from an earlier run and was left alone; do not send it.", path.display());
    }
    Ok(())
}
