//! How close together a view is drawn.

/// How close together a place is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Density {
    /// As the window usually is.
    Usual,
    /// In a short window, or at a large scale: what can be had elsewhere gives way to the first rows of the table.
    Tight,
}
