//! Who carries the load: the last set that holds a heavy part, or one that would fall, is undone only with the
//! part supported. Which set is last follows from links, so these needs are added once those are known.

use std::collections::{BTreeMap, BTreeSet};

use super::acts::fastened;
use super::answers::Case;
use super::facts::Facts;
use super::reach::PhaseOrder;
use super::types::*;
use super::values;
use crate::procedure::model::*;

/// Adds the needs to the nodes of the phase; each with its node and its place in the events there.
pub(super) fn add_support_needs(
    facts: &mut Facts<'_>,
    nodes: &mut [Node],
    derived: &[DerivedStep],
    order: &mut PhaseOrder,
    phase: Phase,
) -> Vec<(NodeId, usize)> {
    let procedure = facts.procedure;
    let loads: BTreeSet<PartId> = procedure
        .parts
        .ids()
        .filter(|id| facts.heavy(*id) || !procedure.part(*id).falls.is_empty())
        .collect();
    if loads.is_empty() {
        return Vec::new();
    }
    let mut undone = undone(facts, nodes, derived, phase);
    undone.retain(|entry| facts.structure.held(entry.set).iter().any(|hold| loads.contains(&hold.part.0)));
    let mut of_set: BTreeMap<(SetId, Place), Vec<&Undone>> = BTreeMap::new();
    for entry in &undone {
        of_set.entry(entry.set).or_default().push(entry);
    }
    let never_turned: BTreeSet<SetupId> = procedure
        .setups
        .ids()
        .filter(|setup| {
            procedure.steps.iter().all(|step| step.setups.iter().all(|stance| stance.setup != *setup))
        })
        .collect();
    // What each act lets go, whether it would fall, and what else holds it.
    let mut let_go: Vec<LetGo> = Vec::new();
    for entry in &undone {
        let held: Vec<(PartId, Place)> =
            facts.structure.held(entry.set).iter().map(|hold| hold.part).collect();
        for (part, place) in held {
            let mut falls = procedure.falls((part, place));
            // Where no step turns it, it stands all the while as it did at first.
            let falls = falls.find(|falls| {
                entry.stances.iter().any(|stance| falls.when(stance))
                    || (procedure.setup(falls.setup).at_first == falls.value
                        && never_turned.contains(&falls.setup))
            });
            if falls.is_none() && !facts.heavy(part) {
                continue;
            }
            let holders = facts.structure.holders((part, place)).iter();
            let others = holders.map(|hold| hold.set).filter(|set| *set != entry.set);
            let others: Vec<&Undone> =
                others.filter_map(|other| of_set.get(&other)).flatten().copied().collect();
            let_go.push(LetGo { entry, part, place, falls, others });
        }
    }
    let pairs = |gone: &LetGo<'_>| {
        let node = gone.entry.node;
        gone.others.iter().map(move |later| (node, later.node)).collect::<Vec<_>>()
    };
    order.ask(let_go.iter().flat_map(pairs));
    let mut added = Vec::new();
    for LetGo { entry, part, place, falls, others } in let_go {
        let held_on = others.iter().any(|later| {
            if later.node == entry.node { later.at > entry.at } else { order.before(entry.node, later.node) }
        });
        if held_on {
            continue;
        }
        let support = values::support(part, place);
        let thing = facts.thing(support.kind());
        let fact = falls.map_or(procedure.part(part).naming.span, |falls| falls.span);
        let why = Why { reason: Reason::Supported, fact };
        let node = &mut nodes[entry.node.index()];
        let index = node
            .events
            .iter()
            .position(|event| (event.member, event.act) == (entry.member, Some(ActNumber::of(entry.act))))
            .unwrap_or(node.events.len());
        let case = entry.case.clone();
        node.events.insert(
            index,
            Event {
                member: entry.member,
                act: Some(ActNumber::of(entry.act)),
                case,
                thing,
                effect: Effect::Need(support.values(true), why),
                span: entry.span,
            },
        );
        added.push((entry.node, index));
    }
    added
}

/// An act that lets go of a load.
struct LetGo<'u> {
    entry: &'u Undone,
    part: PartId,
    place: Place,
    /// Where it is said that it would fall.
    falls: Option<&'u Falls>,
    /// Where what else holds it is undone.
    others: Vec<&'u Undone>,
}

struct Undone {
    node: NodeId,
    member: u32,
    act: u32,
    at: usize,
    set: (SetId, Place),
    stances: Vec<Stance>,
    case: Case,
    span: crate::source::Span,
}

fn undone(facts: &mut Facts<'_>, nodes: &[Node], derived: &[DerivedStep], phase: Phase) -> Vec<Undone> {
    let procedure = facts.procedure;
    let mut found = Vec::new();
    for (id, node) in (0u32..).map(NodeId).zip(nodes) {
        if node.phase != phase {
            continue;
        }
        let mut at = 0;
        for (member_index, member) in (0u32..).zip(&node.members) {
            let step = match member.step {
                StepSource::Written(step) => procedure.step(step),
                StepSource::Derived(index) => &derived[index].step,
            };
            for (act_index, act) in (0u32..).zip(step.acts()) {
                let Deed::Fasten { work: FasteningWork::Undo, what, .. } = &act.deed else { continue };
                let Some(binding) = procedure.narrowed(&member.binding, &act.scope.at) else { continue };
                let given = facts.case(&act.scope.when, &binding);
                let Some(case) = given.and_then(|given| member.case.and(&given)) else { continue };
                for (set, place, span) in fastened(procedure, FasteningWork::Undo, what, &binding) {
                    at += 1;
                    found.push(Undone {
                        node: id,
                        member: member_index,
                        act: act_index,
                        at,
                        set: (set, place),
                        case: case.clone(),
                        stances: step.setups_at(&member.binding).cloned().collect(),
                        span,
                    });
                }
            }
        }
    }
    found
}
