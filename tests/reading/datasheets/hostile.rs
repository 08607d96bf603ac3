//! PDF files meant to do harm end with one clear line.

use std::fmt::Write as _;

use super::open;
use super::typeset::{Page, file};

/// A file of objects as they stand; the table of places is left to the reader to mend.
fn raw(objects: &[String]) -> Vec<u8> {
    let mut text = "%PDF-1.7\n".to_owned();
    for (at, object) in (1..).zip(objects) {
        write!(text, "{at} 0 obj\n{object}\nendobj\n").unwrap();
    }
    text.push_str("trailer << /Root 1 0 R >>\n%%EOF\n");
    text.into_bytes()
}

fn stream(extra: &str, content: &str) -> String {
    format!("<< {extra} /Length {} >>\nstream\n{content}\nendstream", content.len())
}

fn head(media_box: &str, resources: &str) -> Vec<String> {
    vec![
        "<< /Type /Catalog /Pages 2 0 R >>".to_owned(),
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_owned(),
        format!("<< /Type /Page /Parent 2 0 R /MediaBox [{media_box}] /Contents 4 0 R /Resources << {resources} >> >>"),
    ]
}

/// One line, and what it says.
fn refused(bytes: &[u8]) -> String {
    let error = open(bytes).err().unwrap().to_string();
    assert_eq!(error.lines().count(), 1, "{error}");
    error
}

#[test]
fn forms_within_forms_end_in_time() {
    // Each form draws the next one ten times: ten to the twentieth drawings.
    let mut objects = head("0 0 595 842", "/XObject << /F 5 0 R >>");
    objects.push(stream("", "/F Do"));
    for level in 5..25 {
        let next = format!("/XObject << /F {} 0 R >>", level + 1);
        let form = format!("/Type /XObject /Subtype /Form /BBox [0 0 595 842] /Resources << {next} >>");
        objects.push(stream(&form, &"/F Do ".repeat(10)));
    }
    objects.push(stream("/Type /XObject /Subtype /Form /BBox [0 0 595 842]", "0 0 m 10 10 l S"));
    let error = refused(&raw(&objects));
    assert!(error.contains("took more than 10 s"), "{error}");
}

#[test]
fn pages_that_are_their_own_parents_end() {
    let mut objects = head("0 0 595 842", "");
    objects[1] = "<< /Type /Pages /Kids [2 0 R 2 0 R 3 0 R] /Count 3 >>".to_owned();
    objects.push(stream("", ""));
    if let Err(error) = open(&raw(&objects)) {
        assert_eq!(error.to_string().lines().count(), 1, "{error}");
    }
}

#[test]
fn a_huge_page_is_refused() {
    let mut objects = head("0 0 99999999 99999999", "");
    objects.push(stream("", "0 0 m 10 10 l S"));
    let error = refused(&raw(&objects));
    assert!(error.contains("points; at most 14400 are read"), "{error}");
}

#[test]
fn too_many_letters_and_lines_are_refused() {
    let mut page = Page::new();
    let letters = "0123456789".repeat(200);
    for _ in 0..600 {
        page.text(10.0, 100.0, 4.0, &letters);
    }
    let error = refused(&file(vec![page]));
    // Which bound comes first depends on the machine.
    assert!(error.contains("more than 1000000 letters") || error.contains("took more than"), "{error}");
    let mut page = Page::new();
    for at in 0..100_001_u32 {
        let y = 10.0 + (at % 800) as f32;
        page.line((10.0, y), (500.0, y));
    }
    let error = refused(&file(vec![page]));
    assert!(error.contains("more than 100000 ruling lines") || error.contains("took more than"), "{error}");
}

#[test]
fn twenty_million_letters_from_a_small_file_are_refused() {
    let font = "/Font << /F1 << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >>";
    let mut objects = head("0 0 595 842", "/XObject << /F 5 0 R >>");
    objects.push(stream("", &"/F Do ".repeat(20)));
    for level in 5..7 {
        let next = format!("/XObject << /F {} 0 R >>", level + 1);
        let form = format!("/Type /XObject /Subtype /Form /BBox [0 0 595 842] /Resources << {next} >>");
        objects.push(stream(&form, &"/F Do ".repeat(10)));
    }
    let form = format!("/Type /XObject /Subtype /Form /BBox [0 0 595 842] /Resources << {font} >>");
    let letters = format!("BT /F1 4 Tf 10 700 Td ({}) Tj ET", "0123456789".repeat(1000));
    objects.push(stream(&form, &letters));
    let error = refused(&raw(&objects));
    assert!(error.contains("more than 1000000 letters") || error.contains("took more than"), "{error}");
}

#[test]
fn a_stream_that_unpacks_to_gigabytes_ends() {
    // Runs of 0x81 unpack to 64 times as many of 0x81, and those again: 4 KB become 17 GB.
    let filters = "/Filter [/ASCIIHexDecode /RunLengthDecode /RunLengthDecode /RunLengthDecode /RunLengthDecode]";
    let mut objects = head("0 0 595 842", "");
    objects.push(stream(filters, &format!("{}>", "81".repeat(1024))));
    if let Err(error) = open(&raw(&objects)) {
        let error = error.to_string();
        assert_eq!(error.lines().count(), 1, "{error}");
    }
}

#[test]
fn what_is_no_sheet_is_refused() {
    for bytes in [
        &b"%PDF-1.7\n"[..],
        b"%PDF-1.4 garbage garbage \x00\xff",
        b"%PDF-1.7\n1 0 obj\n<< /Type /Catalog >>\nendobj\ntrailer << /Root 1 0 R >>",
    ] {
        let error = refused(bytes);
        assert!(error.starts_with('/') && error.contains("talus.pdf: "), "{error}");
    }
}
