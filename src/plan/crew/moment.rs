//! What has which value while steps are done in an order, as far as the answers of the job tell.

use std::collections::BTreeMap;

use crate::decide::{Decisions, Truth};
use crate::network::{Effect, Fit, Is, Network, Node, ThingId, ThingKind, Value};
use crate::procedure::model::{PartId, Phase, Place, Procedure};

/// By what events are judged: those whose answers are open may be or not.
#[derive(Clone, Copy)]
pub(super) struct Known<'a> {
    pub procedure: &'a Procedure,
    pub network: &'a Network,
    pub decisions: &'a Decisions,
}

impl Known<'_> {
    /// What an act of a node needs and brings about in this job, in order, with whether that is certain.
    pub(super) fn events<'n>(
        &self,
        node: &'n Node,
    ) -> impl Iterator<Item = (ThingId, &'n Effect, bool)> + use<'n, '_> {
        let known = *self;
        node.events.iter().filter_map(move |event| {
            match known.decisions.case(known.procedure, known.network, &event.case) {
                Truth::No => None,
                Truth::Yes => Some((event.thing, &event.effect, true)),
                Truth::Open(_) => Some((event.thing, &event.effect, false)),
            }
        })
    }
}

/// The value of each thing at one moment; none where open answers leave it open.
#[derive(Clone)]
pub(super) struct Moment {
    values: Vec<Option<Value>>,
    numbers: BTreeMap<ThingKind, usize>,
}

impl Moment {
    /// When a phase begins, the phases before it done.
    pub(super) fn beginning(known: Known<'_>, phase: Phase) -> Moment {
        let things = &known.network.things;
        let mut moment = Moment {
            values: things.iter().map(|thing| Some(thing.start)).collect(),
            numbers: things.iter().enumerate().map(|(number, thing)| (thing.kind, number)).collect(),
        };
        let at_build = |moment: &mut Moment| {
            for (value, thing) in moment.values.iter_mut().zip(things) {
                *value = thing.at_build.map(Some).unwrap_or(*value);
            }
        };
        for (before, order) in known.network.orders.range(..phase) {
            if *before == Phase::Build {
                at_build(&mut moment);
            }
            for node in order {
                moment.pass(known, &known.network.nodes[node.index()]);
            }
        }
        if phase == Phase::Build {
            at_build(&mut moment);
        }
        moment
    }

    /// A node is done. Whether each of its needs was met, as far as that is certain.
    pub(super) fn pass(&mut self, known: Known<'_>, node: &Node) -> bool {
        let mut met = true;
        for (thing, effect, certain) in known.events(node) {
            let value = &mut self.values[thing.index()];
            match effect {
                Effect::Need(wanted, _) => {
                    met &= !certain || value.is_none_or(|value| wanted.contains(value));
                }
                Effect::Set(new) => *value = if certain || *value == Some(*new) { Some(*new) } else { None },
            }
        }
        met
    }

    /// Whether a part is off for certain.
    pub(super) fn off(&self, network: &Network, part: PartId, place: Place) -> Option<ThingId> {
        let number = *self.numbers.get(&ThingKind::Part(part, place))?;
        let off = self.values[number]
            .is_some_and(|value| network.things[number].kind.is(value) == Is::Part(Fit::Off));
        off.then(|| ThingId(u32::try_from(number).expect("far fewer things than that")))
    }
}
