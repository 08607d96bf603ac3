//! Where something is in a job.

/// A position's place in its [`Job`](super::Job).
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PositionId {
    /// Index of the board.
    pub board: usize,
    /// Index of the position on the board.
    pub index: usize,
}

/// The place of another part or a test point in its [`Job`](super::Job).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OtherId {
    /// Index of the board; `None` for what belongs to the unit and to no board.
    pub board: Option<usize>,
    /// Index in the list there.
    pub index: usize,
}

/// A position, or another part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// A position with an electrolytic.
    Position(PositionId),
    /// Another part.
    Other(OtherId),
}

impl Place {
    /// Index of its board; `None` for what is on none.
    pub fn board(self) -> Option<usize> {
        match self {
            Self::Position(id) => Some(id.board),
            Self::Other(id) => id.board,
        }
    }
}

impl From<OtherId> for Place {
    fn from(id: OtherId) -> Self {
        Self::Other(id)
    }
}

impl From<PositionId> for Place {
    fn from(id: PositionId) -> Self {
        Self::Position(id)
    }
}
