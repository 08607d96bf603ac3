#![no_main]
//! Any bytes as a job file; what is read must be written and read back to the same job.

use libfuzzer_sys::fuzz_target;
use refarad::files::job;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    if let Ok(read) = job::from_slice(bytes, "any.json".as_ref()) {
        let again = job::from_slice(job::to_text(&read.job).as_bytes(), "again.json".as_ref());
        assert_eq!(again.map(|again| again.job).ok(), Some(read.job));
    }
});
