//! How a thing is handled on the way off and on the way on: with what, past which hazard, in whose words.

use super::{HazardId, SupplyId, ToolId};
pub use crate::language::tree::Direction;
use crate::source::Span;

impl Direction {
    /// Whether what is said with this direction counts on the way off (or, with `false`, on the way on).
    pub fn counts(self, off: bool) -> bool {
        match self {
            Direction::Off => off,
            Direction::On => !off,
            Direction::Both => true,
        }
    }
}

/// What a part or a set says of the way off and the way on, for every step that does it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Handling {
    /// Tools.
    pub tools: Vec<(Direction, ToolId, Span)>,
    /// Hazards.
    pub hazards: Vec<(Direction, HazardId, Span)>,
    /// How it comes off.
    pub comes_off: Option<String>,
    /// How it goes on.
    pub goes_on: Option<String>,
    /// What it is coated with before it goes on, and where.
    pub coats: Vec<Coat>,
    /// It goes on with nothing on it.
    pub dry: bool,
}

/// What a thing is coated with.
#[derive(Debug, Clone, PartialEq)]
pub struct Coat {
    /// With what.
    pub with: SupplyId,
    /// Where on it; all over where nothing is said.
    pub place: Option<String>,
    /// Where it is said.
    pub span: Span,
}
