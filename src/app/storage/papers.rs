//! What goes to the supplier, to the bench and to the engineer, written to files.

use std::path::{Path, PathBuf};

use crate::app::actions::dialogs::FilePurpose;
use crate::app::state::Session;
use crate::app::work::Worker;
use crate::domain::{Date, Job};
use crate::files::{
    export_set, output, output::Outputs, output::Replace, photo, purchase, purchase_workbook, sheets, unit_record,
    unit_table,
};
use crate::sizing;

/// Writes what goes to the supplier, to the bench or to the engineer, for the job as it is now.
pub(crate) fn write_paper(
    session: &Session,
    exporting: &Worker<Result<String, String>>,
    wish: FilePurpose,
    path: PathBuf,
) {
    let (job, catalog_index) = (session.job().clone(), session.catalog_index.clone());
    let (job_path, unsaved, held) = (session.path.clone(), session.is_dirty(), session.stock.held.clone());
    exporting.request(format!("Writing {}", path.display()), move |_| {
        let sizing = sizing::size(&job, &catalog_index);
        let today = Date::today();
        let bought = sizing::purchase(&job, &catalog_index, &sizing, today);
        let content = match wish {
            FilePurpose::Packing => return write_packing(&path, &job, &bought),
            FilePurpose::Suppliers => return write_suppliers(&path, &job, &bought),
            FilePurpose::Workbook => purchase_workbook::xlsx(&job, &bought).map_err(|error| error.to_string())?,
            FilePurpose::Worksheet => {
                let photos = match &job_path {
                    Some(path) => photo::beside(path, &job),
                    None => photo::of_boards(&job, |name, side_max_px| {
                        let bytes = held.get(name).map(|bytes| bytes.as_slice()).unwrap_or_default();
                        photo::read_bytes(bytes, Path::new(name), side_max_px)
                    }),
                };
                sheets::worksheet(&job, &catalog_index, &sizing, &bought, &photos, today).into_bytes()
            }
            FilePurpose::Inspection => sheets::inspection(&job, catalog_index.catalog(), &bought, today).into_bytes(),
            FilePurpose::Justification => {
                let provenance = sheets::Provenance::of(job_path.as_deref(), &job, &[], unsaved);
                sheets::justification(&job, &catalog_index, &sizing, &provenance, today).into_bytes()
            }
            _ => {
                let mut content = Vec::new();
                purchase::csv(&mut content, &job, &bought).map_err(|error| error.to_string())?;
                content
            }
        };
        output::asked(&path, content)?;
        Ok(format!("Written to {}.", path.display()))
    });
}

/// Writes the record of the rebuilt units as a table.
pub(crate) fn write_units(session: &Session, exporting: &Worker<Result<String, String>>, path: PathBuf) {
    let Some(record) = session.path.as_deref().map(unit_record::path_beside) else { return };
    exporting.request(format!("Writing {}", path.display()), move |_| {
        let read = unit_record::read(&record).map_err(|error| error.to_string())?;
        let mut content = Vec::new();
        unit_table::export(&mut content, &read.records).map_err(|error| error.to_string())?;
        output::asked(&path, content)?;
        Ok(format!("{} rebuilds written to {}.", read.records.len(), path.display()))
    });
}

/// Writes files into a folder as a set; what was written there before and is unchanged gives way.
fn write_all(
    folder: &Path,
    files: impl IntoIterator<Item = (impl AsRef<Path>, impl Into<Vec<u8>>)>,
) -> Result<Vec<PathBuf>, String> {
    let mut outputs = Outputs::new(Vec::new(), false);
    for (name, content) in files {
        outputs.add(folder.join(name), content, Replace::Own);
    }
    outputs.write().map_err(|error| error.to_string())
}

fn write_packing(folder: &Path, job: &Job, bought: &sizing::Purchase) -> Result<String, String> {
    let written = write_all(folder, sheets::packing(job, bought))?;
    Ok(format!("{} pages written to {}.", written.len(), folder.display()))
}

fn write_suppliers(folder: &Path, job: &Job, bought: &sizing::Purchase) -> Result<String, String> {
    let written = write_all(folder, purchase::per_supplier(job, bought).map_err(|error| error.to_string())?)?;
    let (moved, failed) = export_set::move_stale(folder, &written, export_set::Set::SupplierLists);
    let names = |paths: &[PathBuf]| {
        let names = paths.iter().filter_map(|path| path.file_name()).map(|name| name.to_string_lossy().into_owned());
        names.collect::<Vec<_>>().join(", ")
    };
    let moved = match moved.len() {
        0 => String::new(),
        _ => format!(" Of an earlier export, moved to the folder {}: {}.", export_set::EARLIER, names(&moved)),
    };
    let failed: String = failed.iter().map(|failure| format!(" {failure}.")).collect();
    Ok(format!("Written to {}: {}.{moved}{failed}", folder.display(), names(&written)))
}
