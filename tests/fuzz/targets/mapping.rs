#![no_main]
//! Any bytes as a mapping file; what is read must be written and read back to the same mapping.

use libfuzzer_sys::fuzz_target;
use refarad::files::import::Mapping;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    if let Ok(mapping) = Mapping::from_slice(bytes, "any.json".as_ref()) {
        let again = Mapping::from_slice(mapping.to_text().as_bytes(), "again.json".as_ref());
        assert_eq!(again.ok(), Some(mapping));
    }
});
