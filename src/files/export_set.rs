//! The files of one export are one set: what an earlier export left in the same folder is moved aside, so that nobody sends or reads a mixture.

use std::path::{Path, PathBuf};

use super::output::GENERATOR;
use super::purchase::{LIST_PREFIXES, column_names, upload_heads};
use super::{EXPORTED, bounded};

/// Where files of an earlier export go, in the folder of the export.
pub const EARLIER: &str = "earlier";

/// How tables and workbooks of an export begin; pages name their generator.
const OWN_STARTS: [&[u8]; 5] = [b"step,", b"board,ref", b"part_number,maker,", b"file,line,", b"PK"];

/// Which files belong to the set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Set {
    /// Everything a call of the shell writes.
    Whole,
    /// The lists for suppliers.
    SupplierLists,
}

/// Moves the files of an earlier export in `folder` that are not among those `written` into [`EARLIER`], under a name that is free there. Their old
/// paths, and what could not be moved with the reason.
pub fn move_stale(folder: &Path, written: &[PathBuf], set: Set) -> (Vec<PathBuf>, Vec<String>) {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
    let mut stale: Vec<PathBuf> =
        entries.filter(|path| path.is_file() && !written.contains(path) && belongs(path, set)).collect();
    stale.sort();
    let mut failed = Vec::new();
    stale.retain(|path| match aside(folder, path) {
        Ok(()) => true,
        Err(error) => {
            failed.push(format!("{} is of an earlier export and could not be moved aside: {error}", path.display()));
            false
        }
    });
    (stale, failed)
}

/// A file of the program has its name and begins as the program writes it; what a person keeps under such a name stays.
fn belongs(path: &Path, set: Set) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let beginning = bounded::beginning(path);
    if set == Set::Whole && EXPORTED.contains(&name.as_ref()) {
        let generated = beginning.windows(GENERATOR.len()).any(|bytes| bytes == GENERATOR.as_bytes());
        return generated || OWN_STARTS.iter().any(|start| beginning.starts_with(start));
    }
    let is_list = LIST_PREFIXES.iter().any(|prefix| name.starts_with(prefix));
    // The columns grow at their end and between; the first ones have never changed.
    let [short, long] = upload_heads();
    let heads = [column_names()[..4].join(","), short, long];
    is_list && name.ends_with(".csv") && heads.iter().any(|head| beginning.starts_with(head.as_bytes()))
}

fn aside(folder: &Path, path: &Path) -> std::io::Result<()> {
    let to = folder.join(EARLIER);
    std::fs::create_dir_all(&to)?;
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let named = |n: u32| to.join(if n == 1 { name.clone() } else { format!("{n}-{name}") });
    let free = (1..10_000).map(named).find(|path| std::fs::symlink_metadata(path).is_err());
    std::fs::rename(path, free.ok_or_else(|| std::io::Error::other("no free name"))?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_an_earlier_export_left_is_moved_and_what_a_person_keeps_stays() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let (list, [upload, references]) = (column_names().join(","), upload_heads());
        let files = [
            ("purchase_Old.csv", list.as_str()),
            ("upload_Old.csv", &upload),
            ("references_Old.csv", &references),
            ("purchase_notes.csv", "mine"),
            ("selection.csv", "board,ref"),
            ("order_steps.csv", "mine, longer than what a page says of its program"),
            ("purchase_New.csv", &list),
            ("copy_by_hand.csv", &list),
            ("photo.png", ""),
        ];
        let lay = || files.iter().for_each(|(name, content)| std::fs::write(at(name), content).unwrap());
        lay();
        let written = [at("purchase_New.csv")];
        let (moved, failed) = move_stale(folder.path(), &written, Set::SupplierLists);
        let lists = ["purchase_Old.csv", "references_Old.csv", "upload_Old.csv"].map(at);
        assert_eq!((moved, failed.len()), (lists.to_vec(), 0));
        lay();
        let (moved, _) = move_stale(folder.path(), &written, Set::Whole);
        assert_eq!(moved.len(), 4, "{moved:?}");
        // Nothing is lost: what was moved the time before keeps its place.
        for name in ["purchase_Old.csv", "2-purchase_Old.csv", "selection.csv"] {
            assert!(at(EARLIER).join(name).exists(), "{name}");
        }
        let kept = ["order_steps.csv", "purchase_notes.csv", "copy_by_hand.csv", "photo.png"].map(at);
        assert!(kept.iter().all(|path| path.exists()));
    }
}
