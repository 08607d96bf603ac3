#![no_main]
//! Any bytes as a stranger's list of parts; every row must be accounted for.

use libfuzzer_sys::fuzz_target;
use refarad::files::import::{Source, Target};
use refarad::files::table::Options;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    for target in [None, Some(Target::Parts)] {
        let sources = Source::all_from_bytes("any.csv".as_ref(), bytes, target, &Options::default());
        for source in sources.unwrap_or_default() {
            let report = source.parts().report;
            assert_eq!(report.kept + report.set_aside_rows() + report.refused, report.rows);
        }
    }
});
