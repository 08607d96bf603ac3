//! The files a call writes.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::domain::Job;
use crate::files::output::{Outputs, Replace};
use crate::files::{companions, export_set, unit_record};

use super::failure::Failure;

/// What may be replaced.
#[derive(Clone, Copy, clap::Args)]
pub(super) struct Over {
    /// Replace files that were read, jobs, records and files this program did not write; each is kept as NAME.previous
    #[arg(long)]
    pub(super) overwrite: bool,
}

/// The files a call about a job reads, with `more` named on the command line.
pub(super) fn inputs<'a>(job_path: &Path, job: &Job, more: impl IntoIterator<Item = &'a PathBuf>) -> Vec<PathBuf> {
    let photos = job.boards.iter().filter_map(|board| board.photo.as_ref());
    let named = job.catalogs.iter().chain(&job.offers).chain(photos);
    let named = named.filter_map(|name| companions::inside(job_path, name));
    let own = [job_path.to_owned(), unit_record::path_beside(job_path)];
    own.into_iter().chain(named).chain(more.into_iter().cloned()).collect()
}

/// Moves what an earlier export left in the folder aside, and says so; what was written and what was read stays.
pub(super) fn move_stale(folder: &Path, mut kept: Vec<PathBuf>, inputs: &[PathBuf]) {
    kept.extend_from_slice(inputs);
    let (moved, failed) = export_set::move_stale(folder, &kept, export_set::Set::Whole);
    if !moved.is_empty() {
        let names: Vec<_> =
            moved.iter().filter_map(|path| path.file_name()).map(|name| name.to_string_lossy()).collect();
        let to = folder.join(export_set::EARLIER);
        tell!("note: of an earlier export and moved to {}: {}.", to.display(), names.join(", "));
    }
    for failure in failed {
        tell!("note: {failure}");
    }
}

/// Writes a file's content to standard output as it is.
pub(super) fn to_stdout(content: &[u8]) -> Result<(), Failure> {
    match std::io::stdout().write_all(content) {
        // Whoever read it had enough.
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => Ok(()),
        written => written.map_err(Failure::system("standard output")),
    }
}

/// Where a call writes what can be put into a job file.
#[derive(clap::Args)]
pub(super) struct JsonOut {
    /// File to write; without it the JSON goes to standard output
    #[arg(long, value_name = "JSON")]
    out: Option<PathBuf>,
    #[command(flatten)]
    over: Over,
}

impl JsonOut {
    /// Writes `content`, made from the files `read`.
    pub(super) fn write(&self, read: Vec<PathBuf>, content: &impl serde::Serialize) -> Result<ExitCode, Failure> {
        let text = serde_json::to_string_pretty(content)?;
        match &self.out {
            Some(path) => {
                let mut outputs = Outputs::new(read, self.over.overwrite);
                outputs.add(path.clone(), format!("{text}\n"), Replace::Own);
                outputs.write()?;
            }
            None => to_stdout(format!("{text}\n").as_bytes())?,
        }
        Ok(ExitCode::SUCCESS)
    }
}
