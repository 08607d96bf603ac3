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

pub(crate) use candidates::{Candidates, Kept, Rows};
pub(crate) use catalog_sources::{CatalogInfo, CatalogSources};
pub(crate) use edit::Edit;
pub(crate) use history::History;
pub(crate) use scene::{BoardPhoto, Scene};
pub(crate) use selection::{Candidate, EditorSheet, List, Overlay, PINS_MAX, Reveal, Selection, Step, View};
pub(crate) use session::{PhotoName, Session};
pub(crate) use snapshot::{Same, Snapshot, can_of};
