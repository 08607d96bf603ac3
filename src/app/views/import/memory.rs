//! What the import remembers of its lists: which lines are listed, which rows are compared with their page.

use crate::files::datasheet::PrintedRow;

/// Which of the rows and cells that are not used are listed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) enum Listed {
    /// What wants a look: contradictions, refused rows, cells left out.
    #[default]
    Trouble,
    /// Everything.
    All,
    /// What was skipped for one reason.
    Aside(String),
}

/// A row that is compared.
pub(super) struct Compared {
    pub(super) serial: u64,
    pub(super) row: PrintedRow,
    pub(super) read: String,
}

/// Serials of files whose rows were compared, and the rows being compared.
#[derive(Default)]
pub(super) struct Comparison {
    pub(super) agreed: Vec<u64>,
    pub(super) rows: Vec<Compared>,
}

impl Comparison {
    /// Whether rows are being compared.
    pub(super) fn is_open(&self) -> bool {
        !self.rows.is_empty()
    }
}
