//! Photos of boards: what is read, how large, and from where.

use std::path::{Path, PathBuf};

use proptest::prelude::*;
use refarad::files::photo::{PhotoError, bring, locate, read, read_bytes};

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
        let _ = read_bytes(&all, Path::new("a.png"), 100);
    }
}
