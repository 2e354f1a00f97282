//! Events of some nodes to what each thing is needed for and what sets it: one list each for all things, in the order in which
//! the nodes were given.

use super::types::*;

/// Where an event stands: its node, and its index there.
pub(super) type Stand = (NodeId, usize);

/// Events by the thing that they are about.
struct ByThing {
    /// Where those of each thing begin, and where the last end.
    start: Vec<usize>,
    events: Vec<Stand>,
}

impl ByThing {
    fn of(things: usize, events: impl Iterator<Item = (ThingId, Stand)> + Clone) -> ByThing {
        let mut start = vec![0; things + 1];
        for (thing, _) in events.clone() {
            start[thing.index() + 1] += 1;
        }
        for thing in 0..things {
            start[thing + 1] += start[thing];
        }
        let mut next = start.clone();
        let mut placed = vec![(NodeId(0), 0); start[things]];
        for (thing, event) in events {
            placed[next[thing.index()]] = event;
            next[thing.index()] += 1;
        }
        ByThing { start, events: placed }
    }

    fn get(&self, thing: ThingId) -> &[Stand] {
        &self.events[self.start[thing.index()]..self.start[thing.index() + 1]]
    }
}

/// What each thing is needed for and who sets it.
pub(super) struct Traffic {
    needs: ByThing,
    sets: ByThing,
}

impl Traffic {
    /// Of these nodes; there are so many things.
    pub(super) fn of(things: usize, nodes: &[Node], members: &[NodeId]) -> Traffic {
        let events = || {
            members.iter().flat_map(|id| {
                let events = nodes[id.index()].events.iter().enumerate();
                events.map(|(index, event)| (event, (*id, index)))
            })
        };
        let is_need = |event: &Event| matches!(event.effect, Effect::Need(..));
        let needs = events().filter(|(event, _)| is_need(event)).map(|(event, at)| (event.thing, at));
        let sets = events().filter(|(event, _)| !is_need(event)).map(|(event, at)| (event.thing, at));
        Traffic { needs: ByThing::of(things, needs), sets: ByThing::of(things, sets) }
    }

    /// Every thing that something needs, in their order.
    pub(super) fn needed(&self) -> impl Iterator<Item = ThingId> + '_ {
        self.needs
            .start
            .windows(2)
            .zip((0u32..).map(ThingId))
            .filter(|(ends, _)| ends[0] < ends[1])
            .map(|(_, id)| id)
    }

    /// Where a thing is needed.
    pub(super) fn needs(&self, thing: ThingId) -> &[Stand] {
        self.needs.get(thing)
    }

    /// Where it is set.
    pub(super) fn sets(&self, thing: ThingId) -> &[Stand] {
        self.sets.get(thing)
    }
}
