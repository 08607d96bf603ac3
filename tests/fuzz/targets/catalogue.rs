#![no_main]
//! Any bytes as a catalogue with canonical headers.

use libfuzzer_sys::fuzz_target;
use refarad::files::parts;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    let _ = parts::from_bytes(vec![("any.csv".into(), bytes.to_vec())]);
});
