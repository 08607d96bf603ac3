//! The kinds of work other threads do for the window, a lane each.

use std::path::PathBuf;
use std::sync::Arc;

use super::candidates::Candidates;
use super::keep::Opened;
use super::snapshot::Snapshot;
use super::worker::{AnyLane, Lane, Waker};
use super::{buying, places, saving, session, stock};
use crate::domain::Job;

/// Names every lane once: its field, its making and its place in the row of all.
macro_rules! lanes {
    ($($(#[$meaning:meta])* $name:ident: $result:ty,)*) => {
        /// Work on other threads.
        pub(super) struct Lanes {
            $($(#[$meaning])* pub $name: Lane<$result>,)*
        }

        impl Lanes {
            /// Lanes without work.
            pub(super) fn new(waker: &Waker) -> Self {
                Self { $($name: Lane::new(waker),)* }
            }

            /// Every lane.
            pub(super) fn all(&self) -> impl Iterator<Item = &dyn AnyLane> {
                [$(&self.$name as &dyn AnyLane),*].into_iter()
            }
        }
    };
}

lanes! {
    /// A job that is opened.
    loading: Result<Opened, String>,
    /// The job on its way to its file.
    saving: saving::SaveDone,
    /// The outcome of the whole job; nothing when it was cancelled.
    sizing: Option<Snapshot>,
    /// The candidates of the selected position with the job they belong to; nothing when cancelled.
    candidates: Option<(Arc<Job>, Arc<Candidates>)>,
    /// The candidates filtered and sorted.
    listing: Option<places::candidates::Listing>,
    /// What the panels of the life place show.
    answering: Option<places::life::Answers>,
    /// Tables, pictures and sheets on their way to a file: what to say about each.
    exporting: Result<String, String>,
    /// A record or a log for the life place.
    readings: Result<places::life::Reading, String>,
    /// The photo of the board.
    photo: session::BoardPhoto,
    /// Exports of the map: what to say about each.
    map: Result<String, String>,
    /// The parts of the catalogues the job names.
    parts: Result<stock::StockRead, String>,
    /// Offers of further suppliers.
    offers: buying::OffersDone,
    /// What the purchase place shows.
    buying: places::purchase::Answer,
    /// The search for the order of few lines.
    ordering: buying::OrderDone,
    /// The record of the rebuilt units.
    units: buying::UnitsDone,
    /// A catalogue from elsewhere.
    bringing: Result<(PathBuf, Vec<u8>), String>,
    /// Lists that are being opened.
    lists: Vec<places::import::Opened>,
    /// Lists that are being read.
    gathering: Option<places::import::Outcome>,
}
