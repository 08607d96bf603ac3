//! The built-in demo, all of it invented: job, catalogue, their description, and photos of its boards, which are rendered.

use std::path::Path;

use super::job::{self, JobError, JobRead};
use super::output::{OutputError, Outputs, Replace};
use super::parts::{self, PartsRead};

/// The files of the demo: name and content.
pub const FILES: [(&str, &str); 3] = [
    (JOB_NAME, include_str!("../../catalog/observatory.json")),
    (PARTS_NAME, include_str!("../../catalog/parts.csv")),
    ("README.md", include_str!("../../catalog/README.md")),
];

/// The photos of its boards, in their order: name and content (JPEG). Nobody took them: `tests/support/board_photo.rs` renders
/// them.
pub const PHOTOS: [(&str, &[u8]); 4] = [
    ("supply.jpg", include_bytes!("../../catalog/supply.jpg")),
    ("servo.jpg", include_bytes!("../../catalog/servo.jpg")),
    ("encoder.jpg", include_bytes!("../../catalog/encoder.jpg")),
    ("encoder-2.jpg", include_bytes!("../../catalog/encoder-2.jpg")),
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

/// Writes the demo files into `folder`, which is made if need be; a file of such a name that differs stays unless `overwrite`.
///
/// # Errors
/// When another file stands there, or the folder or a file cannot be written; nothing is written then.
pub fn write_unless_there(folder: &Path, overwrite: bool) -> Result<(), OutputError> {
    let mut outputs = Outputs::new(Vec::new(), overwrite);
    let texts = FILES.iter().map(|(name, content)| (name, content.as_bytes()));
    for (name, content) in texts.chain(PHOTOS.iter().map(|(name, content)| (name, *content))) {
        outputs.add(folder.join(name), content, Replace::Same);
    }
    outputs.write().map(|_| ())
}
