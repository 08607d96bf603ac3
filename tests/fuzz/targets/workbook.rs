#![no_main]
//! Any bytes as a workbook. The program reads workbooks apart, within limits of memory and time; here a panic or a loop is a find.

use libfuzzer_sys::fuzz_target;
use refarad::files::workbook;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    let _ = workbook::read_bytes(bytes);
});
