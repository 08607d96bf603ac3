//! What must hold for every job and every part.

#[path = "../support/mod.rs"]
#[allow(dead_code, reason = "shared with the other integration tests, each uses a part of it")]
mod support;

mod market;
mod missing;
mod ranking;
mod scenes;
mod stress;
