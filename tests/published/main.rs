//! Figures of data sheets, standards, papers and measurements against what the program computes.
//!
//! Each figure stands with the name of its source. Where a source and the program's method differ by design the stated
//! relation is tested and the ratio is printed (`cargo test --test published -- --nocapture`).

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at a fault")]

#[path = "../support/mod.rs"]
#[allow(dead_code, reason = "shared with the other integration tests, each uses a part of it")]
mod support;

mod ageing;
mod body;
mod circuit_forms;
mod circuits;
mod condition;
mod energy;
mod engineer;
mod esr;
mod few_lines_milp;
mod figures;
mod groups;
mod guide_example;
mod heat;
mod leads;
mod leakage;
mod life;
mod life_table;
mod pads;
mod printed;
mod rectifier;
mod relay;
mod spread;
mod voltage;
mod waveform;

/// Whether `ours` is `printed` when rounded to the decimals it was printed with.
#[track_caller]
fn assert_printed(ours: f64, printed: f64, decimals: i32) {
    let half_a_digit = 0.5 * 10f64.powi(-decimals);
    // A hair for the rounding of decimal figures in binary fractions.
    let close = (ours - printed).abs() <= half_a_digit * (1.0 + 1e-9) + 1e-12;
    assert!(close, "computed {ours}, printed {printed} to {decimals} decimals");
}
