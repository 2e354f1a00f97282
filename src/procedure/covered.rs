//! Circles of what lies under what: nothing in one can come off first. Whether things that stand at several places, or that
//! only some engines have, are in each other's way is seen only by the order of work.

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::source::Span;

/// A part or a set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Thing {
    Part(PartId),
    Set(SetId),
}

impl Resolver {
    /// Complains once of each circle.
    pub(super) fn covered_in_circles(&mut self) {
        let parts = self
            .procedure
            .parts
            .numbered()
            .filter(|(_, part)| part.axes.is_empty() && part.present.is_empty());
        let sets =
            self.procedure.sets.numbered().filter(|(_, set)| set.axes.is_empty() && set.present.is_empty());
        let mut over = Over { parts: self.procedure.parts.len(), links: Vec::new() };
        over.links.resize_with(over.parts + self.procedure.sets.len(), Vec::new);
        for (id, part) in parts {
            *over.of_mut(Thing::Part(id)) = always(&part.under);
        }
        for (id, set) in sets {
            *over.of_mut(Thing::Set(id)) = always(&set.under);
        }
        // Things that lead into no circle, or that have been walked already.
        let mut done: Vec<bool> = over.links.iter().map(Vec::is_empty).collect();
        let ids = self.procedure.parts.ids().map(Thing::Part);
        for start in ids.chain(self.procedure.sets.ids().map(Thing::Set)) {
            // What lies under itself has its own complaint.
            if let Some(circle) = circle_from(start, &over, &mut done).filter(|circle| circle.len() > 1) {
                let links: Vec<(Span, String, String)> = circle
                    .iter()
                    .map(|(thing, by, span)| (*span, self.name_of(*thing), self.name_of(*by)))
                    .collect();
                self.complain(errors::covered_in_circle(&links));
            }
        }
    }

    fn name_of(&self, thing: Thing) -> String {
        match thing {
            Thing::Part(id) => self.procedure.part(id).naming.id.clone(),
            Thing::Set(id) => self.procedure.set(id).naming.id.clone(),
        }
    }
}

/// What lies over the whole of each thing, and where that is said; parts are counted before sets.
struct Over {
    parts: usize,
    links: Vec<Vec<(Thing, Span)>>,
}

impl Over {
    fn number(&self, thing: Thing) -> usize {
        match thing {
            Thing::Part(id) => id.index(),
            Thing::Set(id) => self.parts + id.index(),
        }
    }

    fn of(&self, thing: Thing) -> &[(Thing, Span)] {
        &self.links[self.number(thing)]
    }

    fn of_mut(&mut self, thing: Thing) -> &mut Vec<(Thing, Span)> {
        let number = self.number(thing);
        &mut self.links[number]
    }
}

/// What lies over the whole of a thing when it comes off.
fn always(covers: &[Cover]) -> Vec<(Thing, Span)> {
    let whole = covers.iter().filter(|cover| cover.to_strip && cover.hole.is_none() && cover.at.everywhere());
    let by = |cover: &Cover| match &cover.by {
        CoverThing::Part(part) => Thing::Part(part.id),
        CoverThing::Set(set) => Thing::Set(set.id),
    };
    whole.map(|cover| (by(cover), cover.span)).collect()
}

/// The first circle that is reached from a thing: each thing of it with what lies over it, and where that is said. Things
/// that have been walked are walked once.
fn circle_from(start: Thing, over: &Over, done: &mut [bool]) -> Option<Vec<(Thing, Thing, Span)>> {
    // Each thing on the way with the place in the list of what lies over it.
    let mut way: Vec<(Thing, usize)> = vec![(start, 0)];
    if std::mem::replace(&mut done[over.number(start)], true) {
        return None;
    }
    while let Some((thing, at)) = way.last_mut() {
        let Some((by, _)) = over.of(*thing).get(*at) else {
            way.pop();
            continue;
        };
        *at += 1;
        if let Some(entry) = way.iter().position(|(known, _)| known == by) {
            let links = way[entry..].iter().map(|(thing, next)| {
                let (by, span) = over.of(*thing)[*next - 1];
                (*thing, by, span)
            });
            return Some(links.collect());
        }
        if !std::mem::replace(&mut done[over.number(*by)], true) {
            way.push((*by, 0));
        }
    }
    None
}
