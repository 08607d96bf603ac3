#![no_main]
//! Any bytes as an oscilloscope record; what is read must be analysed to finite figures.

use libfuzzer_sys::fuzz_target;
use refarad::files::oscilloscope;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    if let Ok(record) = oscilloscope::from_bytes(bytes, "any.csv".as_ref()) {
        for channel in 0..record.channels.len().min(4) {
            if let Ok(analysis) = record.analyse(channel, 1.0, None) {
                assert!(analysis.mean_a.is_finite() && analysis.step_s > 0.0);
                assert!(analysis.ripple.lines.iter().all(|line| line.hz.is_finite() && line.a.is_finite()));
            }
        }
    }
});
