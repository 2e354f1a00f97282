//! Acts with the things they are done to: names of whole rows of things become their places.

use std::collections::{BTreeMap, BTreeSet};

use super::types::{Given, Placed, PlacedKind, PlannedAct, PlannedLine};
use super::{Known, left_out};
use crate::decide::{Asked, Truth, given_words};
use crate::english::{capital, list};
use crate::network::{ActNumber, Effect, Event, Node, ThingKind};
use crate::procedure::in_joint;
use crate::procedure::model::{
    Act, AxisId, Binding, Deed, Fastening, FasteningWork, Guard, Member, PartWork, Pattern, Phase, Place,
    Procedure, Step, StepKey, StepLine, Thing,
};

/// The lines of a step where its axes stand as `binding` says: without acts that are done elsewhere, and hazards of
/// those.
pub(super) fn lines(procedure: &Procedure, step: &Step, binding: &Binding) -> Vec<PlannedLine> {
    let mut lines = Vec::new();
    // Hazards that wait for the act that they are shown before.
    let mut hazards: Vec<PlannedLine> = Vec::new();
    let mut number = 0;
    for line in &step.lines {
        match line {
            StepLine::Hazard(hazard, _) => {
                hazards.extend(hazard.here(binding).map(|hazard| PlannedLine::Hazard(*hazard)));
            }
            StepLine::Hold(text, _) => {
                if let Some(text) = text.here(binding) {
                    lines.append(&mut hazards);
                    lines.push(PlannedLine::Hold(text.clone()));
                }
            }
            StepLine::Act(act) => {
                match procedure.narrowed(binding, &act.scope.at) {
                    Some(here) => {
                        lines.append(&mut hazards);
                        let things = things(procedure, act, &here);
                        let note = words_here(procedure, act, &things);
                        lines.push(PlannedLine::Act(PlannedAct {
                            number,
                            act: Act { note, ..act.clone() },
                            things,
                            turned: None,
                            given: None,
                        }));
                    }
                    // What is put on or opened for the act behind it takes no warning of that one away.
                    None if act.deed.is_brought() => {}
                    None => hazards.clear(),
                }
                number += 1;
            }
        }
    }
    lines.append(&mut hazards);
    lines
}

/// The words of an act: the author's, or what its thing says of it at the places where it is done; with the place where they
/// aren't the same at all.
fn words_here(procedure: &Procedure, act: &Act, things: &[Placed]) -> Option<String> {
    if act.told.is_empty() {
        return act.note.clone();
    }
    let mut told: Vec<(Option<&str>, Vec<String>)> = Vec::new();
    for (kind, place) in things.iter().flat_map(|thing| thing.places.iter().map(|place| (thing.kind, *place)))
    {
        let axes = kind.axes(procedure);
        let bound = procedure.bound(axes, place);
        let first = act.told.iter().find(|words| procedure.narrowed(&bound, &words.at).is_some());
        let words = first.map(|words| words.what.as_str());
        let name = procedure.place_name(axes, place);
        match told.iter_mut().find(|(known, _)| *known == words) {
            Some((_, names)) => names.push(name),
            None => told.push((words, vec![name])),
        }
    }
    if let [(words, _)] = told.as_slice() {
        return words.map(str::to_owned);
    }
    let at = told.into_iter().filter_map(|(words, at)| Some(format!("{}: {}", capital(&list(&at)), words?)));
    Some(at.collect::<Vec<String>>().join(" ")).filter(|words| !words.is_empty())
}

/// The lines of a step without what this engine hasn't got: places of parts and sets that an act works on only under
/// other answers, acts on nothing else or under other answers, and hazards of those.
pub(super) fn present(known: &Known, node: &Node, member: usize, lines: &[PlannedLine]) -> Vec<PlannedLine> {
    let mut left = Vec::new();
    let mut hazards: Vec<PlannedLine> = Vec::new();
    for line in lines {
        match line {
            PlannedLine::Hazard(_) => hazards.push(line.clone()),
            PlannedLine::Act(planned) => match present_act(known, node, member, planned) {
                Some(planned) => {
                    left.append(&mut hazards);
                    left.push(PlannedLine::Act(planned));
                }
                None => hazards.clear(),
            },
            PlannedLine::SetUp(..) | PlannedLine::Hold(_) => {
                left.append(&mut hazards);
                left.push(line.clone());
            }
        }
    }
    left.append(&mut hazards);
    left
}

/// What of an act is done in this job; none if nothing is.
fn present_act(known: &Known, node: &Node, member: usize, planned: &PlannedAct) -> Option<PlannedAct> {
    let act = Some(ActNumber::of(planned.number));
    let events = node.events.iter().filter(|event| {
        event.member as usize == member && event.act == act && matches!(event.effect, Effect::Set(_))
    });
    let absent = absent(known, events);
    let mut planned = planned.clone();
    let scope = &planned.act.scope;
    let bound = known.procedure.narrowed(&node.members[member].binding, &scope.at)?;
    let before = (member, planned.number);
    planned.given = match known.decisions.guard(known.procedure, &scope.when, &bound) {
        Truth::Yes => None,
        Truth::No => return None,
        Truth::Open(open) => {
            let open = open.into_iter().filter(|asked| !answered_within(known, node, before, *asked));
            Some(Given { words: given_words(known.procedure, &scope.when), open: open.collect() })
        }
    };
    let puts_together = node.phase == Phase::Build && !node.trial && puts_together(&planned.act.deed);
    let key = &node.members[member].key;
    for thing in &mut planned.things {
        thing.places.retain(|place| {
            let out = not_there(known, thing.kind, *place)
                || (puts_together && left_out::by_the_record(known, thing.kind, *place));
            !out && !absent.contains(&(thing.kind, *place)) && !done_at(known, key, thing.kind, *place)
        });
    }
    let had = planned.things.len();
    planned.things.retain(|thing| !thing.places.is_empty());
    planned.act.note = words_here(known.procedure, &planned.act, &planned.things);
    (had == 0 || !planned.things.is_empty()).then_some(planned)
}

/// Whether this engine hasn't got a thing: a part or set under its answers, a joint of which it has no set there.
fn not_there(known: &Known, kind: PlacedKind, place: Place) -> bool {
    let procedure = known.procedure;
    let never = |when: &Guard, bound: &Binding| {
        !when.0.is_empty() && known.decisions.guard(procedure, when, bound) == Truth::No
    };
    match kind {
        PlacedKind::Part(id) => never(&procedure.present((id, place)), &procedure.bound_at((id, place))),
        PlacedKind::Set(id) => never(&procedure.set_present((id, place)), &procedure.bound_at((id, place))),
        PlacedKind::Joint(id) => {
            let joint = procedure.joint(id);
            let some = |member: &Member| !in_joint(procedure, joint, member, &[place]).is_empty();
            !joint.members.iter().any(some)
        }
        _ => false,
    }
}

/// Whether the record has a step that is done at several places together as done where a thing is.
fn done_at(known: &Known, key: &StepKey, kind: PlacedKind, place: Place) -> bool {
    let StepKey::Written(id, None) = key else { return false };
    // Of a step that is done everywhere it is told what was done.
    if known.decisions.done.contains(key) {
        return false;
    }
    let Some(done) = known.decisions.partly.get(id) else { return false };
    let procedure = known.procedure;
    let axes = kind.axes(procedure);
    let each = &procedure.step(*id).each;
    let at: BTreeMap<AxisId, u16> = axes.iter().copied().zip(procedure.coordinates(axes, place)).collect();
    let here: Option<Vec<u16>> = each.iter().map(|axis| at.get(axis).copied()).collect();
    here.is_some_and(|here| done.iter().any(|place| procedure.coordinates(each, *place) == here))
}

/// Whether an act of the same steps answers a question before another act.
pub(super) fn answered_within(known: &Known, node: &Node, (member, act): (usize, u32), asked: Asked) -> bool {
    let wanted: Vec<Asked> = match asked {
        Asked::Gauge(gauge, place) => {
            let behind = known.procedure.readings_behind(gauge, place).into_iter();
            behind.map(|(gauge, place)| Asked::Gauge(gauge, place)).collect()
        }
        Asked::Look(..) | Asked::Ask(_) => vec![asked],
    };
    let taken = |wanted: &Asked| {
        node.events.iter().any(|event| {
            let taken = match known.network.things[event.thing.index()].kind {
                ThingKind::Reading(gauge, place) => Asked::Gauge(gauge, place),
                ThingKind::Seen(look, place) => Asked::Look(look, place),
                _ => return false,
            };
            taken == *wanted
                && matches!(event.effect, Effect::Set(_))
                && (event.member as usize, event.act) < (member, Some(ActNumber::of(act)))
        })
    };
    wanted.iter().all(taken)
}

/// Whether an act puts its things in or fastens them.
fn puts_together(deed: &Deed) -> bool {
    match deed {
        Deed::Part { work, .. } => matches!(work, PartWork::Fit | PartWork::PutBack),
        Deed::Fasten { work, .. } => !matches!(work, FasteningWork::Slacken | FasteningWork::Undo),
        _ => false,
    }
}

/// Parts and sets that are only worked on under answers that this job hasn't.
fn absent<'e>(known: &Known, events: impl Iterator<Item = &'e Event>) -> BTreeSet<(PlacedKind, Place)> {
    let mut there: BTreeMap<(PlacedKind, Place), bool> = BTreeMap::new();
    for event in events {
        let worked = match known.network.things[event.thing.index()].kind {
            ThingKind::Part(part, place) => (PlacedKind::Part(part), place),
            ThingKind::Set(set, place, _) => (PlacedKind::Set(set), place),
            _ => continue,
        };
        let out = known.decisions.case(known.procedure, known.network, &event.case) == Truth::No;
        *there.entry(worked).or_default() |= !out;
    }
    there.into_iter().filter(|(_, there)| !there).map(|(worked, _)| worked).collect()
}

fn things(procedure: &Procedure, act: &Act, binding: &Binding) -> Vec<Placed> {
    let placed = |kind, axes: &[AxisId], pattern: &Pattern| Placed {
        kind,
        places: procedure.matching(axes, pattern, binding),
    };
    let part = |target: &crate::procedure::model::Target<_>| {
        placed(PlacedKind::Part(target.id), &procedure.part(target.id).axes, &target.pattern)
    };
    let set = |target: &crate::procedure::model::Target<_>| {
        placed(PlacedKind::Set(target.id), &procedure.set(target.id).axes, &target.pattern)
    };
    match &act.deed {
        Deed::Fasten { what, .. } => what
            .iter()
            .map(|fastening| match fastening {
                Fastening::Set(target) => set(target),
                Fastening::Joint(target) => {
                    placed(PlacedKind::Joint(target.id), &procedure.joint(target.id).axes, &target.pattern)
                }
            })
            .collect(),
        Deed::Part { what, .. } => what.iter().map(part).collect(),
        Deed::Heat { what, .. } => vec![part(what)],
        Deed::Coat { what, .. } | Deed::Lift { what, .. } => vec![part(what)],
        Deed::Wet { what, .. } | Deed::Lock { what, .. } => vec![set(what)],
        Deed::Clean(what) | Deed::Mark(what) => what
            .iter()
            .map(|thing| match thing {
                Thing::Part(target) => part(target),
                Thing::Set(target) => set(target),
            })
            .collect(),
        Deed::Chase(what) => what.iter().map(set).collect(),
        Deed::Gauge(what) => what
            .iter()
            .map(|t| placed(PlacedKind::Gauge(t.id), &procedure.gauge(t.id).axes, &t.pattern))
            .collect(),
        Deed::Look(what) => what
            .iter()
            .map(|t| placed(PlacedKind::Look(t.id), &procedure.look(t.id).axes, &t.pattern))
            .collect(),
        Deed::PutIn(t) | Deed::TakeOut(t) => {
            vec![placed(PlacedKind::Temporary(t.id), &procedure.temporary(t.id).axes, &t.pattern)]
        }
        Deed::Set(..)
        | Deed::TurnByHand { .. }
        | Deed::Photo
        | Deed::Cap
        | Deed::Isolate
        | Deed::Dispose(_)
        | Deed::Wait(_)
        | Deed::Words => Vec::new(),
    }
}
