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
#[derive(Debug, thiserror::Error)]
pub enum PhotoError {
    /// A job from a stranger must not read files outside its own folder.
    #[error("{photo}: is outside the folder of the job; copy the photo beside the job file and name it from there")]
    Outside {
        /// What the job names.
        photo: String,
    },
    /// The file could not be read from the disk.
    #[error("{}: {source}; expected a photo (PNG or JPEG)", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The file is larger than any photo needs to be.
    #[error("{}: {found}; at most {} MB and {SIDE_MAX_PX} pixels a side are read: save a smaller copy", path.display(), BYTES_MAX >> 20)]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// How large it is.
        found: String,
    },
    /// The file is no picture that can be read.
    #[error("{}: expected a PNG or JPEG picture ({message})", path.display())]
    NotAPicture {
        /// The file.
        path: PathBuf,
        /// What the reader said.
        message: String,
    },
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
#[must_use]
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn write(folder: &Path, name: &str, width: u32, height: u32) -> PathBuf {
        let path = folder.join(name);
        image::RgbImage::from_pixel(width, height, image::Rgb([10, 120, 30])).save(&path).unwrap();
        path
    }

    #[test]
    fn png_and_jpeg_are_read_and_made_small_enough() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["a.png", "a.jpg"] {
            let photo = read(&write(folder.path(), name, 400, 200), 100).unwrap();
            assert_eq!((photo.width_px, photo.height_px, photo.rgba.len()), (100, 50, 100 * 50 * 4));
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_photo_that_never_ends_is_refused_at_once() {
        let folder = tempfile::tempdir().unwrap();
        let pipe = folder.path().join("pipe.png");
        assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
        for path in [pipe.as_path(), Path::new("/dev/zero")] {
            let error = read(path, 100).unwrap_err().to_string();
            assert!(error.contains("no ordinary file"), "{error}");
            assert!(bring(Path::new("elsewhere/job.json"), path).is_err());
        }
    }

    #[test]
    fn a_picture_bomb_is_refused_before_it_is_unpacked() {
        // The head of a PNG of 60000 by 60000 pixels: 14 GB unpacked.
        let mut png = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\xea\x60\0\0\xea\x60\x08\x06\0\0\0".to_vec();
        let crc = crc32(&png[12..]);
        png.extend(crc.to_be_bytes());
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("bomb.png");
        std::fs::write(&path, png).unwrap();
        let error = read(&path, 100).unwrap_err();
        assert!(matches!(error, PhotoError::TooLarge { .. }), "{error}");
    }

    /// The checksum of PNG chunks (ISO 3309, as the PNG specification prints it).
    fn crc32(bytes: &[u8]) -> u32 {
        !bytes.iter().fold(!0u32, |crc, &byte| {
            (0..8).fold(crc ^ u32::from(byte), |c, _| if c & 1 == 1 { 0xEDB8_8320 ^ (c >> 1) } else { c >> 1 })
        })
    }

    #[test]
    fn a_photo_outside_the_folder_of_the_job_is_not_read() {
        let outer = tempfile::tempdir().unwrap();
        let folder = outer.path().join("job");
        std::fs::create_dir(&folder).unwrap();
        write(outer.path(), "secret.png", 4, 4);
        let job = folder.join("a.json");
        for name in ["../secret.png", "/etc/hostname"] {
            assert!(matches!(locate(&job, name), Err(PhotoError::Outside { .. })), "{name}");
        }
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink(outer.path().join("secret.png"), folder.join("link.png")).unwrap();
            assert!(matches!(locate(&job, "link.png"), Err(PhotoError::Outside { .. })));
        }
        assert!(matches!(locate(&job, "none.png"), Err(PhotoError::Unreadable { .. })));
    }

    #[test]
    fn a_photo_from_elsewhere_is_copied_beside_the_job_and_replaces_nothing() {
        let outer = tempfile::tempdir().unwrap();
        let folder = outer.path().join("job");
        std::fs::create_dir(&folder).unwrap();
        let job = folder.join("a.json");
        let from = write(outer.path(), "board.png", 4, 4);
        let other = write(&folder, "board.png", 9, 9);
        let before = std::fs::read(&other).unwrap();
        let name = bring(&job, &from).unwrap();
        assert_eq!(name, "board-2.png");
        assert_eq!(std::fs::read(&other).unwrap(), before);
        assert_eq!(std::fs::read(locate(&job, &name).unwrap()).unwrap(), std::fs::read(&from).unwrap());
        assert_eq!(bring(&job, &other).unwrap(), "board.png");
    }

    proptest! {
        #[test]
        fn no_bytes_make_the_reader_panic(bytes in proptest::collection::vec(any::<u8>(), 0..300), png: bool) {
            let head: &[u8] = if png { b"\x89PNG\r\n\x1a\n" } else { b"\xff\xd8\xff\xe0" };
            let all = [head, &bytes].concat();
            let reader = ImageReader::new(io::Cursor::new(all)).with_guessed_format().unwrap();
            let _ = decode(reader, Path::new("a.png"));
        }
    }
}
