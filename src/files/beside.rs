//! Files a job names: they lie in its folder, so that they go where it goes.

use std::io;
use std::path::Path;

/// Brings a file into the folder of the job and returns the name the job knows it by. A file that is already there stays where
/// it is; another is copied beside the job file under a name that is still free.
///
/// # Errors
/// When the file cannot be read or the copy cannot be written.
pub fn bring(job_path: &Path, file: &Path) -> io::Result<String> {
    let folder = job_path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new(".")).canonicalize()?;
    let real = file.canonicalize()?;
    if let Ok(inside) = real.strip_prefix(&folder) {
        let parts: Vec<_> = inside.components().map(|part| part.as_os_str().to_string_lossy()).collect();
        return Ok(parts.join("/"));
    }
    let stem = real.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let ending = real.extension().unwrap_or_default().to_string_lossy().into_owned();
    let mut source = std::fs::File::open(&real)?;
    for n in 1..1000 {
        let number = if n == 1 { String::new() } else { format!("-{n}") };
        let name = format!("{stem}{number}.{ending}");
        // Only a name nobody uses: a file of the same name may be another one.
        match std::fs::File::create_new(folder.join(&name)) {
            Ok(mut copy) => {
                io::copy(&mut source, &mut copy)?;
                return Ok(name);
            }
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(error),
        }
    }
    Err(io::Error::new(io::ErrorKind::AlreadyExists, "every name for the copy is taken"))
}
