#![no_main]
//! Any bytes as a list of offers.

use libfuzzer_sys::fuzz_target;
use refarad::files::offers;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    let _ = offers::from_bytes(&[("any.csv".into(), bytes.to_vec())]);
});
