//! Values that differ by place.

use super::{AxisId, Binding, Guard, Name, Pattern};
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

/// Where, and under which answers, something holds. Two are equal wherever they are said.
#[derive(Debug, Clone, Default)]
pub struct Scope {
    /// The positions.
    pub at: Places,
    /// The answers.
    pub when: Guard,
}

impl Scope {
    /// Whether it is everywhere and whatever is answered.
    pub fn always(&self) -> bool {
        self.at.everywhere() && self.when.0.is_empty()
    }
}

impl PartialEq for Scope {
    fn eq(&self, other: &Scope) -> bool {
        let at = |scope: &Scope| scope.at.0.iter().map(|(axis, at, _)| (*axis, *at)).collect::<Vec<_>>();
        fn when(scope: &Scope) -> Vec<((Name, Option<&Pattern>), usize)> {
            scope.when.0.iter().map(|term| (term.question.id(), term.answer)).collect()
        }
        (at(self), when(self)) == (at(other), when(other))
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

    /// Changes every value.
    pub(crate) fn each(&mut self, change: impl FnMut(&mut T)) {
        self.0.iter_mut().map(|(value, _)| value).for_each(change);
    }

    /// The value that counts where the axes in `bound` stand.
    pub fn at(&self, bound: &Binding) -> Option<&T> {
        self.0.iter().find(|(_, places)| places.hold(bound)).map(|(value, _)| value)
    }
}
