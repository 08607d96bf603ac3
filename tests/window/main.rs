//! The window, driven as a person drives it: through its accessibility tree, by mouse and by keys, without a screen.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test stops at the first surprise")]
mod harness;

mod bench;
mod board;
mod board_bar;
mod board_editor;
mod candidates;
mod editor;
mod engineer;
mod everywhere;
mod files;
mod first_hour;
mod first_minute;
mod headings;
mod help;
mod import;
mod keyboard;
mod legible;
mod life;
mod names;
mod other_parts;
mod positions;
mod purchase;
mod room;
mod safety;
mod settings;
mod small;
mod stops;
mod tracing;
mod undo;

#[cfg(feature = "pdf")]
#[path = "../reading/datasheets/typeset.rs"]
#[allow(dead_code, reason = "the tests of the readers use the rest of it")]
mod typeset;
