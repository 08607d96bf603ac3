//! What must hold for every job and every part.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at a fault")]
#![allow(clippy::match_same_arms, reason = "each arm is a rule of its own")]

#[path = "../support/mod.rs"]
#[allow(dead_code, reason = "shared with the other integration tests, each uses a part of it")]
mod support;

mod assumed;
mod catalog_index;
mod engineer_demo;
mod entries;
mod entry;
mod life;
mod missing;
mod part_numbers;
mod ranking;
mod scenes;
mod stress;
