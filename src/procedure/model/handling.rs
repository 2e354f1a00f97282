//! How a thing is handled on the way off and on the way on: with what, past which hazard, in whose words.

use super::{HazardId, Local, Places, Seldom, SupplyId, ToolId};
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
    pub tools: Seldom<Local<(Direction, ToolId, Span)>>,
    /// Hazards.
    pub hazards: Seldom<Local<(Direction, HazardId, Span)>>,
    /// How it comes off; at a place what is said first of it counts.
    pub comes_off: Seldom<Local<String>>,
    /// How it goes on.
    pub goes_on: Seldom<Local<String>>,
    /// What it is coated with before it goes on, and where.
    pub coats: Seldom<Coat>,
    /// Where it goes on with nothing on it.
    pub dry: Seldom<Places>,
}

impl Handling {
    /// Tools with their direction, wherever they are used.
    pub fn each_tool(&self) -> impl Iterator<Item = (Direction, ToolId, Span)> {
        self.tools.iter().map(|tool| tool.what)
    }

    /// Hazards with their direction, wherever they are met.
    pub fn each_hazard(&self) -> impl Iterator<Item = (Direction, HazardId, Span)> {
        self.hazards.iter().map(|hazard| hazard.what)
    }
}

/// What a thing is coated with.
#[derive(Debug, Clone, PartialEq)]
pub struct Coat {
    /// With what.
    pub with: SupplyId,
    /// Where on it; all over where nothing is said.
    pub place: Option<String>,
    /// At which of its positions.
    pub at: Places,
    /// Where it is said.
    pub span: Span,
}
