//! Readers and writers: job file, catalogue, lists of strangers, logs, exports, the built-in demo.

pub mod board_colours;
pub mod board_drawing;
pub mod board_others;
pub mod board_page;
pub mod board_svg;
pub mod board_words;
pub mod bounded;
pub(crate) mod canonical;
pub mod cell;
pub mod child;
mod columns;
pub mod companions;
mod csv_rows;
pub mod curves;
pub mod datasheet;
pub mod demo;
pub mod designators;
pub mod drawing;
pub mod entry;
pub mod export;
pub mod export_set;
pub mod flat_photo;
pub mod homography;
pub mod import;
pub mod job;
mod job_check;
pub mod job_file;
mod json;
pub mod life_plot;
pub mod load;
mod log_text;
pub mod new_job;
pub(crate) mod notation;
pub mod offers;
pub mod order;
pub mod oscilloscope;
pub mod output;
pub mod parts;
pub mod parts_writer;
pub mod paste;
pub mod photo;
pub mod purchase;
pub mod purchase_workbook;
pub mod recovery;
mod rejected;
mod save;
pub mod sheets;
pub mod table;
mod temperature_layout;
pub mod temperature_log;
mod timestamp;
pub mod trace;
pub mod unit_record;
pub mod unit_table;
pub mod wear;
pub mod workbook;
pub mod written;

pub use canonical::ListError;
pub use job_check::Fault;
pub use notation::{neutral_text, number, visible};
pub use rejected::{Rejected, Unused};
#[cfg(feature = "window")]
pub(crate) use save::set_aside;
pub use save::{SaveError, save};

/// The readers of binary files, which run in a process of their own.
pub const APART: &[child::Reader] = &[
    child::reader::<workbook::Workbook>(),
    child::reader::<datasheet::PageReader>(),
    child::reader::<datasheet::PictureReader>(),
];

/// Files every export of a job may write, whichever call it was.
const EXPORTED: [&str; 13] = [
    "selection.csv",
    "candidates.csv",
    "purchase.csv",
    "purchase.xlsx",
    "rejected.csv",
    "worksheet.html",
    "justification.html",
    "inspection.html",
    "kits.html",
    "labels.html",
    "labels_letter.html",
    "order_picks.csv",
    "order_steps.csv",
];
