//! The order as another thread added it up.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::app::state::Snapshot;
use crate::domain::Date;
use crate::files::offers::OffersRead;
use crate::sizing::{Purchase, purchase};

/// The order of a sized job.
pub(crate) struct Answer {
    /// The sized job.
    pub snapshot: Arc<Snapshot>,
    /// The offers it was added up with.
    pub offers: Arc<OffersRead>,
    pub purchase: Purchase,
    /// The day it was added up, for the age of shelf stock.
    pub today: Option<Date>,
    /// Every maker of the catalogue.
    pub makers: Vec<String>,
}

impl Answer {
    /// Adds the order up.
    pub(crate) fn of(snapshot: Arc<Snapshot>, offers: Arc<OffersRead>) -> Self {
        let today = Date::today();
        let Snapshot { job, catalog_index, sizing } = &*snapshot;
        let catalog = catalog_index.catalog();
        let purchase = purchase(job, catalog_index, sizing, today);
        let makers: BTreeSet<&str> = catalog.ids().map(|id| catalog.maker(id)).filter(|m| !m.is_empty()).collect();
        let makers = makers.into_iter().map(str::to_owned).collect();
        Self { snapshot, offers, purchase, today, makers }
    }
}
