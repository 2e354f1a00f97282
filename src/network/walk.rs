//! What value each thing has, per answers, as one phase after another is walked through.

use std::borrow::Cow;
use std::collections::BTreeSet;

use super::answers::{Answers, Case, QuestionId};
use super::facts::Facts;
use super::types::*;
use super::values::{StateValue, ThingKind, Value};

/// A value that a thing has under some answers, and the event that gave it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Held {
    /// Under which answers.
    pub case: Case,
    /// The value.
    pub value: Value,
    /// Node and event that set it; none for the start of the job.
    pub by: Option<(NodeId, usize)>,
}

/// Most values that are kept apart for one thing; a thing that passes it gets no derived links, and the proof
/// then asks for stated ones.
const MOST_PIECES: usize = 128;

/// Values of all things at one moment.
#[derive(Debug, Clone, Default)]
pub(super) struct Walk {
    held: Vec<Vec<Held>>,
    blurred: BTreeSet<ThingId>,
}

impl Walk {
    /// The values that `thing` may have, each under its own answers.
    pub(super) fn of(&self, things: &[Thing], thing: ThingId) -> Cow<'_, [Held]> {
        match self.held.get(thing.index()) {
            Some(held) if !held.is_empty() => Cow::Borrowed(held),
            _ => Cow::Owned(vec![start(&things[thing.index()])]),
        }
    }

    /// Whether too many values had to be kept apart, so that [`Walk::of`] is not the whole truth.
    pub(super) fn is_blurred(&self, thing: ThingId) -> bool {
        self.blurred.contains(&thing)
    }

    /// Walks through the nodes of a phase, in an order that keeps its links.
    pub(super) fn pass_all(&mut self, facts: &Facts<'_>, nodes: &[Node], chosen: &[NodeId]) {
        let all = |question: QuestionId| facts.questions[question.0 as usize].all();
        for node in chosen {
            self.pass(&facts.things, (*node, &nodes[node.index()]), all);
        }
    }

    /// Walks through one node. A trial leaves only readings: what it fits and takes off again came off where it did before.
    fn pass(
        &mut self,
        things: &[Thing],
        (id, node): (NodeId, &Node),
        all: impl Fn(QuestionId) -> Answers + Copy,
    ) {
        for (index, event) in node.events.iter().enumerate() {
            let Effect::Set(value) = event.effect else { continue };
            if node.trial && self.is_put_back(things, node, event.thing) {
                continue;
            }
            let at = event.thing.index();
            if self.held.len() <= at {
                self.held.resize(at + 1, Vec::new());
            }
            let held = &mut self.held[at];
            if event.case.is_always() {
                held.clear();
            } else {
                let before = if held.is_empty() { vec![start(&things[at])] } else { std::mem::take(held) };
                for Held { case, value, by } in before {
                    let rest = case.without(&event.case, all).into_iter();
                    held.extend(rest.map(|case| Held { case, value, by }));
                }
            }
            // Most things are left with one value: a list that makes room for more of each would be most of the memory.
            if held.capacity() == 0 {
                held.reserve_exact(1);
            }
            held.push(Held { case: event.case.clone(), value, by: Some((id, index)) });
            if held.len() > MOST_PIECES {
                self.blurred.insert(event.thing);
                held.truncate(MOST_PIECES);
            }
        }
    }

    /// Whether a trial leaves this part or set as it found it.
    fn is_put_back(&self, things: &[Thing], node: &Node, thing: ThingId) -> bool {
        let last = node.events.iter().rev().find_map(|event| match event.effect {
            Effect::Set(value) if event.thing == thing => Some(value),
            _ => None,
        });
        matches!(things[thing.index()].kind, ThingKind::Part(..) | ThingKind::Set(..))
            && self.of(things, thing).iter().all(|held| Some(held.value) == last)
    }

    /// Sets each state to what it is said to be when the build starts.
    pub(super) fn start_build(&mut self, facts: &mut Facts<'_>) {
        for (id, state) in facts.procedure.states.numbered() {
            if let Some(value) = state.at_build {
                let thing = facts.thing(ThingKind::State(id));
                self.set_start(thing, Value::of(StateValue(value)));
            }
        }
    }

    /// Sets a state to what it is said to be when the build starts.
    fn set_start(&mut self, thing: ThingId, value: Value) {
        if self.held.len() <= thing.index() {
            self.held.resize(thing.index() + 1, Vec::new());
        }
        self.held[thing.index()] = vec![Held { case: Case::always(), value, by: None }];
    }
}

fn start(thing: &Thing) -> Held {
    Held { case: Case::always(), value: thing.start, by: None }
}
