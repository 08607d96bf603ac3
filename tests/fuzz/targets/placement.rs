#![no_main]
//! Any bytes as a placement file for a board with a few positions.

use libfuzzer_sys::fuzz_target;
use refarad::domain::{Board, Position};
use refarad::files::import::placement::place;
use refarad::files::import::{Source, Target};
use refarad::files::table::Options;

fuzz_target!(init: refarad_fuzz::one_thread(), |bytes: &[u8]| {
    let position = |name: &str| Position { reference: name.into(), ..Position::default() };
    let mut board = Board { positions: ["C1", "C2", "M0:C1"].map(position).into(), ..Board::default() };
    let sources = Source::all_from_bytes("any.csv".as_ref(), bytes, Some(Target::Placement), &Options::default());
    for source in sources.unwrap_or_default() {
        let _ = place(&source.table, &source.mapping, &source.path, &mut board);
        assert!(board.positions.iter().all(|p| p.x_mm.is_none_or(f64::is_finite) && p.y_mm.is_none_or(f64::is_finite)));
    }
});
