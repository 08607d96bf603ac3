#![no_main]
//! Any bytes as the parts list of a board.

use libfuzzer_sys::fuzz_target;
use refarad::files::import::{Source, Target};
use refarad::files::table::Options;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    let sources = Source::all_from_bytes("any.csv".as_ref(), bytes, Some(Target::Positions), &Options::default());
    for source in sources.unwrap_or_default() {
        let import = source.positions();
        let (positions, report) = (import.positions, import.report);
        assert_eq!(report.kept + report.set_aside_rows() + report.refused, report.rows);
        assert!(positions.iter().all(|(_, position)| position.original.can.height_mm.is_none_or(|mm| mm > 0.0)));
    }
});
