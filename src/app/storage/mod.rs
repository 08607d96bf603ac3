//! Files from the window: open, save, recovery of unsaved work, exports, photos, catalogues.

pub(crate) mod catalog_sources;
pub(crate) mod opening;
pub(crate) mod papers;
pub(crate) mod photo;
pub(crate) mod recovery;
pub(crate) mod saving;
pub(crate) mod settings_file;
