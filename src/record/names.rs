//! Names of a record or price file looked up in the procedure: what exists, at which place; complaints for the rest.

use std::collections::BTreeSet;

use super::{Goods, Named, errors};
use crate::diagnostics::{Diagnostic, Mend};
use crate::procedure::model::{
    AxisId, Binding, Gauge, GaugeId, Kind, LookId, Name, PartId, Place, Procedure, Sited,
};
use crate::source::Span;

/// Looks names up, and keeps every complaint.
pub(super) struct Names<'a> {
    pub(super) procedure: &'a Procedure,
    pub(super) diagnostics: Vec<Diagnostic>,
    /// Names that were looked up.
    pub(super) met: BTreeSet<String>,
    /// Those of them that the procedure hasn't got at all.
    pub(super) unknown: BTreeSet<String>,
}

impl<'a> Names<'a> {
    pub(super) fn new(procedure: &'a Procedure) -> Self {
        Names { procedure, diagnostics: Vec::new(), met: BTreeSet::new(), unknown: BTreeSet::new() }
    }

    fn complain<T>(&mut self, diagnostic: Diagnostic) -> Option<T> {
        self.diagnostics.push(diagnostic);
        None
    }

    /// A thing of the kind wanted, at the place given; without one, at every place.
    pub(super) fn thing(
        &mut self,
        named: &Named,
        what: &str,
        wanted: fn(Name) -> bool,
    ) -> Option<(Name, Option<Place>)> {
        let name = self.find(named.span, &named.name, what, wanted)?;
        let (axes, declared) = self.axes_of(name);
        if !self.no_words(named, declared) {
            return None;
        }
        self.place_if_given(named, axes, declared).map(|place| (name, place))
    }

    /// Something that can be bought.
    pub(super) fn goods(&mut self, named: &Named) -> Option<Goods> {
        let (name, place) = self.thing(named, "a part, set or supply", |name| {
            matches!(name, Name::Part(_) | Name::Set(_) | Name::Supply(_))
        })?;
        match name {
            Name::Part(id) => Some(Goods::Part(id, place)),
            Name::Set(id) => Some(Goods::Set(id, place)),
            Name::Supply(id) => Some(Goods::Supply(id)),
            _ => None,
        }
    }

    /// A gauge at the place given, or at each of its places; none, and no complaint, for what is no gauge.
    pub(super) fn gauges(&mut self, named: &Named) -> Option<Vec<(GaugeId, Place)>> {
        let Some(Name::Gauge(id)) = self.procedure.names.get(&named.name).copied() else { return None };
        let found = self.thing(named, GaugeId::WORDS, |name| matches!(name, Name::Gauge(_)));
        let Some((_, place)) = found else { return Some(Vec::new()) };
        let all = self.procedure.places(&self.procedure.gauge(id).axes);
        Some(place.map_or_else(|| all.map(|place| (id, place)).collect(), |place| vec![(id, place)]))
    }

    /// A look at the place given, or at each of its places; none, and no complaint, for what is no look.
    pub(super) fn looks(&mut self, named: &Named) -> Option<Vec<(LookId, Place)>> {
        let Some(Name::Look(id)) = self.procedure.names.get(&named.name).copied() else { return None };
        let found = self.thing(named, LookId::WORDS, |name| matches!(name, Name::Look(_)));
        let Some((_, place)) = found else { return Some(Vec::new()) };
        let all = self.procedure.places(&self.procedure.look(id).axes);
        Some(place.map_or_else(|| all.map(|place| (id, place)).collect(), |place| vec![(id, place)]))
    }

    /// A part at the place given, or at each of its places.
    pub(super) fn parts(&mut self, named: &Named) -> Vec<(PartId, Place)> {
        let found = self.thing(named, PartId::WORDS, |name| matches!(name, Name::Part(_)));
        let Some((Name::Part(id), place)) = found else { return Vec::new() };
        match place {
            Some(place) => vec![(id, place)],
            None => self.procedure.places(id.axes(self.procedure)).map(|place| (id, place)).collect(),
        }
    }

    fn axes_of(&self, name: Name) -> (&'a [AxisId], Span) {
        let procedure = self.procedure;
        let axes: &[AxisId] = match name {
            Name::Part(id) => &procedure.part(id).axes,
            Name::Set(id) => &procedure.set(id).axes,
            Name::Joint(id) => &procedure.joint(id).axes,
            Name::Step(id) => &procedure.step(id).each,
            Name::Gauge(id) => &procedure.gauge(id).axes,
            Name::Look(id) => &procedure.look(id).axes,
            Name::Temporary(id) => &procedure.temporary(id).axes,
            _ => &[],
        };
        (axes, procedure.naming(name).span)
    }

    /// What `text` names, if it is of the kind wanted.
    fn find(&mut self, span: Span, text: &str, what: &str, wanted: fn(Name) -> bool) -> Option<Name> {
        let found = self.procedure.names.get(text).copied();
        self.met.insert(text.to_owned());
        if found.is_none() {
            self.unknown.insert(text.to_owned());
        }
        match found {
            Some(name) if wanted(name) => Some(name),
            _ => {
                let names = self.procedure.names.sorted();
                let candidates: Vec<&str> =
                    names.into_iter().filter(|(_, name)| wanted(*name)).map(|(text, _)| text).collect();
                let other = found.map(|name| (name.kind(), self.axes_of(name).1));
                self.complain(errors::unknown_name(span, text, what, candidates.iter().copied(), other))
            }
        }
    }

    /// The number of what `text` names, if it is of that kind.
    pub(super) fn number<I: Kind>(&mut self, span: Span, text: &str) -> Option<I> {
        self.find(span, text, I::WORDS, |name| I::named(name).is_some()).and_then(I::named)
    }

    /// Complains of words behind a thing that has no stations.
    pub(super) fn no_words(&mut self, named: &Named, declared: Span) -> bool {
        if named.words.is_empty() {
            return true;
        }
        let message = format!("`{}` has no stations, but `{}` follows it", named.name, named.words.join(" "));
        let mend = Mend::doing("take the words away");
        self.diagnostics.push(errors::unknown_station(named.span, message, mend, declared));
        false
    }

    /// As [`Names::place`], but naming no position at all means every place.
    pub(super) fn place_if_given(
        &mut self,
        named: &Named,
        axes: &[AxisId],
        declared: Span,
    ) -> Option<Option<Place>> {
        if named.positions.is_empty() { Some(None) } else { self.place(named, axes, declared).map(Some) }
    }

    /// The place that the positions name.
    pub(super) fn place(&mut self, named: &Named, axes: &[AxisId], declared: Span) -> Option<Place> {
        let procedure = self.procedure;
        let example = || {
            let first: Vec<&str> = axes
                .iter()
                .filter_map(|axis| procedure.axis(*axis).positions.first())
                .map(String::as_str)
                .collect();
            if first.is_empty() {
                named.name.clone()
            } else {
                format!("{}[{}]", named.name, first.join(", "))
            }
        };
        if named.positions.len() != axes.len() {
            let message = match (named.positions.len(), axes.len()) {
                (0, _) => format!("`{}` stands at several places, and none is given", named.name),
                (_, 0) => format!("`{}` has no positions", named.name),
                (given, wanted) => format!("`{}` has {wanted} positions, and {given} are given", named.name),
            };
            let mend = Mend::write(format!("`{}`", example()));
            return self.complain(errors::unknown_place(named.span, message, mend, declared));
        }
        let mut bound = Binding::default();
        for (id, position) in axes.iter().zip(&named.positions) {
            let axis = procedure.axis(*id);
            let Some(at) = (0u16..).zip(&axis.positions).find(|(_, known)| *known == position) else {
                let message = format!("`{}` has no position `{position}`", named.name);
                let listed = axis.positions.join(", ");
                let mend = Mend::doing(format!("the positions of `{}` are {listed}", axis.naming.id));
                return self.complain(errors::unknown_place(named.span, message, mend, axis.naming.span));
            };
            bound.stated.push((*id, at.0));
        }
        procedure.place(axes, &bound)
    }

    /// Station and direction that the words behind a gauge name.
    pub(super) fn station_and_direction(
        &mut self,
        named: &Named,
        gauge: &Gauge,
    ) -> Option<(Option<usize>, Option<usize>)> {
        let stations: Vec<&str> = gauge.stations.iter().map(|(name, _)| name.as_str()).collect();
        let directions: Vec<&str> = gauge.directions.iter().map(String::as_str).collect();
        let mut words = named.words.iter();
        let station = take(&stations, &mut words);
        let direction = take(&directions, &mut words);
        let rest = words.next();
        if let (Some(station), Some(direction), None) = (station, direction, rest) {
            return Some((station, direction));
        }
        let lists: Vec<String> = [("station", &stations), ("direction", &directions)]
            .iter()
            .filter(|(_, list)| !list.is_empty())
            .map(|(what, list)| format!("a {what} ({})", list.join(", ")))
            .collect();
        let (message, mend) = if lists.is_empty() {
            let message =
                format!("`{}` has no stations, but `{}` follows it", named.name, named.words.join(" "));
            (message, Mend::doing("take the words away"))
        } else {
            let message = format!("`{named}` does not say where `{}` was read", named.name);
            (message, Mend::write(format!("after it {}", lists.join(" and "))))
        };
        self.complain(errors::unknown_station(named.span, message, mend, gauge.naming.span))
    }
}

/// The next word as one of `list`; `Some(None)` for an empty list, none if it is not one of them.
fn take<'w>(list: &[&str], words: &mut impl Iterator<Item = &'w String>) -> Option<Option<usize>> {
    if list.is_empty() {
        return Some(None);
    }
    let word = words.next()?;
    list.iter().position(|known| known == word).map(Some)
}
