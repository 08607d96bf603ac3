//! The built-in demo, all of it invented: job, catalogue and their description.

use std::path::Path;

use super::SaveError;
use super::job::{self, JobError, JobRead};
use super::parts::{self, PartsRead};

/// The files of the demo: name and content.
pub const FILES: [(&str, &str); 3] = [
    (JOB_NAME, include_str!("../../catalog/observatory.json")),
    (PARTS_NAME, include_str!("../../catalog/parts.csv")),
    ("README.md", include_str!("../../catalog/README.md")),
];

const JOB_NAME: &str = "observatory.json";
const PARTS_NAME: &str = "parts.csv";

/// The demo job.
///
/// # Errors
/// None for the file as built in; a test reads it.
pub fn job() -> Result<JobRead, JobError> {
    job::from_slice(FILES[0].1.as_bytes(), Path::new(JOB_NAME))
}

/// The demo catalogue.
///
/// # Errors
/// None for the file as built in; a test reads it.
pub fn parts() -> Result<PartsRead, parts::PartsError> {
    parts::from_bytes(vec![(Path::new(PARTS_NAME).to_owned(), FILES[1].1.as_bytes().to_vec())])
}

/// Writes the demo files into `folder`, which is made if need be.
///
/// # Errors
/// When the folder or a file cannot be written.
pub fn write(folder: &Path) -> Result<(), SaveError> {
    std::fs::create_dir_all(folder).map_err(|source| SaveError { path: folder.to_owned(), source })?;
    FILES.iter().try_for_each(|(name, content)| super::save(&folder.join(name), content.as_bytes()))
}
