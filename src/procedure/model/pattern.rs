//! Which positions of a thing are meant, and where axes stand.

use super::{AxisId, Seldom};

/// Which positions of a thing are meant, one entry per axis of the thing; missing entries are [`At::Axis`].
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Pattern(pub Seldom<At>);

/// One axis of a [`Pattern`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum At {
    /// The position at which the axis is bound by the step or by the thing that speaks; those of a group if only that
    /// is; every position if neither is.
    Axis,
    /// This position.
    Position(u16),
    /// Those in this group, as far as the axis is not bound to one of them.
    Group(AxisId, u16),
}

/// Axes that stand at one position, such as within one repeat of a step.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Binding {
    /// Those that are said.
    pub stated: Seldom<(AxisId, u16)>,
    /// Those whose positions are the groups that the stated ones are in.
    pub implied: Seldom<(AxisId, u16)>,
}

impl Binding {
    /// Every axis that stands at one position.
    pub fn iter(&self) -> impl Iterator<Item = (AxisId, u16)> {
        self.stated.iter().chain(&self.implied).copied()
    }

    /// Where `axis` stands, if it is bound.
    pub fn position(&self, axis: AxisId) -> Option<u16> {
        self.iter().find(|(bound, _)| *bound == axis).map(|(_, at)| at)
    }
}
