//! Reading a whole file into memory, with a bound on its size: a stranger's file must not exhaust the machine.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// Most bytes of a job, recovery or settings file.
pub const JOB_BYTES_MAX: u64 = 256 << 20;
/// Most bytes of a table: some four million rows of twenty columns.
pub const TABLE_BYTES_MAX: u64 = 900 << 20;

fn too_large(bytes_max: u64) -> io::Error {
    let message = format!("larger than {} MB, which is more than is read", bytes_max >> 20);
    io::Error::new(io::ErrorKind::FileTooLarge, message)
}

/// Opens an ordinary file of at most `bytes_max` bytes.
///
/// # Errors
/// When the file cannot be opened, is no ordinary file (a folder, a device, a pipe) or is larger.
pub fn open(path: &Path, bytes_max: u64) -> io::Result<File> {
    // Asked before it is opened: opening a pipe waits for somebody to write to it.
    let metadata = std::fs::metadata(path)?;
    if metadata.is_dir() {
        return Err(io::Error::new(io::ErrorKind::IsADirectory, "it is a folder"));
    }
    if !metadata.is_file() {
        return Err(io::Error::new(io::ErrorKind::InvalidInput, "it is no ordinary file"));
    }
    if metadata.len() > bytes_max { Err(too_large(bytes_max)) } else { File::open(path) }
}

/// The content of a file of at most `bytes_max` bytes.
///
/// # Errors
/// As for [`open`].
pub fn read(path: &Path, bytes_max: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    // A file may grow while it is read.
    open(path, bytes_max)?.take(bytes_max + 1).read_to_end(&mut bytes)?;
    if u64::try_from(bytes.len()).is_ok_and(|len| len <= bytes_max) { Ok(bytes) } else { Err(too_large(bytes_max)) }
}

/// The first 64 KiB of a file, to tell by what it is; nothing of a file that cannot be read: the reason is given where it is opened.
pub fn beginning(path: &Path) -> Vec<u8> {
    let mut bytes = Vec::new();
    let _ = open(path, u64::MAX).map(|file| file.take(64 << 10).read_to_end(&mut bytes));
    bytes
}

#[cfg(test)]
#[path = "../../tests/within/bounded.rs"]
mod tests;
