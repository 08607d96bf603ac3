//! What is typed into fields and not taken yet.

use std::collections::BTreeMap;

/// What is typed and not yet shown as the field prints it: the field in use, and entries that were refused.
#[derive(Debug, Default)]
pub(crate) struct Drafts {
    pub(super) texts: BTreeMap<String, String>,
}

impl Drafts {
    /// Forgets what was typed and refused.
    pub(crate) fn clear(&mut self) {
        self.texts.clear();
    }

    /// Whether something typed into a field is not taken.
    pub(crate) fn holds(&self, key: &str) -> bool {
        self.texts.contains_key(key)
    }
}
