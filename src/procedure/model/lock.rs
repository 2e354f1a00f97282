//! What keeps fasteners from coming loose, and oil on them.

use super::{PartId, Places, SupplyId, Target};
use crate::source::Span;

/// What keeps a fastener from coming loose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum Locking {
    Tab,
    SplitPin,
    Wire,
    Stake,
    ThreadLocker,
}

/// What keeps a set from coming loose, and the piece that does it.
#[derive(Debug, Clone, PartialEq)]
pub struct Lock {
    /// How.
    pub how: Locking,
    /// The piece; none where nothing is used up, or nobody has said what.
    pub piece: Option<LockPiece>,
    /// At which positions of the set.
    pub at: Places,
    /// Where it is said.
    pub span: Span,
}

impl Lock {
    /// What of it is used up: wire, thread-locker.
    pub fn supply(&self) -> Option<SupplyId> {
        match self.piece {
            Some(LockPiece::Supply(supply)) => Some(supply),
            Some(LockPiece::Part(_)) | None => None,
        }
    }
}

/// The piece of a lock.
#[derive(Debug, Clone, PartialEq)]
pub enum LockPiece {
    /// A tab washer, a split pin.
    Part(Target<PartId>),
    /// Wire, thread-locker.
    Supply(SupplyId),
}

/// Oil on a fastener when it goes in.
#[derive(Debug, Clone, PartialEq)]
pub struct Oiling {
    /// Where: threads, faces.
    pub places: Vec<String>,
    /// With what; none where nobody has said.
    pub with: Option<SupplyId>,
    /// Where it is said.
    pub span: Span,
}
