//! Where a step is done and what it takes for itself: at the engine or on what is off it; and what is done with the whole
//! engine, beside which nothing is done at it: turning the crankshaft, turning the stand within a step, cutting off an
//! energy, setting a state.

use std::collections::BTreeSet;

use super::moment::{Known, Moment};
use crate::english::list;
use crate::network::ThingId;
use crate::plan::{Placed, PlacedKind, PlannedAct, PlannedLine, PlannedStep};
use crate::procedure::model::*;
use crate::procedure::moves;

/// Why a step takes the whole engine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Whole {
    /// It turns the crankshaft, or takes it out or puts it in.
    Crank,
    /// It turns the engine while it goes on.
    Stand(SetupId),
    /// It cuts off an energy.
    Energy,
    /// It sets a state of the whole.
    State(StateId),
}

/// Why a step takes the whole engine, as a phrase: `turns the crankshaft, sets the coolant`.
pub(crate) fn whole_words(procedure: &Procedure, because: &BTreeSet<Whole>) -> String {
    let words = because.iter().map(|why| match why {
        Whole::Crank => "moves the crankshaft".to_owned(),
        Whole::Stand(setup) => format!("changes “{}”", procedure.setup(*setup).naming.title),
        Whole::Energy => "cuts something off".to_owned(),
        Whole::State(state) => format!("sets “{}”", procedure.state(*state).naming.title),
    });
    list(&words.collect::<Vec<_>>())
}

/// Why a step takes the whole engine; `later` if it isn't the first of its block.
pub(super) fn whole(procedure: &Procedure, step: &PlannedStep, later: bool) -> BTreeSet<Whole> {
    let mut found = BTreeSet::new();
    for line in &step.lines {
        match line {
            PlannedLine::Act(planned) if moves(procedure, &planned.act) => drop(found.insert(Whole::Crank)),
            PlannedLine::Act(planned) => match planned.act.deed {
                Deed::Set(state, _) => drop(found.insert(Whole::State(state))),
                Deed::Isolate => drop(found.insert(Whole::Energy)),
                _ => {}
            },
            PlannedLine::SetUp(setup, _) if later => drop(found.insert(Whole::Stand(*setup))),
            PlannedLine::SetUp(..) | PlannedLine::Hazard(_) | PlannedLine::Hold(_) => {}
        }
    }
    found
}

/// The parts that lie off the engine, if everything that a step handles belongs to them; none if it is done at the
/// engine, or nothing tells that it isn't.
pub(super) fn away(known: Known<'_>, moment: &Moment, step: &PlannedStep) -> Option<BTreeSet<ThingId>> {
    let mut off = BTreeSet::new();
    let acts = step.lines.iter().filter_map(|line| match line {
        PlannedLine::Act(planned) => Some(planned),
        _ => None,
    });
    for planned in acts {
        match &planned.act.deed {
            Deed::Set(..) | Deed::PutIn(_) | Deed::TakeOut(_) | Deed::TurnByHand { .. } | Deed::Isolate => {
                return None;
            }
            Deed::Lift { .. } | Deed::Chase(_) => return None,
            _ => {}
        }
        for placed in &planned.things {
            off.extend(places_off(known, moment, planned, placed)?);
        }
    }
    (!off.is_empty()).then_some(off)
}

/// What lies off with each place of a thing that is handled; none if one of them is at the engine.
fn places_off(
    known: Known<'_>,
    moment: &Moment,
    planned: &PlannedAct,
    placed: &Placed,
) -> Option<Vec<ThingId>> {
    let Known { procedure, network, .. } = known;
    // What is put in or taken out itself is where its assembly is.
    let moved = matches!(
        planned.act.deed,
        Deed::Part { work: PartWork::Take | PartWork::Fit | PartWork::PutBack | PartWork::Press, .. }
    );
    let lies_off = |part: (PartId, Place), itself: bool| {
        let own = moment.off(network, part.0, part.1).filter(|_| itself);
        own.or_else(|| host_off(known, moment, part))
    };
    let all = |parts: Vec<(PartId, Place)>, itself: bool| -> Option<Vec<ThingId>> {
        if parts.is_empty() {
            return None;
        }
        parts.into_iter().map(|part| lies_off(part, itself)).collect()
    };
    let mut off = Vec::new();
    for place in placed.places.iter().copied() {
        off.extend(match placed.kind {
            PlacedKind::Part(part) => all(vec![(part, place)], !moved)?,
            PlacedKind::Set(set) => all(held(known, set, place), false)?,
            PlacedKind::Joint(joint) => {
                let own = procedure.bound(&procedure.joint(joint).axes, place);
                let sets = procedure
                    .joint(joint)
                    .members
                    .iter()
                    .flat_map(|member| procedure.meant(&member.set, &own));
                all(sets.flat_map(|(set, at)| held(known, set, at)).collect(), false)?
            }
            PlacedKind::Gauge(gauge) => all(procedure.measured((gauge, place)), true)?,
            PlacedKind::Look(look) => {
                let of = procedure.look(look).of.as_ref();
                let seen = of.map(|of| procedure.meant(of, &procedure.bound_at((look, place))));
                all(seen.unwrap_or_default(), true)?
            }
            PlacedKind::Temporary(_) => return None,
        });
    }
    Some(off)
}

fn held(known: Known<'_>, set: SetId, place: Place) -> Vec<(PartId, Place)> {
    known.network.structure.screwed_to((set, place)).to_vec()
}

/// The nearest assembly around a part that is off.
fn host_off(known: Known<'_>, moment: &Moment, part: (PartId, Place)) -> Option<ThingId> {
    let mut part = part;
    while let Some(host) = known.network.structure.host(part) {
        if let Some(off) = moment.off(known.network, host.host.0, host.host.1) {
            return Some(off);
        }
        part = host.host;
    }
    None
}
