#![no_main]
//! Any bytes as the record of the units; every line is a record or rejected.

use libfuzzer_sys::fuzz_target;
use refarad::files::unit_record;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    let lines = bytes.split(|&byte| byte == b'\n').filter(|line| !line.trim_ascii().is_empty()).count();
    let read = unit_record::from_slice(bytes, "any.jsonl".as_ref());
    assert_eq!(read.records.len() + read.rejected.len(), lines);
});
