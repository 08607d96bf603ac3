//! What is there: the job and its history, the selection, what was worked out, the settings.

pub(crate) mod candidates;
pub(crate) mod catalog_sources;
pub(crate) mod edit;
pub(crate) mod history;
pub(crate) mod scene;
pub(crate) mod selection;
pub(crate) mod session;
pub(crate) mod settings;
pub(crate) mod snapshot;
