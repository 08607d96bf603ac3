//! The window, driven as a person drives it: through its accessibility tree, by mouse and by keys, without a screen.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test stops at the first surprise")]
mod harness;

mod board;
mod board_bar;
mod candidates;
mod editor;
mod everywhere;
mod files;
mod help;
mod import;
mod keyboard;
mod life;
mod positions;
mod settings;
mod undo;
