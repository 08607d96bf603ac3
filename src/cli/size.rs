//! `refarad size`: every position of a job, without a window.

use std::io;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use refarad::files::load::{Loaded, load_mapped};
use refarad::files::{export, save};

use super::{Failure, summary};

/// Arguments of `refarad size`.
#[derive(clap::Args)]
pub(super) struct Args {
    /// Job file
    job: PathBuf,
    /// Catalogue to use beside the job's own; may be given several times, later rows win
    #[arg(long, value_name = "CSV")]
    parts: Vec<PathBuf>,
    /// Folder for selection.csv, candidates.csv, purchase.csv, rejected.csv and worksheet.html; made if need be
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Mapping for catalogues with headers of their own, as written by `refarad read`; may be given several times
    #[arg(long, value_name = "JSON")]
    map: Vec<PathBuf>,
    /// Write every part to candidates.csv instead of the 20 best of each position
    #[arg(long)]
    all: bool,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let mappings = super::mappings(&args.map)?;
    let loaded = load_mapped(&args.job, &args.parts, &mappings).map_err(|error| error.to_string())?;
    let sizing = refarad::sizing::size(&loaded.job, &loaded.market);
    summary::print(&loaded.job, loaded.market.catalog(), &sizing);
    for note in &loaded.notes {
        eprintln!("note: {note}");
    }
    if !loaded.rejected.is_empty() {
        eprintln!("note: {} cells or rows of the catalogue were not used; see rejected.csv.", loaded.rejected.len());
    }
    if let Some(folder) = &args.out {
        write_all(folder, &loaded, &sizing, args.all)?;
    }
    Ok(if sizing.complete() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

fn write_all(folder: &Path, loaded: &Loaded, sizing: &refarad::sizing::Sizing, all: bool) -> Result<(), Failure> {
    std::fs::create_dir_all(folder)
        .map_err(|error| format!("{}: {error}; expected a folder to write to", folder.display()))?;
    let Loaded { job, market, rejected, .. } = loaded;
    write(folder, "selection.csv", |out| export::selection(out, job, market, sizing))?;
    write(folder, "candidates.csv", |out| export::candidates(out, job, market, sizing, all))?;
    write(folder, "rejected.csv", |out| export::rejected(out, rejected))
}

fn write(folder: &Path, name: &str, fill: impl FnOnce(&mut Vec<u8>) -> csv::Result<()>) -> Result<(), Failure> {
    let path = folder.join(name);
    let mut content = Vec::new();
    fill(&mut content).map_err(|error| format!("{}: {}", path.display(), io::Error::from(error)))?;
    save(&path, &content).map_err(|error| error.to_string())
}
