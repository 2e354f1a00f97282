//! Values that differ by place and by answer.

use super::{AxisId, Binding, Guard, Name, Pattern, Place, Procedure, Seldom};
use crate::source::Span;

/// Where a number comes from, in words.
pub type Origin = Option<String>;

/// What is said where, for numbers that have an origin.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced<T> {
    /// The value.
    pub value: T,
    /// Where it comes from.
    pub origin: Origin,
    /// Where it is said.
    pub span: Span,
}

/// Positions at which something holds: every axis named stands at the position named. None named: everywhere.
/// Two are equal wherever they are said.
#[derive(Debug, Clone, Default)]
pub struct Places(pub Seldom<(AxisId, u16, Span)>);

impl PartialEq for Places {
    fn eq(&self, other: &Places) -> bool {
        let said = |places: &Places| places.0.iter().map(|(axis, at, _)| (*axis, *at)).collect::<Vec<_>>();
        said(self) == said(other)
    }
}

impl Places {
    /// Whether they are everywhere.
    pub fn everywhere(&self) -> bool {
        self.0.is_empty()
    }

    /// These and others at once: nowhere, where they name different positions of one axis.
    pub fn and(&self, others: &Places) -> Places {
        let mut both = self.clone();
        for (axis, at, span) in &others.0 {
            if !both.0.iter().any(|(known, here, _)| (known, here) == (axis, at)) {
                both.0.push((*axis, *at, *span));
            }
        }
        both
    }

    /// Whether the place at which the axes in `bound` stand is one of them.
    pub fn hold(&self, bound: &Binding) -> bool {
        self.0.iter().all(|(axis, at, _)| bound.position(*axis) == Some(*at))
    }
}

/// Something that is said of some positions only.
#[derive(Debug, Clone, PartialEq)]
pub struct Local<T> {
    /// What is said.
    pub what: T,
    /// Where.
    pub at: Places,
}

impl<T> Local<T> {
    /// Said of every position.
    pub fn everywhere(what: T) -> Local<T> {
        Local { what, at: Places::default() }
    }

    /// What is said of the place at which the axes in `bound` stand.
    pub fn here(&self, bound: &Binding) -> Option<&T> {
        self.at.hold(bound).then_some(&self.what)
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
        fn when(scope: &Scope) -> Vec<((Name, Option<&Pattern>), usize)> {
            scope.when.0.iter().map(|term| (term.question.id(), term.answer)).collect()
        }
        (&self.at, when(self)) == (&other.at, when(other))
    }
}

/// A value that may differ by place and by answer: the first case that holds counts. No cases: nothing is said.
#[derive(Debug, Clone, PartialEq)]
pub struct Cases<T>(pub Seldom<(T, Scope)>);

impl<T> Default for Cases<T> {
    fn default() -> Self {
        Cases(Seldom::new())
    }
}

impl<T> Cases<T> {
    /// Whether nothing is said at all.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Every value, in written order.
    pub fn values(&self) -> impl Iterator<Item = &T> {
        self.0.iter().map(|(value, _)| value)
    }

    /// Changes every value.
    pub(crate) fn change(&mut self, change: impl FnMut(&mut T)) {
        self.0.iter_mut().map(|(value, _)| value).for_each(change);
    }

    /// The values one of which counts where the axes in `bound` stand, each with the answers that choose it, up to the
    /// first that needs none.
    pub fn each<'c, 'b>(
        &'c self,
        bound: &'b Binding,
    ) -> impl Iterator<Item = (&'c T, &'c Guard)> + use<'c, 'b, T> {
        let mut settled = false;
        let here = self.0.iter().filter(|(_, scope)| scope.at.hold(bound));
        here.map(|(value, scope)| (value, &scope.when)).take_while(move |(_, when)| {
            let counts = !settled;
            settled |= when.0.is_empty();
            counts
        })
    }

    /// The value that counts where the axes in `bound` stand; none if nothing is said there, or if that hangs on
    /// answers.
    pub fn at(&self, bound: &Binding) -> Option<&T> {
        self.each(bound).next().filter(|(_, when)| when.0.is_empty()).map(|(value, _)| value)
    }

    /// The value that counts everywhere, whatever is answered; none if nothing is said or if several are.
    pub fn only(&self) -> Option<&T> {
        match self.0.as_slice() {
            [(value, scope)] if scope.always() => Some(value),
            _ => None,
        }
    }

    /// The answers that choose where the axes in `bound` stand; none where the value hangs on none.
    pub fn chosen_by<'c, 'b>(
        &'c self,
        bound: &'b Binding,
    ) -> impl Iterator<Item = &'c Guard> + use<'c, 'b, T> {
        self.each(bound).map(|(_, when)| when).filter(|when| !when.0.is_empty())
    }

    /// Whether any value hangs on answers.
    pub fn by_answer(&self) -> bool {
        self.0.iter().any(|(_, scope)| !scope.when.0.is_empty())
    }
}

impl<T: PartialEq> Cases<Sourced<T>> {
    /// The value that counts at each of some places of a thing with these axes; none where it isn't the same, hangs on
    /// answers, or isn't said.
    pub fn throughout(&self, procedure: &Procedure, axes: &[AxisId], places: &[Place]) -> Option<&T> {
        let at = |place: &Place| self.at(&procedure.bound(axes, *place)).map(|said| &said.value);
        let first = places.first().and_then(at)?;
        places.iter().all(|place| at(place) == Some(first)).then_some(first)
    }
}
