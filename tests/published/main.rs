//! Checks against published figures and other programs; the source stands beside each assertion.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at a fault")]

mod circuits;
mod condition;
mod energy;
mod few_lines_milp;
mod groups;
mod printed;
mod rectifier;
mod spread;
mod waveform;
