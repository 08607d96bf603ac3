//! The files a sized job is written to.

use std::io;
use std::path::Path;

use refarad::files::save;

use super::Failure;

/// Makes `folder` if need be.
pub(super) fn make(folder: &Path) -> Result<(), Failure> {
    std::fs::create_dir_all(folder)
        .map_err(|error| format!("{}: {error}; expected a folder to write to", folder.display()))
}

/// Writes what `fill` makes to `name` in `folder`.
pub(super) fn csv(
    folder: &Path,
    name: &str,
    fill: impl FnOnce(&mut Vec<u8>) -> csv::Result<()>,
) -> Result<(), Failure> {
    let path = folder.join(name);
    let mut content = Vec::new();
    fill(&mut content).map_err(|error| format!("{}: {}", path.display(), io::Error::from(error)))?;
    save(&path, &content).map_err(|error| error.to_string())
}

/// Writes `text` to `name` in `folder`.
pub(super) fn text(folder: &Path, name: &str, text: &str) -> Result<(), Failure> {
    save(&folder.join(name), text.as_bytes()).map_err(|error| error.to_string())
}

/// Writes JSON to a file, or to standard output without one.
pub(super) fn json(path: Option<&Path>, content: &impl serde::Serialize) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(content).map_err(|error| error.to_string())?;
    match path {
        Some(path) => save(path, format!("{text}\n").as_bytes()).map_err(|error| error.to_string()),
        None => {
            say!("{text}");
            Ok(())
        }
    }
}
