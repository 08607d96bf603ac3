//! The frame around the views: bar, list of positions, status line, sheets laid over the window.

pub(crate) mod bar;
mod catalogs;
pub(crate) mod dispatch;
mod files;
pub mod icon;
pub(crate) mod list;
pub(crate) mod panic_recovery;
pub(crate) mod polling;
pub(crate) mod sheet;
pub(crate) mod status;
pub(crate) mod system_font;
