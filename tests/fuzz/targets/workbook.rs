#![no_main]
//! Any bytes as a workbook. The program reads workbooks apart, within limits of memory and time; here a panic of its own or a loop is a find.
//!
//! Bytes that begin with `=== ` are the parts of an archive, each under a line with its name, and bytes that begin with `BIFF` the records
//! of an old workbook: their container is made here, since few changes to a container leave it whole.

use std::io::{Cursor, Write};

use cfb::{CompoundFile, Version};
use libfuzzer_sys::fuzz_target;
use refarad::files::workbook;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

fuzz_target!(init: refarad_fuzz::libraries_may_panic(), |bytes: &[u8]| {
    let packed = match bytes {
        [b'=', b'=', b'=', b' ', ..] => archive(bytes),
        [b'B', b'I', b'F', b'F', records @ ..] => Some(container(records)),
        _ => None,
    };
    let _ = std::panic::catch_unwind(|| workbook::read_bytes(packed.as_deref().unwrap_or(bytes)));
});

/// The parts of a workbook as an archive; `None` where two have the same name.
fn archive(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let marks = bytes.windows(5).enumerate().filter(|(_, window)| *window == b"\n=== ").map(|(at, _)| at + 1);
    let starts: Vec<usize> = std::iter::once(0).chain(marks).chain([bytes.len()]).collect();
    for part in starts.windows(2).map(|of| &bytes[of[0]..of[1]]) {
        let end = part.iter().position(|&byte| byte == b'\n').unwrap_or(part.len());
        zip.start_file(String::from_utf8_lossy(&part[4..end]), stored).ok()?;
        zip.write_all(&part[end..]).expect("written to memory");
    }
    Some(zip.finish().expect("written to memory").into_inner())
}

/// The container of an old workbook with these records.
fn container(records: &[u8]) -> Vec<u8> {
    let mut container =
        CompoundFile::create_with_version(Version::V3, Cursor::new(Vec::new())).expect("made in memory");
    let mut stream = container.create_stream("/Workbook").expect("made in memory");
    // Shorter streams are kept elsewhere in the container.
    stream.write_all(&[records, &[0; 4096]].concat()).expect("written to memory");
    drop(stream);
    container.into_inner().into_inner()
}
