//! Writing a file so that a crash leaves either the old or the new content, whole.

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use tempfile::NamedTempFile;

/// How the name of a file begins while it is being written.
const UNFINISHED: &str = ".refarad-";
const ABANDONED_AFTER: Duration = Duration::from_hours(24);

/// A file could not be written; the old content is untouched.
#[derive(Debug, thiserror::Error)]
#[error("{}: could not be written: {}", path.display(), in_words(source))]
pub struct SaveError {
    /// The file.
    pub path: PathBuf,
    /// What the system said.
    pub source: io::Error,
}

/// What is wrong, and what helps.
fn in_words(error: &io::Error) -> String {
    use io::ErrorKind as Kind;
    let (what, helps) = match error.kind() {
        Kind::StorageFull | Kind::QuotaExceeded => ("the disk is full", "make room there, or choose another place"),
        Kind::ReadOnlyFilesystem | Kind::PermissionDenied => {
            ("the file or its folder is write-protected", "choose another place")
        }
        Kind::NotADirectory | Kind::AlreadyExists => ("a file is where its folder should be", "choose another place"),
        Kind::NotFound => ("its folder is not there", "bring the drive or folder back, or choose another place"),
        Kind::StaleNetworkFileHandle
        | Kind::HostUnreachable
        | Kind::NetworkUnreachable
        | Kind::NetworkDown
        | Kind::NotConnected
        | Kind::TimedOut => ("the share does not answer", "wait for it, or choose another place"),
        _ => return format!("the system refused it ({error}); choose another place, nothing is lost"),
    };
    format!("{what}; {helps}, nothing is lost")
}

/// Replaces `path` by `content`: written beside it, flushed to the disk, then renamed over it.
///
/// # Errors
/// When the folder cannot be written or the disk is full.
pub fn save(path: &Path, content: &[u8]) -> Result<(), SaveError> {
    replace(path, content).map_err(|source| SaveError { path: path.to_owned(), source })
}

fn replace(path: &Path, content: &[u8]) -> io::Result<()> {
    put_in_place(stage(path, content)?, path)
}

/// The folder a file lies in.
pub(super) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Writes the content beside `path`, on the disk but not in its place yet.
pub(super) fn stage(path: &Path, content: &[u8]) -> io::Result<NamedTempFile> {
    // Renaming over a file asks only the folder; a protected file is meant to stay.
    if std::fs::metadata(path).is_ok_and(|known| known.permissions().readonly()) {
        return Err(io::Error::new(io::ErrorKind::PermissionDenied, "the file is marked read-only"));
    }
    sweep(folder_of(path));
    let mut file = unfinished(path)?;
    file.write_all(content)?;
    file.as_file().sync_all()?;
    allow_reading(file.as_file(), path)?;
    Ok(file)
}

/// Puts what was staged in its place.
pub(super) fn put_in_place(file: NamedTempFile, path: &Path) -> io::Result<()> {
    file.persist(path)?;
    // The file is in place; not every file system can flush a folder.
    let _ = sync_folder(folder_of(path));
    Ok(())
}

/// An empty file beside `path`, which goes when it is not put in a place.
pub(super) fn unfinished(path: &Path) -> io::Result<NamedTempFile> {
    tempfile::Builder::new().prefix(UNFINISHED).tempfile_in(folder_of(path))
}

/// Where the content that was replaced last is kept: `observatory.json.previous` beside `observatory.json`.
pub fn previous(path: &Path) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(".previous");
    path.with_file_name(name)
}

/// Copies what stands at `path` to [`previous`], whole or not at all, and returns that.
pub(super) fn keep_previous(path: &Path) -> io::Result<PathBuf> {
    let kept = previous(path);
    let mut copy = unfinished(path)?;
    io::copy(&mut std::fs::File::open(path)?, &mut copy)?;
    copy.as_file().sync_all()?;
    allow_reading(copy.as_file(), path)?;
    copy.persist(&kept)?;
    Ok(kept)
}

/// Puts a file that cannot be used aside under a name that is still free, so that it is not written over, and returns that:
/// `settings.json.broken`, then `settings.json.broken-2`.
pub(crate) fn set_aside(path: &Path) -> io::Result<PathBuf> {
    let named = |n: u32| {
        let mut name = path.file_name().unwrap_or_default().to_owned();
        name.push(if n == 1 { ".broken".to_owned() } else { format!(".broken-{n}") });
        path.with_file_name(name)
    };
    let free = (1..1000).map(named).find(|aside| std::fs::symlink_metadata(aside).is_err());
    let aside = free.ok_or_else(|| io::Error::other("no free name"))?;
    std::fs::rename(path, &aside)?;
    Ok(aside)
}

/// Removes what a killed program left half-written, once it is a day old and nobody writes to it any more.
fn sweep(folder: &Path) {
    let old = |entry: &std::fs::DirEntry| {
        let age = entry.metadata().and_then(|m| m.modified()).ok().and_then(|at| at.elapsed().ok());
        entry.file_name().to_string_lossy().starts_with(UNFINISHED) && age.is_some_and(|age| age > ABANDONED_AFTER)
    };
    for entry in std::fs::read_dir(folder).into_iter().flatten().flatten().filter(old) {
        // Tried again at the next saving.
        let _ = std::fs::remove_file(entry.path());
    }
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
#[path = "../../tests/within/save.rs"]
mod tests;
