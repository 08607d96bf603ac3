//! What a call about a job asks for, the same in every one: the job, its catalogues, how its purchase list is written.

use std::io;
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::write;
use crate::domain::{Board, Job, PositionId};
use crate::files::import::mapping::{Mapping, MappingError};
use crate::files::load::{Loaded, load_mapped};
use crate::files::output::{Outputs, Replace};
use crate::files::{SaveError, purchase, purchase_workbook};
use crate::progress::Progress;
use crate::sizing::{CatalogIndex, Purchase};

/// The job a call is about, and its parts.
#[derive(clap::Args)]
pub(super) struct JobArgs {
    /// Job file
    pub(super) job: PathBuf,
    #[command(flatten)]
    catalogues: Catalogues,
    /// Mapping of columns for catalogues with headers of their own, as `refarad read` writes it; may be given several times
    #[arg(long, value_name = "JSON")]
    map: Vec<PathBuf>,
}

/// Catalogues named by a call.
#[derive(clap::Args)]
pub(super) struct Catalogues {
    /// Catalogue to use beside the job's own; may be given several times, later rows win
    // `--catalog` is how `curves` once spelled it.
    #[arg(long, value_name = "CSV", alias = "catalog")]
    pub(super) parts: Vec<PathBuf>,
}

impl JobArgs {
    /// The job with its parts; remarks on them go to standard error.
    pub(super) fn load(&self) -> Result<Loaded, Failure> {
        let loaded = load_mapped(&self.job, self.parts(), &mappings(&self.map)?, &Progress::default())?;
        loaded.notes.iter().for_each(|note| tell!("note: {note}"));
        Ok(loaded)
    }

    /// The catalogues the call names.
    pub(super) fn parts(&self) -> &[PathBuf] {
        &self.catalogues.parts
    }

    /// Every file the call reads for its job.
    pub(super) fn inputs(&self, job: &Job) -> Vec<PathBuf> {
        write::inputs(&self.job, job, self.parts().iter().chain(&self.map))
    }
}

/// Mappings from the disk.
pub(super) fn mappings(paths: &[PathBuf]) -> Result<Vec<Mapping>, MappingError> {
    paths.iter().map(|path| Mapping::read(path)).collect()
}

/// A position of the job.
#[derive(clap::Args)]
pub(super) struct PositionArgs {
    /// Reference designator of the position
    #[arg(long = "ref", value_name = "REF")]
    pub(super) reference: String,
    /// Board it is on, when several boards have such a position
    #[arg(long, value_name = "NAME")]
    board: Option<String>,
}

impl PositionArgs {
    /// The position asked for, with its board; it must be one.
    pub(super) fn find<'a>(&self, job: &'a Job, path: &Path) -> Result<(PositionId, &'a Board), Failure> {
        let reference = format!("--ref {}", self.reference);
        let names: Vec<&str> = job.boards.iter().map(|board| board.name.as_str()).collect();
        if let Some(name) = self.board.as_deref().filter(|name| !names.contains(name)) {
            return Err(Failure::expected(format!("--board {name}"), format!("one of {}", names.join(", "))));
        }
        let found: Vec<(PositionId, &Board)> = job
            .positions()
            .filter(|(_, position)| position.reference == self.reference)
            .filter_map(|(id, _)| Some((id, job.boards.get(id.board)?)))
            .filter(|(_, board)| self.board.as_ref().is_none_or(|name| board.name == *name))
            .collect();
        match found[..] {
            [one] => Ok(one),
            [] => Err(Failure::expected(reference, format!("a position of {}", path.display()))),
            _ => Err(Failure::expected(reference, "a position of one board, several have it; name one by --board")),
        }
    }
}

/// How a purchase list is written.
#[derive(clap::Args)]
pub(super) struct ListArgs {
    /// Write a purchase list for each supplier too
    #[arg(long, requires = "out")]
    per_supplier: bool,
    /// Write the purchase list as a workbook too (purchase.xlsx)
    #[arg(long, requires = "out")]
    xlsx: bool,
    /// Write a purchase list that names invented parts, too: nobody can buy them
    #[arg(long)]
    invented: bool,
}

impl ListArgs {
    /// Adds the purchase list to what is written to a folder. An order of a job that is not invented itself names no part that
    /// nobody can buy, unless that is wanted.
    pub(super) fn add_to(
        &self,
        outputs: &mut Outputs,
        folder: &Path,
        job: &Job,
        catalog_index: &CatalogIndex,
        bought: &Purchase,
    ) -> Result<(), Failure> {
        let invented = bought.invented(catalog_index.catalog());
        if !self.invented && job.invented != Some(true) && !invented.is_empty() {
            let shown = invented.iter().take(5).copied().collect::<Vec<_>>().join(", ");
            return Err(Failure::Invented { number: invented.len(), shown });
        }
        let failed = |name: &str, source: io::Error| SaveError { path: folder.join(name), source };
        outputs.add_table(folder.join("purchase.csv"), |out| purchase::csv(out, job, bought))?;
        if self.per_supplier {
            let lists = purchase::per_supplier(job, bought).map_err(|error| failed("purchase", error.into()))?;
            lists.into_iter().for_each(|(name, content)| outputs.add(folder.join(name), content, Replace::Own));
        }
        if self.xlsx {
            let content = purchase_workbook::xlsx(job, bought)
                .map_err(|error| failed("purchase.xlsx", io::Error::other(error.to_string())))?;
            outputs.add(folder.join("purchase.xlsx"), content, Replace::Own);
        }
        Ok(())
    }
}
