//! Values that differ by place: where each holds, and whether every place has one.

use super::errors;
use super::model::*;
use super::readings::sourced;
use super::resolver::Resolver;
use crate::diagnostics::Diagnostic;
use crate::language::tree::{self, Setting, Word};
use crate::source::Span;

impl Resolver {
    /// Positions at which something said of `owner` holds; none if they can't be read.
    pub(super) fn places(&mut self, owner: Name, at: &[Setting]) -> Option<Places> {
        let axes = self.axes_of(owner).to_vec();
        self.places_along(&axes, at, |resolver, axis| {
            let thing = resolver.declared(owner);
            let shape = resolver.shape(owner);
            errors::axis_not_here(axis, &thing, &shape)
        })
    }

    /// Positions along some axes and the groups of those; none if they can't be read. `strange` tells of an axis that
    /// is neither.
    pub(super) fn places_along(
        &mut self,
        axes: &[AxisId],
        at: &[Setting],
        strange: impl Fn(&Self, &Word) -> Diagnostic,
    ) -> Option<Places> {
        let mut places = Vec::new();
        for setting in at {
            let name = self.lookup(&setting.name.name, &["an axis"])?;
            let Name::Axis(axis) = name else { return None };
            let along = |own: &AxisId| {
                let groupings = &self.procedure.axis(*own).groupings;
                *own == axis || groupings.iter().any(|grouping| grouping.by == axis)
            };
            if !axes.iter().any(along) {
                let complaint = strange(self, &setting.name.name);
                self.complain(complaint);
                return None;
            }
            let positions = self.procedure.axis(axis).positions.clone();
            let position = self.value(name, "position", &positions, &setting.value)?;
            let span = setting.name.span.to(setting.value.span);
            places.push((axis, u16::try_from(position).ok()?, span));
        }
        Some(Places(places))
    }

    /// The values of a clause of `owner`, as far as they can be read. Complains of a case that never counts, and of
    /// places without any.
    pub(super) fn cases<T, U>(
        &mut self,
        owner: Name,
        cases: &[tree::Case<T>],
        mut value: impl FnMut(&mut Self, &tree::Case<T>) -> Option<U>,
    ) -> Cases<Sourced<U>> {
        let mut read = Vec::new();
        for case in cases {
            let places = self.places(owner, &case.scope.at);
            let value = value(self, case);
            read.push(places.zip(value.map(|value| sourced(value, &case.origin, case.span))));
        }
        // What can't be read may be the case that is missing, or the one that counts before another.
        let sound = read.iter().all(Option::is_some);
        let found = Cases(read.into_iter().flatten().map(|(places, value)| (value, places)).collect());
        if sound {
            self.judge_cases(owner, &found);
        }
        found
    }

    fn judge_cases<U>(&mut self, owner: Name, cases: &Cases<Sourced<U>>) {
        let said: Vec<(Span, &Places)> = cases.0.iter().map(|(value, places)| (value.span, places)).collect();
        let missing = self.idle_cases(owner, &said);
        if let (Some(place), Some((last, _))) = (missing, said.last()) {
            let thing = self.declared(owner);
            let name = self.procedure.place_name(self.axes_of(owner), place);
            self.complain(errors::no_case(*last, &thing.value, &name));
        }
    }

    /// Complains of what is said of some places and never counts, since what stands before it does wherever it would;
    /// the first place of which nothing is said.
    pub(super) fn idle_cases(&mut self, owner: Name, said: &[(Span, &Places)]) -> Option<Place> {
        let axes = self.axes_of(owner).to_vec();
        let mut counts = vec![false; said.len()];
        let mut missing = None;
        for place in self.procedure.places(&axes) {
            let bound = self.procedure.bound(&axes, place);
            match said.iter().position(|(_, places)| places.hold(&bound)) {
                Some(first) => counts[first] = true,
                None => missing = missing.or(Some(place)),
            }
        }
        for (index, _) in counts.iter().enumerate().filter(|(_, counts)| !**counts) {
            let before = index.checked_sub(1).map(|before| said[before].0);
            self.complain(errors::idle_case(said[index].0, before));
        }
        missing
    }
}
