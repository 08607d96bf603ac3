//! Files from the window: open, save, recovery of unsaved work, exports, photos, catalogues.

pub(crate) mod catalog_sources;
pub(crate) mod export;
pub(crate) mod opening;
pub(crate) mod photo;
pub(crate) mod recovery;
pub(crate) mod saving;
