//! Which files a sheet was worked out from, so that somebody can tell years later whether these are the same.

use std::io::{self, Read};
use std::path::Path;

use sha2::{Digest, Sha256};

use crate::domain::Job;
use crate::files::{bounded, companions, demo};

/// A file a sheet rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceFile {
    /// What it is: job, catalogue, offers.
    pub kind: &'static str,
    /// Its name.
    pub name: String,
    /// SHA-256 of its bytes; `None` where it could not be read.
    pub sha256: Option<String>,
}

/// Everything a sheet rests on.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Provenance {
    /// The files, the job first.
    pub files: Vec<SourceFile>,
    /// The job was changed since it was saved, or never saved.
    pub unsaved: bool,
}

impl Provenance {
    /// The files of a job at `path`, with the catalogues named beside it on the command line; without a path those of the built-in demo.
    pub fn of(path: Option<&Path>, job: &Job, beside: &[std::path::PathBuf], unsaved: bool) -> Self {
        let Some(path) = path else {
            let kinds = ["job (built-in demo)", "catalogue (built-in demo)"];
            let files = kinds.into_iter().zip(demo::FILES).map(|(kind, (name, content))| SourceFile {
                kind,
                name: name.to_owned(),
                sha256: sha256(content.as_bytes()).ok(),
            });
            return Self { files: files.collect(), unsaved };
        };
        let read = |kind, path: &Path| SourceFile {
            kind,
            name: path.file_name().unwrap_or_default().to_string_lossy().into_owned(),
            sha256: bounded::open(path, u64::MAX - 1).and_then(sha256).ok(),
        };
        let named = |kind: &'static str, name: &String| match companions::inside(path, name) {
            Some(file) => read(kind, &file),
            None => SourceFile { kind, name: name.clone(), sha256: None },
        };
        let mut files = vec![read("job", path)];
        files.extend(job.catalogs.iter().map(|name| named("catalogue", name)));
        files.extend(beside.iter().map(|path| read("catalogue", path)));
        files.extend(job.offers.iter().map(|name| named("offers", name)));
        Self { files, unsaved }
    }
}

fn sha256(mut bytes: impl Read) -> io::Result<String> {
    let mut digest = Sha256::new();
    io::copy(&mut bytes, &mut digest)?;
    Ok(digest.finalize().iter().map(|byte| format!("{byte:02x}")).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_digest_is_that_of_the_standard() {
        // FIPS 180-2, appendix B.1.
        assert_eq!(sha256(&b"abc"[..]).unwrap(), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
