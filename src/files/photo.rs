//! The photo under a board: a PNG or JPEG beside the job, read with bounds so that no picture can exhaust the machine.

use std::io;
use std::path::{Path, PathBuf};

use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};

use super::{bounded, companions};
use crate::domain::{Board, Job};

/// Largest file, bytes.
pub(crate) const BYTES_MAX: u64 = 80 << 20;
/// Largest width and height, pixels.
const SIDE_MAX_PX: u32 = 20_000;
/// Most memory a picture may take while it is unpacked, bytes: about 100 megapixels in colour.
const MEMORY_MAX: u64 = 400 << 20;

/// A picture, unpacked.
#[derive(Clone, PartialEq, Eq)]
pub struct Photo {
    /// Width, pixels.
    pub width_px: usize,
    /// Height, pixels.
    pub height_px: usize,
    /// Red, green, blue and opacity of every pixel, row by row from the top.
    pub rgba: Vec<u8>,
}

impl std::fmt::Debug for Photo {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "photo of {} x {} pixels", self.width_px, self.height_px)
    }
}

/// A photo could not be used.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum PhotoError {
    /// A job from a stranger must not read files outside its own folder.
    #[error("{photo}: is outside the folder of the job; copy the photo beside the job file and name it from there")]
    Outside { photo: String },
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a photo (PNG or JPEG)", path.display())]
    Unreadable { path: PathBuf, source: io::Error },
    /// The file is larger than any photo needs to be.
    #[error("{}: {found}; at most {} MB and {SIDE_MAX_PX} pixels a side are read: save a smaller copy", path.display(), BYTES_MAX >> 20)]
    TooLarge { path: PathBuf, found: String },
    /// The file is no picture that can be read.
    #[error("{}: expected a PNG or JPEG picture ({message})", path.display())]
    NotAPicture { path: PathBuf, message: String },
}

/// Where the photo that a job at `job_path` names lies on the disk.
///
/// # Errors
/// When it is outside the folder of the job, also by way of a link, or not there.
pub fn locate(job_path: &Path, photo: &str) -> Result<PathBuf, PhotoError> {
    let path = companions::inside(job_path, photo).ok_or_else(|| PhotoError::Outside { photo: photo.to_owned() })?;
    match path.canonicalize() {
        Ok(_) => Ok(path),
        Err(source) => Err(PhotoError::Unreadable { path, source }),
    }
}

/// Reads a picture, turned upright as its camera noted and no larger than `side_max_px` a side.
///
/// # Errors
/// When the file cannot be read, is too large, or is no PNG or JPEG.
pub fn read(path: &Path, side_max_px: u32) -> Result<Photo, PhotoError> {
    let (picture, upright) = open(path)?;
    Ok(finish(picture, upright, side_max_px))
}

/// Reads a picture pixel for pixel as it is stored; whether its camera noted that it is to be turned.
///
/// # Errors
/// As for [`read`].
pub fn read_as_stored(path: &Path) -> Result<(Photo, bool), PhotoError> {
    let (picture, upright) = open(path)?;
    Ok((finish(picture, Orientation::NoTransforms, u32::MAX), upright != Orientation::NoTransforms))
}

fn open(path: &Path) -> Result<(DynamicImage, Orientation), PhotoError> {
    let fault = |source: io::Error| match source.kind() {
        io::ErrorKind::FileTooLarge => PhotoError::TooLarge { path: path.to_owned(), found: source.to_string() },
        _ => PhotoError::Unreadable { path: path.to_owned(), source },
    };
    let bytes = bounded::read(path, BYTES_MAX).map_err(fault)?;
    let reader = ImageReader::new(io::Cursor::new(bytes)).with_guessed_format().map_err(fault)?;
    decode(reader, path)
}

/// The same of a picture in memory; `name` stands in messages.
///
/// # Errors
/// When it is too large or no PNG or JPEG.
pub fn read_bytes(bytes: &[u8], name: &Path, side_max_px: u32) -> Result<Photo, PhotoError> {
    let reader = ImageReader::new(io::Cursor::new(bytes)).with_guessed_format();
    let reader = reader.map_err(|source| PhotoError::Unreadable { path: name.to_owned(), source })?;
    let (picture, upright) = decode(reader, name)?;
    Ok(finish(picture, upright, side_max_px))
}

fn decode<R: io::BufRead + io::Seek>(
    mut reader: ImageReader<R>,
    path: &Path,
) -> Result<(DynamicImage, Orientation), PhotoError> {
    let bad = |error: image::ImageError| match error {
        image::ImageError::Limits(limit) => PhotoError::TooLarge { path: path.to_owned(), found: limit.to_string() },
        other => PhotoError::NotAPicture { path: path.to_owned(), message: other.to_string() },
    };
    let mut limits = Limits::default();
    (limits.max_image_width, limits.max_image_height) = (Some(SIDE_MAX_PX), Some(SIDE_MAX_PX));
    limits.max_alloc = Some(MEMORY_MAX);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(bad)?;
    if decoder.total_bytes() > MEMORY_MAX {
        let (width, height) = decoder.dimensions();
        return Err(PhotoError::TooLarge { path: path.to_owned(), found: format!("{width} x {height} pixels") });
    }
    let upright = decoder.orientation().map_err(bad)?;
    Ok((DynamicImage::from_decoder(decoder).map_err(bad)?, upright))
}

fn finish(mut picture: DynamicImage, upright: Orientation, side_max_px: u32) -> Photo {
    if picture.width().max(picture.height()) > side_max_px {
        picture = picture.thumbnail(side_max_px, side_max_px);
    }
    picture.apply_orientation(upright);
    let rgba = picture.into_rgba8();
    Photo { width_px: rgba.width() as usize, height_px: rgba.height() as usize, rgba: rgba.into_raw() }
}

/// The photos of the boards of a job, large enough for a sheet; `None` where a board has none or `read` cannot give it.
pub fn of_boards(job: &Job, read: impl Fn(&str, u32) -> Result<Photo, PhotoError>) -> Vec<Option<Photo>> {
    const SIDE_MAX_PX: u32 = 2400;
    let photo = |board: &Board| read(board.photo.as_deref()?, SIDE_MAX_PX).ok();
    job.boards.iter().map(photo).collect()
}

/// The same of a job in a file.
pub fn beside(job_path: &Path, job: &Job) -> Vec<Option<Photo>> {
    of_boards(job, |name, side_max_px| read(&locate(job_path, name)?, side_max_px))
}

/// Brings a photo into the folder of the job and returns the name the job knows it by. A photo that is already there stays
/// where it is; another is copied beside the job file under a name that is still free.
///
/// # Errors
/// When the photo cannot be read or the copy cannot be written.
pub fn bring(job_path: &Path, photo: &Path) -> Result<String, PhotoError> {
    companions::bring_file(job_path, photo).map_err(|source| PhotoError::Unreadable { path: photo.to_owned(), source })
}
