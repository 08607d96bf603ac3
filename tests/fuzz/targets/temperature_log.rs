#![no_main]
//! Any bytes as a logger's record of temperatures; every stretch must be finite.

use libfuzzer_sys::fuzz_target;
use refarad::files::temperature_log;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    if let Ok(log) = temperature_log::from_bytes(bytes, "any.csv".as_ref(), &Default::default()) {
        assert!(log.stretches.iter().all(|s| s.weight.is_finite() && s.weight >= 0.0 && s.ambient_c.is_finite()));
    }
});
