//! Values that differ by place.

use super::{AxisId, Binding};
use crate::source::Span;

/// Positions at which something holds: every axis named stands at the position named. None named: everywhere.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Places(pub Vec<(AxisId, u16, Span)>);

impl Places {
    /// Whether they are everywhere.
    pub fn everywhere(&self) -> bool {
        self.0.is_empty()
    }

    /// Whether the place at which the axes in `bound` stand is one of them.
    pub fn hold(&self, bound: &Binding) -> bool {
        self.0.iter().all(|(axis, at, _)| bound.position(*axis) == Some(*at))
    }
}

/// A value that may differ by place: the first case that holds at a place counts. No cases: nothing is said.
#[derive(Debug, Clone, PartialEq)]
pub struct Cases<T>(pub Vec<(T, Places)>);

impl<T> Default for Cases<T> {
    fn default() -> Self {
        Cases(Vec::new())
    }
}

impl<T> Cases<T> {
    /// Whether nothing is said for any place.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Every value, in written order.
    pub fn values(&self) -> impl Iterator<Item = &T> {
        self.0.iter().map(|(value, _)| value)
    }

    /// The value that counts where the axes in `bound` stand.
    pub fn at(&self, bound: &Binding) -> Option<&T> {
        self.0.iter().find(|(_, places)| places.hold(bound)).map(|(value, _)| value)
    }
}
