//! Writing a file so that a crash leaves either the old or the new content, whole.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// A file could not be written; the old content is untouched.
#[derive(Debug, thiserror::Error)]
#[error("{}: could not be written ({source}); choose another place or make room, the work is still open", path.display())]
pub struct SaveError {
    /// The file.
    pub path: PathBuf,
    /// What the system said.
    pub source: io::Error,
}

/// Replaces `path` by `content`: written beside it, flushed to the disk, then renamed over it.
///
/// # Errors
/// When the folder cannot be written or the disk is full.
pub fn save(path: &Path, content: &[u8]) -> Result<(), SaveError> {
    replace(path, content).map_err(|source| SaveError { path: path.to_owned(), source })
}

fn replace(path: &Path, content: &[u8]) -> io::Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut file = tempfile::Builder::new().prefix(".refarad-").tempfile_in(folder)?;
    file.write_all(content)?;
    file.as_file().sync_all()?;
    allow_reading(file.as_file(), path)?;
    file.persist(path)?;
    sync_folder(folder)
}

/// Temporary files are private; a saved file keeps the permissions of the one it replaces, else the usual ones.
#[cfg(unix)]
fn allow_reading(file: &std::fs::File, replaced: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    let permissions = match std::fs::metadata(replaced) {
        Ok(metadata) => metadata.permissions(),
        Err(_) => std::fs::Permissions::from_mode(0o644),
    };
    file.set_permissions(permissions)
}

#[cfg(not(unix))]
fn allow_reading(_file: &std::fs::File, _replaced: &Path) -> io::Result<()> {
    Ok(())
}

/// Makes the rename itself survive a power cut.
#[cfg(unix)]
fn sync_folder(folder: &Path) -> io::Result<()> {
    std::fs::File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
fn sync_folder(_folder: &Path) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_saved_file_holds_the_new_content_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.json");
        save(&path, b"old").unwrap();
        save(&path, b"new").unwrap();
        assert_eq!(std::fs::read(&path).unwrap(), b"new");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_missing_folder_is_one_clear_message() {
        let error = save(Path::new("/no/such/folder/a.json"), b"x").unwrap_err();
        assert!(error.to_string().contains("could not be written"));
    }
}
