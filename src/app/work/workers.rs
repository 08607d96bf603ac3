//! The kinds of work other threads do for the window, a worker each.

use std::path::PathBuf;
use std::sync::Arc;

use crate::app::actions::purchase;
use crate::app::state::candidates::Candidates;
use crate::app::state::session;
use crate::app::state::snapshot::Snapshot;
use crate::app::storage::catalog_sources;
use crate::app::storage::recovery::Opened;
use crate::app::storage::saving;
use crate::app::views;
use crate::app::work::worker::{AnyWorker, Waker, Worker};
use crate::domain::Job;

/// Names every worker once: its field, its making and its place in the row of all.
macro_rules! workers {
    ($($(#[$meaning:meta])* $name:ident: $result:ty,)*) => {
        /// Work on other threads.
        pub(crate) struct Workers {
            $($(#[$meaning])* pub $name: Worker<$result>,)*
        }

        impl Workers {
            /// Workers without work.
            pub(crate) fn new(waker: &Waker) -> Self {
                Self { $($name: Worker::new(waker),)* }
            }

            /// Every worker.
            pub(crate) fn all(&self) -> impl Iterator<Item = &dyn AnyWorker> {
                [$(&self.$name as &dyn AnyWorker),*].into_iter()
            }
        }
    };
}

workers! {
    /// A job that is opened.
    loading: Result<Opened, String>,
    /// The job on its way to its file.
    saving: saving::SaveDone,
    /// The outcome of the whole job; nothing when it was cancelled.
    sizing: Option<Snapshot>,
    /// The candidates of the selected position with the job they belong to; nothing when cancelled.
    candidates: Option<(Arc<Job>, Arc<Candidates>)>,
    /// The candidates filtered and sorted.
    listing: Option<views::candidates::Listing>,
    /// What the panels of the life place show.
    answering: Option<views::life::Answers>,
    /// Tables, pictures and sheets on their way to a file: what to say about each.
    exporting: Result<String, String>,
    /// A record or a log for the life place.
    readings: Result<views::life::Reading, String>,
    /// The photo of the board.
    photo: session::BoardPhoto,
    /// Exports of the map: what to say about each.
    map: Result<String, String>,
    /// The parts of the catalogues the job names.
    parts: Result<catalog_sources::StockRead, String>,
    /// Offers of further suppliers.
    offers: purchase::OffersDone,
    /// What the purchase place shows.
    buying: views::purchase::Answer,
    /// The search for the order of few lines.
    ordering: purchase::OrderDone,
    /// The record of the rebuilt units.
    units: purchase::UnitsDone,
    /// A catalogue from elsewhere.
    bringing: Result<(PathBuf, Vec<u8>), String>,
    /// Lists that are being opened.
    lists: Vec<views::import::Opened>,
    /// Lists that are being read.
    gathering: Option<views::import::ImportOutcome>,
}
